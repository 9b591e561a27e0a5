"""Figures of an answer as JSON has them, and the sizes in which a request is counted."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from math import floor

from spares.domain.service.hours import MINUTES_PER_HOUR
from spares.domain.trip.request import WHOLE

MINOR_PER_MONEY = 100
G_PER_KG = 10**3
LARGEST = 10**15
_DECIMALS = 9


def half_up(number: Fraction) -> int:
    """Round to a whole number, halves up."""
    return floor(number + Fraction(1, 2))


def rounded(number: Fraction | float | None) -> int | float | None:
    """Write a number that was worked out, without the dust of its last digits."""
    return None if number is None else plain(round(float(number), _DECIMALS))


def plain(number: Fraction | float) -> int | float:
    """Write a number as JSON does: whole ones without a decimal part."""
    return int(number) if number == int(number) else float(number)


def quantity(thousandths: int) -> int | float:
    """Write thousandths as a quantity."""
    return _over(thousandths, WHOLE)


def hours(minutes: int | None) -> float | None:
    """Write whole minutes as hours."""
    return None if minutes is None else round(minutes / MINUTES_PER_HOUR, 4)


def money(minor: int | None) -> int | float | None:
    """Write minor units as money."""
    return None if minor is None else _over(minor, MINOR_PER_MONEY)


def kilograms(grams: int | None) -> int | float | None:
    """Write grams as kilograms."""
    return None if grams is None else _over(grams, G_PER_KG)


def _over(count: int, unit: int) -> int | float:
    whole, rest = divmod(count, unit)
    return count / unit if rest else whole


def iso(day: date | None) -> str | None:
    """Write a day."""
    return None if day is None else day.isoformat()
