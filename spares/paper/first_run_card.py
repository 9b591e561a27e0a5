"""The first-run card: cautions, when to stop, minute marks with blanks, where leaks show."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.domain.cautions import cautions_for
from spares.paper.cells import (
    BOX,
    Cell,
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
from spares.paper.language import Words


@dataclass(frozen=True, slots=True)
class FirstRunCard:
    """How a machine first runs; `readings` are what, unit and the book's limits, `minutes` when."""

    machine: str
    hazards: tuple[str, ...]
    minutes: tuple[int, ...]
    readings: tuple[tuple[str, str, str], ...]
    leaks: tuple[str, ...] = ()
    last: str = ""
    besides: tuple[str, ...] = ()       # hazards in a person's own words


def first_run_story(say: Words, card: FirstRunCard, room: float) -> list[Flowable]:
    """Lay out one card in a width [mm]; its cautions cannot be left out."""
    said = [*caution_lines(say, cautions_for((*card.hazards, "stop values")), 9),
            *own_words_lines(say, card.besides, 9)]
    rows: list[list[Cell]] = [[f"{what} [{unit}]".replace(" / ", "/"), text(limits, 9),
                               *[""] * len(card.minutes)]
                              for what, unit, limits in card.readings]
    first = min(48, room * 0.27)
    share = (room - first - 36) / len(card.minutes)
    leaks = [text("   ".join(f"{BOX} {one}" for one in card.leaks), 10,
                  lead=say("first_run.leaks"))] if card.leaks else []
    return [*heading(say("first_run.title", machine=card.machine)),
            framed([*said, closing_line(say, 9)], room), gap(2),
            table([say("first_run.look_at"), say("first_run.limits"),
                   *(say("first_run.minute", minute=minute) for minute in card.minutes)],
                  rows, [first, 36, *[share] * len(card.minutes)], row_mm=9),
            *leaks, *([text(f"{BOX} {card.last}", 10)] if card.last else []),
            blanks([say("common.accepted_by"), say("common.date"), say("common.hours")],
                   [room / 3] * 3)]
