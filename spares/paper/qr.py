"""QR symbols in whole printer dots.

A module that is not a whole number of dots comes out uneven from a label
printer, so the module is the largest whole number of dots that fits and the
origin lies on the dot grid, counted from the page's upper left corner. Each
run of dark modules is one rectangle, drawn 0.1 dot smaller on every side,
because some renderers blacken every dot that a rectangle touches.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_M
from reportlab.pdfgen.canvas import Canvas

from spares.errors import InvalidInput
from spares.paper.points import MM_PER_INCH, POINTS_PER_INCH

QUIET_MODULES = 4  # ISO/IEC 18004 asks for 4 on each side (from memory)
LEAST_MODULE_MM = 0.25  # smaller ones were not read by every decoder that was tried
LONGEST_TEXT = 300
_INSET_DOTS = 0.1


@dataclass(frozen=True, slots=True)
class Symbol:
    """A symbol sized for a printer: its modules, and dots for each module."""

    matrix: tuple[tuple[bool, ...], ...]
    dots_per_module: int
    dpi: int

    @property
    def side_pt(self) -> float:
        """Side with the quiet zone [pt]."""
        modules = len(self.matrix) + 2 * QUIET_MODULES
        return modules * self.dots_per_module * POINTS_PER_INCH / self.dpi


def symbol(text: str, *, short: bool, box_pt: float, dpi: int) -> Symbol:
    """Make the symbol for a square box; InvalidInput when it cannot be printed there.

    Error correction is H for the short text, which has to live with scratches
    and oil, and M for an address, which is longer.
    """
    if len(text) > LONGEST_TEXT:
        raise _too_long(dpi)
    code = QRCode(error_correction=ERROR_CORRECT_H if short else ERROR_CORRECT_M, border=0)
    code.add_data(text)
    code.make(fit=True)
    matrix = tuple(tuple(bool(module) for module in row) for row in code.get_matrix())
    dots = int(box_pt * dpi / POINTS_PER_INCH / (len(matrix) + 2 * QUIET_MODULES) + 1e-9)
    if dots < round(LEAST_MODULE_MM * dpi / MM_PER_INCH):
        raise _too_long(dpi)
    return Symbol(matrix, dots, dpi)


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
    canvas.setFillGray(0)
    for line, row in enumerate(made.matrix):
        bottom_dots = first_y + (line + 1) * module - _INSET_DOTS
        column = 0
        for dark, run in groupby(row):
            length = len(list(run))
            if dark:
                left_dots = first_x + column * module + _INSET_DOTS
                canvas.rect(left_dots * dot, page_height_pt - bottom_dots * dot,
                            (length * module - 2 * _INSET_DOTS) * dot,
                            (module - 2 * _INSET_DOTS) * dot, stroke=0, fill=1)
            column += length
