"""The lay-up list: drain points in the order given; in spring the same list backwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.domain.cautions import LAYING_UP, cautions_for, closing_sentence, known_and_other
from spares.paper.cells import (
    BOX,
    blanks,
    caution_lines,
    framed,
    gap,
    heading,
    own_words_lines,
    table,
    text,
)
from spares.paper.dates import date_text
from spares.paper.first_run_card import FirstRunCard, first_run_story
from spares.paper.lists import StowedLine
from spares.paper.pages import Head, paper_pdf, room_mm

_AUTUMN = (f"{BOX} probed, seen to run", f"{BOX} treated, strength:",
           f"{BOX} cock open  {BOX} cock shut")
_SPRING = (f"{BOX} plug in, seal renewed", f"{BOX} cock as for running",
           f"{BOX} looked at, no leak")


@dataclass(frozen=True, slots=True)
class DrainPoint:
    """A place where water is let out or treated; what is not known stays empty."""

    place: str
    machine: str = ""
    plug_size: str = ""
    treated: bool = False
    note: str = ""
    recorded: str = ""      # what was done, when and by whom


def lay_up_list_pdf(
    head: Head, points: Sequence[DrainPoint], *, spring: bool = False, page: str = "A4",
    stock: Sequence[StowedLine] = (), says_nothing: Sequence[str] = (),
    first_runs: Sequence[FirstRunCard] = (), hazards: Sequence[str] = LAYING_UP,
) -> bytes:
    """Draw the list in the order given, or reversed for fitting out in spring.

    `stock` is what lies aboard for the work, `says_nothing` the machines for which no
    drain point is recorded, to be looked at all the same; `first_runs` come after the list;
    `hazards` call the cautions, those of any lay-up among them.
    """
    room = room_mm(page)
    ordered = list(reversed(points)) if spring else list(points)
    ticks = _SPRING if spring else _AUTUMN
    rows = [[
        str(number),
        [text(point.place, 11, bold=True), text(point.machine, 9),
         *([text(point.note, 9)] if spring and point.note else []),
         *([text(point.recorded, 9, bold=True)] if point.recorded else [])],
        point.plug_size or ("" if point.treated else "not known"),
        [text(tick) for tick in _ticks(point, ticks, spring)],
    ] for number, point in enumerate(ordered, start=1)]
    known, besides = known_and_other((*LAYING_UP, *hazards))
    warning = [*caution_lines(cautions_for(known)), *own_words_lines(besides)]
    story: list[Flowable] = [
        framed([*warning, text(closing_sentence(), bold=True)], room), gap(3),
        table(["", "Point", "Plug", "Done"], rows, [8, room - 8 - 28 - 62, 28, 62])
        if rows else text("No drain points are recorded.", 12),
        *_nothing(says_nothing), *_stock(stock, room),
        KeepTogether([gap(3), blanks(
            ["Plugs in, cocks read off the list; tag at the helm off:" if spring else
             "Cocks left open, written on the tag at the helm:"], [room], height_mm=14),
            blanks(["Done by:", "Date:"], [room * 0.6, room * 0.4])]),
        *(KeepTogether(first_run_story(card, room)) for card in first_runs),
    ]
    return paper_pdf(head, story, page, (points, stock, says_nothing, first_runs))


def _nothing(machines: Sequence[str]) -> list[Flowable]:
    if not machines:
        return []
    return [*heading("No drain point recorded: look, and write down what is found"),
            *(text(f"{BOX} {machine}", 11) for machine in machines)]


def _stock(lines: Sequence[StowedLine], room: float) -> list[Flowable]:
    if not lines:
        return []
    rows = [[f"{line.part}, {line.maker_number}", line.counted,
             f"{line.locker.short} {line.locker.name}" if line.locker.no else "none aboard",
             date_text(line.use_by) if line.use_by else ""] for line in lines]
    return [*heading("Aboard for this work"),
            table(["What", "Count", "Where", "Use by"], rows,
                  [room * share for share in (0.4, 0.13, 0.31, 0.16)])]


def _ticks(point: DrainPoint, ticks: tuple[str, ...], spring: bool) -> tuple[str, ...]:
    if spring:
        return ticks
    own = (f"{BOX} {point.note}",) if point.note else ()
    return (*own, *ticks[1:]) if point.treated else (*ticks, *own)
