"""paper, card, layup: papers to print, and two of them to read on the screen."""

from __future__ import annotations

from typing import Any

import click

from spares.cli import door, options, say, table, words
from spares.cli.files import write_file

_OUT = click.option("--out", metavar="FILE", help="Write a PDF to this file.")
_PAGE = click.option("--page", metavar="SIZE", help="a4, a5 or letter; usual unless said.")
_SPRING = click.option("--spring", is_flag=True, default=None,
                       help="Backwards, for fitting out.")


@click.command()
@options.common
@click.argument("name")
@click.option("--trip", metavar="TRIP", help="shopping, put-away, trip: the next one unless said.")
@click.option("--locker", metavar="LOCKER", help="lid: which locker.")
@click.option("--service", metavar="SERVICE", help="card: which service.")
@click.option("--point", metavar="FITPOINT", help="measuring: which fit point.")
@click.option("--trail", metavar="TRAIL", help="trail: which trail.")
@click.option("--machine", metavar="MACHINE", help="trail: for which machine, to fill in.")
@click.option("--flag", metavar="TEXT", help="stores: the vessel's flag.")
@click.option("--last-port", metavar="TEXT", help="stores: where she came from.")
@click.option("--next-port", metavar="TEXT", help="stores: where she goes.")
@click.option("--persons", type=click.IntRange(0, 999), help="stores: persons aboard.")
@_SPRING
@_PAGE
@options.language
@click.option("--out", metavar="FILE", help="Where to write; NAME.pdf unless said.")
def paper(name: str, out: str | None, language: str | None, **asked: Any) -> None:
    """Print a paper as a PDF.

    NAME is shopping, put-away, trip, stores, insurance, handover, index, lid, stranded,
    card, lay-up, measuring or trail.

    \b
    Example:  spares paper shopping --trip T1 --out shopping.pdf
              spares paper lid --locker L17
              spares paper measuring --point ENG-04 --language da
    """
    from spares.actions.papers.paper import paper as run

    write_file(run(door.context(), name, language=language or "en", **asked),
               out or f"{name}.pdf")


@click.command()
@options.reading
@click.argument("service")
@_PAGE
@options.language
@_OUT
def card(service: str, page: str | None, language: str | None, out: str | None) -> None:
    """Show the job card of SERVICE, or print it.

    Cautions, what to shut off, the kit with its lockers and what is missing.

    \b
    Example:  spares card S22
              spares card S22 --out S22.pdf
    """
    from spares.actions.card import card as run

    if out or page or language:
        from spares.actions.papers.paper import paper as printed

        write_file(printed(door.context(), "card", page, language or "en", service=service),
                   out or "card.pdf")
        return
    answer = run(door.context(), service)
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        _show_card(answer)


@click.command()
@options.reading
@_SPRING
@_PAGE
@options.language
@_OUT
def layup(spring: bool | None, page: str | None, language: str | None, out: str | None) -> None:
    """List where water is let out or treated before frost.

    The points are those that the notes on machines name:
    `Drain points: sea chest cock; pump cover. Lay-up: pickled with P052.`

    \b
    Example:  spares layup
              spares layup --spring --out fitting-out.pdf
    """
    from spares.actions.lay_up import lay_up as run

    if out or page or language:
        from spares.actions.papers.paper import paper as printed

        write_file(printed(door.context(), "lay-up", page, language or "en", spring=spring),
                   out or "lay-up.pdf")
        return
    answer = run(door.context(), spring=bool(spring))
    if options.asked().as_json:
        say.answer_json(answer)
    else:
        _show_lay_up(answer)


def _cautions(lines: list[dict[str, Any]]) -> None:
    for one in lines:
        lead = f"{one['sign']}, {one['mark']}: " if one["mark"] else ""
        table.put(f"! {lead}{one['text']}")


def _show_card(answer: dict[str, Any]) -> None:
    table.put(f"{answer['service']}  {answer['what']}")
    table.put(" · ".join(filter(None, (answer["machine"], answer["machine_name"],
                                       answer["place"]))))
    due = answer["due"]
    state = words.word(words.SERVICES, due["state"])
    table.put(f"{state}{', due ' + due['due_on'] if due['due_on'] else ''}")
    if answer["note"]:
        table.put(answer["note"])
    for one in answer["do_not_run"]:
        places = f"; not looked: {', '.join(one['places'])}" if one["places"] else ""
        table.put(f"DO NOT RUN: {one['trail']}, {one['what']} is missing{places}")
    table.put()
    _cautions(answer["cautions"])
    _ticks("Shut off first", answer["shut_off"])
    _show_kit(answer["kit"])
    _ticks("Steps", answer["steps"] or ["from the maker's book"])
    _ticks("Before it runs again", answer["after"])


def _ticks(title: str, lines: list[str]) -> None:
    if lines:
        table.put()
        table.put(title)
    for one in lines:
        table.put(f"[ ] {one}", indent=2)


def _show_kit(kit: list[dict[str, Any]]) -> None:
    table.put()
    table.put("Kit, in walking order" if kit else "No parts are named for this job.")
    for line in kit:
        maker = " ".join(filter(None, (line["maker"], line["number"])))
        table.put(f"[ ] {table.number(line['needed'])} x {line['part']} "
                  + ", ".join(filter(None, (line["name"], maker))), indent=2)
        for place in line["take"]:
            shut = "" if place["reachable"] else " (not under way)"
            table.put(f"take {table.number(place['quantity'])} from {place['locker']} "
                      f"{place['code'] or ''} {place['name']}{shut}", indent=6)
        if line["short"]:
            table.put(f"MISSING: {table.number(line['short'])}, "
                      f"{table.number(line['usable'])} usable aboard", indent=6)
            for other in line["stand_ins"]:
                table.put(f"proven instead: {table.number(other['usable'])} of {other['part']} "
                          f"{other['name']} in {other['locker']}", indent=6)
        for remark in line["remarks"]:
            table.put(remark, indent=6)


def _show_lay_up(answer: dict[str, Any]) -> None:
    _cautions(answer["cautions"])
    table.put()
    if not answer["points"]:
        table.put("No drain points are recorded.")
    for number, one in enumerate(answer["points"], start=1):
        how = one["how"] or ("treated" if one["treated"] else "")
        where = ", ".join(filter(None, (one["machine"], one["place"])))
        table.put(f"{number:2}. [ ] {one['point']} ({where})" + (f": {how}" if how else ""))
    silent = ", ".join(f"{one['machine']} {one['name']}" for one in answer["says_nothing"])
    if silent:
        table.put(f"Nothing recorded, so look: {silent}.")
    for one in answer["parts"]:
        table.put(f"Aboard for it: {table.number(one['usable'])} usable of {one['part']} "
                  f"{one['name']}" + "".join(f", {place['locker']}" for place in one["where"]))


COMMANDS = (paper, card, layup)
