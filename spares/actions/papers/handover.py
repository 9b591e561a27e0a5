"""Handover book: all that the next keeper must know, and what nobody knows."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from spares.actions.amounts import hours
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.gauges import gauges_of
from spares.actions.hour_meters import last_trusted, meter_machine
from spares.actions.papers.frame import head
from spares.actions.papers.gauge_words import gauge_words
from spares.actions.papers.index import index_lines
from spares.actions.papers.lay_up import drain_points
from spares.actions.papers.stranded import stranded_lines
from spares.actions.papers.trail import gap_words
from spares.actions.trails import trails
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import hazard_words, known_and_other
from spares.domain.kit_bag import is_empty_bag
from spares.domain.tree import fits_not_recorded
from spares.errors import InvalidInput
from spares.paper.handover_book import Book, BookMachine, BookService, handover_book_pdf
from spares.paper.language import ENGLISH, Words
from spares.paper.lists import LockerName

#: Five years: what is due later than that by hours is told in hours [d].
FAR_DAYS = 1826


def handover(ctx: Context, *, page: str = "A4", say: Words = ENGLISH) -> bytes:
    """Print machines with services and readings, unknowns, what is stranded, lockers, counts."""
    aboard = ctx.aboard()
    services = due(ctx)["services"]
    book = Book(
        tuple(_machine(say, aboard, one, services) for one in aboard.all("machine")),
        stranded_lines(say, ctx),
        tuple((LockerName(one.no or "", one.name or "", one.code or ""), _locker_note(say, one))
              for one in aboard.all("locker")
              if not is_empty_bag(aboard, name_of("locker", one))), tuple(index_lines(say, aboard)),
        drain_points(say, ctx, named=False), tuple(_unknowns(say, aboard)),
        tuple(_stopped(say, ctx)), tuple(_gaps(say, ctx)))
    return handover_book_pdf(head(ctx, say, say("title.handover")), book, page=page)


def _stopped(say: Words, ctx: Context) -> Iterator[tuple[str, str]]:
    known = {one["no"]: one for one in trails(ctx)["trails"]}
    for one in trails(ctx)["do_not_run"]:
        yield (" ".join(filter(None, [one["machine"], one["name"]])),
               " ".join(say("handover.trail", no=no, what=known[no]["what"],
                            gap=gap_words(say, known[no])) for no in one["trails"]))


def _gaps(say: Words, ctx: Context) -> Iterator[str]:
    for one in trails(ctx)["trails"]:
        if one["state"] == "accepted":
            said = one["accepted"]
            yield say("handover.gap", machine=one["machine"], what=one["what"], no=one["no"],
                      gap=gap_words(say, one), by=said["by"], day=say.day(said["on"]),
                      why=said["why"])


def every_words(say: Words, line: dict[str, Any]) -> str:
    """Say how often a service comes round, such as `150 h or 12 months`."""
    months = say.some("every.months", line["every_months"]) if line["every_months"] else ""
    if not line["every_hours"]:
        return months or say("every.none")
    hours_told = say.decimal(f"{line['every_hours']:g} h")
    return say("common.or", one=hours_told, other=months) if months else hours_told


def _machine(say: Words, aboard: Aboard, one: Record, services: list[dict[str, Any]]
             ) -> BookMachine:
    mine = sorted((line for line in services if line["machine"] == one.no),
                  key=lambda line: line["service"])
    return BookMachine(
        one.no or "", one.name or "", " ".join(filter(None, [one.maker, one.model])),
        one.serial or "", one.place or "", _hours(say, aboard, one),
        known_and_other(hazard_words(one.hazards))[0],
        tuple(BookService(f"{line['service']} {line['what']}", every_words(say, line),
                          line["last"]["date"] if line["last"] else None,
                          _at_hours(say, line), _state(say, line)) for line in mine),
        tuple((line["name"], _reading(say, line))
              for line in gauges_of(aboard, name_of("machine", one))))


def _reading(say: Words, gauge: dict[str, Any]) -> str:
    last = gauge["last"]
    if last is None:
        return say("handover.never_read")
    shown = " ".join(filter(None, [say.decimal(f"{last['value']:g}"), gauge["unit"]]))
    return say("handover.read", shown=shown, day=say.day(last["on"]), says=gauge_words(say, gauge))


def _hours(say: Words, aboard: Aboard, one: Record) -> str:
    try:
        shown = last_trusted(aboard, meter_machine(aboard, name_of("machine", one)))
    except InvalidInput:
        return ""       # it has no counter
    return say.decimal(f"{shown['hours']:.1f}") if shown else ""


def _at_hours(say: Words, line: dict[str, Any]) -> str:
    last = line["last"]
    return say.decimal(f"{last['hours']:.1f}") if last and last["hours"] is not None else ""


def _state(say: Words, line: dict[str, Any]) -> str:
    words = say.word("service", line["state"])
    when = say.day(line["due_on"]) if line["due_on"] and line["state"] in (
        "coming", "due", "overdue", "done") else ""
    if (line["days_left"] or 0) > FAR_DAYS and line["due_at_hours"] is not None:
        # a day so far off is no forecast
        when = say("handover.at_hours", hours=say.decimal(f"{line['due_at_hours']:g}"))
    ahead = "handover.next" if line["state"] == "done" else "handover.due"
    return ", ".join(filter(None, [words, say(ahead, when=when) if when else ""]))


def _locker_note(say: Words, one: Record) -> str:
    said = [say("handover.ashore") if one.aboard is False and not one.lent_to else "",
            say("common.not_reachable") if one.aboard is not False and one.reachable is False
            else "", say("handover.lent", who=one.lent_to) if one.lent_to else "",
            one.climate or "", one.note or ""]
    return ", ".join(filter(None, said))


def _unknowns(say: Words, aboard: Aboard) -> list[str]:
    machines = [say("handover.no_serial", machine=one.no)
                for one in aboard.all("machine") if not one.serial]
    machines += [say("handover.no_hazard", machine=one.no, hazard=word)
                 for one in aboard.all("machine")
                 for word in known_and_other(hazard_words(one.hazards))[1]]
    readings = [say("handover.doubted", machine=aboard.label(one.machine), day=say.day(one.date),
                    hours=say.decimal(f"{hours(one.minutes):.1f}"))
                for one in aboard.readings if one.doubt and one.minutes is not None]
    fits = [say("handover.no_fits", part=_part(say, aboard, name))
            for name in fits_not_recorded(aboard)]
    uncounted = [one for one in aboard.lying if not one.counted]
    doubtful = [one for one in aboard.lying if one.doubts or one.rivals or one.quantity < 0]
    return [*machines, *readings, *fits,
            *(say(key, part=_part(say, aboard, one.part), locker=aboard.label(one.locker))
              for key, lying in (("handover.uncounted", uncounted), ("handover.doubtful", doubtful))
              for one in lying)]


def _part(say: Words, aboard: Aboard, name: str) -> str:
    part = aboard.get(name)
    return f"{part.no} {part.name}" if part is not None else say("common.no_part")
