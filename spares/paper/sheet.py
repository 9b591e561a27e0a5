"""Where labels stand: one to a page, or in rows and columns on a sheet."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from spares.errors import InvalidInput

PAGES_MM = {"A4": (210.0, 297.0), "A5": (148.0, 210.0), "Letter": (215.9, 279.4)}
_ROUNDING_MM = 0.001


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet of labels; lengths in millimetres, `start` is the first free place from 1.

    Places are counted along the rows. `outline` draws a thin line round each
    label, to cut along on plain paper.
    """

    rows: int
    columns: int
    page: str = "A4"
    margin_left_mm: float = 0.0
    margin_top_mm: float = 0.0
    gap_x_mm: float = 0.0
    gap_y_mm: float = 0.0
    start: int = 1
    outline: bool = False


@dataclass(frozen=True, slots=True)
class Place:
    """Upper left corner of one label, from the page's upper left corner."""

    page_number: int
    left_mm: float
    top_mm: float


def check_sheet(sheet: Sheet, width_mm: float, height_mm: float) -> None:
    """Raise InvalidInput, naming the field, if labels of this size do not fit the sheet."""
    if sheet.page not in PAGES_MM:
        raise InvalidInput.at("#/sheet/page", f"must be one of {', '.join(PAGES_MM)}")
    for name in ("rows", "columns"):
        if getattr(sheet, name) < 1:
            raise InvalidInput.at(f"#/sheet/{name}", "must be 1 or more")
    for name in ("margin_left_mm", "margin_top_mm", "gap_x_mm", "gap_y_mm"):
        if not getattr(sheet, name) >= 0:  # so that not-a-number is refused too
            raise InvalidInput.at(f"#/sheet/{name}", "must not be negative")
    if not 1 <= sheet.start <= sheet.rows * sheet.columns:
        raise InvalidInput.at("#/sheet/start", f"must be 1 to {sheet.rows * sheet.columns}")
    page_width, page_height = PAGES_MM[sheet.page]
    across = _extent(sheet.margin_left_mm, sheet.columns, width_mm, sheet.gap_x_mm)
    down = _extent(sheet.margin_top_mm, sheet.rows, height_mm, sheet.gap_y_mm)
    for name, needed, there in (("columns", across, page_width), ("rows", down, page_height)):
        if needed > there + _ROUNDING_MM:
            raise InvalidInput.at(
                f"#/sheet/{name}", f"need {needed:g} mm, {sheet.page} has {there:g} mm")


def _extent(margin_mm: float, count: int, size_mm: float, gap_mm: float) -> float:
    return margin_mm + count * size_mm + (count - 1) * gap_mm


def places(sheet: Sheet | None, width_mm: float, height_mm: float, count: int) -> Iterator[Place]:
    """Give the place of each of `count` labels, in order; without a sheet one a page."""
    if sheet is None:
        yield from (Place(number, 0.0, 0.0) for number in range(count))
        return
    check_sheet(sheet, width_mm, height_mm)
    for index in range(sheet.start - 1, sheet.start - 1 + count):
        page_number, on_page = divmod(index, sheet.rows * sheet.columns)
        row, column = divmod(on_page, sheet.columns)
        yield Place(page_number,
                    sheet.margin_left_mm + column * (width_mm + sheet.gap_x_mm),
                    sheet.margin_top_mm + row * (height_mm + sheet.gap_y_mm))
