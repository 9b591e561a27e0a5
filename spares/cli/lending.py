"""loans, slip, slip-in, give-back: parts lent between two vessels, by a file."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.files import existing, write_file
from spares.cli.stock import tell
from spares.errors import InvalidInput

LARGEST_SLIP = 100_000


@click.command()
@options.reading
def loans() -> None:
    """List what is lent to others and borrowed from them.

    \b
    Example:  spares loans
    """
    from spares.actions.loans import loans as found

    ctx = door.context()
    answer, answer_day = found(ctx), ctx.today
    if options.asked().as_json:
        say.answer_json(answer)
        return
    for title, way in (("Lent", "to"), ("Borrowed", "from")):
        lines = answer[title.lower()]
        table.put(f"{title}:" if lines else f"{title}: nothing.")
        for one in lines:
            back = f", {table.number(one['back'])} back" if one["back"] else ""
            if one["back_by"] and one["back"] < one["quantity"]:
                late = one["back_by"] < answer_day.isoformat()
                back += f", back by {one['back_by']}{' (OVERDUE)' if late else ''}"
            table.put(f"  {table.number(one['quantity'])} of {one['part']} {one['name']} {way} "
                      f"{one['who']}, {one['on']}{back}")
            table.put(f"    {one['loan']}")


@click.command()
@options.reading
@click.argument("loan")
@click.argument("file")
def slip(loan: str, file: str) -> None:
    """Write the slip of LOAN for the other vessel.

    LOAN is the id that `spares loans` shows. The lender's slip says what was lent; the
    borrower's says how much of it went back so far.

    \b
    Example:  spares slip 2f1d0a3e-5c0c-4a57-9a70-2a8f7a1f0c11 to-hre.json
    """
    from spares.actions.loans import slip_of

    written = slip_of(door.context(), loan)
    write_file((json.dumps(written, ensure_ascii=False, indent=1) + "\n").encode(), file)


@click.command("slip-in")
@options.reading
@click.argument("file")
@click.argument("locker", required=False)
def slip_in(file: str, locker: str | None) -> None:
    """Take in another vessel's slip: what is borrowed goes into LOCKER.

    What comes back goes where it came from, or into LOCKER. A slip that is taken in twice
    changes nothing.

    \b
    Example:  spares slip-in to-hre.json L02
              spares slip-in back-from-hre.json
    """
    tell(door.do("slip-in", slip=_read(existing(file)), locker=locker))


@click.command("give-back", context_settings={"ignore_unknown_options": True})  # such as -1
@options.reading
@click.argument("loan")
@click.argument("quantity", metavar="[N]", required=False)
def give_back(loan: str, quantity: str | None) -> None:
    """Record that borrowed pieces went back (all of LOAN).

    \b
    Example:  spares give-back 2f1d0a3e-5c0c-4a57-9a70-2a8f7a1f0c11 1
    """
    tell(door.do("give-back", loan=loan, quantity=quantity))


def _read(path: Path) -> Any:
    from spares.actions.read_json import read_json

    if path.stat().st_size > LARGEST_SLIP:
        raise InvalidInput.at("#/slip", "this is no slip of a loan")
    return read_json(path.read_bytes())


COMMANDS = (loans, slip, slip_in, give_back)
