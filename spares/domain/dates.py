"""Dates as people know them: a year, a month, or a day.

A date is ISO 8601 text cut to what is known: "2023", "2023-05", "2023-05-14".
Computations take the earliest day it can mean, so that a service is never taken
for younger, nor a dated part for fresher, than somebody can vouch for.
"""

from __future__ import annotations

import re
from calendar import monthrange
from datetime import date, timedelta
from functools import lru_cache

from spares.errors import InvalidInput, OutOfRange

_PARTIAL = re.compile(r"(\d{4})(?:-(\d{2})(?:-(\d{2}))?)?", re.ASCII)


def earliest_day(text: str, pointer: str = "#/") -> date:
    """Give the earliest day that a date cut to what is known can mean.

    Args:
        text: ISO 8601 year, month or day [-], such as "2023-05".
        pointer: Field to name if the text cannot be read [-], as a JSON Pointer.

    Returns:
        A calendar date [-].

    Raises:
        InvalidInput: if the text is no such date.

    Source:
        Counting rule of this project; form after ISO 8601-1, 5.2.2.

    Example:
        >>> earliest_day("2023-05")
        datetime.date(2023, 5, 1)
    """
    found = _PARTIAL.fullmatch(text) if isinstance(text, str) else None
    if found is None:
        raise InvalidInput.at(pointer, f"{text!r} is no date; write 2023, 2023-05 or 2023-05-14")
    year, month, day = found.groups(default="01")
    try:
        return date(int(year), int(month), int(day))
    except ValueError as err:
        raise InvalidInput.at(pointer, f"{text!r} is not in the calendar") from err


def latest_day(text: str) -> date:
    """Give the latest day that a date cut to what is known can mean.

    Args:
        text: ISO 8601 year, month or day [-], such as "2023-05".

    Returns:
        A calendar date [-].

    Raises:
        InvalidInput: if the text is no such date.

    Source:
        Counting rule of this project; form after ISO 8601-1, 5.2.2.

    Example:
        >>> latest_day("2023-05")
        datetime.date(2023, 5, 31)
    """
    first = earliest_day(text)
    if len(text) == len("2023-05-14"):
        return first
    month = first.month if len(text) == len("2023-05") else 12
    return date(first.year, month, monthrange(first.year, month)[1])


def is_whole(text: str) -> bool:
    """Tell whether a date names its day.

    Args:
        text: Date as `earliest_day` takes it [-].

    Returns:
        True for "2023-05-14", False for "2023-05" and "2023" [-].

    Raises:
        InvalidInput: if the text is no date.

    Source:
        Counting rule of this project.

    Example:
        >>> is_whole("2023-05")
        False
    """
    earliest_day(text)
    return len(text) == len("2023-05-14")


def whole_day(text: str, pointer: str = "#/") -> date:
    """Read a date that must name its day, such as a day of departure.

    Args:
        text: ISO 8601 day [-].
        pointer: Field to name if it does not [-], as a JSON Pointer.

    Returns:
        A calendar date [-].

    Raises:
        InvalidInput: if the text is no date or is cut short.

    Source:
        Counting rule of this project.

    Example:
        >>> whole_day("2027-04-01")
        datetime.date(2027, 4, 1)
    """
    day = earliest_day(text, pointer)
    if not is_whole(text):
        raise InvalidInput.at(pointer, f"{text!r} does not name the day")
    return day


@lru_cache(maxsize=8192)
def add_months(day: date, months: int) -> date:
    """Go on by whole calendar months; a day that the month lacks becomes its last.

    Args:
        day: First day [-].
        months: Calendar months to go on [month], whole, at least 0.

    Returns:
        A calendar date [-].

    Raises:
        OutOfRange: if *months* is below 0 or the result lies after the year 9999.

    Source:
        Counting rule of this project (31 August + 6 months = 28 February).

    Example:
        >>> add_months(date(2026, 8, 31), 6)
        datetime.date(2027, 2, 28)
    """
    count = day.year * 12 + day.month - 1 + months
    year, month = count // 12, count % 12 + 1
    if months < 0 or year > date.max.year:
        raise OutOfRange(f"{months} months after {day} cannot be counted", months=months)
    return date(year, month, min(day.day, monthrange(year, month)[1]))


@lru_cache(maxsize=8192)
def add_days(day: date, days: int) -> date:
    """Go on (or back) by days, with our own error at the ends of the calendar.

    Args:
        day: First day [-].
        days: Days to go on [day], whole; below 0 goes back.

    Returns:
        A calendar date [-].

    Raises:
        OutOfRange: if the result lies outside the years 1 to 9999.

    Source:
        Counting rule of this project.

    Example:
        >>> add_days(date(2027, 4, 1), -24)
        datetime.date(2027, 3, 8)
    """
    try:
        return day + timedelta(days=days)
    except OverflowError as err:
        raise OutOfRange(f"{days} days from {day} cannot be counted", days=days) from err
