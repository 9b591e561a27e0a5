"""The best kit for certain, where the search for it stays small.

Lines are settled one after the other; of the half-made kits only those are kept that no
other beats in cost, mass and protection at once, and that can still beat the best kit
known (a price on each limit bounds what the open lines can add).
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Callable, Sequence
from typing import NamedTuple

from spares.domain.provision.hull import Line

MOST_STATES = 20_000
MOST_WORK = 400_000     # half-made kits looked at in all
_SLIP = 1e-12       # sums of logarithms differ by this


class Kit(NamedTuple):
    """A half-made kit; `chosen` is a chain of (earlier, line, units)."""

    cost: int
    mass_g: int
    gain: float
    loss: float
    chosen: tuple | None


def most_protection(
    lines: Sequence[Line], allow: Callable[[int, int], bool],
    prices: tuple[float, float], budget_worth: float, known_gain: float,
) -> tuple[list[int] | None, bool]:
    """Find the kit within limits that protects best.

    Args:
        lines: The lines of the kit [minor units, g].
        allow: Tells whether a cost [minor units] and mass [g] is within the limits.
        prices: What one minor unit and one gram are worth [ln of protection].
        budget_worth: What the whole limits are worth at these prices [ln of protection].
        known_gain: Gain of the best kit known [ln of protection].

    Returns:
        Units a line if a better kit exists, and whether the search was complete.

    Source:
        Dynamic programming over non-dominated kits with a Lagrangian bound.

    Example:
        >>> kit = [Line("a", (0.5, 0.9), 10), Line("b", (0.5, 0.8), 10)]
        >>> most_protection(kit, lambda c, m: c <= 10, (0.1, 0.0), 1.0, 0.0)
        ([1, 0], True)
    """
    worth = [[gain - prices[0] * line.cost * j - prices[1] * line.mass_g * j
              for j, gain in enumerate(line.gains)] for line in lines]
    slack = budget_worth + sum(max(row) for row in worth) - known_gain
    kits, complete = _settle(lines, worth, slack, lambda kit, _: allow(kit.cost, kit.mass_g))
    best = max(kits, key=lambda kit: (kit.gain, -kit.cost, -kit.mass_g), default=None)
    if best is None or best.gain <= known_gain + _SLIP:
        return None, complete
    return _units(best, len(lines)), complete


def least_cost(
    lines: Sequence[Line], needed_gain: float, gain_price: float, known_cost: int
) -> tuple[list[int] | None, bool]:
    """Find the cheapest kit that reaches a protection.

    Args:
        lines: The lines of the kit [minor units, g].
        needed_gain: What the kit must win [ln of protection].
        gain_price: What winning one costs at the margin [minor units].
        known_cost: Cost of the cheapest kit known [minor units].

    Returns:
        Units a line if a cheaper kit exists, and whether the search was complete.

    Source:
        Dynamic programming over non-dominated kits with a Lagrangian bound.

    Example:
        >>> from math import log
        >>> kit = [Line("a", (0.5, 0.9), 10), Line("b", (0.5, 0.9), 9)]
        >>> least_cost(kit, log(0.9 / 0.5), 16.0, 19)
        ([0, 1], True)
    """
    worth = [[gain_price * gain - line.cost * j for j, gain in enumerate(line.gains)]
             for line in lines]
    slack = known_cost - (gain_price * needed_gain - sum(max(row) for row in worth))
    rest = [0.0]
    for line in reversed(lines):
        rest.append(rest[-1] + max(line.gains))
    rest.reverse()

    def may_reach(kit: Kit, settled: int) -> bool:
        return kit.cost <= known_cost and kit.gain + rest[settled] >= needed_gain - _SLIP

    kits, complete = _settle(lines, worth, slack, may_reach)
    best = min(kits, key=lambda kit: (kit.cost, kit.mass_g, -kit.gain), default=None)
    if best is None or best.cost >= known_cost:
        return None, complete
    return _units(best, len(lines)), complete


def _settle(
    lines: Sequence[Line], worth: Sequence[Sequence[float]], slack: float,
    possible: Callable[[Kit, int], bool],
) -> tuple[list[Kit], bool]:
    kits, looked_at = [Kit(0, 0, 0.0, 0.0, None)], 0
    for place, (line, row) in enumerate(zip(lines, worth, strict=True)):
        top = max(row)
        options = [(j, line.gains[j], top - value) for j, value in enumerate(row)
                   if top - value <= slack + _SLIP]
        wider = [
            kit for before in kits for j, gain, loss in options
            if before.loss + loss <= slack + _SLIP
            and possible(kit := Kit(
                before.cost + j * line.cost, before.mass_g + j * line.mass_g,
                before.gain + gain, before.loss + loss, (before.chosen, place, j)), place + 1)]
        kits, looked_at = _unbeaten(wider), looked_at + len(wider)
        if len(kits) > MOST_STATES or looked_at > MOST_WORK:
            return [], False
    return kits, True


def _unbeaten(kits: list[Kit]) -> list[Kit]:
    """Keep the kits that no other equals or beats in cost, mass and gain at once."""
    kept: list[Kit] = []
    masses: list[int] = []      # a staircase: mass and gain both rise
    gains: list[float] = []
    for kit in sorted(kits, key=lambda k: (k.cost, k.mass_g, -k.gain)):
        place = bisect_right(masses, kit.mass_g)
        if place and gains[place - 1] >= kit.gain:
            continue
        end = place
        while end < len(gains) and gains[end] <= kit.gain:
            end += 1
        masses[place:end] = [kit.mass_g]
        gains[place:end] = [kit.gain]
        kept.append(kit)
    return kept


def _units(kit: Kit, count: int) -> list[int]:
    units = [0] * count
    chosen = kit.chosen
    while chosen is not None:
        chosen, place, units[place] = chosen
    return units
