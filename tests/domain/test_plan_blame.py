"""Of several figures of one part the one that asks too much is named, not the first."""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from spares.errors import OutOfRange

ASK = {"today": "2027-03-15", "trip": {"departs_on": "2027-04-01", "days": 30,
                                       "hours": {"e": 200, "g": 200}, "protection": 0.95},
       "machines": [{"id": "e"}, {"id": "g"}], "parts": [{"id": "s"}], "tasks": []}
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
