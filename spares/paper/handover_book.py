"""The handover book: what the next keeper must know, and what nobody knows, as of a date."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.domain.cautions import cautions_for, closing_sentence
from spares.paper.cells import (
    caution_lines,
    framed,
    gap,
    heading,
    quantity_text,
    stop_lines,
    table,
    text,
)
from spares.paper.dates import date_text
from spares.paper.lay_up_list import DrainPoint
from spares.paper.lists import LockerName, StowedLine, StrandedLine, index_rows
from spares.paper.pages import Head, paper_pdf, room_mm

HISTORY_UNKNOWN = "History unknown"


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
    room = room_mm(page)
    story: list[Flowable] = [
        *(framed(stop_lines(machine, why), room, 3) for machine, why in book.stopped),
        *([gap(2)] if book.stopped else []), framed(_cautions(book), room)]
    if book.gaps:
        story += [*heading("Accepted with pieces missing", 14), *map(text, book.gaps)]
    story += heading("Machines", 14)
    for machine in book.machines:
        story += _machine(machine, room)
    story += _unknown(book)
    story += heading("Stranded: fits nothing as fitted today", 14)
    story.append(_stranded(book.stranded, room) if book.stranded else text("Nothing."))
    story += heading("Lockers", 14)
    rows = [[locker.no, text(locker.code, bold=True), locker.name, note]
            for locker, note in book.lockers]
    story.append(table(["No", "Code", "Where", "Notes"], rows,
                       [room * share for share in (0.09, 0.12, 0.53, 0.26)]))
    story += heading("Drain points", 14)
    story.append(_drains(book.drain_points, room) if book.drain_points
                 else text("None recorded."))
    story += _parts(book.parts, room)
    return paper_pdf(head, story, page, book)


def _cautions(book: Book) -> list[Flowable]:
    words = [word for machine in book.machines for word in machine.hazards]
    said = caution_lines(cautions_for(words, "#/machines/hazards"))
    return [*said, text(closing_sentence(), bold=True)]


def _machine(machine: BookMachine, room: float) -> list[Flowable]:
    plate = (f"Model {machine.model or 'not known'} · serial {machine.serial or 'not known'} · "
             f"{machine.place or 'place not known'} · "
             f"{f'{machine.hours} h' if machine.hours else 'no hours recorded'}")
    lead = [text(plate, 9), *([text(", ".join(machine.hazards), 9, lead="Hazards:")]
                              if machine.hazards else []), gap(1)]
    for line in lead:
        line.keepWithNext = True
    rows = [[service.what, service.every, _last(service), service.state]
            for service in machine.services]
    services = table([f"Service of {machine.no}", "Every", "Last done", "State"], rows,
                     [room * share for share in (0.34, 0.18, 0.23, 0.25)], size_pt=9)
    return [*heading(f"{machine.no}  {machine.name}", 11), *lead,
            services if rows else text("No services recorded.", 9),
            *(text(says, 9, lead=f"{name}:") for name, says in machine.gauges)]


def _last(service: BookService) -> str:
    if service.last_done is None:
        return HISTORY_UNKNOWN
    hours = f" at {service.at_hours} h" if service.at_hours else ""
    return f"{date_text(service.last_done)}{hours}"


def _unknown(book: Book) -> list[Flowable]:
    services = [f"{machine.no}: {service.what}" for machine in book.machines
                for service in machine.services if service.last_done is None]
    said = [*(f"{line}: history unknown, counts as due" for line in services), *book.unknowns]
    return [*heading("What nobody knows", 14), *(text(line) for line in said or ["Nothing."])]


def _stranded(lines: Sequence[StrandedLine], room: float) -> Flowable:
    rows = [[f"{line.part}, {line.maker_number}", quantity_text(line.quantity, line.unit),
             ", ".join(line.places), line.belonged_to] for line in lines]
    return table(["Part", "Count", "Where", "Belonged to"], rows,
                 [room * share for share in (0.36, 0.1, 0.22, 0.32)], size_pt=9)


def _parts(lines: Sequence[StowedLine], room: float) -> list[Flowable]:
    if not lines:
        return []
    return [*heading("Parts, and how many lie where on this day", 14),
            table(["Part", "Maker and number", "Where: how many"], index_rows(lines, 9),
                  [room * 0.44, room * 0.28, room * 0.28], size_pt=9)]


def _drains(points: Sequence[DrainPoint], room: float) -> Flowable:
    rows = [[str(number), point.place, point.machine,
             point.plug_size or ("-" if point.treated else "not known"),
             (point.note or "treated") if point.treated else "drained"]
            for number, point in enumerate(points, start=1)]
    return table(["", "Point", "Machine", "Plug", "How"], rows,
                 [room * share for share in (0.05, 0.28, 0.3, 0.14, 0.23)], size_pt=9)
