"""What engines burn: a generator by its table, a propulsion engine by speed.

Reserve by the rule of thirds: a third out, a third back, a third kept, so one and a half
times the plan is wanted at the last bunkering.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from spares.errors import InvalidInput

if TYPE_CHECKING:
    from spares.domain.trip.request import Burn, Leg

THIRDS = Fraction(3, 2)     # rule of thirds

Exact = Fraction | int | float


class FuelTable(NamedTuple):
    """A maker's table: rows of (x, L/h), x rising; x is a load share [1] or a speed [kn]."""

    rows: tuple[tuple[Exact, Exact], ...]

    def at(self, x: Exact, where: str = "#") -> Exact:
        """Give the consumption [L/h], straight between rows; the lowest row holds below it.

        Raises InvalidInput above the highest row: nobody knows what it burns there.
        """
        if x <= self.rows[0][0]:
            return self.rows[0][1]
        for (x0, y0), (x1, y1) in pairwise(self.rows):
            if x <= x1:
                return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
        raise InvalidInput.at(
            where, f"{float(x):g} is above the fuel table, which ends at "
            f"{float(self.rows[-1][0]):g}", highest=float(self.rows[-1][0]))


def burn_per_hour(burn: Burn, speed_kn: Exact, where: str = "#") -> Exact:
    """Give the consumption of a propulsion engine at a speed.

    Args:
        burn: Table [kn, L/h], or one point for the cube law [kn, L/h] with the idle burn.
        speed_kn: Speed through the water [kn], above 0.
        where: JSON Pointer of the speed [-].

    Returns:
        Consumption [L/h].

    Raises:
        InvalidInput: above the highest row of a table.

    Source:
        Cube law f = f_ref (v / v_ref)^3, for displacement hulls below hull speed
        (common practice, no source).

    Example:
        >>> from fractions import Fraction
        >>> from spares.domain.trip.request import Burn
        >>> round(float(burn_per_hour(Burn(at_kn=Fraction(7), l_per_h=Fraction(4)), 6)), 3)
        2.519
    """
    if burn.table:
        return FuelTable(burn.table).at(speed_kn, where)
    return max(burn.l_per_h * (speed_kn / burn.at_kn) ** 3, burn.idle_l_per_h or 0)


def table_end(burn: Burn, leg: Leg) -> Exact | None:
    """Say where an engine's table ends, if a leg is faster under engine.

    Args:
        burn: Its consumption [kn, L/h].
        leg: The leg [nm, kn, h].

    Returns:
        The highest speed of the table [kn]; None if the consumption on the leg is known.

    Source:
        Counting rule of this project: beyond its table nobody knows what an engine burns.

    Example:
        >>> from spares.domain.trip.request import Burn, Leg
        >>> table_end(Burn(((5, 3), (6, 4))), Leg(60, 7, ("eng",)))
        6
    """
    sailed = leg.distance_nm and leg.motor_share
    return burn.table[-1][0] if sailed and burn.table and leg.speed_kn > burn.table[-1][0] else None


def leg_fuel(burn: Burn, leg: Leg, where: str = "#") -> Exact:
    """Give what one engine burns on one leg.

    Args:
        burn: Its consumption [kn, L/h].
        leg: The leg [nm, kn, h].
        where: JSON Pointer of the leg [-].

    Returns:
        Fuel [L].

    Raises:
        InvalidInput: above the highest row of a table.

    Source:
        Consumption at the leg's speed times hours under engine, and manoeuvring on top.

    Example:
        >>> from fractions import Fraction
        >>> from spares.domain.trip.request import Burn, Leg
        >>> burn = Burn(at_kn=Fraction(7), l_per_h=Fraction(4), manoeuvring_l_per_h=Fraction(1))
        >>> round(float(leg_fuel(burn, Leg(Fraction(60), Fraction(6), ("eng",)))), 2)
        25.69
    """
    under_way: Exact = 0
    if leg.distance_nm and leg.motor_share:
        hours = leg.distance_nm / leg.speed_kn * leg.motor_share
        under_way = hours * burn_per_hour(burn, leg.speed_kn, f"{where}/speed_kn")
    return under_way + leg.manoeuvring_h * burn.slow_l_per_h
