"""What is due today, and which hour readings are asked about: worked out by hand."""

from __future__ import annotations

from datetime import date

import pytest

from spares.actions.compute import compute
from spares.domain.service import Reading, Record, reading_doubt, sift
from spares.domain.service.counters import with_noted
from tests.plans import task


def _due(the_task, records=(), readings=(), today="2027-03-15"):
    return compute("service", {
        "today": today, "machines": [{"id": "m"}], "tasks": [the_task],
        "records": list(records), "readings": list(readings)})["tasks"][0]


def _used(hours):
    """A service at 1000 h and a reading *hours* later."""
    return ([{"task": "t", "on": "2026-06-01", "at_h": 1000}],
            [{"machine": "m", "on": "2027-03-14", "h": 1000 + hours}])


@pytest.mark.parametrize(("hours", "state"), [
    (100, "done"), ("224,9", "done"), (225, "coming"), (249.9, "coming"), (250, "due"),
    (250.1, "overdue"), (400, "overdue")])
def test_state_by_hours(hours, state):
    records, readings = _used(float(str(hours).replace(",", ".")))
    assert _due(task(250), records, readings)["state"] == state


@pytest.mark.parametrize(("today", "state"), [
    ("2027-05-01", "done"), ("2027-05-20", "done"), ("2027-05-21", "coming"),
    ("2027-06-19", "coming"), ("2027-06-20", "due"), ("2027-06-21", "overdue")])
def test_state_by_date(today, state):
    records = [{"task": "t", "on": "2026-06-20"}]
    assert _due(task(every_months=12), records, today=today)["state"] == state


def test_figures_of_a_service_by_hours():
    records, readings = _used(112.4)
    row = _due(task(250), records, readings)
    assert (row["due_at_h"], row["hours_left"]) == (1250, 137.6)
    assert row["due_on"] is None        # one reading tells no usual running


def test_day_of_a_service_by_hours_is_estimated_from_the_usual_running():
    records = [{"task": "t", "on": "2027-01-01", "at_h": 980}]
    readings = [{"machine": "m", "on": "2027-02-01", "h": 1000},
                {"machine": "m", "on": "2027-03-13", "h": 1080}]      # 2 h a day for 40 days
    row = _due(task(250), records, readings)
    assert (row["due_on"], row["estimated"]) == ("2027-05-27", True)    # 150 h at 2 h: 75 days
    assert row["days_left"] == 73


def test_whichever_comes_first_gives_the_day():
    records = [{"task": "t", "on": "2026-04-20", "at_h": 980}]
    readings = [{"machine": "m", "on": "2027-02-01", "h": 1000},
                {"machine": "m", "on": "2027-03-13", "h": 1080}]
    row = _due(task(250, 12), records, readings)
    assert (row["due_on"], row["estimated"], row["days_left"]) == ("2027-04-20", False, 36)


def test_nobody_knows_is_a_state_of_its_own():
    assert _due(task(250, 12))["state"] == "history-unknown"


def test_an_owners_estimate_is_marked_estimated():
    row = _due(task(every_months=12), records=[{"task": "t", "on": "2026-08-01",
                                                  "estimated": True}])
    assert (row["due_on"], row["estimated"]) == ("2027-08-01", True)


def test_what_is_dated_in_the_future_is_not_used_and_said():
    """A slip in the year must not make a service look done; tomorrow may be today elsewhere."""
    row = _due(task(every_months=12), records=[{"task": "t", "on": "2028-01-01"}])
    assert row["state"] == "history-unknown"
    assert "done on 2028-01-01: not used, that day is still to come" in row["remarks"]
    row = _due(task(every_months=12), records=[{"task": "t", "on": "2027-03-16"}])
    assert (row["state"], row["due_on"]) == ("done", "2028-03-16")
    row = _due(task(250), records=[{"task": "t", "on": "2026-08-01", "at_h": 140}], readings=[
        {"machine": "m", "on": "2027-03-01", "h": 365}, {"machine": "m", "on": "2027-12-31",
                                                          "h": 900}])
    assert row["hours_left"] == 25      # 250 - (365 - 140)
    assert any("900 h of 2027-12-31 not used" in remark for remark in row["remarks"])


def test_a_year_only_is_its_first_day_and_said():
    row = _due(task(every_months=60), [{"task": "t", "on": "2023"}])
    assert row["due_on"] == "2028-01-01"
    assert "last done known only roughly, taken as 2023-01-01" in row["remarks"]


def test_a_service_of_a_month_may_stand_at_what_the_counter_showed_at_its_end():
    row = _due(task(250), [{"task": "t", "on": "2026-05", "at_h": 900}],
               [{"machine": "m", "on": "2026-05-10", "h": 890},
                {"machine": "m", "on": "2027-03-14", "h": 1000}])
    assert (row["hours_left"], row["due_at_h"]) == (150, 1150)     # 250 - (1000 - 900)


def test_hours_with_a_doubt_are_not_used_and_said():
    row = _due(task(250), [{"task": "t", "on": "2026-06-01", "at_h": 5000, "doubt": "a slip"}],
               [{"machine": "m", "on": "2026-06-01", "h": 1000},
                {"machine": "m", "on": "2027-03-14", "h": 1100}])
    assert row["hours_left"] == 150
    assert "5000 h at the service of 2026-06-01 not used: a slip" in row["remarks"]


@pytest.mark.parametrize(("noted", "left"), [(11840, 150), (3, 153)])
def test_hours_on_the_day_of_a_new_counter_are_of_the_one_they_are_near(noted, left):
    """100 h on the new counter: all of it after the old one's last figure, 97 h after its own 3."""
    row = _due(task(250), [{"task": "t", "on": "2026-05-10", "at_h": noted}],
               [{"machine": "m", "on": "2026-04-10", "h": 11800},
                {"machine": "m", "on": "2026-05-10", "h": 0, "new_counter": True},
                {"machine": "m", "on": "2027-03-14", "h": 100}])
    assert row["hours_left"] == left


def test_services_on_a_counter_nobody_read_before_it_was_changed_keep_their_hours():
    row = _due(task(250), [{"task": "t", "on": "2026-05-10", "at_h": 11840}],
               [{"machine": "m", "on": "2026-06-01", "h": 0, "new_counter": True},
                {"machine": "m", "on": "2027-03-14", "h": 100}])
    assert (row["hours_left"], row["due_at_h"]) == (150, 250)


def test_services_of_one_day_do_not_make_the_usual_running_look_small():
    """1.5 h a day, three services at 150 h, then a passage at 6 h a day: nothing to doubt."""
    noted = [Record(task, date(2026, 6, 1), 150 * 60) for task in "abc"]
    known = with_noted(_readings(("2026-02-21", 0), ("2026-04-22", 90)), noted)
    assert reading_doubt(known, _readings(("2026-06-11", 210))[0]) is None


def test_running_given_as_of_today_goes_on_from_today():
    row = _due(task(250, used_h=200), readings=[
        {"machine": "m", "on": "2026-11-01", "h": 100},
        {"machine": "m", "on": "2026-12-01", "h": 160}], today="2027-03-15")    # 2 h a day
    assert (row["state"], row["due_on"]) == ("done", "2027-04-09")      # 50 h: 25 days on


def test_a_task_may_name_its_place_without_the_list_of_places():
    assert _due(task(250, fit_point="x"))["state"] == "history-unknown"


def _readings(*pairs):
    return [Reading(date.fromisoformat(on), round(h * 60)) for on, h in pairs]


HYD = _readings(("2026-06-30", 505), ("2026-12-01", 612))
WMK = _readings(("2024-05-01", 0), ("2026-08-01", 80))


@pytest.mark.parametrize(("history", "on", "hours", "code"), [
    (HYD, "2027-01-05", 603, "lower"),
    (HYD, "2027-03-10", 640, None),
    (WMK, "2027-02-02", 960, "five-times-usual"),
    (WMK, "2027-03-01", 96, None),
    (HYD, "2026-12-02", 640, "above-24-h-a-day"),
    (HYD[:1], "2026-07-30", 505 + 24 * 30, None),       # exactly 24 h a day, no usual rate yet
    (HYD, "2026-09-01", 700, "higher-than-later"),
    ([], "2027-01-01", 5000, None)])
def test_which_readings_are_asked_about(history, on, hours, code):
    doubt = reading_doubt(history, _readings((on, hours))[0])
    assert (doubt and doubt.code) == code


def test_five_times_the_median_is_still_taken_and_more_is_not():
    history = _readings(("2026-01-01", 0), ("2026-01-11", 10), ("2026-01-21", 20))
    just, over = _readings(("2026-01-31", 70), ("2026-01-31", 70.1))
    assert reading_doubt(history, just) is None
    assert reading_doubt(history, over).code == "five-times-usual"


def test_what_follows_a_doubtful_reading_is_compared_with_the_last_trusted_one():
    good, odd = sift(_readings(("2024-05-01", 0), ("2026-08-01", 80), ("2027-02-02", 960),
                               ("2027-03-01", 96)))
    assert [r.minutes // 60 for r in good] == [0, 80, 96]
    assert [(r.minutes // 60, doubt.code) for r, doubt in odd] == [(960, "five-times-usual")]


def test_a_new_counter_may_start_low():
    old = _readings(("2026-01-01", 11840))
    assert reading_doubt(old, Reading(date(2026, 2, 1), 0, new_counter=True)) is None


def test_the_doubt_is_told_in_words_with_figures():
    assert reading_doubt(HYD, _readings(("2027-01-05", 603))[0]).words == (
        "lower than the 612 h of 2026-12-01")


@pytest.mark.parametrize(("read", "due_on", "state"), [
    ([("2027-01-01", 900), ("2027-02-28", 1016)], "2027-07-13", "done"),      # 2 h a day
    ([("2026-01-01", 100), ("2026-06-01", 855)], "2027-04-29", "done")])      # 5 h a day
def test_hours_after_a_service_run_from_its_day_not_from_a_reading_before_it(read, due_on, state):
    """250 h from 10 March on, the day of the service: 125 days or 50, as a trip counts them."""
    row = _due(task(250), [{"task": "t", "on": "2027-03-10"}],
               [{"machine": "m", "on": on, "h": h} for on, h in read])
    assert (row["due_on"], row["state"], row["hours_left"]) == (due_on, state, 250)
    assert "read the counter" not in " ".join(row["remarks"])


def test_hours_that_last_beyond_the_calendar_give_no_day():
    """A tenth of an hour a year, 1000 h: ten thousand years on; all else is told as ever."""
    row = _due(task(1000), [{"task": "t", "on": "2026-01-01", "at_h": 500}],
               [{"machine": "m", "on": "2026-03-10", "h": 500},
                {"machine": "m", "on": "2027-03-10", "h": 500.1}])
    assert (row["state"], row["due_on"], row["days_left"]) == ("done", None, None)
    assert (row["hours_left"], row["due_at_h"]) == (999.9, 1500)


def test_readings_of_the_first_year_of_the_calendar_are_counted():
    row = _due(task(1000), [{"task": "t", "on": "0001-01-01", "at_h": 1}],
               [{"machine": "m", "on": "0001-01-01", "h": 1},
                {"machine": "m", "on": "0001-02-01", "h": 2}])
    assert row["hours_left"] == 999


def test_an_old_reading_behind_likely_running_asks_for_the_counter():
    records = [{"task": "t", "on": "2026-10-01", "at_h": 5120}]
    readings = [{"machine": "m", "on": "2026-10-01", "h": 5120},
                {"machine": "m", "on": "2026-11-02", "h": 5260}]     # 140 h in 32 days
    row = _due(task(500), records, readings)
    assert (row["state"], row["due_on"], row["hours_left"]) == ("coming", None, 360)
    assert "read the counter" in " ".join(row["remarks"])
