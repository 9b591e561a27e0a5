"""One line of a kit, and the steps at which buying more of it pays best.

Where protection rises in flats (pieces in pairs, packs) a single unit may gain nothing;
then the step of the upper hull takes several units at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from itertools import accumulate
from math import log
from typing import NamedTuple

_FLOOR = 1e-300         # a protection of 0 in logarithms
_ENOUGH = 1e-12         # buying stops where less than this can still fail


@dataclass(frozen=True)
class Line:
    """A part that may be bought in units.

    `levels[j]` is the protection [1] with j units bought, `cost` [minor units of money]
    and `mass_g` [g] are those of one unit.
    """

    part: str
    levels: tuple[float, ...]
    cost: int = 0
    mass_g: int = 0

    @classmethod
    def of(cls, part: str, pmf: Sequence[float], aboard: int, cost: int = 0,
           mass_g: int = 0) -> Line:
        """Build from the probabilities of needing 0, 1, 2 ... pieces and the pieces aboard."""
        reached = [min(1.0, f) for f in accumulate(pmf)]
        levels = reached[min(aboard, len(reached) - 1):]
        last = next((j for j, f in enumerate(levels) if f >= 1 - _ENOUGH), len(levels) - 1)
        return cls(part, tuple(levels[:last + 1]), cost, mass_g)

    @cached_property
    def gains(self) -> tuple[float, ...]:
        """Logarithm of protection won by 0, 1, 2 ... units [1]."""
        return tuple(_ln(level) - _ln(self.levels[0]) for level in self.levels)

    def within(self, cost: int | None, mass_g: int | None) -> Line:
        """Leave out the units that alone are beyond a limit."""
        most = len(self.levels) - 1
        if cost is not None and self.cost > 0:
            most = min(most, cost // self.cost)
        if mass_g is not None and self.mass_g > 0:
            most = min(most, mass_g // self.mass_g)
        return replace(self, levels=self.levels[:most + 1])


class Step(NamedTuple):
    """Buy *units* more of line *line*, which wins *gain* in ln of protection at *price*."""

    line: int
    units: int
    gain: float
    price: float

    @property
    def ratio(self) -> float:
        """Gain per price; what costs nothing comes first."""
        return self.gain / self.price if self.price > 0 else float("inf")


def hull_steps(place: int, line: Line, unit_price: float) -> list[Step]:
    """Cut a line into the steps of its upper hull, best first.

    Args:
        place: Place of the line in the kit [1].
        line: The line [1].
        unit_price: Price of one unit [any one unit of price].

    Returns:
        Steps with falling gain per unit [1].

    Source:
        Upper convex hull (monotone chain).

    Example:
        >>> [s.units for s in hull_steps(0, Line("pair", (0.5, 0.5, 0.9)), 1.0)]
        [2]
    """
    corners = [0]
    for j in range(1, len(line.levels)):
        while len(corners) > 1 and (
                _slope(line, corners[-2], corners[-1]) <= _slope(line, corners[-1], j)):
            corners.pop()
        corners.append(j)
    steps = []
    for low, high in zip(corners, corners[1:], strict=False):
        gain = line.gains[high] - line.gains[low]
        if gain > 0:
            steps.append(Step(place, high - low, gain, unit_price * (high - low)))
    return steps


def _slope(line: Line, low: int, high: int) -> float:
    return (line.gains[high] - line.gains[low]) / (high - low)


def _ln(protection: float) -> float:
    return log(max(protection, _FLOOR))
