"""The trail of a broken piece on paper: places in flow order, what opens and seals each, found."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.domain.cautions import cautions_for
from spares.paper.cells import (
    BOX,
    TICKED,
    Cell,
    blanks,
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
from spares.paper.pages import Head, paper_pdf, room_mm


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
    room, cautions, say = room_mm(page), cautions_for(sheet.hazards, "#/hazards"), head.say
    said = caution_lines(say, cautions)
    shut_off = dict.fromkeys(say.told(line) for one in cautions for line in one.shut_off)
    after = dict.fromkeys(say.told(line) for one in cautions for line in one.after)
    story: list[Flowable] = [
        *([framed(stop_lines(say, sheet.machine, say("trail.how_closed")), room, 3), gap(2)]
          if sheet.stopped else []),
        text(sheet.what, 14, bold=True),
        text(f"{sheet.machine} · {sheet.place}" if sheet.place else sheet.machine, 12),
        text(sheet.gap, 12) if sheet.gap else blanks(
            [say("trail.missing"), say("trail.how_many"), say("trail.came_out")],
            [room * 0.4, room * 0.25, room * 0.35]),
        *([text(sheet.note)] if sheet.note else []), gap(2),
        framed([*said, closing_line(say)], room),
        *heading(say("caution.shut_off")), *(text(f"{BOX} {line}", 11) for line in shut_off),
        *heading(say("trail.places")), _places(say, sheet.places, room),
        *heading(say("caution.after")),
        *(text(f"{BOX} {line}", 11) for line in [*after, say("trail.every_place"),
                                                say("trail.first_run_look")]),
        KeepTogether(_closing(say, sheet, room)),
    ]
    return paper_pdf(head, story, page, sheet)


def _places(say: Words, places: Sequence[SheetPlace], room: float) -> Flowable:
    if not places:
        return text(say("trail.no_places"), 11)
    rows: list[list[Cell]] = [[
        str(number),
        [text(one.name, 11, bold=True), text(say("trail.opens", opens=one.opens).strip())],
        [text(seal) for seal in one.seals] or [text(say("trail.not_recorded"))],
        _found(say, one),
    ] for number, one in enumerate(places, start=1)]
    return table(say.listed("trail.titles"), rows,
                 [8, room * 0.34, room * 0.36 - 8, room * 0.3], row_mm=13)


def _found(say: Words, one: SheetPlace) -> list[Flowable]:
    if one.look is not None:
        return [text(f"{TICKED} {say('trail.looked', look=one.look)}", 11)]
    return [text(f"{BOX} {say('trail.nothing')}   {BOX} {say('trail.pieces')}", 11),
            text(say("common.by_date"))]


def _closing(say: Words, sheet: TrailSheet, room: float) -> list[Flowable]:
    run = text(sheet.first_run, 11, lead=say("trail.first_run")) if sheet.first_run else blanks(
        [say("trail.run_water"), say("trail.degrees"), say("common.by_date")],
        [room * 0.4, room * 0.2, room * 0.4])
    if sheet.accepted:
        said = text(sheet.accepted, 11, lead=say("trail.accepted"))
        return [gap(3), framed([said], room), gap(2), run]
    half = room / 2
    found = f"{BOX} {say('trail.all_found')}"
    return [gap(3), blanks([found, say("trail.counted_by")], [half, half]),
            blanks([f"{BOX} {say('trail.accepted_because')}"], [room], height_mm=14),
            blanks([say("trail.skipper"), say("common.date")], [room * 0.65, room * 0.35]), run]
