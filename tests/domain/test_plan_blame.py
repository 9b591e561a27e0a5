"""Of several figures of one part the one that asks too much is named, not the first."""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from spares.errors import OutOfRange

ASK = {"today": "2027-03-15", "trip": {"departs_on": "2027-04-01", "days": 30,
                                       "hours": {"e": 200, "g": 200}, "protection": 0.95},
       "machines": [{"id": "e"}, {"id": "g"}], "parts": [{"id": "s"}], "tasks": []}
VITAL = {"machines": [{"id": "e"}, {"id": "g", "weight": "A"}]}
POINT = [{"id": "p", "machine": "g", "takes": ["s"]}]
GOOD = {"part": "s", "machine": "e", "units": 1, "mtbf_h": 900}


@pytest.mark.parametrize("bad", [
    {"part": "s", "machine": "g", "units": 1, "mtbf_h": 0.001},
    {"part": "s", "machine": "g", "units": 1, "own_log": {"failures": 0, "hours": 0.0001}},
])
@pytest.mark.parametrize("place", [0, 1])
def test_the_figure_that_asks_too_much_is_named(bad, place):
    rows = [GOOD]
    rows.insert(place, bad)
    with pytest.raises(OutOfRange) as refused:
        compute("trip", {**ASK, "failures": rows})
    assert refused.value.facts["errors"][0]["pointer"].startswith(f"#/failures/{place}")


def test_of_a_machine_that_nobody_gave_hours_for_no_protection_is_claimed():
    plan = compute("trip", {**ASK, "trip": {**ASK["trip"], "hours": {"e": 200}},
                            "fit_points": POINT, **VITAL,
                            "failures": [{**GOOD, "machine": "g"}]})
    assert plan["protection"]["reached_a"] is None
    assert "no running given for g: taken as 0 h" in plan["lines"][0]["remarks"]
    days = compute("trip", {**ASK, "trip": {**ASK["trip"], "hours": {"e": 200}},
                            "fit_points": POINT, **VITAL,
                            "failures": [{"part": "s", "machine": "g", "units": 1,
                                          "mtbf_days": 300}]})
    # exp(-30 / 300): by hand
    assert days["protection"]["reached_a"] == pytest.approx(0.904837, abs=1e-6)
