"""Any request of the right shape is answered whole, or refused with a reason of ours."""

from __future__ import annotations

import json
import math

from hypothesis import event, given
from hypothesis import strategies as st

from spares.actions.compute import compute
from spares.errors import SparesError

IDS = st.sampled_from(["a", "b", "c"])
HOURS = st.one_of(st.integers(1, 2000), st.sampled_from(["0,5", "129.9", 0.1]),
                  st.sampled_from([0, 1e-3] + 20 * [100]))
MAYBE = st.one_of(st.none(), HOURS)
QUANTITY = st.one_of(st.integers(1, 9), st.sampled_from(["0,25", 1.5, 2, 4]))
DATES = st.sampled_from(["2025", "2026-05", "2026-12-31", "2027-03-14", "2027-03-20",
                         "2027-04-20", "2030-01-01"])
SHARE = st.sampled_from([0, 0.5, 1])


def _some(**fields):
    return st.lists(st.fixed_dictionaries(fields), max_size=4)



def _machine(name):
    return st.fixed_dictionaries({
        "id": st.just(name), "counter": st.sampled_from(["own", "own", "none", "a"]),
        "weight": st.sampled_from("ABC")})


FAILURE = st.one_of(
    st.fixed_dictionaries({"mtbf_h": HOURS}), st.fixed_dictionaries({"mtbf_days": HOURS}),
    st.fixed_dictionaries({"own_log": st.fixed_dictionaries(
        {"failures": st.integers(0, 5), "hours": HOURS})}),
    st.fixed_dictionaries({"weibull": st.fixed_dictionaries(
        {"beta": st.sampled_from([0.7, 1, 2.5, 4]), "eta_h": HOURS,
         "ages_h": st.one_of(st.none(), st.lists(MAYBE, min_size=2, max_size=2))}),
        "renewed_by": st.one_of(st.none(), IDS)}))
MORE = st.fixed_dictionaries({
    "part": IDS, "machine": IDS, "units": st.sampled_from([2, 2, 2, 0, 3]),
    "pieces": st.sampled_from([1, 2, "0,5", [[1, 0.7], [2, 0.3]], [[0, 0.5], [3, 0.5]]]),
    "spread": st.sampled_from([None, 1, 1.5, 3])})
KIT = _some(part=IDS, quantity=QUANTITY, set_aside=st.booleans(), share=SHARE)
REQUEST = st.fixed_dictionaries({
    "today": st.just("2027-03-15"),
    "trip": st.fixed_dictionaries({
        "departs_on": st.sampled_from(["2027-03-15", "2027-04-01", "2027-02-01"]),
        "days": st.integers(20, 120), "hours": st.dictionaries(IDS, HOURS, max_size=2),
        "hours_before_departure": st.sampled_from(["none", "as-usual"]),
        "protection": st.sampled_from([0.8, 0.95, {"A": 0.99, "C": 0.5}]),
        "stops": _some(day=st.integers(0, 20), sells=st.lists(IDS, max_size=3)),
        "limits": st.one_of(st.none(), st.fixed_dictionaries(
            {"cost": MAYBE, "mass_kg": MAYBE}))}),
    "machines": st.tuples(*(_machine(m) for m in "abc")).map(list),
    "fit_points": st.tuples(*(st.fixed_dictionaries(
        {"id": st.just(p), "machine": IDS, "takes": st.lists(IDS, max_size=3),
         "retired": st.sampled_from([False, False, True])}) for p in "abc")).map(list),
    "tasks": st.tuples(*(st.fixed_dictionaries(
        {"id": st.just(t), "machine": IDS, "fit_point": st.one_of(st.none(), IDS),
         "every_h": HOURS, "every_months": st.one_of(st.none(), st.integers(1, 30)),
         "first_h": MAYBE, "used_h": MAYBE, "in_port": st.booleans(), "kit": KIT})
        for t in "abc")).map(list),
    "records": _some(task=IDS, on=DATES, at_h=st.one_of(st.none(), st.integers(0, 300))),
    "readings": _some(machine=IDS, on=DATES, h=st.integers(0, 9000),
                      new_counter=st.sampled_from([False, False, True])),
    "parts": st.lists(st.fixed_dictionaries(
        {"id": IDS, "lead_days": st.one_of(st.none(), st.integers(0, 90)), "cost": MAYBE,
         "mass_kg": MAYBE, "pack": QUANTITY, "stand_ins": st.lists(IDS, max_size=2)}),
        max_size=3, unique_by=lambda p: p["id"]),
    "lots": _some(part=IDS, quantity=st.one_of(st.just(-1), QUANTITY),
                  reserved=st.sampled_from([0, 0, 0, 2]),
                  condition=st.sampled_from(["new", "used-good", "suspect"]),
                  expires=st.one_of(st.none(), DATES), aboard=st.booleans(),
                  reachable=st.booleans(), counted=st.booleans()),
    "failures": st.lists(st.builds(lambda a, b: {**a, **b}, FAILURE, MORE), max_size=3),
    "keep": st.dictionaries(IDS, QUANTITY, max_size=2)})


def _numbers(value):
    if isinstance(value, dict | list):
        for part in value.values() if isinstance(value, dict) else value:
            yield from _numbers(part)
    elif isinstance(value, float):
        yield value


@given(REQUEST)
def test_a_plan_is_answered_whole_or_refused(request):
    try:
        answer = compute("trip", request)
    except SparesError as err:
        assert err.detail
        event("refused")
        return
    event("answered")
    json.dumps(answer, allow_nan=False)
    assert len(answer["services"]) == len(request["tasks"])
    limits = request["trip"]["limits"] or {}
    for row in answer["lines"]:
        assert row["minimum"] >= max(row["keep"], row["for_service"])
        assert row["short"] >= 0
        assert row["usable"] + row["short"] >= row["minimum"] - 1e-9
        assert 0 <= row["protection"] <= row["protection_bought"] + 1e-12 <= 1 + 1e-11
    if limits.get("cost") is not None:
        spent = sum(row["cost"] or 0 for row in answer["lines"])
        assert spent <= float(str(limits["cost"]).replace(",", ".")) + 0.011
    assert all(math.isfinite(number) for number in _numbers(answer))


@given(REQUEST)
def test_what_is_due_is_answered_for_every_task_or_refused(request):
    asked = {k: request[k] for k in ("today", "machines", "fit_points", "tasks", "records",
                                     "readings")}
    try:
        answer = compute("service", asked)
    except SparesError as err:
        assert err.detail
        return
    states = {"done", "coming", "due", "overdue", "history-unknown", "not-wanted"}
    assert [row["task"] for row in answer["tasks"]] == [t["id"] for t in request["tasks"]]
    assert {row["state"] for row in answer["tasks"]} <= states
