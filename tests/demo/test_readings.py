"""Hour readings that look like slips are asked about, aboard TANGLOPPE too."""

from __future__ import annotations

import pytest

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
