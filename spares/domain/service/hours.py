"""Running hours, held as whole minutes so that *exactly due* is never a rounding matter."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import floor

MINUTES_PER_HOUR = 60
HOURS_PER_DAY = 24
_TENTH_MIN = MINUTES_PER_HOUR // 10


def whole_minutes(hours: Fraction | Decimal | int) -> int:
    """Turn hours into whole minutes, halves upwards.

    Args:
        hours: Running hours [h], exact.

    Returns:
        Running time [min], whole.

    Source:
        Counting rule of this project.

    Example:
        >>> whole_minutes(Decimal("129.9"))
        7794
    """
    return floor(Fraction(hours) * MINUTES_PER_HOUR + Fraction(1, 2))


def in_hours(minutes: int) -> Fraction:
    """Turn minutes back into exact hours.

    Args:
        minutes: Running time [min], whole.

    Returns:
        Running hours [h], exact.

    Source:
        Counting rule of this project.

    Example:
        >>> in_hours(90)
        Fraction(3, 2)
    """
    return Fraction(minutes, MINUTES_PER_HOUR)


@lru_cache(maxsize=8192)
def say_hours(minutes: int) -> str:
    """Write a running time for a person, one decimal.

    Args:
        minutes: Running time [min], whole.

    Returns:
        Text with its unit [-].

    Source:
        Counting rule of this project.

    Example:
        >>> say_hours(7794)
        '129.9 h'
        >>> say_hours(15000)
        '250 h'
    """
    tenths = (2 * minutes + _TENTH_MIN) // (2 * _TENTH_MIN)
    whole, tenth = divmod(abs(tenths), 10)
    return f"{'-' if tenths < 0 else ''}{whole}{f'.{tenth}' if tenth else ''} h"
