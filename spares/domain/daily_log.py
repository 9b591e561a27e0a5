"""The daily run as it was, beside the plan: hours, litres, charge put back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

MORE, LESS, AS_PLANNED, CANNOT_SAY = "more", "less", "as-planned", "cannot-say"
CODES = (MORE, LESS, AS_PLANNED, CANNOT_SAY)
#: A real figure so near to the plan is as planned [share]. Common practice, no source.
NEAR_SHARE = 0.1
_PER_HOUR = 60


@dataclass(frozen=True, slots=True)
class DayRun:
    """One day: running [min], fuel [L], charge put back [Ah], current while charging [A]."""

    minutes: int | None = None
    litres: float | None = None
    charge_ah: float | None = None
    amps: float | None = None


@dataclass(frozen=True, slots=True)
class Mean:
    """What the recorded days come to, each over the days that say it; None where none does."""

    days: int
    hours_per_day: float | None
    litres_per_day: float | None
    litres_per_hour: float | None
    charge_ah_per_day: float | None
    amps: float | None


def mean_of(days: Sequence[DayRun]) -> Mean:
    """Give the mean of recorded days.

    Args:
        days: The recorded days, in any order [-].

    Returns:
        Hours [h/day], fuel [L/day, L/h], charge [Ah/day], current [A]. Litres an hour come from
        the days that say both.

    Raises:
        Nothing.

    Source:
        Arithmetic.

    Example:
        >>> found = mean_of([DayRun(120, 2.8, 130.0), DayRun(60, 1.4)])
        >>> found.hours_per_day, found.litres_per_day, found.litres_per_hour
        (1.5, 2.1, 1.4)
    """
    both = [one for one in days if one.minutes and one.litres is not None]
    hours = sum(one.minutes or 0 for one in both) / _PER_HOUR
    return Mean(
        len(days), _mean([one.minutes / _PER_HOUR for one in days if one.minutes is not None]),
        _mean([one.litres for one in days if one.litres is not None]),
        round(sum(one.litres or 0 for one in both) / hours, 6) if hours else None,
        _mean([one.charge_ah for one in days if one.charge_ah is not None]),
        _mean([one.amps for one in days if one.amps is not None]))


def beside(real: float | None, planned: float | None) -> str:
    """Say how a real figure stands to the planned one.

    Example:
        >>> beside(2.6, 2.1), beside(2.0, 2.1), beside(None, 2.1)
        ('more', 'as-planned', 'cannot-say')
    """
    if real is None or not planned:
        return CANNOT_SAY
    if abs(real - planned) <= NEAR_SHARE * planned:
        return AS_PLANNED
    return MORE if real > planned else LESS


def _mean(values: Sequence[float]) -> float | None:
    return round(sum(values) / len(values), 6) if values else None
