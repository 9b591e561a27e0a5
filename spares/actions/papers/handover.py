"""Handover book: all that the next keeper must know, and what nobody knows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from spares.actions.amounts import hours
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.gauges import gauges_of
from spares.actions.hour_meters import last_trusted, meter_machine
from spares.actions.papers.frame import NOT_REACHABLE, head
from spares.actions.papers.index import index_lines
from spares.actions.papers.lay_up import drain_points
from spares.actions.papers.stranded import stranded_lines
from spares.actions.papers.trail import gap_words
from spares.actions.trails import trails
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import hazard_words, known_and_other
from spares.domain.kit_bag import is_empty_bag
from spares.domain.tree import fits_not_recorded
from spares.domain.trip.words import say_months
from spares.errors import InvalidInput
from spares.paper.dates import date_text
from spares.paper.handover_book import Book, BookMachine, BookService, handover_book_pdf
from spares.paper.lists import LockerName

#: Five years: what is due later than that by hours is told in hours [d].
FAR_DAYS = 1826


def handover(ctx: Context, *, page: str = "A4") -> bytes:
    """Print machines with services and readings, unknowns, what is stranded, lockers, counts."""
    aboard = ctx.aboard()
    services = due(ctx)["services"]
    book = Book(
        tuple(_machine(aboard, one, services) for one in aboard.all("machine")),
        stranded_lines(ctx),
        tuple((LockerName(one.no or "", one.name or "", one.code or ""), _locker_note(one))
              for one in aboard.all("locker")
              if not is_empty_bag(aboard, name_of("locker", one))), tuple(index_lines(aboard)),
        drain_points(ctx, named=False), tuple(_unknowns(aboard)),
        tuple(_stopped(ctx)), tuple(_gaps(ctx)))
    return handover_book_pdf(head(ctx, "Handover book"), book, page=page)


def _stopped(ctx: Context) -> Iterator[tuple[str, str]]:
    known = {one["no"]: one for one in trails(ctx)["trails"]}
    for one in trails(ctx)["do_not_run"]:
        yield (" ".join(filter(None, [one["machine"], one["name"]])),
               " ".join(f"Trail {no}, {known[no]['what']}: {gap_words(known[no])}."
                        for no in one["trails"]))


def _gaps(ctx: Context) -> Iterator[str]:
    for one in trails(ctx)["trails"]:
        if one["state"] == "accepted":
            said = one["accepted"]
            yield (f"{one['machine']}: {one['what']} ({one['no']}), {gap_words(one)}. Accepted by "
                   f"{said['by']}, {date_text(said['on'])}: {said['why']}")


def every_words(line: dict[str, Any]) -> str:
    """Say how often a service comes round, such as `150 h or 12 months`."""
    every = [f"{line['every_hours']:g} h" if line["every_hours"] else "",
             say_months(line["every_months"]) if line["every_months"] else ""]
    return " or ".join(filter(None, every)) or "no interval"


def _machine(aboard: Aboard, one: Record, services: list[dict[str, Any]]) -> BookMachine:
    mine = sorted((line for line in services if line["machine"] == one.no),
                  key=lambda line: line["service"])
    return BookMachine(
        one.no or "", one.name or "", " ".join(filter(None, [one.maker, one.model])),
        one.serial or "", one.place or "", _hours(aboard, one),
        known_and_other(hazard_words(one.hazards))[0],
        tuple(BookService(f"{line['service']} {line['what']}", every_words(line),
                          line["last"]["date"] if line["last"] else None,
                          _at_hours(line), _state(line)) for line in mine),
        tuple((line["name"], _reading(line))
              for line in gauges_of(aboard, name_of("machine", one))))


def _reading(gauge: dict[str, Any]) -> str:
    last = gauge["last"]
    if last is None:
        return "never read"
    shown = " ".join(filter(None, [f"{last['value']:g}", gauge["unit"]]))
    return f"{shown} on {date_text(last['on'])}; {gauge['says']}"


def _hours(aboard: Aboard, one: Record) -> str:
    try:
        shown = last_trusted(aboard, meter_machine(aboard, name_of("machine", one)))
    except InvalidInput:
        return ""       # it has no counter
    return f"{shown['hours']:.1f}" if shown else ""


def _at_hours(line: dict[str, Any]) -> str:
    last = line["last"]
    return f"{last['hours']:.1f}" if last and last["hours"] is not None else ""


def _state(line: dict[str, Any]) -> str:
    words = {"not-wanted": "Not wanted here", "history-unknown": "Due"}.get(
        line["state"], line["state"].capitalize())
    when = date_text(line["due_on"]) if line["due_on"] and line["state"] in (
        "coming", "due", "overdue", "done") else ""
    if (line["days_left"] or 0) > FAR_DAYS and line["due_at_hours"] is not None:
        when = f"at {line['due_at_hours']:g} h"     # a day so far off is no forecast
    ahead = "next" if line["state"] == "done" else "due"
    return ", ".join(filter(None, [words, f"{ahead} {when}" if when else ""]))


def _locker_note(one: Record) -> str:
    said = ["ashore" if one.aboard is False and not one.lent_to else "",
            NOT_REACHABLE if one.aboard is not False and one.reachable is False else "",
            f"lent to {one.lent_to}" if one.lent_to else "", one.climate or "", one.note or ""]
    return ", ".join(filter(None, said))


def _unknowns(aboard: Aboard) -> list[str]:
    plates = [f"{one.no}: no serial recorded" for one in aboard.all("machine") if not one.serial]
    plates += [f"{one.no}: what to do about the hazard {word!r} is not written"
               for one in aboard.all("machine")
               for word in known_and_other(hazard_words(one.hazards))[1]]
    fits = [f"{_part(aboard, name)}: nobody wrote down what it fits"
            for name in fits_not_recorded(aboard)]
    uncounted = [f"{_part(aboard, one.part)} in {aboard.label(one.locker)}: not counted"
                 for one in aboard.lying if not one.counted]
    doubtful = [f"{_part(aboard, one.part)} in {aboard.label(one.locker)}: count in doubt"
                for one in aboard.lying if one.doubts or one.rivals or one.quantity < 0]
    readings = [f"{aboard.label(one.machine)}: reading of {hours(one.minutes):.1f} h on "
                f"{date_text(one.date)} is doubted"
                for one in aboard.readings if one.doubt and one.minutes is not None]
    return [*plates, *readings, *fits, *uncounted, *doubtful]


def _part(aboard: Aboard, name: str) -> str:
    part = aboard.get(name)
    return f"{part.no} {part.name}" if part is not None else "A part not recorded yet"
