"""A service comes round sooner or later than before, or is not wanted here, and says why."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.interval import interval
from spares.actions.show import show
from spares.actions.undo import undo
from spares.errors import InvalidInput


def line(ctx: Context, no: str) -> dict[str, Any]:
    return next(one for one in due(ctx)["services"] if one["service"] == no)


def test_a_shorter_interval_is_due_sooner_and_keeps_its_reason(demo: Context) -> None:
    # last done at 2610,0 h: every 500 h falls due at 3110, every 300 h at 2910, of 3105,6 now
    assert (line(demo, "S24")["state"], line(demo, "S24")["due_at_hours"]) == ("coming", 3110)
    told = interval(demo, "S24", "growth in the tubes after 400 h", every_hours=300)
    assert told["text"] == "S24: 300 h or 24 months"
    assert (line(demo, "S24")["state"], line(demo, "S24")["due_at_hours"]) == ("overdue", 2910)
    assert demo.aboard().get(f"service/{show(demo, 'S24', 'service')['id']}").note == (
        "2027-03-15: 500 h or 24 months -> 300 h or 24 months, growth in the tubes after 400 h")
    undo(demo, told["change"])
    assert line(demo, "S24")["due_at_hours"] == 3110


def test_what_is_not_wanted_here_is_asked_for_no_more_until_it_is_wanted(demo: Context) -> None:
    interval(demo, "S28", "no boiler any more", not_wanted=True)
    assert line(demo, "S28")["state"] == "not-wanted"
    interval(demo, "S28", "a new boiler came", not_wanted=False, every_months=6)
    assert (line(demo, "S28")["state"], line(demo, "S28")["due_on"]) == ("coming", "2027-04-01")


@pytest.mark.parametrize("asked", [
    {"because": " ", "every_hours": 300}, {"because": "x" * 301, "every_hours": 300},
    {"because": "as it is", "every_hours": 500, "every_months": 24},
    {"because": "nothing said"}, {"because": "never", "every_hours": -1}])
def test_without_a_reason_or_a_difference_nothing_is_written(
        demo: Context, asked: dict[str, Any]) -> None:
    with pytest.raises(InvalidInput):
        interval(demo, "S24", **asked)
