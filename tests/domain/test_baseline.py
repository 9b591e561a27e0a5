"""What nobody can date, counted from a baseline: it gets a day, and is never called good.

Expected days are counted on the calendar by hand.
"""

from __future__ import annotations

from datetime import date

import pytest

from spares.actions.compute import compute
from spares.domain.service import Machine, Reading, Record, Task, due_tasks

BASE = date(2027, 3, 1)
YEARLY = Task("belt", "winch", every_months=12)
OIL = Task("oil", "set", every_min=100 * 60, every_months=24, first_min=20 * 60)
READ = [("set", Reading(date(2027, 2, 1), 500 * 60)), ("set", Reading(BASE, 528 * 60)),
        ("set", Reading(date(2027, 3, 31), 558 * 60))]


def _due(task, today, records=(), baseline=BASE):
    machine = Machine(task.machine, "own" if task is OIL else "none")
    return due_tasks(today, [machine], [task], records, READ if task is OIL else (),
                     baseline=baseline)[0]


@pytest.mark.parametrize(("today", "state", "days_left"), [
    (date(2027, 3, 1), "history-unknown", 366),     # 2028 has a 29 February
    (date(2028, 2, 15), "history-unknown", 15),     # a dated one would be coming
    (date(2028, 3, 1), "due", 0), (date(2028, 3, 2), "overdue", -1)])
def test_a_baseline_makes_due_and_overdue_and_nothing_better(today, state, days_left):
    found = _due(YEARLY, today)
    assert (found.state, found.due_on, found.days_left) == (state, date(2028, 3, 1), days_left)
    assert found.from_baseline and found.estimated
    assert found.remarks[:2] == (
        "nobody knows when it was last done",
        "counted from the baseline of 2027-03-01, not from a known service")


def test_hours_are_counted_from_what_the_meter_showed_on_the_baseline():
    found = _due(OIL, date(2027, 3, 31))
    assert (found.due_at_min, found.left_min) == (628 * 60, 70 * 60)    # not the first interval


def test_no_baseline_one_to_come_or_a_known_service_change_nothing():
    for baseline in (None, date(2029, 1, 1)):
        found = _due(YEARLY, date(2028, 3, 1), baseline=baseline)
        assert (found.state, found.due_on, found.from_baseline) == ("history-unknown", None, False)
    known = _due(YEARLY, date(2027, 6, 1), [Record("belt", date(2026, 9, 1))])
    assert (known.state, known.from_baseline) == ("done", False)


def test_a_computation_takes_a_baseline_and_says_what_was_counted_from_it():
    asked = {"today": "2028-03-01", "machines": [{"id": "w", "counter": "none"}],
             "tasks": [{"id": "belt", "machine": "w", "every_months": 12}]}
    assert "from_baseline" not in compute("service", asked)["tasks"][0]
    told = compute("service", {**asked, "baseline_on": "2027-03-01"})["tasks"][0]
    assert (told["state"], told["due_on"], told["from_baseline"]) == ("due", "2028-03-01", True)


def test_hours_that_are_given_are_not_said_to_be_counted_from_the_baseline():
    asked = {"today": "2027-06-01", "machines": [{"id": "w"}], "baseline_on": "2027-03-01",
             "tasks": [{"id": "t", "machine": "w", "every_h": 250, "every_months": 12,
                        "used_h": 100}]}
    told = compute("service", asked)["tasks"][0]
    assert (told["state"], told["due_on"], told["hours_left"]) == (
        "history-unknown", "2028-03-01", 150)
    assert told["remarks"] == [
        "nobody knows when it was last done",
        "its date is counted from the baseline of 2027-03-01, not from a known service"]
