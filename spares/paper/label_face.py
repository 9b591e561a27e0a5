"""The face of one label: symbol on the left, code in big type, text below it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from reportlab.pdfgen.canvas import Canvas

from spares.paper import qr
from spares.paper.lettering import (
    ASCENT,
    BOLD,
    CAP_HEIGHT,
    LEADING,
    Row,
    SetRow,
    largest_size,
    set_stack,
)
from spares.paper.points import POINTS_PER_MM
from spares.paper.sheet import Place

_J_DEPTH = 0.21  # the J of the bold font reaches this far below the line (410 of 2048)


@dataclass(frozen=True, slots=True)
class LabelSize:
    """Measures of one label size; the symbol's box holds its quiet zone too."""

    width_mm: float
    height_mm: float
    symbol_mm: float
    edge_mm: float
    code_cap_mm: float
    name_pt: float
    small_pt: float
    smallest_pt: float


SIZES = {
    "S": LabelSize(40, 20, 17, 1.0, 5.0, 7.5, 5.5, 4.2),
    "M": LabelSize(70, 36, 26, 1.0, 9.0, 13, 9, 5.5),
    "L": LabelSize(100, 60, 44, 2.0, 13.0, 18, 12, 7),
}


@dataclass(frozen=True, slots=True)
class Face:
    """What stands on one label."""

    symbol: qr.Symbol
    code: str
    rows: tuple[Row, ...]
    pencil_line: bool = False


def draw_face(canvas: Canvas, face: Face, form: LabelSize, place: Place, page_height_mm: float
              ) -> None:
    """Draw one label at its place; nothing leaves its outline."""
    page_height = page_height_mm * POINTS_PER_MM
    edge = form.edge_mm * POINTS_PER_MM
    left, top = place.left_mm * POINTS_PER_MM, place.top_mm * POINTS_PER_MM
    box = form.symbol_mm * POINTS_PER_MM
    height = form.height_mm * POINTS_PER_MM
    qr.draw(canvas, face.symbol, left + edge + (box - face.symbol.side_pt) / 2,
            top + (height - face.symbol.side_pt) / 2, page_height)
    # The symbol's own quiet zone parts it from the text.
    text_left = left + edge + box
    room = (form.width_mm - form.symbol_mm - 2 * form.edge_mm) * POINTS_PER_MM
    text_top = page_height - top - edge
    text_bottom = page_height - top - height + edge
    if face.pencil_line:
        text_bottom = _draw_pencil_line(canvas, text_left, text_bottom, room)
    size = largest_size(face.code, BOLD, room, form.code_cap_mm * POINTS_PER_MM)
    below_code = text_top - (CAP_HEIGHT + _J_DEPTH) * size
    rows = set_stack(face.rows, room, below_code - text_bottom)
    spare = below_code - text_bottom - sum(row.height_pt for row in rows)
    down = 0 if face.pencil_line else max(spare, 0) / 2     # beside the middle of the symbol
    canvas.setFillGray(0)
    canvas.setFont(BOLD, size)
    canvas.drawString(text_left, text_top - down - CAP_HEIGHT * size, face.code)
    _draw_rows(canvas, rows, text_left, below_code - down)


def _draw_pencil_line(canvas: Canvas, left: float, bottom: float, room: float) -> float:
    canvas.setLineWidth(0.4)
    canvas.setStrokeGray(0)
    canvas.line(left, bottom + 0.3, left + room, bottom + 0.3)
    return bottom + 2.6 * POINTS_PER_MM  # room for a line of handwriting


def _draw_rows(canvas: Canvas, rows: Sequence[SetRow], left: float, top: float) -> None:
    for row in rows:
        canvas.setFont(row.font, row.size_pt)
        for line in row.lines:
            canvas.drawString(left, top - ASCENT * row.size_pt, line)
            top -= LEADING * row.size_pt
