"""Single cells: what is read, what is refused, and that writing is the reverse of reading."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.transfer import cells

WHOLES = st.integers(0, 10**9)
TEXTS = st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1)
SCALARS = st.one_of(TEXTS, WHOLES, st.booleans(), st.from_regex(r"[1-9]\d{0,3}\.\d{1,3}",
                                                                fullmatch=True))
NAMES = st.from_regex(r"[a-z][a-z0-9_]{0,9}", fullmatch=True)
CLAIMED = st.one_of(SCALARS, st.lists(SCALARS, max_size=4),
                    st.dictionaries(NAMES, SCALARS, max_size=4))


@pytest.mark.parametrize(("type_", "text", "value"), [
    ("quantity", "2", 2000), ("quantity", "0,5", 500), ("quantity", "0.125", 125),
    ("hours", "1912,4", 114_744), ("hours", "0", 0), ("hours", "1912:24", 114_744),
    ("minor", "18,50", 1850), ("minor", "0", 0), ("minor", "640", 64_000),
    ("flag", "Yes", True), ("flag", "no", False), ("count", "?", "?"),
    ("day", "2023", "2023"), ("day", "2023-05", "2023-05"), ("day", "2024-02-29", "2024-02-29"),
    ("claimed", "61,98", "61.98"), ("claimed", "4", 4), ("claimed", "G 1 1/4", "G 1 1/4"),
    ("claimed", "min=61,95 max=62,00", {"min": "61.95", "max": "62.00"}),
    ("claimed", "CR|NBR", ["CR", "NBR"]), ("claimed", "2 1/2 in", "2 1/2 in"),
    ("object", "medium=sea-water wet=yes", {"medium": "sea-water", "wet": True}),
    ("names", "WMK-01| WMK 02", ["WMK-01", "WMK 02"]), ("text", "  ", None)])
def test_a_cell_is_read_as_a_person_means_it(type_, text, value):
    assert cells.parse(type_, text) == value


@pytest.mark.parametrize(("type_", "text"), [
    ("quantity", "-1"), ("quantity", "0,0005"), ("quantity", "1 000"), ("quantity", "two"),
    ("hours", "1.912"), ("hours", "1,912"), ("hours", "12:75"), ("hours", "0,01"),
    ("minor", "1.250"), ("minor", "1.250,00"), ("minor", "0,005"), ("whole", "7,0"),
    ("whole", "-3"), ("flag", "perhaps"), ("day", "15.03.2027"), ("day", "2027-02-29"),
    ("day", "2027-13"), ("full-day", "2027-03"), ("no", "P|1"), ("no", "x" * 201),
    ("object", "wet"), ("object", "[1]"), ("object", '{"a": 1'), ("claimed", '{"a"'),
    ("quantity", "٣")])
def test_a_cell_that_can_be_read_in_two_ways_or_none_is_refused(type_, text):
    with pytest.raises(ValueError, match="."):
        cells.parse(type_, text)


@pytest.mark.parametrize("mark", [".", ","])
@given(value=WHOLES)
def test_numbers_come_back_as_written(mark, value):
    for type_ in ("quantity", "hours", "minor", "whole", "count"):
        assert cells.parse(type_, cells.write(type_, value, mark)) == value


@pytest.mark.parametrize("mark", [".", ","])
@given(value=CLAIMED)
def test_what_a_claim_says_comes_back_as_written(mark, value):
    assert cells.parse("claimed", cells.write("claimed", value, mark)) == value
