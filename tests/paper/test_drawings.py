"""The drawings of how to measure come out on paper: inside their frame, with their letters."""

from __future__ import annotations

from datetime import datetime
from xml.etree import ElementTree

import pytest
from PIL import ImageOps

from spares.config import static_folder
from spares.domain.fit.sheets import DRAWINGS
from spares.paper.drawings import SVG, drawing, told
from spares.paper.measuring_sheet import Measured, MeasuringSheet, measuring_sheet_pdf
from spares.paper.pages import Head, paper_pdf
from tests.paper import reading

HEAD = Head("TANGLOPPE", "TGL", "Drawing", datetime(2027, 3, 15, 18, 5))
DPI, WIDTH_MM, SIDE_MM, TOP_MM = 100, 80.0, 15.0, 24.0


def _svg(name: str) -> str:
    return (static_folder() / "drawings" / f"{name}.svg").read_text(encoding="utf-8")


@pytest.mark.parametrize("name", DRAWINGS)
def test_a_drawing_stays_in_its_frame_and_bears_its_letters(name):
    figure = drawing(_svg(name), WIDTH_MM)
    high_mm = figure.height * 25.4 / 72
    pdf = paper_pdf(HEAD, [figure], "A4")
    text, = reading.texts(pdf)
    for mark in ElementTree.fromstring(_svg(name)).iter(f"{SVG}text"):
        assert "".join((mark.text or "").split()) in "".join(text.split())
    dots = DPI / 25.4
    page = reading.pdfium_pages(pdf, DPI)[0]
    body = ImageOps.invert(page.crop((0, int((TOP_MM - 1) * dots), page.width,
                                      page.height - int(20 * dots))))
    left, top, right, bottom = body.getbbox()
    assert left >= (SIDE_MM - 1) * dots and right <= (SIDE_MM + WIDTH_MM + 1) * dots
    assert bottom - top <= (high_mm + 2) * dots
    assert right - left >= 0.6 * WIDTH_MM * dots            # it fills its frame
    ink = sum(body.crop((left, top, right, bottom)).histogram()[1:])
    assert 0.01 < ink / ((right - left) * (bottom - top)) < 0.35


@pytest.mark.parametrize("name", DRAWINGS)
def test_title_and_words_of_a_drawing_are_read_from_it(name):
    title, words = told(_svg(name))
    assert title and words.endswith(".")


def test_a_sheet_shows_a_drawing_once_however_many_lines_name_it():
    svg = _svg("bolt-circle")
    lines = tuple(Measured(f"Line {n}", "92 mm", "calipers", "calipers", ("mm",), svg)
                  for n in range(3))
    text = " ".join(reading.texts(measuring_sheet_pdf(
        HEAD, MeasuringSheet("ENG", "ENG-04", "", (), lines))))
    assert text.count("Drawing A.") == 3 and text.count("D = s / sin") == 1


def test_a_sheet_of_a_place_that_asks_nothing_says_so():
    text = " ".join(reading.texts(measuring_sheet_pdf(
        HEAD, MeasuringSheet("ENG", "ENG-04", "", (), ()))))
    assert "Nothing is recorded yet" in text
