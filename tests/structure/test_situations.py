"""Every situation of two machines that meet, and every promise, is held by tests that are there."""

from __future__ import annotations

import ast
import re
import tomllib
from collections import Counter
from functools import cache

from tests.structure.layers import TOP

ROWS = tomllib.loads((TOP / "tests/sync/situations.toml").read_text("utf-8"))["row"]
PROMISES = tomllib.loads((TOP / "tests/sync/promises.toml").read_text("utf-8"))["promise"]
NUMBERED = re.compile(r"test_(s\d+_)+")


@cache
def functions(path: str) -> tuple[str, ...]:
    tree = ast.parse((TOP / path).read_text("utf-8"))
    return tuple(one.name for one in tree.body if isinstance(one, ast.FunctionDef))


def numbers_in(name: str) -> set[int]:
    begins = NUMBERED.match(name)
    return set(map(int, re.findall(r"s(\d+)_", begins[0]))) if begins else set()


def test_rows_are_numbered_from_1_to_39_and_say_what_comes_and_what_is_answered():
    assert [row["number"] for row in ROWS] == list(range(1, 40))
    assert all(row["comes"] and row["answer"] and row["tests"] for row in ROWS)


def test_promises_are_numbered_from_1_to_24_and_say_what_holds():
    assert [one["number"] for one in PROMISES] == list(range(1, 25))
    assert all(one["holds"] and one["tests"] for one in PROMISES)


def test_every_row_names_tests_that_are_there():
    lost = [(row["number"], one) for row in ROWS + PROMISES for one in row["tests"]
            if not (TOP / one.partition("::")[0]).is_file()
            or one.partition("::")[2] not in functions(one.partition("::")[0])]
    assert lost == []
    for row in ROWS + PROMISES:
        assert max(Counter(row["tests"]).values()) == 1, row["number"]


def test_a_test_that_bears_a_rows_number_is_named_by_that_row_and_no_other():
    by_number = {row["number"]: {one.partition("::")[2] for one in row["tests"]} for row in ROWS}
    seen = 0
    for path in sorted((TOP / "tests").rglob("test_*.py")):
        for name in functions(str(path.relative_to(TOP))):
            for number in numbers_in(name):
                seen += 1
                assert name in by_number[number], (path.name, name)
    assert seen > 40
    for number, names in by_number.items():
        assert all(not numbers_in(name) or number in numbers_in(name) for name in names), number


def test_reader_of_numbers_reads_several_and_none():
    assert numbers_in("test_s15_s16_quantity") == {15, 16}
    assert numbers_in("test_speed_of_sound") == set()
