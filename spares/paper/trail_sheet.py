"""The trail of a broken piece on paper: places in flow order, what opens and seals each, found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.domain.cautions import cautions_for, closing_sentence
from spares.paper.cells import (
    BOX,
    TICKED,
    Cell,
    blanks,
    caution_lines,
    framed,
    gap,
    heading,
    stop_lines,
    table,
    text,
)
from spares.paper.pages import Head, paper_pdf, room_mm

HOW_CLOSED = ("Closed only when every piece is found, or when the skipper accepts in writing "
              "what stays missing.")


@dataclass(frozen=True, slots=True)
class SheetPlace:
    """A place of the trail; `look` is None where nobody looked, else what was found.

    `seals` says what closes it again and where that lies.
    """

    name: str
    opens: str = ""
    seals: tuple[str, ...] = ()
    look: str | None = None


@dataclass(frozen=True, slots=True)
class TrailSheet:
    """One trail; `gap` says how many pieces are missing and found, `accepted` by whom and why,
    `first_run` what the first run afterwards showed.

    A sheet to fill in by pencil has no `gap`.
    """

    machine: str
    place: str
    what: str
    gap: str
    stopped: bool
    hazards: tuple[str, ...]
    places: tuple[SheetPlace, ...] = ()
    accepted: str = ""
    note: str = ""
    first_run: str = ""


def trail_sheet_pdf(head: Head, sheet: TrailSheet, *, page: str = "A4") -> bytes:
    """Draw the sheet; the mark stands on top while the trail is open.

    InvalidInput for a hazard word that is not known.
    """
    room, cautions = room_mm(page), cautions_for(sheet.hazards, "#/hazards")
    said = caution_lines(cautions)
    shut_off = dict.fromkeys(line for one in cautions for line in one.shut_off)
    after = dict.fromkeys(line for one in cautions for line in one.after)
    story: list[Flowable] = [
        *([framed(stop_lines(sheet.machine, HOW_CLOSED), room, 3), gap(2)]
          if sheet.stopped else []),
        text(sheet.what, 14, bold=True),
        text(f"{sheet.machine} · {sheet.place}" if sheet.place else sheet.machine, 12),
        text(sheet.gap, 12) if sheet.gap else blanks(
            ["What is missing:", "How many pieces, of:", "Came out of:"],
            [room * 0.4, room * 0.25, room * 0.35]),
        *([text(sheet.note)] if sheet.note else []), gap(2),
        framed([*said, text(closing_sentence(), bold=True)], room),
        *heading("Shut off first"), *(text(f"{BOX} {line}", 11) for line in shut_off),
        *heading("Places in flow order"), _places(sheet.places, room),
        *heading("Before it runs again"),
        *(text(f"{BOX} {line}", 11) for line in [*after, "Every place closed with its seal",
                                                "First run: outlet water, flow and temperature"]),
        KeepTogether(_closing(sheet, room)),
    ]
    return paper_pdf(head, story, page, sheet)


def _places(places: Sequence[SheetPlace], room: float) -> Flowable:
    if not places:
        return text("No places are listed. Write them down in flow order, from the pump on.", 11)
    rows: list[list[Cell]] = [[
        str(number),
        [text(one.name, 11, bold=True), text(f"Opens by: {one.opens}".strip())],
        [text(seal) for seal in one.seals] or [text("not recorded")],
        _found(one),
    ] for number, one in enumerate(places, start=1)]
    return table(["", "Place", "Seal, and where it lies", "Found"], rows,
                 [8, room * 0.34, room * 0.36 - 8, room * 0.3], row_mm=13)


def _found(one: SheetPlace) -> list[Flowable]:
    if one.look is not None:
        return [text(f"{TICKED} looked: {one.look}", 11)]
    return [text(f"{BOX} nothing   {BOX} pieces: ____", 11), text("By, date:")]


def _closing(sheet: TrailSheet, room: float) -> list[Flowable]:
    run = text(sheet.first_run, 11, lead="First run afterwards:") if sheet.first_run else blanks(
        ["First run, outlet water:", "°C:", "By, date:"], [room * 0.4, room * 0.2, room * 0.4])
    if sheet.accepted:
        return [gap(3), framed([text(sheet.accepted, 11, lead="Accepted with pieces missing:")],
                               room), gap(2), run]
    half = room / 2
    return [gap(3), blanks([f"{BOX} all pieces found", "Counted by, date:"], [half, half]),
            blanks([f"{BOX} accepted with pieces missing, because:"], [room], height_mm=14),
            blanks(["Skipper:", "Date:"], [room * 0.65, room * 0.35]), run]
