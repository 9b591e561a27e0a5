"""At anchor: the real hours, litres and charge put back, beside the plan of the trip."""

from __future__ import annotations

import pytest

from spares.actions.daily_run import daily_run, days_of_trip
from spares.actions.joints import joint, joints
from spares.actions.tightened import tightened
from spares.actions.trip.restock import restock
from spares.errors import InvalidInput


@pytest.fixture
def anchored(demo):
    """Four days of the second trip, as the skipper wrote them down: 6 h in all."""
    for on, hours, litres, charge in (
            ("2027-03-11", "1,5", "2,1", 100), ("2027-03-12", 2, 2.8, 130),
            ("2027-03-13", 1, None, 80), ("2027-03-14", 1.5, 1.8, None)):
        daily_run(demo, "HBR", trip="T2", run=hours, litres=litres, charge_ah=charge, at=on)
    return demo


def test_the_mean_of_the_real_days_stands_beside_the_planned_day(anchored):
    found = days_of_trip(anchored, "T2")
    real = found["real"]
    assert (real["days"], real["hours_per_day"]) == (4, 1.5)
    assert real["litres_per_day"] == pytest.approx(6.7 / 3, abs=1e-6)
    assert real["litres_per_hour"] == pytest.approx(6.7 / 5, abs=1e-6)    # the day without litres
    assert real["charge_ah_per_day"] == pytest.approx(310 / 3, abs=1e-6)
    energy = restock(anchored, "T2")["energy"]
    assert found["planned"]["hours_per_day"] == energy["hours_per_day"]
    assert found["planned"]["charge_ah_per_day"] == energy["deficit_ah"]
    share = 1.5 / energy["hours_per_day"]
    assert found["beside"]["hours_per_day"] == (
        "more" if share > 1.1 else "less" if share < 0.9 else "as-planned")
    assert [one["on"][-2:] for one in found["days"]] == ["14", "13", "12", "11"]


def test_the_same_day_again_stands_in_its_place_and_nonsense_is_refused(anchored):
    daily_run(anchored, "HBR", trip="T2", run=3, litres=4, amps=70, at="2027-03-14")
    last = days_of_trip(anchored, "T2")["days"][0]
    assert (last["hours"], last["litres"], last["charge_ah"], last["amps"]) == (3, 4, None, 70)
    assert len(days_of_trip(anchored, "T2")["days"]) == 4
    for body, pointer in (({"run": 25}, "#/hours"), ({}, "#/hours"), ({"litres": "-1"}, "#/litres"),
                          ({"run": 1, "at": "2027-03-16"}, "#/at"), ({"amps": "many"}, "#/amps")):
        with pytest.raises(InvalidInput) as caught:
            daily_run(anchored, "HBR", **body)
        assert caught.value.facts["errors"][0]["pointer"] == pointer


def test_a_trip_without_a_balance_has_days_and_no_plan(demo):
    daily_run(demo, "HBR", trip="T1", run=2)
    found = days_of_trip(demo, "T1")
    assert found["planned"] is None and found["real"]["hours_per_day"] == 2
    assert set(found["beside"].values()) == {"cannot-say"}


def test_the_torque_used_is_kept_and_the_joint_waits_to_be_tightened_again(demo):
    tightened(demo, "J1", "45 N·m, oiled", again_on="2027-03-29", by="Ole", at="2027-03-10")
    assert [one["joint"] for one in joints(demo)["to_tighten"]] == ["J1"]
    tightened(demo, "J1", "45 N·m", again_at="1962,4", note="after the first warm run")
    first, before = joint(demo, "J1")["tightened"]
    assert (first["torque_used"], first["again_at_hours"], first["again_on"]) == (
        "45 N·m", 1962.4, None)
    assert before["by"] == "Ole" and joints(demo)["to_tighten"][0]["again_at_hours"] == 1962.4
    tightened(demo, "J1", "45 N·m", at="2027-03-15")        # again, and done with it
    assert joints(demo)["to_tighten"] == []
    for body in ({"torque_used": " "}, {"torque_used": "4 N·m", "again_on": "2027-03-15"},
                 {"torque_used": "4 N·m", "at": "2027-03-16"}):
        with pytest.raises(InvalidInput):
            tightened(demo, "J1", **body)
