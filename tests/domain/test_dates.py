"""Dates cut to what is known, and months clipped to the month end."""

from __future__ import annotations

from datetime import date

import pytest

from spares.domain.dates import add_days, add_months, earliest_day, is_whole, whole_day
from spares.errors import InvalidInput, OutOfRange


@pytest.mark.parametrize(("text", "day"), [
    ("2023", date(2023, 1, 1)), ("2023-05", date(2023, 5, 1)), ("2023-05-14", date(2023, 5, 14))])
def test_earliest_day_a_date_can_mean(text, day):
    assert earliest_day(text) == day


@pytest.mark.parametrize("text", [
    "", "23", "2023-5", "2023-13", "2023-02-30", "2023-05-14T00:00", "14.5.2023", " 2023",
    "２０２３", None, 2023])
def test_what_is_no_date_is_refused_by_field(text):
    with pytest.raises(InvalidInput) as caught:
        earliest_day(text, "#/on")
    assert caught.value.facts["errors"][0]["pointer"] == "#/on"


def test_a_day_of_departure_must_be_whole():
    assert (is_whole("2027-04-01"), is_whole("2027-04")) == (True, False)
    with pytest.raises(InvalidInput):
        whole_day("2027-04")


@pytest.mark.parametrize(("day", "months", "due"), [
    (date(2026, 8, 31), 6, date(2027, 2, 28)), (date(2024, 2, 29), 12, date(2025, 2, 28)),
    (date(2027, 2, 28), 6, date(2027, 8, 28)), (date(2023, 8, 31), 6, date(2024, 2, 29)),
    (date(2026, 12, 15), 1, date(2027, 1, 15)), (date(2026, 1, 31), 0, date(2026, 1, 31))])
def test_months_clip_to_the_month_end(day, months, due):
    assert add_months(day, months) == due


def test_the_ends_of_the_calendar_are_refused():
    with pytest.raises(OutOfRange):
        add_months(date(9999, 1, 1), 12)
    with pytest.raises(OutOfRange):
        add_days(date(1, 1, 1), -1)
