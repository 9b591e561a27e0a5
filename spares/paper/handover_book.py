"""The handover book: what the next keeper must know, and what nobody knows, as of a date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.domain.cautions import cautions_for
from spares.paper.cells import (
    caution_lines,
    closing_line,
    framed,
    gap,
    heading,
    stop_lines,
    table,
    text,
)
from spares.paper.language import Words
from spares.paper.lay_up_list import DrainPoint
from spares.paper.lists import LockerName, StowedLine, StrandedLine, index_rows
from spares.paper.pages import Head, paper_pdf, room_mm


@dataclass(frozen=True, slots=True)
class BookService:
    """A service with its interval in words; `last_done` is None when nobody can date it."""

    what: str
    every: str
    last_done: str | None = None
    at_hours: str = ""
    state: str = ""


@dataclass(frozen=True, slots=True)
class BookMachine:
    """A machine with its plate, counter and services; empty means not known."""

    no: str
    name: str
    model: str = ""
    serial: str = ""
    place: str = ""
    hours: str = ""
    hazards: tuple[str, ...] = ()
    services: tuple[BookService, ...] = ()
    gauges: tuple[tuple[str, str], ...] = ()        # what is read, and what it says


@dataclass(frozen=True, slots=True)
class Book:
    """All that is handed over."""

    machines: tuple[BookMachine, ...]
    stranded: tuple[StrandedLine, ...] = ()
    lockers: tuple[tuple[LockerName, str], ...] = ()
    parts: tuple[StowedLine, ...] = ()              # what lies where on this day
    drain_points: tuple[DrainPoint, ...] = ()
    unknowns: tuple[str, ...] = ()
    stopped: tuple[tuple[str, str], ...] = ()       # machine, and what is missing of it
    gaps: tuple[str, ...] = ()                      # pieces that stay missing, with who and why


def handover_book_pdf(head: Head, book: Book, *, page: str = "A4") -> bytes:
    """Draw the book; a locker comes with its notes, such as `not under way`."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [
        *(framed(stop_lines(say, machine, why), room, 3) for machine, why in book.stopped),
        *([gap(2)] if book.stopped else []), framed(_cautions(say, book), room)]
    if book.gaps:
        story += [*heading(say("handover.gaps"), 14), *map(text, book.gaps)]
    story += heading(say("handover.machines"), 14)
    for machine in book.machines:
        story += _machine(say, machine, room)
    story += _unknown(say, book)
    story += heading(say("handover.stranded"), 14)
    story.append(_stranded(say, book.stranded, room) if book.stranded
                 else text(say("common.nothing")))
    story += heading(say("handover.lockers"), 14)
    rows = [[locker.no, text(locker.code, bold=True), locker.name, note]
            for locker, note in book.lockers]
    story.append(table(say.listed("handover.locker_titles"), rows,
                       [room * share for share in (0.09, 0.12, 0.53, 0.26)]))
    story += heading(say("handover.drain_points"), 14)
    story.append(_drains(say, book.drain_points, room) if book.drain_points
                 else text(say("common.none_recorded")))
    story += _parts(say, book.parts, room)
    return paper_pdf(head, story, page, book)


def _cautions(say: Words, book: Book) -> list[Flowable]:
    words = [word for machine in book.machines for word in machine.hazards]
    said = caution_lines(say, cautions_for(words, "#/machines/hazards"))
    return [*said, closing_line(say)]


def _machine(say: Words, machine: BookMachine, room: float) -> list[Flowable]:
    unknown = say("common.not_known")
    plate = " · ".join([
        say("handover.model", model=machine.model or unknown),
        say("handover.serial", serial=machine.serial or unknown),
        machine.place or say("handover.place_not_known"),
        say("handover.hours", hours=machine.hours) if machine.hours else say("handover.no_hours")])
    hazards = ", ".join(map(say.told, machine.hazards))
    lead = [text(plate, 9), *([text(hazards, 9, lead=say("handover.hazards"))]
                              if hazards else []), gap(1)]
    for line in lead:
        line.keepWithNext = True
    rows = [[service.what, service.every, _last(say, service), service.state]
            for service in machine.services]
    services = table([say("handover.service_of", machine=machine.no),
                      *say.listed("handover.service_titles")], rows,
                     [room * share for share in (0.34, 0.18, 0.23, 0.25)], size_pt=9)
    return [*heading(f"{machine.no}  {machine.name}", 11), *lead,
            services if rows else text(say("handover.no_services"), 9),
            *(text(says, 9, lead=f"{name}:") for name, says in machine.gauges)]


def _last(say: Words, service: BookService) -> str:
    if service.last_done is None:
        return say("handover.history_unknown")
    day = say.day(service.last_done)
    return say("handover.last", day=day, hours=service.at_hours) if service.at_hours else day


def _unknown(say: Words, book: Book) -> list[Flowable]:
    services = [say("handover.unknown_service", machine=machine.no, service=service.what)
                for machine in book.machines
                for service in machine.services if service.last_done is None]
    said = [*services, *book.unknowns] or [say("common.nothing")]
    return [*heading(say("handover.unknown"), 14), *map(text, said)]


def _stranded(say: Words, lines: Sequence[StrandedLine], room: float) -> Flowable:
    rows = [[f"{line.part}, {line.maker_number}", say.quantity(line.quantity, line.unit),
             ", ".join(line.places), line.belonged_to] for line in lines]
    return table(say.listed("handover.stranded_titles"), rows,
                 [room * share for share in (0.36, 0.1, 0.22, 0.32)], size_pt=9)


def _parts(say: Words, lines: Sequence[StowedLine], room: float) -> list[Flowable]:
    if not lines:
        return []
    return [*heading(say("handover.parts"), 14),
            table(say.listed("handover.parts_titles"), index_rows(say, lines, 9),
                  [room * 0.44, room * 0.28, room * 0.28], size_pt=9)]


def _drains(say: Words, points: Sequence[DrainPoint], room: float) -> Flowable:
    rows = [[str(number), point.place, point.machine,
             point.plug_size or ("-" if point.treated else say("common.not_known")),
             (point.note or say.word("drained", "treated")) if point.treated
             else say.word("drained", "drained")]
            for number, point in enumerate(points, start=1)]
    return table(say.listed("handover.drain_titles"), rows,
                 [room * share for share in (0.05, 0.28, 0.3, 0.14, 0.23)], size_pt=9)
