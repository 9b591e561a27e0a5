"""Papers carry their frame, all of their data, and say what is not known."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

import pytest

from spares.errors import InvalidInput
from spares.paper.lists import (
    LockerName,
    StowedLine,
    StrandedLine,
    lid_list_pdf,
    parts_index_pdf,
    put_away_list_pdf,
    stranded_list_pdf,
)
from spares.paper.pages import Head
from spares.paper.shopping_list import ShoppingLine, shopping_list_pdf
from spares.paper.stores_list import StoresLine, Voyage, stores_list_pdf
from tests.paper import reading

FOREPEAK = LockerName("L17", "Forepeak, box on frame 6", "EMJR")
DRAWER = LockerName("L03", "Engine room, starboard drawer: seals", "F3JE")
IMPELLER = StowedLine(FOREPEAK, "Impeller, neoprene, 6 vanes", 1, "Quillsund QS I-40",
                      condition="new", use_by="2031-06-30")
UNCOUNTED = StowedLine(DRAWER, "Ring terminals M8", None, "Lyskaer LK RT8")


def head(title: str = "Paper") -> Head:
    return Head("TANGLOPPE", "TGL", title, datetime(2027, 3, 15, 18, 5))


def one_text(pdf: bytes) -> str:
    (text,) = reading.texts(pdf)
    return text


PAPERS = {
    "shopping": lambda n, h: shopping_list_pdf(
        h, [ShoppingLine(f"P{i:03}", f"Part {i}", "Ostrel", f"OS {i}", 1) for i in range(n)]),
    "stores": lambda n, h: stores_list_pdf(
        h, Voyage(), [StoresLine(f"Article {i}", i, "L01") for i in range(n)]),
    "put-away": lambda n, h: put_away_list_pdf(
        h, [StowedLine(FOREPEAK, f"Part {i}", 1) for i in range(n)]),
    "lid": lambda n, h: lid_list_pdf(
        h, FOREPEAK, [StowedLine(FOREPEAK, f"Part {i}", 1) for i in range(n)]),
    "index": lambda n, h: parts_index_pdf(
        h, [StowedLine(FOREPEAK, f"Part {i}", 1) for i in range(n)]),
    "stranded": lambda n, h: stranded_list_pdf(
        h, [StrandedLine(f"Part {i}", "X", 1, ("L01",), "SAN-02") for i in range(n)]),
}


@pytest.mark.parametrize("count", [0, 1, 150])
@pytest.mark.parametrize("name", PAPERS)
def test_every_page_carries_vessel_date_page_number_and_whose_figures_they_are(name, count):
    pages = reading.texts(PAPERS[name](count, head(f"Title of {name}")))
    assert len(pages) > 1 or count < 150
    for number, page in enumerate(pages, start=1):
        for said in ("TANGLOPPE (TGL)", f"Title of {name}", "As of 15 Mar 2027, 18:05",
                     "Figures as recorded aboard.", f"Page {number} of {len(pages)}"):
            assert said in page


@pytest.mark.parametrize("name", PAPERS)
def test_a_long_paper_loses_no_line(name):
    whole = " ".join(reading.texts(PAPERS[name](150, head())))
    assert all(f" {i} " in f"{whole} " for i in range(150))


@pytest.mark.parametrize("name", PAPERS)
def test_the_same_data_give_the_same_bytes(name):
    assert PAPERS[name](3, head()) == PAPERS[name](3, head())


@pytest.mark.parametrize(("page", "size_mm"), [("A4", (210, 297)), ("A5", (148, 210)),
                                               ("Letter", (215.9, 279.4))])
def test_the_page_has_the_size_asked_for(page, size_mm):
    pdf = parts_index_pdf(head(), [IMPELLER], page=page)
    assert reading.sizes_mm(pdf) == [pytest.approx(size_mm, abs=0.01)]


def test_another_page_size_is_refused():
    with pytest.raises(InvalidInput):
        parts_index_pdf(head(), [IMPELLER], page="B4")


def test_nothing_is_drawn_outside_the_page_even_for_texts_without_a_space():
    long = "W" * 400
    line = StowedLine(LockerName(long, long, long), long, 1, long, condition=long, use_by=long)
    for page in reading.pdfium_pages(lid_list_pdf(head(long), line.locker, [line]), 100):
        left, top, right, bottom = page.point(lambda level: 255 - level).getbbox()
        assert left > 20 and right < page.width - 20  # 20 dots are 5 mm
        assert top > 20 and bottom < page.height - 20


def test_what_paper_cannot_show_is_told_at_its_foot():
    text = one_text(parts_index_pdf(head(), [StowedLine(FOREPEAK, "水 pump <b>&</b>", 1)]))
    assert "? pump <b>&</b>" in text
    assert "cannot show U+6C34" in text
    assert "cannot show" not in one_text(parts_index_pdf(head(), [IMPELLER]))


def test_the_shopping_list_goes_by_seller_then_by_the_day_to_order():
    lines = [
        ShoppingLine("P1", "Nut", "Fennholt", "FH 1", 2, order_by="2027-04-26"),
        ShoppingLine("P2", "Hose", "Kallbrook", "KB 2", 1, seller="Quay", order_by="2027-04-19"),
        ShoppingLine("P3", "Nozzle", "Krustrand", "KR 3", 4, seller="Quay",
                     order_by="2027-03-10", too_late=True),
        ShoppingLine("P4", "Oil", "Valkmose", "VM 4", Decimal("20"), "L", seller="Quay"),
    ]
    text = one_text(shopping_list_pdf(head(), lines))
    order = [text.index(said) for said in
             ("Quay", "Nozzle", "Hose", "Oil", "Seller not known", "Nut")]
    assert order == sorted(order)
    assert "4 10 Mar 2027 Too late" in text
    assert "20 L not known" in text


def test_the_shopping_list_says_sizes_stand_ins_and_what_never_to_take():
    line = ShoppingLine("P021", "Shaft seal", "Ostrel", "OS 709010-N", 1,
                        sizes="70 x 90 x 10 mm", stand_ins=("Pellwick PW 7",),
                        never=("single lip",))
    text = one_text(shopping_list_pdf(head(), [line], cannot_say=["P108 Ring terminals"]))
    for said in ("Ostrel OS 709010-N", "70 x 90 x 10 mm", "Proven instead: Pellwick PW 7",
                 "Never: single lip", "Cannot say: count these first", "P108 Ring terminals"):
        assert said in text


def test_the_stores_list_keeps_dutiable_goods_apart_and_defers_to_the_country():
    lines = [StoresLine("Rum", Decimal("0.7"), "L24", "L", dutiable=True),
             StoresLine("Rope", 2, "L19")]
    text = one_text(stores_list_pdf(head(), Voyage("Denmark", "Thisted", "", 4), lines))
    order = [text.index(said) for said in
             ("Ship's stores", "Rope", "Dutiable goods", "Rum", "signature")]
    assert order == sorted(order)
    for said in ("Flag: Denmark", "Last port: Thisted", "Persons aboard: 4", "0.7 L", "L24",
                 "The form of the country decides"):
        assert said in text


def test_put_away_keeps_the_walking_order_it_is_given():
    text = one_text(put_away_list_pdf(head(), [IMPELLER, UNCOUNTED]))
    assert text.index("L17 (EMJR)") < text.index("L03 (F3JE)")


def test_the_lid_list_tells_a_count_of_none_from_no_count():
    none = StowedLine(FOREPEAK, "Zinc pencil", 0)
    text = one_text(lid_list_pdf(head(), FOREPEAK, [none, UNCOUNTED, IMPELLER]))
    assert "Zinc pencil 0" in text
    assert "not counted" in text
    assert "new, use by 30 Jun 2031" in text
    assert text.index("EMJR") < text.index("Zinc pencil")


def test_the_index_goes_by_folded_name_and_lists_every_place_of_a_part():
    lines = [StowedLine(DRAWER, "Ölfilter", 3, "PW 1"), StowedLine(FOREPEAK, "Zinc", 1),
             StowedLine(FOREPEAK, "Ölfilter", 2, "PW 1"), StowedLine(LockerName("", ""), "Oar", 0)]
    text = one_text(parts_index_pdf(head(), lines))
    order = [text.index(said) for said in
             ("Oar", "none aboard", "Ölfilter", "L03 (F3JE): 3", "L17 (EMJR): 2", "Zinc")]
    assert order == sorted(order)
    assert text.count("Ölfilter") == 1


def test_the_stranded_list_says_where_and_since_when():
    line = StrandedLine("Diaphragm for D12", "Marrowby MB D12-D", 3, ("L13 (WFPJ)",),
                        "SAN-02", "2025-09-12")
    text = one_text(stranded_list_pdf(head(), [line]))
    for said in ("Diaphragm for D12", "Marrowby MB D12-D", " 3 ", "L13 (WFPJ)",
                 "Belongs to SAN-02", "taken out on 12 Sep 2025", "keep", "give", "sell"):
        assert said in text
