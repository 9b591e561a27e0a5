"""What goes out as CSV comes back as the same vessel."""

from __future__ import annotations

import csv
import io
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.aboard import RECORDS, Aboard, Lying
from spares.domain.draft import setting
from spares.domain.identity import numbered_id, ref
from spares.transfer.columns import TABLES
from spares.transfer.export_csv import csv_text, table_csv, vessel_csv, zipped
from spares.transfer.tables import read_tables
from tests.transfer.vessels import OTHER, SEED, TGL

# Characters that may stand in a cell: no control characters but the line break.
LETTERS = st.characters(exclude_categories=["Cs", "Cc"], include_characters="\n")
TEXTS = st.one_of(st.text(LETTERS, max_size=20),
                  st.sampled_from(["=1+1", "'=x", "''-", "@", "+4 W", '5/16"', "a;b,c", "'q'"]))
#: How a spreadsheet would begin a formula (OWASP, CSV Injection: = + - @ tab CR).
FORMULA = re.compile(r"[=+\-@\t\r]")


@pytest.fixture(scope="module")
def tangloppe():
    return read_tables(SEED / "tangloppe")


@pytest.mark.parametrize("semicolons", [False, True])
def test_the_demo_goes_out_and_comes_back_the_same(harbour, tangloppe, semicolons):
    aboard = harbour.bring(tangloppe)
    files = vessel_csv(aboard, semicolons=semicolons)
    copy = harbour.bring(read_tables(zipped(files)), OTHER)
    assert vessel_csv(copy, semicolons=semicolons) == files
    assert len(copy.all("link")) == len(aboard.all("link"))
    assert len(copy.lying) == len(aboard.lying)


def in_order(value):
    """Sort the names of objects, however deep, and write numbers as text: neither says a thing."""
    if isinstance(value, dict):
        return {name: in_order(value[name]) for name in sorted(value)}
    if isinstance(value, list):
        return [in_order(one) for one in value]
    return str(value) if isinstance(value, int) and not isinstance(value, bool) else value


def test_what_goes_out_says_what_came_in(harbour, tangloppe):
    out = read_tables(zipped(vessel_csv(harbour.bring(tangloppe))))
    for table, rows in tangloppe.items():
        def said(some):
            return sorted(str(in_order({k: v for k, v in row.values.items() if v is not None}))
                          for row in some)
        if table == "vessel":
            continue        # its day zero belongs to the file, not to the vessel
        got = {row_text.replace("'reachable': True", "") for row_text in said(out[table])}
        missing = [text for text in said(rows)
                   if text.replace("'reachable': True", "") not in got]
        assert missing == [], table


def test_lines_end_as_the_standard_says_and_both_forms_are_read(harbour, tangloppe):
    aboard = harbour.bring(tangloppe)
    plain, other = (vessel_csv(aboard, semicolons=s) for s in (False, True))
    for text in plain.values():
        # RFC 4180, 2.1: each record on its own line, ended by CRLF; 2.6: within quotes a cell may
        # hold line ends of its own
        assert text.endswith("\r\n")
        bare = re.sub(r'"(?:[^"]|"")*"', '""', text)
        assert "\n" not in bare.replace("\r\n", "")
    assert "18.50" not in other["parts.csv"] and "18,5;" in other["parts.csv"]
    assert read_tables(zipped(plain)) == read_tables(zipped(other))


@given(st.lists(st.lists(TEXTS, min_size=2, max_size=2), min_size=1, max_size=4))
def test_an_independent_reader_gets_the_cells_back(lines):
    text = csv_text(lines)
    assert list(csv.reader(io.StringIO(text, newline=""), strict=True)) == lines


@given(st.lists(TEXTS.filter(str.strip), min_size=1, max_size=5), st.booleans())
def test_any_text_comes_back_and_none_is_a_formula(notes, semicolons):
    table = TABLES["parts"]
    rows = [{"no": f"P{n}", "name": "x", "note": note.strip()} for n, note in enumerate(notes)]
    text = table_csv(table, rows, semicolons=semicolons)
    raw = csv.reader(io.StringIO(text, newline=""), delimiter=";" if semicolons else ",")
    assert not any(FORMULA.match(cell) for line in raw for cell in line)
    back = read_tables(text.encode(), "parts.csv")["parts"]
    assert [row.get("note") for row in back] == [row["note"] for row in rows]


def test_lots_that_only_their_ids_tell_apart_are_one_row():
    part, locker = ref("part", numbered_id(TGL, "part", "P1")), ref("locker", TGL)
    lots = {n: RECORDS["lot"](n, TGL, False, part=part, condition="suspect") for n in "ab"}
    docs = {"part": {part[5:]: RECORDS["part"](part[5:], TGL, False, no="P1", name="x")},
            "locker": {TGL: RECORDS["locker"](TGL, TGL, False, no="L1", name="y")}, "lot": lots}
    lying = tuple(Lying(part, locker, f"lot/{n}", 1500, 1500, 1500) for n in "ab")
    aboard = Aboard(RECORDS["vessel"](TGL, TGL, False, mark="A", name="B"), docs, lying)
    assert vessel_csv(aboard)["stock.csv"] == (
        "part,locker,quantity,condition\r\nP1,L1,3,suspect\r\n")


def test_rows_about_things_that_are_gone_stay_behind(harbour, tangloppe):
    aboard = harbour.bring(tangloppe)
    gone = ref("part", numbered_id(TGL, "part", "P034"))
    files = vessel_csv(harbour.submit([setting(gone, gone=True)]))
    assert vessel_csv(aboard)["links.csv"].count("P034,") == 1
    for name in ("parts.csv", "links.csv", "stock.csv", "kits.csv"):
        assert not re.search(r"^P034,|,P034,", files[name], re.M), name
    read_tables(zipped(files))


def test_the_same_vessel_gives_the_same_archive(harbour, tangloppe):
    files = vessel_csv(harbour.bring(tangloppe))
    assert zipped(files) == zipped(dict(reversed(files.items())))
