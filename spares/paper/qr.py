"""QR symbols in whole printer dots.

A module that is not a whole number of dots comes out uneven from a label
printer, so the module is the largest whole number of dots that fits and the
origin lies on the dot grid, counted from the page's upper left corner. Each
run of dark modules is one rectangle, drawn 0.1 dot smaller on every side,
because some renderers blacken every dot that a rectangle touches.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache

from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_M
from reportlab.lib.rl_accel import fp_str
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

from spares.errors import InvalidInput
from spares.paper.points import MM_PER_INCH, POINTS_PER_INCH
from spares.paper.qr_mask import rows_of

QUIET_MODULES = 4  # ISO/IEC 18004 asks for 4 on each side (from memory)
LEAST_MODULE_MM = 0.25  # smaller ones were not read by every decoder that was tried
LONGEST_TEXT = 300
_INSET_DOTS = 0.1
_DARK = re.compile("1+")


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol sized for a printer: its rows, dark modules as 1, and dots for each module."""

    rows: tuple[str, ...]
    dots_per_module: int
    dpi: int

    @property
    def side_pt(self) -> float:
        """Side with the quiet zone [pt]."""
        modules = len(self.rows) + 2 * QUIET_MODULES
        return modules * self.dots_per_module * POINTS_PER_INCH / self.dpi


def symbol(text: str, *, short: bool, box_pt: float, dpi: int) -> Symbol:
    """Make the symbol for a square box; InvalidInput when it cannot be printed there.

    Error correction is H for the short text, which has to live with scratches
    and oil, and M for an address, which is longer.
    """
    if len(text) > LONGEST_TEXT:
        raise _too_long(dpi)
    rows = rows_of(text, ERROR_CORRECT_H if short else ERROR_CORRECT_M)
    dots = int(box_pt * dpi / POINTS_PER_INCH / (len(rows) + 2 * QUIET_MODULES) + 1e-9)
    if dots < round(LEAST_MODULE_MM * dpi / MM_PER_INCH):
        raise _too_long(dpi)
    return Symbol(rows, dots, dpi)


def _too_long(dpi: int) -> InvalidInput:
    return InvalidInput.at(
        "#/address", f"too long for this label at {dpi} dpi: take a larger label or no address")


def draw(canvas: Canvas, made: Symbol, left_pt: float, top_pt: float, page_height_pt: float
         ) -> None:
    """Draw a symbol, quiet zone and all, near a point given from the upper left corner."""
    dot = POINTS_PER_INCH / made.dpi
    module = made.dots_per_module
    first_x = round(left_pt / dot) + QUIET_MODULES * module
    first_y = round(top_pt / dot) + QUIET_MODULES * module
    count = len(made.rows)
    lefts, wides = _lefts(first_x, module, count, dot), _lengths(module, count, dot)
    bottoms = _bottoms(first_y, module, count, dot, page_height_pt)
    canvas.setFillGray(0)
    # One path of ready texts: to write 150 rectangles a label number by number took half the time.
    canvas.drawPath(PDFPathObject([
        f"{lefts[dark.start()]} {bottom} {wides[len(dark[0])]} {wides[1]} re"
        for bottom, row in zip(bottoms, made.rows, strict=True)
        for dark in _DARK.finditer(row)]), stroke=0, fill=1)


@lru_cache
def _lefts(first_dots: int, module: int, count: int, dot: float) -> tuple[str, ...]:
    return tuple(fp_str((first_dots + place * module + _INSET_DOTS) * dot)
                 for place in range(count))


@lru_cache
def _bottoms(first_dots: int, module: int, count: int, dot: float, page_height_pt: float,
             ) -> tuple[str, ...]:
    return tuple(fp_str(page_height_pt - (first_dots + place * module - _INSET_DOTS) * dot)
                 for place in range(1, count + 1))


@lru_cache
def _lengths(module: int, longest: int, dot: float) -> tuple[str, ...]:
    """Write how long a run of 0, 1, 2 ... modules is drawn."""
    return tuple(fp_str((many * module - 2 * _INSET_DOTS) * dot) for many in range(longest + 1))
