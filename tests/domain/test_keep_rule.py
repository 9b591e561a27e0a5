"""Which backups are kept, worked out by hand on a calendar."""

from __future__ import annotations

from datetime import datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from spares.domain.keep_rule import to_keep

#: 15 March 2027 is a Monday (any calendar); ISO week 11.
NEWEST = datetime(2027, 3, 15, 2)


def days_before(*days: int) -> set[datetime]:
    return {NEWEST - timedelta(days=day) for day in days}


def test_a_year_of_daily_backups_leaves_days_weeks_and_months() -> None:
    kept = to_keep(days_before(*range(366)))
    days = days_before(0, 1, 2, 3, 4, 5, 6)
    # Newest of weeks 11, 10, 9, 8: Mon 15 March, Sun 14, Sun 7 March, Sun 28 February.
    weeks = {NEWEST, datetime(2027, 3, 14, 2), datetime(2027, 3, 7, 2), datetime(2027, 2, 28, 2)}
    months = {NEWEST, *(datetime(year, month, day, 2) for year, month, day in (
        (2027, 2, 28), (2027, 1, 31), (2026, 12, 31), (2026, 11, 30), (2026, 10, 31),
        (2026, 9, 30), (2026, 8, 31), (2026, 7, 31), (2026, 6, 30), (2026, 5, 31),
        (2026, 4, 30)))}
    assert kept == days | weeks | months


def test_a_winter_switched_off_costs_no_backup() -> None:
    autumn = {datetime(2026, 10, day, 2) for day in (1, 2, 3)}
    assert to_keep({*autumn, NEWEST}) == {*autumn, NEWEST}


def test_of_several_in_a_day_the_last_is_kept() -> None:
    evening = NEWEST.replace(hour=20)
    assert to_keep([NEWEST, evening]) == {evening}


@given(st.lists(st.datetimes(datetime(2026, 1, 1), datetime(2028, 1, 1))))
def test_newest_is_always_kept_and_never_more_than_the_rule_names(made: list[datetime]) -> None:
    kept = to_keep(made)
    assert kept <= set(made) and len(kept) <= 7 + 4 + 12
    assert not made or max(made) in kept
    assert to_keep(kept) == kept
