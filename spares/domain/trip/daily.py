"""From what a person can say of a day aboard to the figures that the daily charge takes."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import NamedTuple

_W_PER_KW = 10**3
_MINUTES_PER_HOUR = 60


class Load(NamedTuple):
    """Something that takes power: watts of one [W], hours a day [h], how many [1].

    `by_inverter` is true for what takes alternating current off the battery.
    """

    watts: Fraction
    hours_per_day: Fraction
    count: int = 1
    by_inverter: bool = False
    name: str = ""


def load_kwh(load: Load, inverter_efficiency: Fraction) -> Fraction:
    """Give what a load takes out of the battery in a day.

    Args:
        load: The load [W, h].
        inverter_efficiency: Share that an inverter passes on [1], above 0.

    Returns:
        Energy [kWh/day], exact.

    Source:
        Power times time; an inverter passes on 0.85 to 0.92 (common practice, no source).

    Example:
        >>> load_kwh(Load(Fraction(90), Fraction(8), by_inverter=True), Fraction(9, 10))
        Fraction(4, 5)
    """
    used = load.watts * load.hours_per_day * load.count / _W_PER_KW
    return used / inverter_efficiency if load.by_inverter else used


def motoring_kwh(
    daily_min: Sequence[int], kw: Fraction, wanted_kwh: Fraction, most_kwh: Fraction
) -> Fraction:
    """Give what an engine's alternator puts back, on the mean of all days of the trip.

    A day under way covers no more than that day wants, nor than the battery can hold: what
    one long day has too much helps no other day.

    Args:
        daily_min: Running of the engine on each day [min].
        kw: Net power of the alternator into the battery [kW].
        wanted_kwh: What a day still wants, loads less sun [kWh].
        most_kwh: What the battery can take in a day [kWh].

    Returns:
        Energy that counts [kWh/day].

    Source:
        Current times voltage times hours under engine, limited day by day.

    Example:
        >>> motoring_kwh([300, 0], Fraction(1, 2), Fraction(2), Fraction(10))
        Fraction(1, 1)
    """
    if not daily_min:
        return Fraction(0)
    most = max(Fraction(0), min(wanted_kwh, most_kwh))
    given = sum((min(kw * run / _MINUTES_PER_HOUR, most) for run in daily_min), Fraction(0))
    return given / len(daily_min)


def water_hours(crew: int, litres_per_person: Fraction, output_l_per_h: Fraction) -> Fraction:
    """Give how long a watermaker runs in a day.

    Args:
        crew: Persons aboard [1].
        litres_per_person: Water for each [L/day].
        output_l_per_h: What it makes [L/h], above 0.

    Returns:
        Running [h/day], exact.

    Source:
        Use over output.

    Example:
        >>> water_hours(4, Fraction(25), Fraction(60))
        Fraction(5, 3)
    """
    return crew * litres_per_person / output_l_per_h
