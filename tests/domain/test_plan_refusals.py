"""What the computations refuse: each names the field, nothing is guessed instead."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.stats import binom, poisson

from spares.actions.compute import compute
from spares.errors import InvalidInput, OutOfRange
from tests.plans import ask, failure, task

CHARGE = {"loads_kwh_per_day": 2.4, "bank": {"volts": 12, "ah": 400, "from": 0.5, "to": 0.8},
          "charger": {"net_a": 80}, "days": 10}
LEG = {"distance_nm": 10, "speed_kn": 5, "machines": ["m"]}


def _stop(day):
    return {"trip": {"stops": [{"day": day, "sells": []}]}}


def _leg(**more):
    return {"trip": {"hours": {}, "legs": [{**LEG, **more}]}}


REFUSED = [
    (_leg(speed_kn=0), "#/trip/legs/0/speed_kn"),
    (_leg(distance_nm=-1), "#/trip/legs/0/distance_nm"),
    (_leg(motor_share=1.5), "#/trip/legs/0/motor_share"),
    (_leg(day=30), "#/trip/legs/0/day"),
    (_leg(machines=["x"]), "#/trip/legs/0/machines"),
    ({"tasks": [task(0)]}, "#/tasks/0/every_h"),
    ({"tasks": [task(-5)]}, "#/tasks/0/every_h"),
    ({"tasks": [task(every_months=0)]}, "#/tasks/0/every_months"),
    ({"tasks": [task(every_months=1.5)]}, "#/tasks/0/every_months"),
    ({"tasks": [task()]}, "#/tasks/0/every_h"),
    ({"tasks": [task(250, first_h=0)]}, "#/tasks/0/first_h"),
    ({"tasks": [task(250, used_h=-1)]}, "#/tasks/0/used_h"),
    ({"tasks": [task(250, machine="x")]}, "#/tasks/0/machine"),
    ({"tasks": [task(250, fit_point="x")]}, "#/tasks/0/fit_point"),
    ({"tasks": [task(250), task(100)]}, "#/tasks/1/id"),
    ({"tasks": [task(250, kit=[{"part": "p", "quantity": -1}])]}, "#/tasks/0/kit/0/quantity"),
    ({"tasks": [task(250, kit=[{"part": "p", "share": 2}])]}, "#/tasks/0/kit/0/share"),
    ({"failures": [failure(mtbf_h=0)]}, "#/failures/0/mtbf_h"),
    ({"failures": [failure(mtbf_days=-1)]}, "#/failures/0/mtbf_days"),
    ({"failures": [failure(weibull={"beta": 0, "eta_h": 10})]}, "#/failures/0/weibull/beta"),
    ({"failures": [failure(weibull={"beta": 51, "eta_h": 10})]}, "#/failures/0/weibull/beta"),
    ({"failures": [failure(weibull={"beta": 2, "eta_h": -1})]}, "#/failures/0/weibull/eta_h"),
    ({"failures": [failure(weibull={"beta": 2, "eta_h": 9, "ages_h": [1, 2]}, units=3)]},
     "#/failures/0/weibull/ages_h"),
    ({"failures": [failure(mtbf_h=10, mtbf_days=3)]}, "#/failures/0"),
    ({"failures": [failure()]}, "#/failures/0"),
    ({"failures": [failure(own_log={"failures": 1, "hours": 0})]}, "#/failures/0/own_log"),
    ({"failures": [failure(mtbf_h=10, spread=0.5)]}, "#/failures/0/spread"),
    ({"failures": [failure(mtbf_h=10, pieces=[[1, 0.5]])]}, "#/failures/0/pieces"),
    ({"failures": [failure(mtbf_h=10, renewed_by="x")]}, "#/failures/0/renewed_by"),
    ({"failures": [{"part": "p", "mtbf_h": 10}]}, "#/failures/0/machine"),
    ({"trip": {"protection": 1}}, "#/trip/protection"),
    ({"trip": {"protection": 0}}, "#/trip/protection"),
    ({"trip": {"protection": {"A": 1.2}}}, "#/trip/protection/A"),
    ({"trip": {"protection": {"D": 0.9}}}, "#/trip/protection/D"),
    ({"days": -1}, "#/trip/days"),
    ({"days": 10**9}, "#/trip/days"),
    ({"trip": {"departs_on": "9999-12-20"}}, "#/trip/days"),
    ({"hours": {"m": -1}}, "#/trip/hours/m"),
    ({"hours": {"x": 1}, "machines": [{"id": "m"}]}, "#/trip/hours/x"),
    ({"trip": {"hours_per_day": {"m": 25}}}, "#/trip/hours_per_day/m"),
    ({"trip": {"hours": {"m": 1}, "hours_per_day": {"m": 1}}}, "#/trip/hours/m"),
    (_stop(31), "#/trip/stops/0/day"),
    (_stop(-1), "#/trip/stops/0/day"),
    ({"trip": {"limits": {"cost": -1}}}, "#/trip/limits/cost"),
    ({"trip": {"hours_before_departure": "maybe"}}, "#/trip/hours_before_departure"),
    ({"trip": {"departs_on": "2027-04"}}, "#/trip/departs_on"),
    ({"trip": {"departs_on": "2027-02-30"}}, "#/trip/departs_on"),
    ({"trip": {"wind": 5}}, "#/trip/wind"),
    ({"surprise": 1}, "#/surprise"),
    ({"keep": {"p": -1}}, "#/keep/p"),
    ({"keep": {"p": "many"}}, "#/keep/p"),
    ({"lots": [{"part": "p", "quantity": 1, "condition": "rusty"}]}, "#/lots/0/condition"),
    ({"lots": [{"part": "p", "quantity": 1, "expires": "soon"}]}, "#/lots/0/expires"),
    ({"lots": [{"part": "p"}]}, "#/lots/0/quantity"),
    ({"parts": [{"id": "p", "pack": 0}]}, "#/parts/0/pack"),
    ({"parts": [{"id": "p", "lead_days": -1}]}, "#/parts/0/lead_days"),
    ({"records": [{"task": "x", "on": "2026"}]}, "#/records/0/task"),
    ({"readings": [{"machine": "x", "on": "2026-01-01", "h": 1}]}, "#/readings/0/machine"),
    ({"readings": [{"machine": "m", "on": "2026-01-01", "h": -1}]}, "#/readings/0/h"),
    ({"machines": [{"id": "m", "counter": "x"}]}, "#/machines/0/counter"),
    ({"machines": [{"id": "m", "weight": "Z"}]}, "#/machines/0/weight"),
    ({"machines": [{"id": "m", "counter": "n"}, {"id": "n", "counter": "m"}]},
     "#/machines/1/counter"),
    ({"tasks": [task(250, kit=[{"part": "p", "quantity": 0}])]}, "#/tasks/0/kit/0/quantity"),
    ({"tasks": [task(every_months=10**6)]}, "#/tasks/0/every_months"),
    ({"lots": [{"part": "p", "quantity": -1}]}, "#/lots/0/quantity"),
    ({"parts": [{"id": "p", "lead_days": 10**9}]}, "#/parts/0/lead_days"),
    ({"parts": [{"id": "p", "stand_ins": ["q", "p"]}, {"id": "q"}]}, "#/parts/0/stand_ins/1"),
    ({"trip": {"ready_days": 10**9}}, "#/trip/ready_days"),
    (_leg(speed_kn="0,2", day=29), "#/trip/legs/0/distance_nm"),     # 50.5 h on the last day
    (_leg(speed_kn="0,01"), "#/trip/legs/0/distance_nm"),            # 1000.5 h in 30 days
    (_leg(manoeuvring_h=25, distance_nm=0, speed_kn=0, day=29), "#/trip/legs/0/manoeuvring_h"),
    ({"keep": {"a/b~c": -1}}, "#/keep/a~1b~0c"),                     # RFC 6901, section 3
    ({"hours": {"m/1": -1}, "machines": [{"id": "m/1"}]}, "#/trip/hours/m~11"),
    ({"hours": {"m": {"h": 1}}}, "#/trip/hours/m"),
    ({"trip": {"protection": {"A": "much"}}}, "#/trip/protection/A"),
    ({"trip": {"protection": {"A/B": 0.9}}}, "#/trip/protection/A~1B"),
    ({"lots": [{"part": "p", "quantity": 1, "aboard": None}]}, "#/lots/0/aboard"),
    *[({"trip": {"energy": odd}}, "#/trip/energy") for odd in (True, 0, "sun", [], [CHARGE])],
]

# every one of these names "oil-fliter" where only "oil-filter" is listed
OIL = {"parts": [{"id": "oil-filter"}]}
MISSPELT = [
    ({"lots": [{"part": "oil-fliter", "quantity": 1}]}, "#/lots/0/part"),
    ({"trip": {"stops": [{"day": 3, "sells": ["oil-filter", "oil-fliter"]}]}},
     "#/trip/stops/0/sells/1"),
    ({"parts": [{"id": "oil-filter", "stand_ins": ["oil-fliter"]}]}, "#/parts/0/stand_ins/0"),
]


@pytest.mark.parametrize(("given", "pointer"), REFUSED, ids=[p for _, p in REFUSED])
def test_a_plan_refuses_by_field(given, pointer):
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(**given))
    assert pointer in [error["pointer"] for error in caught.value.facts["errors"]]


@pytest.mark.parametrize(("given", "pointer"), MISSPELT, ids=[p for _, p in MISSPELT])
def test_a_part_that_nobody_listed_is_refused_where_it_is_named(given, pointer):
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(**{**OIL, **given}))
    assert [error["pointer"] for error in caught.value.facts["errors"]] == [pointer]


@pytest.mark.parametrize("given", [
    {"tasks": [task(250, used_h=240, kit=[{"part": "oil-fliter"}])], "hours": {"m": 100}},
    {"keep": {"oil-fliter": 1}},
    {"failures": [failure(part="oil-fliter", mtbf_h=9)], "hours": {"m": 100}},
])
def test_a_need_that_nobody_listed_is_a_line_that_is_short(given):
    lots = [{"part": "oil-filter", "quantity": 9}]
    answer = compute("trip", ask(**OIL, lots=lots, **given))
    line = next(one for one in answer["lines"] if one["part"] == "oil-fliter")
    assert (line["state"], line["usable"]) == ("short", 0)


def test_a_part_known_by_its_place_or_by_a_kit_alone_may_lie_in_a_locker():
    lots = [{"part": "p", "quantity": 1}]
    place = {"id": "f", "machine": "m", "takes": ["p"]}
    assert compute("trip", ask(**OIL, fit_points=[place], lots=lots))
    assert compute("trip", ask(tasks=[task(250, kit=[{"part": "p"}])], lots=lots))


def test_a_machine_that_names_itself_has_a_counter_of_its_own():
    found = compute("trip", ask(machines=[{"id": "m", "counter": "m"}], tasks=[task(250)],
                                records=[{"task": "t", "on": "2027-01-01", "at_h": 900}],
                                readings=[{"machine": "m", "on": "2027-03-01", "h": 1150}]))
    assert found["services"][0]["before"] == 1       # 1150 - 900 = 250 of 250
    assert found["history_unknown"] == []


def test_null_is_a_field_left_out():
    bare = ask(tasks=[task(250, used_h=10)], parts=[{"id": "p"}], lots=[{"part": "p",
                                                                         "quantity": 1}])
    full = {**bare, "records": None, "keep": None, "failures": None,
            "parts": [{"id": "p", "pack": None, "stand_ins": None}],
            "lots": [{"part": "p", "quantity": 1, "reserved": None, "condition": None}],
            "trip": {**bare["trip"], "legs": None, "stops": None, "energy": None}}
    assert compute("trip", full) == compute("trip", bare)


@pytest.mark.parametrize("name", ["trip", "kit", "charge", "service", "stock"])
def test_a_request_that_is_no_object_is_pointed_at_as_the_whole(name):
    """RFC 6901, section 5: the whole document is the empty pointer, `#` as a fragment."""
    with pytest.raises(InvalidInput) as caught:
        compute(name, [])
    assert caught.value.facts["errors"][0]["pointer"] == "#"


def test_no_refusal_shows_how_the_program_holds_a_value():
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(hours={"m": {"deep": [1]}}, lots=[
            {"part": ["p"], "quantity": {"x": None}, "expires": {"y": 1}, "more": {"z": 1}}]))
    errors = caught.value.facts["errors"]
    assert len(errors) == 5
    assert not [e for e in errors if set("{}[]'") & set(e["detail"])]


def test_a_service_above_the_counter_is_refused_unless_the_counter_was_changed():
    given = {"tasks": [task(250)], "records": [{"task": "t", "on": "2026-05-20", "at_h": 1100}]}
    now = {"machine": "m", "on": "2027-03-14", "h": 1000}
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(**given, readings=[now]))
    assert caught.value.facts["errors"][0]["pointer"] == "#/records/0/at_h"
    old = {"machine": "m", "on": "2026-06-01", "h": 1110}
    changed = {"machine": "m", "on": "2026-06-02", "h": 0, "new_counter": True}
    assert compute("trip", ask(**given, readings=[old, changed, now]))["services"]


def test_a_service_after_the_last_reading_may_stand_higher():
    found = compute("trip", ask(
        hours={"m": 200}, tasks=[task(250)],
        records=[{"task": "t", "on": "2027-03-14", "at_h": 1012}],
        readings=[{"machine": "m", "on": "2027-03-01", "h": 1000}]))
    assert (found["services"][0]["before"], found["services"][0]["days"]) == (0, [])


def test_several_faults_are_named_together():
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(tasks=[task(0), task(0, id="u")]))
    assert len(caught.value.facts["errors"]) == 2


def test_a_failure_figure_beyond_reason_is_refused():
    with pytest.raises(OutOfRange):
        compute("trip", ask(hours={"m": 700}, failures=[failure(mtbf_h="0,01")]))


@pytest.mark.parametrize(("given", "pointer"), [
    ({"failures": [failure(mtbf_h="0,1", pieces=[["1.001", 0.5], [7, 0.5]])]},  # 49 million steps
     "#/failures/0/pieces"),
    ({"failures": [failure(mtbf_h=1), failure(mtbf_h=1, pieces="997,001")]},    # 700 million steps
     "#/failures/1/pieces"),
    ({"failures": [failure(mtbf_h=1000, pieces=[["0,001", 0.5], [10**12, 0.5]])]},
     "#/failures/0/pieces"),
    ({"failures": [failure(mtbf_h=1000, spread=10**9)]}, "#/failures/0"),       # a tail without end
    ({"failures": [failure(own_log={"failures": 0, "hours": "0,05"})]}, "#/failures/0"),
    ({"failures": [failure(weibull={"beta": 1, "eta_h": 15}, units=10000)]},    # 466,667 failures
     "#/failures/0"),
    ({"failures": [failure(weibull={"beta": 1.5, "eta_h": 700}, units=5000, pieces="0,997"),
                   failure(own_log={"failures": 10, "hours": 1})]}, "#/failures/0/pieces"),
    ({"tasks": [task(250, used_h=200, kit=[{"part": "p", "quantity": 10**9, "share": 0.5}])]},
     "#/tasks/0/kit/0/quantity"),
    ({"failures": [failure(part="q", mtbf_h=9), failure(weibull={"beta": 2, "eta_h": 1})]},
     "#/failures/1/weibull"),                                                   # 700 lives
    ({"tasks": [task(250, id="u"), task("0,1", used_h=0)], "hours": {"m": 1500}},
     "#/tasks/1")])                                                             # 15,000 services
def test_what_would_take_for_ever_is_refused_at_once(given, pointer):
    with pytest.raises(OutOfRange) as caught:
        compute("trip", ask(**{"hours": {"m": 700}, "days": 90, **given}))
    assert caught.value.facts["errors"][0]["pointer"] == pointer


def test_a_level_no_kit_reaches_names_the_level():
    with pytest.raises(OutOfRange) as caught:
        compute("kit", {"lines": [{"part": "p", "pmf": [0.5, 0.2], "cost": 1}], "level": 0.9})
    assert caught.value.facts["errors"][0]["pointer"] == "#/level"


def test_odd_pieces_and_many_old_units_are_worked_out():
    row = {"mtbf_h": 1000, "pieces": [["1.001", 0.5], [7, 0.5]]}
    assert compute("trip", ask(hours={"m": 900}, failures=[failure(**row)]))
    worn = {"beta": 2, "eta_h": 1200, "ages_h": [100] * 2000}
    found = compute("trip", ask(hours={"m": 90}, failures=[failure(weibull=worn, units=2000)]))
    # first lives fail with 1 - exp((100/1200)^2 - (190/1200)^2) = .017966; second ones hardly
    assert abs(found["lines"][0]["for_failure"] - binom.ppf(0.95, 2000, 0.017966)) <= 1


def test_rows_of_one_part_with_pieces_of_their_own_are_one_compound_demand():
    # Poisson(1400) failures that take 1 or 3 pieces, half each: the same as Poisson(700) + three
    # times Poisson(700), whose distribution scipy gives.
    rows = [failure(mtbf_h=1), failure(mtbf_h=1, pieces=3)]
    found = compute("trip", ask(hours={"m": 700}, failures=rows))["lines"][0]
    ones = poisson.pmf(range(5000), 700)
    threes = np.zeros(5000)
    threes[::3] = poisson.pmf(range(1667), 700)
    reached = np.convolve(ones, threes)[:5000].cumsum()
    assert found["for_failure"] == int(np.argmax(reached >= 0.95))
    held = compute("trip", ask(hours={"m": 700}, failures=rows, lots=[{"part": "p", "quantity":
                   2800}]))["lines"][0]["protection"]
    assert held == pytest.approx(reached[2800], abs=1e-11)


def test_a_piece_far_beyond_its_life_fails_at_once():
    worn = {"beta": 50, "eta_h": 10, "ages_h": [10**7]}
    found = compute("trip", ask(hours={"m": 5}, failures=[failure(weibull=worn)]))
    assert (found["lines"][0]["protection"], found["lines"][0]["for_failure"]) == (0, 1)


@pytest.mark.parametrize(("change", "pointer"), [
    ({"charger": {"net_a": 0}}, "#/charger/net_a"),
    ({"bank": {**CHARGE["bank"], "to": 1}}, "#/bank/to"),
    ({"bank": {**CHARGE["bank"], "to": 0.4}}, "#/bank/to"),
    ({"loads_kwh_per_day": 60}, "#/loads_kwh_per_day"),
    ({"loads_kwh_per_day": -1}, "#/loads_kwh_per_day"),
    ({"days": -1}, "#/days"),
    ({"use_kwh": 3}, "#/use_kwh"),
    ({"generator": {"load": 1.1}}, "#/generator/load"),
    ({"bank": {**CHARGE["bank"], "from": -0.1}}, "#/bank/from"),
    ({"bank": {**CHARGE["bank"], "knee": 1}}, "#/bank/knee"),
    ({"bank": {**CHARGE["bank"], "efficiency": 0}}, "#/bank/efficiency"),
    ({"loads_kwh_per_day": {"kwh": 3}}, "#/loads_kwh_per_day"),
    ({"generator": {"load": 0.9, "fuel_l_per_h": [[0.5, 1]]}}, "#/generator/load"),
    ({"generator": {"load": 0.9, "fuel_l_per_h": "much"}}, "#/generator/fuel_l_per_h"),
    ({"generator": {"load": 0.9, "fuel_l_per_h": [[0.5, 1], [0.5, 2]]}},
     "#/generator/fuel_l_per_h"),
])
def test_a_charge_refuses_by_field(change, pointer):
    with pytest.raises(InvalidInput) as caught:
        compute("charge", {**CHARGE, **change})
    assert pointer in [error["pointer"] for error in caught.value.facts["errors"]]


def test_a_charger_that_draws_more_than_the_generator_gives_is_refused():
    with pytest.raises(InvalidInput) as caught:
        compute("charge", {"use_kwh": 3, "charger_kw": 6.5, "days": 3,
                           "generator": {"rated_kw": 6}})
    assert caught.value.facts["errors"][0]["pointer"] == "#/generator/rated_kw"


def test_a_leg_faster_than_the_fuel_table_names_its_speed():
    fuel = {"table": [[4, 2], [6, 4]]}
    legs = [{**LEG, "speed_kn": 6}, {**LEG, "speed_kn": "6,5"}]
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(trip={"legs": legs}, machines=[{"id": "m", "fuel": fuel}]))
    assert caught.value.facts["errors"][0]["pointer"] == "#/trip/legs/1/speed_kn"


def test_a_charge_inside_a_trip_names_the_field_from_the_trip():
    energy = {**CHARGE, "machine": "m", "charger": {"net_a": -1}}
    with pytest.raises(InvalidInput) as caught:
        compute("trip", ask(trip={"energy": energy}))
    assert caught.value.facts["errors"][0]["pointer"] == "#/trip/energy/charger/net_a"


@pytest.mark.parametrize(("given", "pointer"), [
    ({"lines": [{"part": "p", "mu": 1, "cost": 1}]}, "#/limits"),
    ({"lines": [{"part": "p", "mu": 1, "cost": 1}], "level": 0.9, "limits": {"cost": 1}},
     "#/limits"),
    ({"lines": [{"part": "p", "mu": 1, "cost": 1}], "level": 1}, "#/level"),
    ({"lines": [{"part": "p", "mu": 1, "cost": 1}], "limits": {"cost": -1}}, "#/limits/cost"),
    ({"lines": [{"part": "p", "mu": -1, "cost": 1}], "level": 0.9}, "#/lines/0/mu"),
    ({"lines": [{"part": "p", "mu": 1}], "level": 0.9}, "#/lines/0/cost"),
    ({"lines": [{"part": "p", "cost": 1}], "level": 0.9}, "#/lines/0/mu"),
    ({"lines": [{"part": "p", "pmf": [0.9, 0.2], "cost": 1}], "level": 0.9}, "#/lines/0/pmf"),
    ({"lines": [{"part": "p", "mu": 1, "cost": 1}] * 2, "level": 0.9}, "#/lines/1/part"),
])
def test_a_kit_refuses_by_field(given, pointer):
    with pytest.raises(InvalidInput) as caught:
        compute("kit", given)
    assert pointer in [error["pointer"] for error in caught.value.facts["errors"]]
