"""trails, missing, looked, accepted: a broken piece, from the mark to the last place."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table
from spares.cli.files import write_file
from spares.cli.stock import tell

_NEGATIVE = {"ignore_unknown_options": True}
_AT = click.option("--at", metavar="DATE", help="The day; today unless said.")


@click.command()
@options.reading
@click.argument("trail", required=False)
@click.option("--page", metavar="SIZE", help="a4, a5 or letter; usual unless said.")
@options.language
@click.option("--out", metavar="FILE", help="Write TRAIL as a PDF to this file.")
def trails(trail: str | None, page: str | None, language: str | None, out: str | None) -> None:
    """List the trails of broken pieces, or show TRAIL.

    A machine must not run while a trail of it is open.

    \b
    Example:  spares trails
              spares trails HBR-T1 --out HBR-T1.pdf
    """
    from spares.actions import trails as run

    if trail is not None and (out or page or language):
        from spares.actions.papers.paper import paper as printed

        return write_file(printed(door.context(), "trail", page, language or "en", trail=trail),
                          out or "trail.pdf")
    answer = run.trails(door.context()) if trail is None else run.trail(door.context(), trail)
    if options.asked().as_json:
        return say.answer_json(answer)
    if trail is not None:
        return _show(answer)
    for one in answer["do_not_run"]:
        table.put(f"DO NOT RUN: {one['machine']} {one['name'] or ''}".rstrip())
    for one in answer["trails"]:
        table.put(f"{one['no']}  {one['what']}: {_stands(one)}")
    if not answer["trails"]:
        table.put("No piece is missing.")
    return None


def _stands(one: dict[str, Any]) -> str:
    if one["state"] == "found":
        return "every piece found"
    missing = "nobody knows how many are missing" if one["missing"] is None else \
        f"{one['missing']} missing"
    said = f"{missing}, {one['found']} found"
    if one["state"] == "accepted":
        return f"{said}, accepted by {one['accepted']['by']} on {one['accepted']['on']}"
    return f"{said}, {one['not_looked']} places not looked at"


def _show(one: dict[str, Any]) -> None:
    if one["do_not_run"]:
        table.put(f"DO NOT RUN: {one['machine']} {one['machine_name'] or ''}".rstrip())
    table.put(f"{one['no']}  {one['what']}: {_stands(one)}")
    if one["accepted"]:
        table.put(one["accepted"]["why"], indent=6)
    table.put()
    for line in one["cautions"]:
        lead = f"{line['sign']}, {line['mark']}: " if line["mark"] else ""
        table.put(f"! {lead}{line['text']}")
    for title, lines in (("Shut off first", one["shut_off"]),
                         ("Before it runs again", one["after"])):
        table.put()
        table.put(title)
        for line in lines:
            table.put(f"[ ] {line}", indent=2)
        if title == "Shut off first":
            _show_places(one["places"])


def _show_places(places: list[dict[str, Any]]) -> None:
    table.put()
    table.put("Places in flow order" if places else "No places are listed.")
    for one in places:
        box = "[ ]" if one["state"] == "not-looked" else "[x]"
        found = {"not-looked": "not looked", "nothing": "nothing",
                 "in-doubt": "two phones differ, look again"}.get(one["state"],
                                                                  f"{one['found']} found")
        table.put(f"{one['number']:2}. {box} {one['name']}: {found}")
        for word, said in (("opens by", one["opens"]), ("seal", one["seal"])):
            if said:
                table.put(f"{word} {said}", indent=6)
        for part in one["parts"]:
            where = ", ".join(f"{table.number(at['quantity'])} in {at['locker']}"
                              for at in part["where"])
            table.put(f"{table.number(part['needed'])} x {part['part']} {part['name']}: "
                      f"{where or 'none aboard'}", indent=6)


@click.command()
@options.reading
@click.argument("machine")
@click.argument("what")
@click.option("--pieces", "missing", type=click.IntRange(1, 1000), metavar="N",
              help="How many are missing; leave it out where nobody knows.")
@click.option("--of", "of_pieces", type=click.IntRange(1, 1000), metavar="N", help="Of how many.")
@click.option("--point", metavar="FITPOINT", help="Where it came out.")
@click.option("--flow", metavar="FLOW", help="Which flow order; the machine's own unless said.")
@click.option("--by", metavar="WHO", help="Who saw it.")
@_AT
def missing(machine: str, what: str, **more: Any) -> None:
    """Record that a piece of MACHINE is missing: it must not run.

    The trail lists the places downstream, in the order of the flow.

    \b
    Example:  spares missing HBR "impeller blade" --pieces 1 --of 6 --point HBR-04
    """
    tell(door.do("trail-begin", machine=machine, what=what, **more))


@click.command(context_settings=_NEGATIVE)
@options.reading
@click.argument("trail")
@click.argument("place")
@click.argument("found", metavar="[N]", type=click.IntRange(0, 1000), default=0)
@click.option("--by", metavar="WHO", help="Who looked.")
@_AT
def looked(trail: str, place: str, found: int, **more: Any) -> None:
    """Record a look at PLACE of TRAIL, and how many pieces lay there (0).

    PLACE is its number in flow order.

    \b
    Example:  spares looked HBR-T1 2
              spares looked HBR-T1 3 1 --by Tove
    """
    tell(door.do("trail-look", trail=trail, place=place, found=found, **more))


@click.command()
@options.reading
@click.argument("trail")
@click.option("--by", metavar="WHO", required=True, help="Who accepts it.")
@click.option("--why", metavar="TEXT", required=True, help="The reason, in writing.")
@_AT
def accepted(trail: str, **more: Any) -> None:
    """Accept in writing that pieces of TRAIL stay missing.

    It holds for as many as are left now; if more turn out to be missing, the machine must
    not run again.

    \b
    Example:  spares accepted HBR-T1 --by Tove --why "flushed both ways"
    """
    tell(door.do("trail-accept", trail=trail, **more))


COMMANDS = (trails, missing, looked, accepted)
