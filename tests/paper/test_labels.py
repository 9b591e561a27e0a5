"""Labels: read back by independent decoders, exact in size, true to their data."""

from __future__ import annotations

import random
import shutil
from io import BytesIO

import pypdf
import pytest
from qrcode import QRCode
from qrcode.constants import ERROR_CORRECT_H, ERROR_CORRECT_M
from qrcode.util import lost_point

from spares.domain import codes
from spares.errors import InvalidInput
from spares.paper.labels import (
    BagLabel,
    LockerLabel,
    MachineLabel,
    labels_pdf,
    missing_characters,
    symbol_text,
)
from spares.paper.qr_mask import penalty, rows_of
from spares.paper.sheet import Sheet
from tests.paper import reading

SIZES_MM = {"S": (40, 20), "M": (70, 36), "L": (100, 60)}
LOCKER = LockerLabel("TGL", "EMJR", "Forepeak, box on frame 6: harbour set", "L17")
MACHINE = MachineLabel("TGL", "DYF7", "Harbour set, diesel, 9 kW 230 V", "KR2-1203", "HBR")
BAG = BagLabel(
    "TGL", codes.code_at(7, 5), "Impeller, neoprene, 6 vanes", "Quillsund", "QS I-40",
    ("HBR-04",), "new", "2027-03-15", "2031-06-30",
)
NAMES = ("Bilge", "Engine room, port shelf, bin 1: filters", "Αντλία νερού", "Крыльчатка насоса",
         "Dichtungssatz für die Kühlwasserpumpe, zweite Garnitur, im blauen Beutel", "Ærø Ø 12 µm")


def mixed_labels(count: int) -> list[LockerLabel | MachineLabel | BagLabel]:
    chance = random.Random(20270315)
    made = []
    for index in range(count):
        mark = "".join(chance.choices("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789", k=1 + index % 3))
        name = chance.choice(NAMES)
        short, long = (codes.code_at(chance.randrange(23**n), n) for n in (3, 5))
        made.append((LockerLabel(mark, short, name),
                     MachineLabel(mark, short, name, "SN-104"),
                     BagLabel(mark, long, name, "Ostrel", "OS 1", ("A-01",), "new"))[index % 3])
    return made


def is_read(image, text: str) -> bool:
    return reading.zxing_texts(image) == [text] and reading.zbar_texts(image) == [text]


@pytest.mark.parametrize("size", SIZES_MM)
def test_two_hundred_labels_are_read_by_two_decoders_at_the_coarsest_printer(size):
    labels = mixed_labels(200)
    pictures = reading.pdfium_pages(labels_pdf(labels, size=size, dpi=203), 203)
    unread = [label for label, picture in zip(labels, pictures, strict=True)
              if not is_read(picture, symbol_text(label))]
    assert unread == []


@pytest.mark.skipif(shutil.which("pdftoppm") is None, reason="poppler is not installed")
def test_two_hundred_labels_are_read_as_another_renderer_paints_them(tmp_path):
    labels = mixed_labels(200)
    pictures = reading.poppler_pages(labels_pdf(labels, size="S", dpi=203), 203, tmp_path)
    unread = [label for label, picture in zip(labels, pictures, strict=True)
              if not is_read(picture, symbol_text(label))]
    assert unread == []


@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("size", SIZES_MM)
def test_labels_with_an_address_are_read_and_lead_to_the_thing(size, dpi):
    labels = [LOCKER, MACHINE, BAG]
    address = "https://tangloppe.local:8443"
    pdf = labels_pdf(labels, size=size, dpi=dpi, address=address)
    for label, picture in zip(labels, reading.pdfium_pages(pdf, dpi), strict=True):
        if dpi == 600:  # seen from further off: zbar alone misses some modules of 25 dots
            picture = reading.thresholded(picture.reduce(3))
        text = symbol_text(label, address)
        assert text.startswith(f"{address}/#/l/TGL:")
        assert is_read(picture, text)
        assert codes.parse_label(text).code == label.code


@pytest.mark.parametrize("size", SIZES_MM)
def test_the_outer_size_is_exact(size):
    for found in reading.sizes_mm(labels_pdf([LOCKER, MACHINE, BAG], size=size)):
        assert found == pytest.approx(SIZES_MM[size], abs=0.001)


@pytest.mark.parametrize("sheet", [None, Sheet(3, 2, margin_left_mm=7.3, margin_top_mm=11.1)])
@pytest.mark.parametrize("dpi", [203, 300, 600])
@pytest.mark.parametrize("size", SIZES_MM)
def test_every_bar_lies_on_whole_dots_and_is_whole_modules_long(size, dpi, sheet):
    if size == "L":
        sheet = None
    page = pypdf.PdfReader(BytesIO(labels_pdf([LOCKER, LOCKER], size=size, dpi=dpi,
                                              sheet=sheet))).pages[0]
    dot, height = 72 / dpi, float(page.mediabox.height)
    bars = [tuple(float(number) for number in operands)
            for operands, operator in page.get_contents().operations if operator == b"re"]
    assert len(bars) > 50
    heights_dots = {round(tall / dot + 0.2) for _, _, _, tall in bars}
    assert len(heights_dots) == 1
    module = heights_dots.pop()
    for left, bottom, wide, tall in bars:
        edges_dots = (left / dot - 0.1, (left + wide) / dot + 0.1,
                      (height - bottom) / dot + 0.1, (height - bottom - tall) / dot - 0.1)
        assert edges_dots == pytest.approx([round(edge) for edge in edges_dots], abs=0.01)
        assert round(edges_dots[1] - edges_dots[0]) % module == 0
    # One dot more in each module, and the symbol of 21 + 8 modules would leave its box.
    assert (module + 1) * 29 * 25.4 / dpi > {"S": 17, "M": 26, "L": 44}[size] >= (
        module * 29 * 25.4 / dpi)


@pytest.mark.parametrize("size", SIZES_MM)
def test_the_text_on_a_label_is_the_text_of_its_data(size):
    locker, machine, bag = reading.texts(labels_pdf([LOCKER, MACHINE, BAG], size=size))
    assert locker == "EMJR Forepeak, box on frame 6: harbour set TGL · L17"
    assert machine == "DYF7 Harbour set, diesel, 9 kW 230 V Serial KR2-1203 TGL · HBR"
    assert bag == (f"{BAG.code} Impeller, neoprene, 6 vanes Quillsund QS I-40 Fits HBR-04 "
                   "TGL · new · in 15 Mar 2027 Use by 30 Jun 2031")


def test_what_is_not_known_is_said_and_not_left_blank():
    machine = MachineLabel("TGL", "EEDA", "Sampling winch")
    bag = BagLabel("TGL", BAG.code, "Six rubber rings, found")
    machine_text, bag_text = reading.texts(labels_pdf([machine, bag], size="M"))
    assert "Serial not known" in machine_text
    assert "Fits: not recorded" in bag_text
    assert "Use by" not in bag_text


@pytest.mark.parametrize("name", ["Лебёдка отбора проб", "Χειραντλία υδροσυλλεκτών",
                                  "Großer Ölkühler, Ærø, Łódź"])
def test_latin_greek_and_cyrillic_names_are_printed_as_written(name):
    label = LockerLabel("TGL", "EMJR", name)
    assert name in reading.texts(labels_pdf([label], size="M"))[0]
    assert missing_characters([label]) == ""


def test_a_character_the_fonts_lack_is_a_question_mark_and_is_reported():
    label = LockerLabel("TGL", "EMJR", "水 pump 🛟")
    assert "? pump ?" in reading.texts(labels_pdf([label], size="M"))[0]
    assert missing_characters([label, LOCKER]) == "水🛟"


@pytest.mark.parametrize("size", SIZES_MM)
@pytest.mark.parametrize("name", ["W" * 300, "Wheelhouse " * 40, "x"])
def test_no_text_leaves_the_label_or_touches_the_symbol(size, name):
    dpi = 203
    labels = [LockerLabel("TGL", "WXMW", name), MachineLabel("TGL", "WXMW", name, name, name),
              BagLabel("TGL", BAG.code, name, name, name, (name,), name, name, name)]
    labels = [label if codes.is_code(label.code) else _with_check(label) for label in labels]
    for label, picture in zip(
            labels, reading.pdfium_pages(labels_pdf(labels, size=size, dpi=dpi), dpi), strict=True):
        dark = picture.point(lambda level: 255 - level)
        margin = int(0.4 / 25.4 * dpi)
        left, top, right, bottom = dark.getbbox()
        assert left >= margin and top >= margin
        assert right <= picture.width - margin and bottom <= picture.height - margin
        assert is_read(picture, symbol_text(label))


def _with_check(label):
    body = label.code[:-1]
    return type(label)(label.vessel_mark, body + codes.check_character(body), label.name)


def test_the_code_is_at_least_eight_millimetres_high_on_the_middle_size():
    widest = "WMW" + codes.check_character("WMW")
    picture = reading.pdfium_pages(
        labels_pdf([LockerLabel("TGL", widest, "Forepeak, box on frame 6: harbour set")],
                   size="M", dpi=600), 600)[0]
    column = picture.crop((int(27.5 / 25.4 * 600), 0, picture.width,
                            int(12.5 / 25.4 * 600)))       # the name begins below
    _, top, _, bottom = column.point(lambda level: 255 - level).getbbox()
    assert (bottom - top) / 600 * 25.4 >= 8 and bottom < column.height


def test_the_same_labels_give_the_same_bytes():
    assert labels_pdf([LOCKER, BAG], size="S") == labels_pdf([LOCKER, BAG], size="S")


def test_a_sheet_begins_at_the_first_free_place_and_goes_on_to_the_next_page():
    sheet = Sheet(rows=2, columns=2, margin_left_mm=10, margin_top_mm=12, gap_x_mm=3, start=4)
    pdf = labels_pdf([LOCKER, MACHINE, BAG], size="M", dpi=300, sheet=sheet)
    assert reading.sizes_mm(pdf) == [pytest.approx((210, 297), abs=0.001)] * 2
    first, second = reading.pdfium_pages(pdf, 300)
    assert reading.zxing_texts(first) == [symbol_text(LOCKER)]
    assert reading.zxing_texts(second) == sorted([symbol_text(MACHINE), symbol_text(BAG)])
    left, top, right, bottom = (
        round(edge / 300 * 25.4) for edge in first.point(lambda level: 255 - level).getbbox())
    # Place 4 is the second row's second label: from 10 + 70 + 3 and 12 + 36 mm.
    assert 83 <= left and right <= 83 + 70
    assert 48 <= top and bottom <= 48 + 36


@pytest.mark.parametrize(
    ("change", "pointer"),
    [
        ({"size": "XL"}, "#/size"),
        ({"dpi": 200}, "#/dpi"),
        ({"address": "tangloppe.local"}, "#/address"),
        ({"address": "https://" + "long-name." * 40 + "local", "size": "S"}, "#/address"),
        ({"labels": []}, "#/labels"),
        ({"labels": [LockerLabel("TGL", "EMRJ", "swapped")]}, "#/code"),
        ({"labels": [BagLabel("TGL", "EMJR", "a locker's code")]}, "#/code"),
        ({"labels": [LockerLabel("tangloppe", "EMJR", "long mark")]}, "#/vessel_mark"),
        ({"sheet": Sheet(rows=9, columns=2)}, "#/sheet/rows"),
        ({"sheet": Sheet(rows=1, columns=3, margin_left_mm=0.2)}, "#/sheet/columns"),
        ({"sheet": Sheet(rows=1, columns=2, page="B4")}, "#/sheet/page"),
        ({"sheet": Sheet(rows=1, columns=2, start=3)}, "#/sheet/start"),
        ({"sheet": Sheet(rows=0, columns=2)}, "#/sheet/rows"),
        ({"sheet": Sheet(rows=1, columns=1, gap_x_mm=-1)}, "#/sheet/gap_x_mm"),
    ],
)
def test_what_cannot_be_printed_is_refused_by_name(change, pointer):
    given = {"labels": [LOCKER], "size": "M", **change}
    with pytest.raises(InvalidInput) as caught:
        labels_pdf(given.pop("labels"), **given)
    assert caught.value.facts["errors"][0]["pointer"] == pointer


def test_labels_that_just_fill_the_sheet_are_taken():
    sheet = Sheet(rows=8, columns=3, margin_left_mm=0, margin_top_mm=9)
    assert len(reading.sizes_mm(labels_pdf([LOCKER] * 24, size="M", sheet=sheet))) == 1


@pytest.mark.parametrize("level", [ERROR_CORRECT_M, ERROR_CORRECT_H])
@pytest.mark.parametrize("text", ["TGL:EMJR", "A:23456", "https://tangloppe.local:8443/#/l/TGL:EM"])
def test_a_symbol_bears_the_mask_that_costs_least_as_the_package_counts(text, level):
    costs = {}
    for mask in range(8):
        code = QRCode(error_correction=level, border=0, mask_pattern=mask)
        code.add_data(text)
        code.make()
        rows = tuple("".join("1" if dark else "0" for dark in row) for row in code.modules)
        costs[rows] = lost_point(code.modules)
        assert penalty(int("".join(f"{row}0" for row in rows), 2), len(rows)) == costs[rows]
    assert costs[rows_of(text, level)] == min(costs.values())
