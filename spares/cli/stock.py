"""took, put, landed, counted, moved, lent: the movements."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table, words
from spares.cli.find import places

# So that a wrong quantity such as -1 is told as one, not taken for an option.
_NEGATIVE = {"ignore_unknown_options": True}
_LOT = click.option("--lot", metavar="LOT", help="Lot they come from: its code or id.")
_NOTE = click.option("--note", metavar="TEXT", help="A remark.")


def _pieces(command: Any) -> Any:
    return click.argument("quantity", metavar="[N]", default="1")(command)


def tell(answer: dict[str, Any]) -> None:
    """Print what was recorded, and what is left."""
    if options.asked().as_json:
        say.answer_json(answer)
        return
    table.put(answer["text"] + ("." if answer.get("was_new", True) else " (was recorded before)."))
    part = answer.get("part")
    if part:
        state = words.word(words.COUNTS, part.get("state"))
        usable = f"{table.number(part['usable'])} usable"
        table.put(f"{part['no']}  {part['name']}: " + ", ".join(filter(None, (usable, state))))
        places(part["where"])


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@click.option("--machine", metavar="MACHINE", help="Machine it was for.")
@_NOTE
def took(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces taken out of LOCKER to be used (1).

    \b
    Example:  spares took P034 L17
              spares took P034 EMJR 2 --machine HBR
    """
    tell(door.do("took", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@click.option("--condition", metavar="WORD", help="new, used-good or suspect.")
@click.option("--expires", metavar="DATE", help="Until when it is good: 2031-06 will do.")
@_NOTE
def put(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces stowed in LOCKER (1): bought or back.

    \b
    Example:  spares put P034 L17 2
              spares put P037 L03 --expires 2033-06
    """
    tell(door.do("put", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@_pieces
@_LOT
@_NOTE
def landed(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record pieces that are gone for good (1).

    \b
    Example:  spares landed P056 L13 3
    """
    tell(door.do("landed", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@click.argument("quantity", metavar="N")
@_LOT
@_NOTE
def counted(part: str, locker: str, quantity: str, **more: Any) -> None:
    """Record that N pieces are in LOCKER.

    \b
    Example:  spares counted P034 L17 2
    """
    tell(door.do("counted", part=part, locker=locker, quantity=quantity, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("from_", metavar="FROM")
@click.argument("to")
@_pieces
@_LOT
@click.option("--to-condition", metavar="WORD", help="new, used-good or suspect from now on.")
@_NOTE
def moved(part: str, from_: str, to: str, quantity: str, **more: Any) -> None:
    """Record pieces moved to another locker (1).

    \b
    Example:  spares moved P034 L17 L01
              spares moved P037 L03 L03 --to-condition suspect
    """
    tell(door.do("moved", **{"part": part, "from": from_, "to": to, "quantity": quantity}, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("part")
@click.argument("locker")
@click.argument("who")
@_pieces
@_LOT
@_NOTE
def lent(part: str, locker: str, who: str, quantity: str, **more: Any) -> None:
    """Record pieces lent to WHO (1), until moved back.

    \b
    Example:  spares lent P034 L17 "launch HRE"
    """
    tell(door.do("lent", part=part, locker=locker, who=who, quantity=quantity, **more))


COMMANDS = (took, put, landed, counted, moved, lent)
