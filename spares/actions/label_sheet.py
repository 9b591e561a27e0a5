"""How labels stand on the paper that somebody has: one a page, or filling a sheet."""

from __future__ import annotations

from typing import Any

from spares.errors import InvalidInput
from spares.paper.label_face import SIZES
from spares.paper.sheet import PAGES_MM, Sheet

PAGES = {"a4": "A4", "a5": "A5", "letter": "Letter"}
SINGLE = "single"
# Most printers leave this much of each edge white.
WHITE_EDGE_MM = 5.0


def label_sheet(sheet: str = SINGLE, *, size: str = "M", rows: int | None = None,
                columns: int | None = None, margin_left_mm: float | None = None,
                margin_top_mm: float | None = None, **more: Any) -> Sheet | None:
    """Give the sheet called *sheet*, or None for a page a label.

    Rows and columns that are not said fill the page; margins that are not said centre
    the labels on it.

    Args:
        sheet: single, a4, a5 or letter [-].
        size: Of the labels: S, M or L [-].
        rows, columns: How many labels down and across [1].
        margin_left_mm, margin_top_mm: Of the first label [mm].
        more: `gap_x_mm`, `gap_y_mm` [mm], `start` [1], `outline` [-].

    Raises:
        InvalidInput: there is no such sheet or size.
    """
    if size not in SIZES:
        raise InvalidInput.at("#/size", f"one of {', '.join(SIZES)} is needed")
    if sheet == SINGLE:
        return None
    if sheet not in PAGES:
        raise InvalidInput.at("#/sheet", f"one of {', '.join([SINGLE, *PAGES])} is needed")
    page_width_mm, page_height_mm = PAGES_MM[PAGES[sheet]]
    label = SIZES[size]
    gap_x_mm, gap_y_mm = more.get("gap_x_mm", 0.0), more.get("gap_y_mm", 0.0)
    columns, left_mm = _fill(page_width_mm, label.width_mm, gap_x_mm, columns, margin_left_mm)
    rows, top_mm = _fill(page_height_mm, label.height_mm, gap_y_mm, rows, margin_top_mm)
    return Sheet(rows, columns, PAGES[sheet], left_mm, top_mm, **more)


def _fill(page_mm: float, label_mm: float, gap_mm: float, count: int | None,
          margin_mm: float | None) -> tuple[int, float]:
    """Give how many labels stand along one side of the page, and the first one's margin."""
    edge_mm = WHITE_EDGE_MM if margin_mm is None else margin_mm
    if count is None:
        count = max(1, int((page_mm - 2 * edge_mm + gap_mm) // (label_mm + gap_mm)))
    taken_mm = count * label_mm + (count - 1) * gap_mm
    return count, max(0.0, (page_mm - taken_mm) / 2) if margin_mm is None else margin_mm
