"""Pages of the demo's papers as a hand holds them: type, margins, no page cut short."""

from __future__ import annotations

from io import BytesIO

import pypdf
import pytest

from spares.actions.papers.paper import PAPERS, paper
from tests.paper import reading

TAKES = {"lid": {"locker": "L04"}, "card": {"service": "S20"}, "measuring": {"point": "ENG-04"},
         "trail": {"machine": "HBR"}}
DPI = 40
HEAD_MM, FOOT_MM, EDGE_MM = 22, 14, 9   # the frame of every page, and the margin of the smallest


def dots(length_mm: float) -> int:
    return round(length_mm / 25.4 * DPI)


@pytest.mark.parametrize("name", PAPERS)
def test_a_page_that_is_not_the_last_is_well_used_and_keeps_its_margins(demo, name):
    pages = reading.pdfium_pages(paper(demo, name, **TAKES.get(name, {})), DPI)
    for number, page in enumerate(pages, start=1):
        left, top, right, bottom = page.point(lambda level: 255 - level).getbbox()
        assert min(left, page.width - right) >= dots(EDGE_MM)
        assert min(top, page.height - bottom) >= dots(5)
        inside = page.crop((0, dots(HEAD_MM), page.width, page.height - dots(FOOT_MM)))
        box = inside.point(lambda level: 255 - level).getbbox()
        assert box is not None, f"page {number} is empty"
        if number < len(pages):
            assert box[3] > 0.6 * inside.height, f"page {number} is cut short"


def sizes(pdf: bytes) -> list[float]:
    """Give the type size of every piece of text between head and foot [pt]."""
    found: list[float] = []

    def note(text: str, _cm: object, at: list[float], _font: object, size: float) -> None:
        if text.strip() and at[5]:
            found.append(size)
    for page in pypdf.PdfReader(BytesIO(pdf)).pages:
        page.extract_text(visitor_text=note)
    return found


def test_a_job_card_is_read_at_arms_length_and_most_are_one_side(demo):
    one_side = 0
    services = sorted(demo.aboard().all("service"), key=lambda one: one.no)[1::3]
    for service in services:
        pdf = paper(demo, "card", service=service.no)
        one_side += len(reading.sizes_mm(pdf)) == 1
        # 8 to 10 points: head, foot, maker's number, locker in words, cautions of a full card
        assert sum(size >= 11 for size in sizes(pdf)) >= 15 and min(sizes(pdf)) >= 8, service.no
    assert (one_side, len(services)) == (10, 12)
