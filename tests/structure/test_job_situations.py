"""Every situation of people aboard is held by tests that are there, or says what is open."""

from __future__ import annotations

import tomllib
from collections import Counter

from tests.structure.layers import TOP
from tests.structure.test_situations import functions

ROWS = tomllib.loads((TOP / "tests/actions/situations.toml").read_text("utf-8"))["row"]
#: Whoever closes one takes it out here and in the table of the guide.
OPEN: set[int] = set()


def line_of(row: dict) -> str:
    """Write a row of the guide's table."""
    files = dict.fromkeys(one.partition("::")[0] for one in row.get("tests", ()))
    held = ", ".join(f"`{path}`" for path in files)
    return " | ".join((f"| {row['number']}", row["situation"], held or "nothing yet",
                       f"{row.get('open', '-')} |"))


def test_rows_are_numbered_from_1_to_40_and_say_what_is_seen_and_kept():
    assert [row["number"] for row in ROWS] == list(range(1, 41))
    assert all(row["situation"] and row["seen"] and row["kept"] for row in ROWS)


def test_every_row_has_tests_that_are_there_or_says_what_is_open():
    for row in ROWS:
        assert row.get("tests") or row.get("open"), row["number"]
        for one in row.get("tests", ()):
            path, _, name = one.partition("::")
            assert (TOP / path).is_file() and name in functions(path), (row["number"], one)
        assert max(Counter(row.get("tests", ["-"])).values()) == 1, row["number"]


def test_as_many_are_open_as_are_counted():
    assert {row["number"] for row in ROWS if row.get("open")} == OPEN


def test_guide_says_which_tests_hold_which_situation():
    lines = (TOP / "DEVELOPERS.md").read_text("utf-8").splitlines()
    wanted = [line_of(row) for row in ROWS]
    assert [line for line in wanted if line not in lines] == []
    begin = lines.index(wanted[0])
    assert lines[begin:begin + len(wanted)] == wanted
