"""Running hours and fuel of a passage and of days at anchor, worked out by hand."""

from __future__ import annotations

from math import log

import pytest

from spares.actions.compute import compute
from spares.errors import InvalidInput
from tests.plans import ask, plan, task

CHART_20_KW = [[0.25, 2.3], [0.5, 3.4], [0.75, 4.9], [1.0, 6.1]]
BANK = {"volts": 12, "ah": 400, "from": 0.5, "to": 0.8, "knee": 0.8, "efficiency": 0.85}
SUN = {"peak_w": 300, "sun_hours": 4, "derate": 0.75}
LEGS = [{"distance_nm": 60, "speed_kn": 6, "machines": ["eng"]},
        {"distance_nm": 45, "speed_kn": 5, "machines": ["eng"], "manoeuvring_h": "0,5"}]
ENGINE = {"id": "eng", "fuel": {"at_kn": 7, "l_per_h": 4, "manoeuvring_l_per_h": 1}}


def _charge(**more):
    return {"loads_kwh_per_day": 2.4, "solar": SUN, "bank": BANK, "charger": {"net_a": 80},
            "generator": {"rated_kw": 20, "load": 0.35, "fuel_l_per_h": CHART_20_KW},
            "days": 10, **more}


def test_ten_days_at_anchor():
    found = compute("charge", _charge())
    assert found["deficit_kwh"] == pytest.approx(1.5)
    assert found["deficit_ah"] == pytest.approx(125)
    assert found["hours_per_day"] == pytest.approx(125 / (0.85 * 80))       # 1.838
    assert found["hours"] == pytest.approx(18.38, abs=0.005)
    assert found["fuel_l"] == pytest.approx(18.38 * 2.74, abs=0.02)         # 2.3 + .4 x 1.1
    assert found["fuel_with_thirds_l"] == pytest.approx(1.5 * found["fuel_l"])


def test_twelve_days_of_passage_and_anchor():
    found = plan(days=12, hours={}, machines=[ENGINE, {"id": "gen"}],
                 trip={"legs": LEGS, "hours": {"gen": "18,38"}},
                 tasks=[task(250, used_h=235, id="oil", machine="eng"),
                        task(100, used_h=85, id="set", machine="gen")])
    assert found["hours"]["eng"] == 20.0            # 10 + 9 + twice half an hour
    assert found["hours"]["gen"] == pytest.approx(18.38, abs=0.01)
    assert [s["before"] + len(s["days"]) for s in found["services"]] == [1, 1]
    assert found["fuel"]["fuel_l"] == pytest.approx(39.31, abs=0.005)


def test_fuel_of_engine_and_generator_adds_up_and_keeps_a_third():
    found = plan(days=10, machines=[ENGINE, {"id": "gen"}],
                 trip={"hours": {}, "legs": LEGS, "energy": {**_charge(), "machine": "gen"}},
                 tasks=[task(250, used_h=235, id="oil", machine="eng"),
                        task(100, used_h=85, id="set", machine="gen")])
    assert [s["before"] + len(s["days"]) for s in found["services"]] == [1, 1]
    assert found["fuel"]["machines"]["gen"] == pytest.approx(50.37, abs=0.01)
    assert found["fuel"]["fuel_l"] == pytest.approx(89.68, abs=0.01)
    assert found["fuel"]["fuel_with_thirds_l"] == pytest.approx(134.5, abs=0.05)
    assert found["energy"]["hours"] == pytest.approx(18.38, abs=0.005)
    assert found["hours"]["gen"] == pytest.approx(1103 / 60, abs=1e-3)      # whole minutes


def test_days_of_the_charge_in_a_trip_are_those_of_the_trip():
    found = plan(days=20, machines=[{"id": "gen"}],
                 trip={"hours": {}, "energy": {**_charge(days=3), "machine": "gen"}})
    assert found["energy"]["hours"] == pytest.approx(2 * 18.382, abs=0.005)
    assert any("20 days" in remark for remark in found["remarks"])


def test_a_cycle_through_the_knee_takes_bulk_and_taper():
    found = compute("charge", {
        "loads_kwh_per_day": 2.6, "solar": {"peak_w": 250, "sun_hours": 4.2, "derate": 0.75},
        "bank": {"volts": 12, "ah": 500, "from": 0.55, "to": 0.85}, "charger": {"net_a": 70},
        "generator": {"rated_kw": 6, "load": 0.40,
                      "fuel_l_per_h": [[0.5, 1.2], [0.75, 1.7], [1.0, 2.2]]}, "days": 14})
    bulk = 0.25 * 500 / (0.85 * 70)
    taper = 0.2 * 500 / (0.85 * 70) * log(0.2 / 0.15)
    assert found["cycle_h"] == pytest.approx(bulk + taper)
    assert found["cycle_ah"] == pytest.approx(150)
    assert found["hours_per_day"] == pytest.approx((bulk + taper) * (1812.5 / 12) / 150)
    assert found["fuel_l"] == pytest.approx(found["hours"] * 1.2)       # lowest row holds below it


@pytest.mark.parametrize(("low", "high", "hours"), [
    (0.5, 0.8, 1.7647), (0.5, 0.95, 3.3956), (0.85, 0.95, 1.2925)])
def test_charging_time_equals_stepping_through_the_equation(low, high, hours):
    state, minutes, step = low, 0, 1 / 60
    while state < high:
        state += 0.85 * 80 / 400 * min(1, (1 - state) / (1 - 0.8)) * step
        minutes += 1
    found = compute("charge", _charge(bank={**BANK, "from": low, "to": high}))
    assert found["cycle_h"] == pytest.approx(hours, abs=5e-5)
    assert found["cycle_h"] == pytest.approx(minutes / 60, abs=0.03)


def test_daily_use_over_the_charger_on_its_alternating_side():
    found = compute("charge", {
        "use_kwh": 8.2, "charger_kw": "3,2", "efficiency": 0.85, "days": 63,
        "generator": {"rated_kw": 9, "fuel_l_per_h": 1.4}})
    assert found["hours_per_day"] == pytest.approx(3.0147, abs=5e-5)
    assert round(found["hours"]) == 190
    assert round(found["fuel_l"]) == 266
    assert found["load_share"] == pytest.approx(3.2 / 9)
    assert any(remark.startswith("watch") for remark in found["remarks"])


@pytest.mark.parametrize(("use", "charger", "efficiency"), [
    ("30.6", "1.5", "0.85"), (16.8, 0.7, 1), (11.4, 0.5, 0.95)])
def test_a_day_that_takes_just_24_hours_is_one(use, charger, efficiency):
    """In binary fractions each of these comes out above 24."""
    found = compute("charge", {"use_kwh": use, "charger_kw": charger, "efficiency": efficiency,
                               "days": 5})
    assert (found["hours_per_day"], found["hours"]) == (24, 120)


def test_a_load_of_just_40_percent_is_not_watched():
    found = compute("charge", {"use_kwh": 4, "charger_kw": 2.4, "efficiency": 1, "days": 3,
                               "generator": {"rated_kw": 6}})
    assert (found["load_share"], found["remarks"]) == (0.4, [])       # 2.4 / 6


def test_one_consumption_for_any_load_needs_no_load():
    found = compute("charge", {
        "loads_kwh_per_day": 2.04, "bank": {"volts": 12, "ah": 400, "from": 0.5, "to": 0.8},
        "charger": {"net_a": 80}, "days": 10, "generator": {"fuel_l_per_h": 1.5}})
    assert (found["deficit_ah"], found["hours_per_day"]) == (170, 2.5)      # 170 / (.85 x 80)
    assert (found["fuel_l"], found["fuel_with_thirds_l"]) == (37.5, 56.25)


def test_a_trip_of_no_days_runs_and_burns_nothing_and_says_so():
    fuel = {"at_kn": 7, "l_per_h": 4}
    leg = {"distance_nm": 60, "speed_kn": 6, "machines": ["m"]}
    found = plan(days=0, machines=[{"id": "m", "fuel": fuel}], trip={"legs": [leg]})
    assert (found["hours"], found["fuel"]) == ({"m": 0}, None)
    assert found["remarks"] == ["a trip of 0 days: the running given for it is not counted"]


def test_a_figure_that_cannot_be_read_is_not_called_missing_too():
    with pytest.raises(InvalidInput) as caught:
        compute("charge", {"use_kwh": 8, "charger_kw": 0, "days": 3})
    assert [e["pointer"] for e in caught.value.facts["errors"]] == ["#/charger_kw"]


def test_other_loads_overlap_with_charging():
    found = compute("charge", _charge(other_generator_hours_per_day=3))
    assert found["hours_per_day"] == 3


def test_sun_that_covers_the_loads_needs_no_generator():
    found = compute("charge", _charge(loads_kwh_per_day=0.5))
    assert (found["deficit_kwh"], found["hours"]) == (0, 0)


def test_legs_with_a_day_run_on_that_day_and_the_others_are_spread():
    legs = [{"distance_nm": 30, "speed_kn": 5, "machines": ["m"], "manoeuvring_h": 0, "day": 7},
            {"distance_nm": 40, "speed_kn": 5, "machines": ["m"], "manoeuvring_h": 0}]
    found = plan(days=10, trip={"hours": {}, "legs": legs}, tasks=[task(10, used_h=0)])
    # 0.8 h a day from day 0, and 6 h more on day 7: 5.6 h before it, 12.4 h after it
    assert found["hours"] == {"m": 14}
    assert found["services"][0]["days"] == [7]


def test_a_leg_of_two_days_runs_on_both():
    legs = [{"distance_nm": 180, "speed_kn": 5, "machines": ["m"], "manoeuvring_h": 0, "day": 3}]
    found = plan(days=10, trip={"hours": {}, "legs": legs}, tasks=[task(18, used_h=0)])
    assert found["services"][0]["days"] == [3, 4]       # 18 h on day 3, 18 h on day 4


def test_a_sailing_leg_runs_the_engine_for_its_share():
    legs = [{"distance_nm": 60, "speed_kn": 6, "machines": ["m"], "motor_share": 0.25,
             "manoeuvring_h": 1}]
    assert plan(trip={"hours": {}, "legs": legs})["hours"] == {"m": 3.5}


def test_fuel_by_table_is_straight_between_its_rows():
    engine = {"id": "m", "fuel": {"table": [[5, 2], [7, 4]]}}
    legs = [{"distance_nm": 60, "speed_kn": 6, "machines": ["m"]}]
    found = plan(trip={"hours": {}, "legs": legs}, machines=[engine])
    assert found["fuel"]["fuel_l"] == pytest.approx(31)     # 10 h at 3, half an hour at the lowest
    # 2,519 l/h at 6 kn by the cube law, 25.19 l; half an hour at the idle 1 l/h, or at the 4 l/h
    # that are the only figure
    for idle, litres in ((1, 25.69), (None, 27.19)):
        engine["fuel"] = {"at_kn": 7, "l_per_h": 4, "idle_l_per_h": idle}
        found = plan(trip={"hours": {}, "legs": legs}, machines=[engine])
        assert found["fuel"]["fuel_l"] == pytest.approx(litres, abs=0.005)


def test_machines_whose_burning_nobody_knows_are_named_beside_the_fuel():
    machines = [{"id": m, **({"fuel": {"at_kn": 6, "l_per_h": 4}} if m in "ab" else {})}
                for m in "abcd"]
    legs = [{"distance_nm": 60, "speed_kn": 6, "machines": ["a", "c"], "manoeuvring_h": 0}]
    asked = {"machines": machines, "trip": {"legs": legs, "hours": {"b": 9, "d": 5}}}
    fuel = plan(**asked)["fuel"]
    assert (fuel["machines"], fuel["fuel_l"]) == ({"a": 40}, 40)        # 10 h at 4
    assert fuel["missing"] == ["c", "b", "d"]
    assert fuel["remarks"] == [
        "nobody said what c burns in 10 h: not in the fuel",
        "b runs 9 h, nobody said how fast: what it burns then is not in the fuel",
        "nobody said what d burns in 5 h: not in the fuel"]
    asked["trip"]["legs"] = []
    assert plan(**asked)["fuel"]["fuel_l"] is None      # not 0


def test_hours_that_contradict_the_counter_they_go_by_are_remarked():
    machines = [{"id": "e"}, {"id": "x", "counter": "e"}]
    found = plan(machines=machines, trip={"hours": {"e": 100, "x": 5}})
    assert found["remarks"] == [
        "x counts by the hours of e, which runs 100 h; 5 h are given for it"]
    assert plan(machines=machines, trip={"hours": {"e": 5, "x": 5}})["remarks"] == []


def test_a_leaving_day_that_is_over_is_remarked():
    found = [plan(hours={"m": 1}, today=today)["remarks"] for today in ("2027-04-01", "2027-04-02")]
    assert found == [[], ["the leaving day 2027-04-01 is over"]]


def test_more_than_24_hours_a_day_in_all_is_remarked():
    found = compute("trip", ask(days=2, hours={"m": 60}))
    assert found["remarks"] == ["m: 60 h in 2 days is more than 24 h a day"]
    assert compute("trip", ask(days=1, hours={"m": 30}))["remarks"] == [
        "m: 30 h in 1 day is more than 24 h a day"]


def test_legs_that_cannot_all_begin_on_one_day_are_remarked_once_with_its_date():
    """60 miles at 3 knots and half an hour are 20.5 h; day 3 after 1 April is 4 April."""
    leg = {"distance_nm": 60, "speed_kn": 3, "day": 3, "machines": ["port", "stbd"],
           "motor_share": 0.5}
    twins = [{"id": one, "fuel": ENGINE["fuel"]} for one in ("port", "stbd")]

    def said(legs, days):
        found = plan(days=days, hours={}, machines=twins, trip={"legs": legs})
        return [one for one in found["remarks"] if one.startswith("legs that begin")]
    assert said([leg] * 2, 10) == []        # the second goes on after midnight
    assert said([leg] * 3, 10) == ["legs that begin on 2027-04-04 are under way 41 h without the "
                                   "longest of them; a day has 24"]
    assert said([leg] * 2, 4) == [
        "legs that begin on 2027-04-04 are under way 41 h; 24 are left in the trip"]
