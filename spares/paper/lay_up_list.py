"""The lay-up list: drain points in the order given; in spring the same list backwards."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.platypus import Flowable, KeepTogether

from spares.domain.cautions import LAYING_UP, cautions_for, known_and_other
from spares.paper.cells import (
    BOX,
    blanks,
    caution_lines,
    closing_line,
    framed,
    gap,
    heading,
    own_words_lines,
    table,
    text,
)
from spares.paper.first_run_card import FirstRunCard, first_run_story
from spares.paper.language import Words
from spares.paper.lists import StowedLine
from spares.paper.pages import Head, paper_pdf, room_mm


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
    room, say = room_mm(page), head.say
    ordered = list(reversed(points)) if spring else list(points)
    rows = [[
        str(number),
        [text(point.place, 11, bold=True), text(point.machine, 9),
         *([text(point.note, 9)] if spring and point.note else []),
         *([text(point.recorded, 9, bold=True)] if point.recorded else [])],
        point.plug_size or ("" if point.treated else say("common.not_known")),
        [text(tick) for tick in _ticks(say, point, spring)],
    ] for number, point in enumerate(ordered, start=1)]
    known, besides = known_and_other((*LAYING_UP, *hazards))
    warning = [*caution_lines(say, cautions_for(known)), *own_words_lines(say, besides)]
    story: list[Flowable] = [
        framed([*warning, closing_line(say)], room), gap(3),
        table(say.listed("lay_up.titles"), rows, [8, room - 8 - 28 - 62, 28, 62])
        if rows else text(say("lay_up.none"), 12),
        *_nothing(say, says_nothing), *_stock(say, stock, room),
        KeepTogether([gap(3), blanks(
            [say("lay_up.tag_spring" if spring else "lay_up.tag_autumn")], [room], height_mm=14),
            blanks([say("common.done_by"), say("common.date")], [room * 0.6, room * 0.4])]),
        *(KeepTogether(first_run_story(say, card, room)) for card in first_runs),
    ]
    return paper_pdf(head, story, page, (points, stock, says_nothing, first_runs))


def _nothing(say: Words, machines: Sequence[str]) -> list[Flowable]:
    if not machines:
        return []
    return [*heading(say("lay_up.silent")),
            *(text(f"{BOX} {machine}", 11) for machine in machines)]


def _stock(say: Words, lines: Sequence[StowedLine], room: float) -> list[Flowable]:
    if not lines:
        return []
    rows = [[f"{line.part}, {line.maker_number}", line.counted(say),
             f"{line.locker.short} {line.locker.name}" if line.locker.no
             else say("common.none_aboard"), say.day(line.use_by) if line.use_by else ""]
            for line in lines]
    return [*heading(say("lay_up.stock")),
            table(say.listed("lay_up.stock_titles"), rows,
                  [room * share for share in (0.4, 0.13, 0.31, 0.16)])]


def _ticks(say: Words, point: DrainPoint, spring: bool) -> tuple[str, ...]:
    if spring:
        return tuple(f"{BOX} {tick}" for tick in say.listed("lay_up.spring"))
    probed, strength, is_open, is_shut = (f"{BOX} {tick}" for tick in say.listed("lay_up.autumn"))
    own = (f"{BOX} {point.note}",) if point.note else ()
    done = (strength, f"{is_open}  {is_shut}")
    return (*own, *done) if point.treated else (probed, *done, *own)
