"""Trend of a gauge: does it climb, by how much, and when would it be at the limit of the book?

The slope is the median of the slopes between all pairs of readings (Theil and Sen), so that one
slip of the pen or one hot day changes little. It is called climbing or falling only where at
least three quarters of all pairs go that way; else it is steady.
"""

from __future__ import annotations

from collections.abc import Sequence
from statistics import median
from typing import NamedTuple

CLIMBS, FALLS, STEADY, TOO_FEW = "climbs", "falls", "steady", "too-few"
FEWEST = 3
#: Of all pairs so many have to go one way. Common practice, no source.
SHARE_AGREEING = 0.75
#: So many of the latest readings are looked at; the pairs grow with the square.
MOST = 60


class Trend(NamedTuple):
    """What readings do: code, slope and level now [unit of the reading], pairs that agree."""

    code: str
    slope: float | None = None          # per unit of x
    now: float | None = None            # the line at the last x
    readings: int = 0
    agreeing: int = 0
    pairs: int = 0


def trend(points: Sequence[tuple[float, float]]) -> Trend:
    """Say what a row of readings does.

    Args:
        points: Running hours [h] or days [d], and the figure in its own unit, in order of time.

    Returns:
        The trend; too-few with fewer than three readings at different x [-].

    Raises:
        Nothing.

    Source:
        Sen, P. K.: Estimates of the Regression Coefficient Based on Kendall's Tau, J. Amer.
        Statist. Assoc. 63 (1968), cited from memory; checked against scipy.stats.theilslopes.

    Example:
        >>> found = trend([(0, 80.0), (10, 80.5), (20, 99.0), (30, 81.5)])
        >>> found.code, found.slope, found.agreeing, found.pairs
        ('climbs', 0.1, 5, 6)
    """
    late = list(points[-MOST:])
    if len({x for x, _ in late}) < FEWEST:
        return Trend(TOO_FEW, readings=len(late))
    slopes = [(y2 - y1) / (x2 - x1) for place, (x2, y2) in enumerate(late)
              for x1, y1 in late[:place] if x2 > x1]
    slope = median(slopes)
    up, down = sum(one > 0 for one in slopes), sum(one < 0 for one in slopes)
    least = SHARE_AGREEING * len(slopes)
    code = CLIMBS if up >= least else FALLS if down >= least else STEADY
    level = median([y - slope * x for x, y in late])
    return Trend(code, slope, level + slope * late[-1][0], len(late), max(up, down), len(slopes))


def until(found: Trend, low: float | None, high: float | None) -> float | None:
    """Say after how much more of x a trend reaches the limit that it goes towards.

    Args:
        found: The trend [-].
        low: The lower limit, None for none [unit of the reading].
        high: The upper limit, None for none [unit of the reading].

    Returns:
        Hours [h] or days [d], as the trend was asked; 0 where it is there already, None where
        it goes towards no limit.

    Raises:
        Nothing.

    Source:
        Arithmetic.

    Example:
        >>> until(Trend("climbs", 0.5, 80.0), None, 95.0)
        30.0
    """
    limit = high if found.code == CLIMBS else low if found.code == FALLS else None
    if limit is None or found.slope is None or found.now is None:
        return None
    return max((limit - found.now) / found.slope, 0.0)
