"""The test run that a service's note asks for."""

from __future__ import annotations

import csv

import pytest

from spares.domain.run_after import run_noted
from tests.structure.layers import TOP


def test_the_oil_change_of_the_harbour_set_asks_for_five_marks():
    with (TOP / "seed" / "tangloppe" / "services.csv").open(encoding="utf-8", newline="") as file:
        notes = {row["no"]: row["note"] for row in csv.DictReader(file, delimiter=";")}
    found = run_noted(notes["S20"])
    assert found.minutes == (0, 1, 5, 15, 30)
    assert found.readings == ("oil bar", "coolant °C", "outlet water yes or no", "V", "Hz", "leaks")
    assert found.limits == "from the maker's book"
    assert [no for no, note in notes.items() if run_noted(note)] == ["S20"]


@pytest.mark.parametrize("note", [
    None, "", "Change it warm.", "Test run: long enough.", "Test run: minutes ; oil.",
    "Test run after it: minutes 0, 5."])
def test_what_is_no_test_run_gives_none(note):
    assert run_noted(note) is None


def test_limits_may_stand_before_or_after_and_hold_decimals():
    found = run_noted("Limits: oil 2.5 to 5 bar. Test run: minute 5; oil bar.")
    assert (found.minutes, found.readings, found.limits) == ((5,), ("oil bar",), "oil 2.5 to 5 bar")
