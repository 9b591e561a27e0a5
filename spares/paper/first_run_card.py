"""The first-run card: cautions, when to stop, minute marks with blanks, where leaks show."""

from __future__ import annotations

from dataclasses import dataclass

from reportlab.platypus import Flowable

from spares.domain.cautions import cautions_for, closing_sentence
from spares.paper.cells import (
    BOX,
    Cell,
    blanks,
    caution_lines,
    framed,
    gap,
    heading,
    own_words_lines,
    table,
    text,
)


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


def first_run_story(card: FirstRunCard, room: float) -> list[Flowable]:
    """Lay out one card in a width [mm]; its cautions cannot be left out."""
    said = [*caution_lines(cautions_for((*card.hazards, "stop values")), 9),
            *own_words_lines(card.besides, 9)]
    rows: list[list[Cell]] = [[f"{what} [{unit}]".replace(" / ", "/"), text(limits, 9),
                               *[""] * len(card.minutes)]
                              for what, unit, limits in card.readings]
    first = min(48, room * 0.27)
    share = (room - first - 36) / len(card.minutes)
    leaks = [text("   ".join(f"{BOX} {one}" for one in card.leaks), 10,
                  lead="Look for leaks at:")] if card.leaks else []
    return [*heading(f"First run: {card.machine}"),
            framed([*said, text(closing_sentence(), 9, bold=True)], room), gap(2),
            table(["Look at", "Limits, maker's book",
                   *(f"min {minute}" for minute in card.minutes)],
                  rows, [first, 36, *[share] * len(card.minutes)], row_mm=9),
            *leaks, *([text(f"{BOX} {card.last}", 10)] if card.last else []),
            blanks(["Accepted by:", "Date:", "Hours on the counter:"], [room / 3] * 3)]
