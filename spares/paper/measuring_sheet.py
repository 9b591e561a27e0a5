"""The measuring sheet on paper: what a place asks, how to measure it, boxes for two parts.

The row that rules a part out soonest stands first. The drawings that rows name stand
behind them, with the words that explain their letters.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from string import ascii_uppercase

from reportlab.lib.colors import black
from reportlab.platypus import Flowable, KeepTogether, Table

from spares.paper.cells import (
    TRIANGLE,
    Cell,
    blanks,
    framed,
    gap,
    heading,
    table,
    text,
)
from spares.paper.drawings import drawing, told
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm
from spares.paper.points import POINTS_PER_MM

ROW_MM = 11.0
LARGEST_MM = 64.0   # of a drawing
LEAST_MM = 14.0     # of a box to write in


@dataclass(frozen=True, slots=True)
class Measured:
    """One line to measure.

    `blanks` are the words inside the box, such as the unit, or `turns` and `seen from` for
    what takes two entries. `drawing` is the text of an SVG.
    """

    label: str
    needs: str
    how: str
    tool: str
    blanks: tuple[str, ...] = ()
    drawing: str = ""


@dataclass(frozen=True, slots=True)
class MeasuringSheet:
    """A place and all that is to be measured of a part for it."""

    machine: str
    point: str
    fitted: str
    cautions: tuple[tuple[str, str], ...]    # lead in bold, text
    lines: tuple[Measured, ...]


def measuring_sheet_pdf(head: Head, sheet: MeasuringSheet, *, page: str = "A4") -> bytes:
    """Draw the sheet; what nobody measured is left empty, and empty means not known."""
    return paper_pdf(head, _story(head.say, sheet, room_mm(page), 9.0 if page == "A5" else 10.0),
                     page, sheet)


def _story(say: Words, sheet: MeasuringSheet, room: float, size: float) -> list[Flowable]:
    said = [text(words, size - 1, lead=f"{TRIANGLE} {lead}" if lead else "")
            for lead, words in sheet.cautions]
    return [
        text(f"{sheet.machine} · {sheet.point}", size + 3, bold=True),
        *([text(say("measuring.fitted", part=sheet.fitted), size)] if sheet.fitted else []),
        gap(2), *([framed(said, room), gap(1)] if said else []),
        text(say("measuring.help"), size),
        blanks([say("measuring.maker_number", part=part) for part in _two(say)], [room / 2] * 2,
               size_pt=size),
        gap(2), _lines(say, sheet.lines, room, size),
        KeepTogether(_closing(say, room, size)), *_gallery(say, sheet.lines, room, size),
    ]


def _two(say: Words) -> tuple[str, str]:
    return say("measuring.first"), say("measuring.second")


def _lines(say: Words, lines: Sequence[Measured], room: float, size: float) -> Flowable:
    if not lines:
        return text(say("measuring.nothing"), size)
    needs, box = room * 0.18, max(LEAST_MM, room * 0.17)
    what = room - 7 - needs - 2 * box
    named = {svg: letter for letter, svg in _drawings(lines)}
    rows = [[str(number), _what(say, line, size, named.get(line.drawing)), line.needs,
             _box(line, size), _box(line, size)] for number, line in enumerate(lines, start=1)]
    made = table([*say.listed("measuring.titles"), *_two(say)], rows,
                 [7, what, needs, box, box], size_pt=size, row_mm=ROW_MM)
    made.setStyle([("LINEBEFORE", (3, 0), (4, -1), 0.5, black),
                   ("LEFTPADDING", (3, 0), (4, -1), 3)])
    return _kept_whole(made)


def _kept_whole(made: Table) -> Table:
    """Let a row go to the next page rather than be cut: a box is written into at one place."""
    made.splitInRow = 0
    return made


def _what(say: Words, line: Measured, size: float, letter: str | None) -> list[Flowable]:
    more = [say("measuring.tool", tool=line.tool) if line.tool else "",
            say("measuring.drawing", letter=letter) if letter else ""]
    return [text(line.label, size, bold=True), text(line.how, size - 1.5),
            *([text(" ".join(filter(None, more)), size - 1.5)] if any(more) else [])]


def _drawings(lines: Sequence[Measured]) -> list[tuple[str, str]]:
    """Give the drawings by their letters, in the order in which rows name them."""
    return list(zip(ascii_uppercase, dict.fromkeys(
        line.drawing for line in lines if line.drawing), strict=False))


def _gallery(say: Words, lines: Sequence[Measured], room: float, size: float
             ) -> list[Flowable]:
    """Show the drawings two by two, each with its letter, title and words."""
    half = room / 2
    cells = [_figure(say, letter, svg, half - 4, size) for letter, svg in _drawings(lines)]
    if not cells:
        return []
    first, *others = [_pair(cells[n:n + 2], half) for n in range(0, len(cells), 2)]
    return [KeepTogether([*heading(say("measuring.gallery"), size + 1), first]), *others]


def _pair(cells: list[list[Flowable]], half: float) -> Table:
    made = Table([[*cells, *([""] * (2 - len(cells)))]], colWidths=[half * POINTS_PER_MM] * 2,
                 hAlign="LEFT")
    made.setStyle([("VALIGN", (0, 0), (-1, -1), "TOP"), ("LEFTPADDING", (0, 0), (-1, -1), 0)])
    return made


def _figure(say: Words, letter: str, svg: str, width: float, size: float) -> list[Flowable]:
    title, words = map(say.told, told(svg))
    return [text(title, size, bold=True, lead=f"{letter}:"), gap(1),
            drawing(svg, min(width, LARGEST_MM), say.told), gap(1), text(words, size - 1.5), gap(2)]


def _box(line: Measured, size: float) -> Cell:
    return [part for words in line.blanks for part in (text(words, size - 2.5), gap(4))]


def _closing(say: Words, room: float, size: float) -> list[Flowable]:
    third = room / 3
    return [gap(3), blanks([say("measuring.by"), say("common.date"), say("measuring.tools")],
                           [third] * 3, size_pt=size),
            text(say("measuring.type_in"), size)]
