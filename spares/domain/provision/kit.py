"""The best kit for the money or the mass, or the cheapest kit for a level."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise
from math import exp, floor, inf, log, prod
from typing import NamedTuple

from spares.domain.provision.climb import (
    Basket,
    Corner,
    Limits,
    basket,
    climb,
    fill,
    forced_in,
    in_order,
)
from spares.domain.provision.hull import Line
from spares.domain.provision.search import least_cost, most_protection
from spares.errors import OutOfRange

MIXES = (1.0, 0.0, 0.1, 0.25, 0.4, 0.5, 0.6, 0.75, 0.9)     # share of money in the price
_TIE = 1e-12
_MOST_TRIED, _HALVINGS = 100, 8     # a better start keeps the search for a level small


class CurvePoint(NamedTuple):
    """A kit on the way: cost [minor units], mass [g], protection [1]."""

    cost: int
    mass_g: int
    protection: float


class Kit(NamedTuple):
    """What to buy, line by line [unit], what it takes, and what it protects [1].

    `proven` says that no kit within the limits is better (or none cheaper reaches the
    level); otherwise none is better than `upper_bound`.
    """

    buy: tuple[int, ...]
    cost: int
    mass_g: int
    start: float
    reached: float
    upper_bound: float
    curve: tuple[CurvePoint, ...]
    proven: bool


def best_kit(
    lines: Sequence[Line], limits: Limits | None = None, level: float | None = None
) -> Kit:
    """Choose the pieces that protect best within limits, or most cheaply at a level.

    Args:
        lines: Parts with protection by units bought [1], cost [minor units], mass [g].
        limits: What may be spent, inclusive [minor units, g]; instead of *level*.
        level: Protection of the whole kit to reach [1], in (0, 1); instead of *limits*.

    Returns:
        The kit with its bound and the curve that leads to it [1].

    Raises:
        OutOfRange: if the level cannot be reached by any kit.

    Source:
        Marginal analysis on the logarithm of protection; exchange pass and search of
        this project.

    Example:
        >>> kit = best_kit([Line("a", (0.5, 0.9), 10), Line("b", (0.8, 0.9), 10)],
        ...                Limits(cost=10))
        >>> kit.buy, round(kit.reached, 3)
        ((1, 0), 0.72)
    """
    return _for_level(lines, level) if level is not None else _for_limits(
        lines, limits or Limits())


def _for_limits(lines: Sequence[Line], limits: Limits) -> Kit:
    lines = [line.within(limits.cost, limits.mass_g) for line in lines]
    best: Basket | None = None
    corners: list[Corner] = []
    bound, at_bound = inf, (0.0, 0.0)
    for share in _mixes(limits):
        empty = basket(lines, [_price(line, share, limits) for line in lines])
        order = in_order(empty)
        last, way = climb(empty, limits)
        trial = forced_in(fill(last, limits, order), limits, order)
        if best is None or trial.gain > best.gain + _TIE:
            best, corners = trial, way
        gain, ratio = _bound(empty, limits)
        if gain < bound:
            bound, at_bound = gain, _worth(ratio, share, limits)
    worth = sum(price * (limit or 0) for price, limit in
                zip(at_bound, (limits.cost, limits.mass_g), strict=True))
    units, complete = most_protection(lines, limits.allow, at_bound, worth, best.gain)
    return _kit(lines, units or best.units(), corners, bound, complete, within=True)


def _mixes(limits: Limits) -> tuple[float, ...]:
    if limits.cost is not None and limits.mass_g is not None:
        return MIXES
    return (0.0,) if limits.mass_g is not None else (1.0,)


def _price(line: Line, share: float, limits: Limits) -> float:
    """Price of a unit as a share of the limits; without limits, all is free."""
    price = 0.0
    if limits.cost:
        price += share * line.cost / limits.cost
    if limits.mass_g:
        price += (1 - share) * line.mass_g / limits.mass_g
    return price


def _bound(empty: Basket, limits: Limits) -> tuple[float, float]:
    """Gain that no kit exceeds when the last step may be bought in part, and its ratio."""
    left, gain = 1.0, 0.0
    if limits.cost is None and limits.mass_g is None:
        left = inf
    for step in in_order(empty):
        if step.price > left:
            return gain + left * step.ratio, step.ratio
        left -= step.price
        gain += step.gain
    return gain, 0.0


def _worth(ratio: float, share: float, limits: Limits) -> tuple[float, float]:
    """Worth of one minor unit and of one gram at the margin."""
    return (ratio * share / limits.cost if limits.cost else 0.0,
            ratio * (1 - share) / limits.mass_g if limits.mass_g else 0.0)


def _for_level(lines: Sequence[Line], level: float) -> Kit:
    start = prod(line.levels[0] for line in lines)
    most = prod(line.levels[-1] for line in lines)
    if most < level - _TIE:
        raise OutOfRange(f"level {level} cannot be reached; the most is "
                         f"{floor(most * 1e6) / 1e6:.6f}",
                         level=level, most=most)
    needed = sum(_gain_from(line) for line in lines) + log(level)
    empty = basket(lines, [float(line.cost) for line in lines])
    now, corners, ratio = empty.copy(), [empty.corner()], inf
    for step in in_order(empty):
        if now.gain >= needed - _TIE:
            break
        now.take(step)
        ratio = step.ratio
        corners.append(now.corner())
    units = _without_spare(lines, now.units(), needed)
    price = 0.0 if ratio == inf or ratio <= 0 else 1 / ratio
    if len(lines) <= _MOST_TRIED:
        least = now.cost - (now.gain - needed) * price      # no kit that reaches it costs less
        units = _cheaper(lines, empty, needed, units, floor(least))
    cost = _cost(lines, units)
    cheaper, complete = least_cost(lines, needed, price, cost)
    units = cheaper or units
    money = _cost(lines, units)
    bound, _ = _bound(basket(lines, [_price(line, 1.0, Limits(cost=money)) for line in lines]),
                      Limits(cost=money)) if money else (0.0, 0.0)
    if start >= level - _TIE:
        bound = 0.0
    return _kit(lines, units, corners, bound, complete, within=False)


def _cheaper(
    lines: Sequence[Line], empty: Basket, needed: float, units: list[int], least: int
) -> list[int]:
    """Halve the money again and again and see whether the best kit for it still reaches."""
    order = in_order(empty)
    for _ in range(_HALVINGS):
        cost = _cost(lines, units)
        limits = Limits(cost=(least + cost) // 2)
        if least >= cost:
            break
        found = forced_in(fill(climb(empty, limits)[0], limits, order), limits, order)
        if found.gain >= needed - _TIE:
            units = _without_spare(lines, found.units(), needed)
        else:
            least = limits.cost + 1
    return units


def _cost(lines: Sequence[Line], units: Sequence[int]) -> int:
    return sum(u * line.cost for u, line in zip(units, lines, strict=True))


def _gain_from(line: Line) -> float:
    """Logarithm of protection lost at the start [1]."""
    return -log(max(line.levels[0], 1e-300))


def _without_spare(lines: Sequence[Line], units: list[int], needed: float) -> list[int]:
    """Drop every unit that is not needed for the level, dearest first."""
    gain = sum(line.gains[u] for line, u in zip(lines, units, strict=True))
    for place in sorted(range(len(lines)), key=lambda i: -lines[i].cost):
        line = lines[place]
        while units[place] and (
                gain - line.gains[units[place]] + line.gains[units[place] - 1] >= needed - _TIE):
            gain += line.gains[units[place] - 1] - line.gains[units[place]]
            units[place] -= 1
    return units


def _kit(
    lines: Sequence[Line], units: Sequence[int], corners: Sequence[Corner], bound_gain: float,
    proven: bool, within: bool,
) -> Kit:
    cost = _cost(lines, units)
    mass = sum(u * line.mass_g for u, line in zip(units, lines, strict=True))
    start = prod(line.levels[0] for line in lines)
    reached = _protection(lines, units)
    bound = reached if proven and within else min(1.0, max(reached, _at(start, bound_gain, lines)))
    way = [CurvePoint(c.cost, c.mass_g, _at(start, c.gain, lines)) for c in corners]
    way = [p for p in way if p.protection < reached * (1 - _TIE) and (within or p.cost <= cost)]
    way.append(CurvePoint(cost, mass, reached))
    kept = way[:1] + [b for a, b in pairwise(way) if b != a]
    return Kit(tuple(units), cost, mass, start, reached, bound, tuple(kept), proven)


def _protection(lines: Sequence[Line], units: Sequence[int]) -> float:
    return prod(line.levels[u] for line, u in zip(lines, units, strict=True))


def _at(start: float, gain: float, lines: Sequence[Line]) -> float:
    if start > 0:
        return start * exp(gain)
    return exp(min(0.0, gain - sum(_gain_from(line) for line in lines)))
