"""A person's own spreadsheet: what its columns hold, what its cells say, what is left out."""

from __future__ import annotations

import csv
import io
import tracemalloc
from datetime import date, datetime

import pytest
from openpyxl import Workbook

from spares.errors import InvalidInput
from spares.transfer.sheet.columns import choose_columns, guess_columns
from spares.transfer.sheet.days import read_day
from spares.transfer.sheet.judge import judge_rows
from spares.transfer.sheet.read import read_sheet
from spares.transfer.sheet.tables import left_out_csv


def sheet_of(*lines: str, encoding: str = "utf-8"):
    return read_sheet("\n".join(lines).encode(encoding))


def judged(*lines: str):
    sheet = sheet_of(*lines)
    return judge_rows(sheet, guess_columns(sheet))


def one(heading: str, cell: str):
    """Judge one cell under a heading, beside a name and a place."""
    row, = judged(f"name;location;{heading}", f"Impeller;Bilge;{cell}")
    return row


@pytest.mark.parametrize(("headings", "fields"), [
    ("Description;Brand;Part no.;Where;Qty;Unit price;Use by;Remarks",
     ["name", "maker", "number", "locker", "quantity", "price", "expires", "note"]),
    ("Item;Manufacturer;Ref;Stock location;Number of pieces;Supplier;Colour",
     ["name", "maker", "number", "locker", "quantity", "seller", None]),
    ("Spare;P/N;Box;On board;Cost EUR", ["name", "number", "locker", "quantity", "price"])])
def test_columns_are_guessed_by_what_people_write_over_them(headings, fields):
    sheet = sheet_of(headings, ";".join("a" * (headings.count(";") + 1)))
    assert [one.field for one in guess_columns(sheet)] == fields


@pytest.mark.parametrize(("cells", "mark"), [
    (["1,5", "2,25", "3"], ","), (["1.5", "2.25"], "."), (["1,5", "2,5", "3.5"], ","),
    (["1.234,50"], ","), (["1,234.50"], "."), (["3", "12"], ".")])
def test_decimal_mark_is_guessed_once_for_a_column(cells, mark):
    sheet = sheet_of("name;price", *(f"x;{cell}" for cell in cells))
    assert guess_columns(sheet)[1].mark == mark


@pytest.mark.parametrize(("cells", "order", "sure"), [
    (["31.05.2027", "01.02.2027"], "dmy", True), (["05/31/2027", "02/01/2027"], "mdy", True),
    (["01.02.2027"], "dmy", False), (["2027-05-31"], "ymd", True), (["06/2030"], "ymd", True)])
def test_order_of_days_is_guessed_once_and_a_toss_is_said(cells, order, sure):
    sheet = sheet_of("name;use by", *(f"x;{cell}" for cell in cells))
    found = guess_columns(sheet)[1]
    assert (found.order, found.sure) == (order, sure)


@pytest.mark.parametrize(("text", "order", "day"), [
    ("2027-05-31", "ymd", "2027-05-31"), ("31.5.27", "dmy", "2027-05-31"),
    ("5/31/2027", "mdy", "2027-05-31"), ("May 2030", "dmy", "2030-05"),
    ("3 June 2028", "dmy", "2028-06-03"), ("2031", "dmy", "2031"), ("6-2030", "dmy", "2030-06"),
    ("29.02.2028", "dmy", "2028-02-29"), ("29.02.2027", "dmy", None), ("13/2030", "dmy", None),
    ("soon", "dmy", None), ("31 Mai 2027", "dmy", None)])
def test_days_are_read_as_people_type_them(text, order, day):
    assert read_day(text, order)[0] == day


def test_day_against_the_order_of_its_column_is_to_be_looked_at():
    row, = judged("name;location;qty;use by", "Flare;Bridge;1;05/31/2027")
    assert row.verdict == "good"            # alone, it gives its column the order
    rows = judged("name;location;qty;use by", "Flare;Bridge;1;31.05.2027",
                  "Rocket;Bridge;1;28.02.2028", "Torch;Bridge;1;05.31.2027")
    assert [row.verdict for row in rows] == ["good", "good", "look-at"]
    assert rows[2].values["expires"] == rows[2].remarks[0].suggested == "2027-05-31"


@pytest.mark.parametrize(("cell", "verdict", "value"), [
    ("3", "good", 3000), ("1,5", "good", 1500), ("1 200", "good", 1_200_000),
    ("3 pcs", "look-at", 3000), ("ca. 4", "look-at", 4000), ("6x", "look-at", 6000),
    ("some", "look-at", "?"), ("?", "look-at", "?"), ("none", "look-at", 0),
    ("1.200", "look-at", "?"), ("", "look-at", "?"), ("-2", "skip", None),
    ("see list", "skip", None), ("#REF!", "skip", None)])
def test_counts_are_read_or_not_counted_and_never_made_up(cell, verdict, value):
    row = one("qty", cell)
    assert (row.verdict, row.values.get("quantity")) == (verdict, value)


@pytest.mark.parametrize(("cell", "verdict", "value"), [
    ("12,50 EUR", "good", 1250), ("€ 9.90", "good", 990), ("EUR 1", "good", 100),
    ("", "good", None), ("expensive", "look-at", None), ("1,2345 EUR", "look-at", None)])
def test_prices_have_their_currency_or_are_left_off(cell, verdict, value):
    rows = judged("name;location;qty;price EUR", f"Impeller;Bilge;1;{cell}")
    assert (rows[0].verdict, rows[0].values.get("price")) == (verdict, value)
    assert one("price", "12.50").verdict == "look-at", "no currency anywhere"


def test_row_without_name_number_or_place_is_said():
    rows = judged("name;maker;number;location;qty", ";Nordwik;NW 1;Bilge;1", ";;;Bilge;2",
                  "Seal;;;;4", "Total;;;;7", "Belt;;;Bilge;0")
    assert [(row.verdict, row.remarks[0].suggested if row.remarks else None) for row in rows] == [
        ("look-at", "Nordwik NW 1"), ("skip", None), ("look-at", "the part without a count"),
        ("skip", None), ("good", None)]


def test_same_part_twice_in_one_place_is_a_slip_or_counted_together():
    rows = judged("name;number;location;qty", "Seal;S 1;Bilge;2", "Seal;s 1;BILGE;2",
                  "Seal;S 1;Bilge;3", "Seal;S 1;Bow;2")
    assert [row.verdict for row in rows] == ["good", "skip", "look-at", "good"]
    assert "row 2 says the same" in rows[1].remarks[0].reason


def test_file_of_another_alphabet_and_signs_is_read_and_said():
    sheet = sheet_of("Inventory 2026", "", "name\tlocation\tqty", "Düse\tAchterpiek\t1",
                     encoding="cp1252")
    assert sheet.header == ("name", "location", "qty")
    assert sheet.rows == ((4, ("Düse", "Achterpiek", "1")),)
    assert "Windows-1252" in sheet.notes[0]


def test_xlsx_is_read_as_it_is_seen():
    book, out = Workbook(), io.BytesIO()
    page = book.active
    for line in (["Spares"], [], ["Item", "Qty", "Cost", "Use by", "Location"],
                 ["Flare", 4.0, 12.5, date(2028, 3, 31), "Bridge"],
                 ["Rocket", 2, None, datetime(2027, 6, 30), "Bridge"]):
        page.append(line)
    book.save(out)
    sheet = read_sheet(out.getvalue(), "spares.xlsx")
    assert sheet.header == ("Item", "Qty", "Cost", "Use by", "Location")
    assert sheet.rows == ((4, ("Flare", "4", "12.5", "2028-03-31", "Bridge")),
                          (5, ("Rocket", "2", "", "2027-06-30", "Bridge")))


@pytest.mark.parametrize("content", [
    b"", b"\n\n", b"name;qty\n", b"only one cell\n", b"PK\x03\x04 no archive at all",
    b"a;b\n" + b"1;2\n" * 20_001])
def test_what_is_no_table_is_refused(content):
    with pytest.raises(InvalidInput) as said:
        read_sheet(content)
    assert said.value.facts["errors"][0]["pointer"] == "#/file"


@pytest.mark.parametrize(("chosen", "pointer"), [
    ([{}], "#/columns"), ([{"field": "colour"}, {}], "#/columns/0/field"),
    ([{"field": "name"}, {"field": "name"}], "#/columns"),
    ([{"field": "note"}, {}], "#/columns"), ([{}, {"mark": ";"}], "#/columns/1/mark"),
    ([{}, {"currency": "euro"}], "#/columns/1/currency")])
def test_columns_that_cannot_be_so_are_refused(chosen, pointer):
    sheet = sheet_of("name;qty", "Seal;2")
    with pytest.raises(InvalidInput) as said:
        choose_columns(sheet, chosen)
    assert said.value.facts["errors"][0]["pointer"] == pointer


def test_columns_are_put_right_by_hand():
    sheet = sheet_of("Zeug;Menge;Ort", "Dichtung;1.5;Bilge")
    columns = choose_columns(sheet, [{"field": "name"}, {"field": "quantity", "mark": ","},
                                     {"field": "locker"}])
    row, = judge_rows(sheet, columns)
    assert (row.values["name"], row.values["locker"]) == ("Dichtung", "Bilge")
    assert row.verdict == "look-at" and row.remarks[0].suggested == "1.5"


def test_cells_at_the_far_right_of_every_row_take_no_memory():
    book, out = Workbook(write_only=True), io.BytesIO()
    sheet = book.create_sheet()
    for row in (["name", "place"], *[["Impeller", "Forepeak", *[None] * 16_381, "x"]] * 60):
        sheet.append(row)
    book.save(out)
    tracemalloc.start()
    with pytest.raises(InvalidInput, match="more than 60 columns"):
        read_sheet(out.getvalue())
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert len(out.getvalue()) < 10_000 and most < 6_000_000


def test_what_was_left_out_is_given_back_with_its_reason_and_is_no_formula():
    sheet = sheet_of("name;qty;location", "=1+1;-3;Bilge")
    text = left_out_csv(sheet, judge_rows(sheet, guess_columns(sheet)))
    header, line = csv.reader(io.StringIO(text))
    assert header == ["name", "qty", "location", "row", "left out because"]
    assert line[:4] == ["'=1+1", "'-3", "Bilge", "2"] and "less than none" in line[4]
