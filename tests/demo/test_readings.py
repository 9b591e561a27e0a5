"""Hour readings that look like slips are asked about, aboard TANGLOPPE too."""

from __future__ import annotations

import pytest
from scipy import stats

from spares.actions.gauges import gauges
from spares.actions.reading import reading
from spares.actions.show import show
from spares.errors import AskFirst
from tests.demo import expected


def test_the_hours_shown_are_the_last_trusted_ones(demo):
    shown = {no: show(demo, no)["hours"] for no in expected.HOURS}
    assert {no: str(hours["hours"] if isinstance(hours, dict) else hours)
            for no, hours in shown.items()} == expected.HOURS


@pytest.mark.parametrize(("machine", "value", "at"), [
    ("HYD", "603,0", "2027-03-15"),     # lower than the 640,0 before
    ("WMK", "960", "2027-03-15")])      # ten times the likely value
def test_a_reading_that_looks_like_a_slip_is_stored_only_with_a_reason(own_demo, machine, value,
                                                                       at):
    with pytest.raises(AskFirst):
        reading(own_demo, machine, value, at=at)
    assert len(own_demo.aboard().readings) == 25
    reading(own_demo, machine, value, at=at, because="read twice")
    assert len(own_demo.aboard().readings) == 26


def test_the_cooler_of_the_harbour_set_climbs_since_it_was_cleaned(demo):
    # the six warm figures since the cleaning, as in gauge_readings.csv: running hours, °C
    hours = (2618.0, 2741.5, 2858.0, 2900.0, 3060.5, 3105.6)
    slope = stats.theilslopes((77, 79, 80, 81, 83, 84), hours).slope
    of = {one["gauge"]: one for one in gauges(demo)["gauges"]}
    cooler = of["HBR coolant"]
    assert cooler["trend"]["code"] == "climbs"
    assert cooler["trend"]["slope"] == pytest.approx(slope, rel=1e-3)
    assert (cooler["state"], cooler["high"], cooler["since"]["on"]) == ("within", 92, "2025-06-10")
    assert of["ENG coolant"]["trend"]["code"] == "steady"
    assert of["WMK water made"]["trend"]["code"] == "falls"
    assert of["HBR start battery"]["state"] == "no-limit"
