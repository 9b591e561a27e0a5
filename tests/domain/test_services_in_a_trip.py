"""How often a service falls due in a trip: cases worked out by hand from the counting rule."""

from __future__ import annotations

import pytest

from tests.plans import line, plan, task


def _events(hours, tasks, *, days=30, records=(), **more):
    row = plan(days=days, hours={"m": hours}, tasks=[tasks], records=list(records),
               **more)["services"][0]
    return row["before"], row["days"], row["due_on_arrival"]


@pytest.mark.parametrize(("every_h", "used_h", "hours", "before", "during"), [
    (250, 180, 120, 0, 1),          # floor(300 / 250)
    (250, 180, 60, 0, 0),           # floor(240 / 250)
    (250, 130, 120, 0, 1),          # exactly 250 on arrival: the end counts
    (250, "129,9", 120, 0, 0),      # six minutes short of it
    (250, 270, 120, 1, 0),          # overdue: once before leaving
    (250, 800, 300, 1, 1),          # three missed ones are done once
    (250, 250, 250, 1, 1),          # due at departure, and again on arrival
    (1000, 950, 100, 0, 1),         # interval longer than the trip, late in it
    (1000, 100, 100, 0, 0),         # the same, early in it
])
def test_hours_alone_decide_how_often(every_h, used_h, hours, before, during):
    done_before, days, _ = _events(hours, task(every_h, used_h=used_h))
    assert (done_before, len(days)) == (before, during)


def test_due_exactly_on_arrival_counts_on_the_last_day_and_is_flagged():
    assert _events(120, task(250, used_h=130)) == (0, [29], True)


def test_same_interval_early_in_it_is_not_flagged_and_late_in_it_is():
    early, late = (plan(hours={"m": hours}, tasks=[task(1000, used_h=used)])["services"][0]
                   for used, hours in ((100, 100), (850, 60)))
    assert (early["soon_after"], late["soon_after"]) == (False, True)


def test_no_record_is_done_before_leaving_and_listed_as_unknown():
    answer = plan(hours={"m": 120}, tasks=[task(250)])
    assert answer["services"][0]["before"] == 1
    assert answer["services"][0]["days"] == []
    assert answer["history_unknown"] == ["t"]


@pytest.mark.parametrize(("last", "during", "on_arrival"), [
    ("2026-05-01", [30], True), ("2026-05-02", [], False)])
def test_calendar_due_on_the_day_of_arrival_counts(last, during, on_arrival):
    records = [{"task": "t", "on": last}]
    assert _events(0, task(every_months=12), records=records) == (0, during, on_arrival)


@pytest.mark.parametrize(("days", "during"), [(20, 0), (27, 1)])
def test_months_are_clipped_to_the_month_end(days, during):
    answer = plan(days=days, trip={"departs_on": "2027-02-01"}, today="2027-01-15",
                  tasks=[task(every_months=6)], records=[{"task": "t", "on": "2026-08-31"}])
    assert len(answer["services"][0]["days"]) == during


@pytest.mark.parametrize(("months", "said"), [(1, "1 month since 2027-03-05"),
                                              (2, "2 months since 2027-02-25")])
def test_one_month_is_said_in_the_singular(months, said):
    last = said.split()[-1]
    service, = plan(tasks=[task(every_months=months)],
                    records=[{"task": "t", "on": last}])["services"]
    assert any(said in remark for remark in service["remarks"])
    before, = plan(days=0, tasks=[task(every_months=months)],
                   records=[{"task": "t", "on": "2026-12-01"}])["services"]
    assert any(f"{said.split(' since')[0]} since 2026-12-01 over" in remark
               for remark in before["remarks"])


@pytest.mark.parametrize(("last", "during"), [("2026-05-20", [37]), ("2026-04-11", [10, 72])])
def test_whichever_side_comes_first_restarts_both(last, during):
    answer = plan(days=90, trip={"hours_per_day": {"m": 4}}, tasks=[task(250, 12, 100)],
                  records=[{"task": "t", "on": last}])
    assert answer["services"][0]["days"] == during


def test_counter_and_record_give_the_same_as_hours_used():
    answer = plan(days=90, trip={"hours_per_day": {"m": 4}}, tasks=[task(250, 12)],
                  records=[{"task": "t", "on": "2026-05-20", "at_h": 900}],
                  readings=[{"machine": "m", "on": "2027-03-14", "h": 1000.0}])
    assert answer["services"][0]["days"] == [37]


def test_the_calendar_runs_at_anchor_and_the_hours_do_not():
    assert _events(0, task(250, used_h=200)) == (0, [], False)
    records = [{"task": "t", "on": "2026-04-10"}]
    assert _events(0, task(250, 12, 200), records=records) == (0, [9], False)


def test_two_engines_add_up_filters_and_litres():
    kit = [{"part": "primary", "quantity": 2}, {"part": "secondary", "quantity": 1},
           {"part": "oil", "quantity": 6}]
    answer = plan(days=60, hours={"port": 280, "stbd": 280}, tasks=[
        task(100, used_h=50, id="a", machine="port", kit=kit),
        task(100, used_h=0, id="b", machine="stbd", kit=kit)])
    assert [len(s["days"]) for s in answer["services"]] == [3, 2]
    assert [line(answer, part)["for_service"] for part in ("primary", "secondary", "oil")] == [
        10, 5, 30]


def test_what_comes_due_before_departure_is_projected_as_usual():
    answer = plan(
        today="2027-03-01", hours={"m": 60}, trip={"hours_before_departure": "as-usual"},
        tasks=[task(250)], records=[{"task": "t", "on": "2026-06-01", "at_h": 770}],
        readings=[{"machine": "m", "on": "2027-02-01", "h": 972},
                  {"machine": "m", "on": "2027-03-01", "h": 1000}])
    row = answer["services"][0]
    assert (row["before"], row["days"]) == (1, [])      # 230 + 31 = 261 of 250
    assert any("31 h of running assumed until 2027-04-01" in r for r in row["remarks"])


def test_a_trip_of_no_days_counts_only_what_is_due_before():
    answer = plan(days=0, hours={"m": 500}, tasks=[
        task(250, used_h=270, id="due"), task(250, used_h=100, id="not")])
    assert [(s["before"], s["days"]) for s in answer["services"]] == [(1, []), (0, [])]


def test_the_first_interval_after_an_overhaul_is_shorter():
    overhaul = [{"task": "t", "on": "2027-03-01", "at_h": 0}]
    readings = [{"machine": "m", "on": "2027-03-14", "h": 20}]
    answer = plan(hours={"m": 300}, tasks=[task(250, first_h=50)], records=overhaul,
                  readings=readings)
    assert answer["services"][0]["days"] == [2, 27]     # after 30 h and 280 h, 10 h a day
    twice = [*overhaul, {"task": "t", "on": "2027-03-10", "at_h": 15}]
    answer = plan(hours={"m": 300}, tasks=[task(250, first_h=50)], records=twice,
                  readings=readings)
    assert answer["services"][0]["days"] == [24]        # 5 h used, then 250 h


def test_work_done_in_port_waits_for_the_next_stop_and_then_restarts():
    stops = [{"day": 12}, {"day": 40}]
    answer = plan(days=60, trip={"hours_per_day": {"m": 10}, "stops": stops},
                  tasks=[task(100, used_h=0, in_port=True)])
    # due on day 9, done on day 12; due again on day 21, done on day 40; then on day 49, on arrival
    assert answer["services"][0]["days"] == [12, 40, 60]


def test_work_at_a_place_that_is_no_longer_fitted_is_not_wanted():
    answer = plan(hours={"m": 120}, tasks=[task(250, fit_point="old", kit=[{"part": "p"}])],
                  fit_points=[{"id": "old", "machine": "m", "takes": ["p"], "retired": True}])
    assert (answer["services"][0]["before"], answer["history_unknown"], answer["lines"]) == (
        0, [], [])


def test_a_machine_without_given_running_runs_nothing_and_says_so():
    answer = plan(tasks=[task(250, used_h=100)], trip={})
    assert answer["hours"] == {"m": 0}
    assert "no running given for m: taken as 0 h" in answer["services"][0]["remarks"]


def test_a_machine_counts_by_the_counter_of_another():
    answer = plan(hours={"eng": 120}, machines=[{"id": "eng"}, {"id": "gbx", "counter": "eng"}],
                  tasks=[task(250, machine="gbx")],
                  records=[{"task": "t", "on": "2026-09-01", "at_h": 870}],
                  readings=[{"machine": "eng", "on": "2027-03-14", "h": 1000}])
    assert answer["hours"] == {"eng": 120, "gbx": 120}
    assert answer["services"][0]["days"] == [29]


def test_the_counter_at_an_undocumented_service_is_read_off_between_readings():
    answer = plan(hours={"m": 80}, tasks=[task(150)],
                  records=[{"task": "t", "on": "2027-01-31"}],
                  readings=[{"machine": "m", "on": "2027-01-01", "h": 1000},
                            {"machine": "m", "on": "2027-03-02", "h": 1060},
                            {"machine": "m", "on": "2027-03-14", "h": 1100}])
    # half way between 1000 h and 1060 h: 1030 h, so 70 h are used; 80 h more make 150 h
    assert answer["services"][0]["days"] == [29]
    assert answer["services"][0]["due_on_arrival"]


def test_a_service_before_the_first_reading_is_of_unknown_history():
    answer = plan(hours={"m": 10}, tasks=[task(250)], records=[{"task": "t", "on": "2020"}],
                  readings=[{"machine": "m", "on": "2027-03-14", "h": 1200}])
    assert answer["history_unknown"] == ["t"]


def test_a_changed_counter_does_not_lose_hours():
    answer = plan(hours={"m": 30}, tasks=[task(250)],
                  records=[{"task": "t", "on": "2026-06-01", "at_h": 11800}],
                  readings=[{"machine": "m", "on": "2026-06-01", "h": 11800},
                            {"machine": "m", "on": "2026-09-01", "h": 11900},
                            {"machine": "m", "on": "2026-09-01", "h": 0, "new_counter": True},
                            {"machine": "m", "on": "2027-03-14", "h": 120}])
    assert answer["services"][0]["days"] == [29]        # 100 + 120 + 30 = 250


def test_every_remark_of_an_event_names_machine_hours_and_date():
    answer = plan(days=90, trip={"hours_per_day": {"m": 4}},
                  tasks=[task(250, 12, 100, kit=[{"part": "p", "quantity": 2}])],
                  records=[{"task": "t", "on": "2026-05-20"}])
    assert line(answer)["why"] == [
        "t (m): 2 on day 37, 2027-05-08: m has run 250 h since 2026-05-20"]
