"""The frame round every paper: vessel, title, date and time of the data, page n of m."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from io import BytesIO
from typing import Any

from reportlab.pdfgen.canvas import Canvas
from reportlab.platypus import BaseDocTemplate, Flowable, Frame, PageTemplate

from spares.errors import InvalidInput
from spares.paper import lettering
from spares.paper.flow import KeepStart
from spares.paper.language import ENGLISH, Words
from spares.paper.lettering import BOLD, PLAIN
from spares.paper.points import POINTS_PER_MM
from spares.paper.sheet import PAGES_MM

_TOP_MM, _BOTTOM_MM = 24.0, 15.0


@dataclass(frozen=True, slots=True)
class Head:
    """What stands on top of each page; `as_of` is the date and time of the data, `say` the words
    of the paper's language.
    """

    vessel: str
    mark: str
    title: str
    as_of: datetime
    note: str = ""
    say: Words = ENGLISH


def side_mm(page: str) -> float:
    """Give the margin at the sides [mm]."""
    return 10.0 if page == "A5" else 15.0


def room_mm(page: str) -> float:
    """Give the width between the margins [mm]; InvalidInput if there is no such page."""
    if page not in PAGES_MM:
        raise InvalidInput.at("#/page", f"must be one of {', '.join(PAGES_MM)}")
    return PAGES_MM[page][0] - 2 * side_mm(page)


def paper_pdf(head: Head, story: Sequence[Flowable], page: str = "A4", data: object = ()) -> bytes:
    """Lay a story out on framed pages; the same story gives the same bytes.

    `data` is what the story was made from. If a text in it holds characters that
    the fonts lack, the foot of the pages says which ones the `?` stand for.
    """
    return lay_out(head, story, page, data)[0]


def lay_out(head: Head, story: Sequence[Flowable], page: str = "A4", data: object = ()
            ) -> tuple[bytes, int]:
    """Do as `paper_pdf` does, and tell how many pages it took."""
    room_mm(page)  # refuses a page that there is not
    width, height = (side * POINTS_PER_MM for side in PAGES_MM[page])
    side = side_mm(page) * POINTS_PER_MM
    lettering.load_fonts()
    buffer = BytesIO()
    document = BaseDocTemplate(
        buffer, pagesize=(width, height), title=lettering.readable(head.title), invariant=1)
    frame = Frame(side, _BOTTOM_MM * POINTS_PER_MM, width - 2 * side,
                  height - (_TOP_MM + _BOTTOM_MM) * POINTS_PER_MM, 0, 0, 0, 0)
    document.addPageTemplates(PageTemplate(frames=[frame]))
    document.keepTogetherClass = KeepStart      # what a heading uses to stay with what follows
    foot = " ".join(filter(None, [head.say("head.figures"), _missing_note(head, data)]))

    def numbered(*args: Any, **options: Any) -> Canvas:
        return _NumberedCanvas(head, foot, side, *args, **options)

    document.build(list(story), canvasmaker=numbered)
    return buffer.getvalue(), int(document.page)


class _NumberedCanvas(Canvas):  # type: ignore[misc]
    """Holds its pages back until their number is known, then frames each."""

    def __init__(self, head: Head, foot: str, side: float, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self._head, self._foot, self._side = head, foot, side
        self._held: list[dict[str, Any]] = []

    def showPage(self) -> None:
        self._held.append(dict(self.__dict__))
        self._startPage()

    def save(self) -> None:
        held = self._held
        for number, page in enumerate(held, start=1):
            self.__dict__.update(page)
            self._draw_frame(number, len(held))
            super().showPage()
        super().save()

    def _draw_frame(self, number: int, of: int) -> None:
        width, height = self._pagesize
        left, right = self._side, width - self._side
        head = self._head
        vessel = lettering.readable(f"{head.vessel} ({head.mark})" if head.mark else head.vessel)
        date = head.say("head.as_of", moment=head.say.moment(head.as_of))
        self.setFillGray(0)
        top = height - 10 * POINTS_PER_MM
        self._put(BOLD, 10, left, top, vessel,
                  right - left - 6 - lettering.width_pt(date, PLAIN, 9))
        self.setFont(PLAIN, 9)
        self.drawRightString(right, top, date)
        self._put(BOLD, 16, left, top - 20, head.title, right - left)
        self.setLineWidth(0.8)
        self.line(left, top - 26, right, top - 26)
        bottom = 8 * POINTS_PER_MM
        self.line(left, bottom + 10, right, bottom + 10)
        self._put(PLAIN, 8, left, bottom, self._foot, right - left - 60)
        self.setFont(PLAIN, 8)
        self.drawRightString(right, bottom, head.say("head.page", number=number, of=of))

    def _put(self, font: str, size: float, x: float, y: float, text: str, room: float) -> None:
        self.setFont(font, size)
        self.drawString(x, y, lettering.shorten(text, font, size, room))


def _missing_note(head: Head, data: object) -> str:
    missing = lettering.missing_characters(_strings([head, data]))
    if not missing:
        return ""
    named = ", ".join(f"U+{ord(character):04X}" for character in missing)
    return head.say("head.missing", named=named)


def _strings(data: object) -> Iterator[str]:
    if isinstance(data, str):
        yield data
    elif dataclasses.is_dataclass(data):
        for field in dataclasses.fields(data):
            yield from _strings(getattr(data, field.name))
    elif isinstance(data, Iterable):
        for value in data:
            yield from _strings(value)
