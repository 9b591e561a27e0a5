"""Wear-out: how often a unit with a Weibull life is renewed while it runs.

The first life is conditional on the age already reached; every later life is a new
one. Probabilities are worked out on a grid, with Simpson's rule in each cell.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import lru_cache
from itertools import pairwise
from math import ceil, expm1, gamma
from operator import mul
from typing import NamedTuple

from spares.domain.provision.counts import Pmf, convolve, poisson

CELLS_PER_LIFE = 24
_EVEN_SHAPE = 12                # above it lives end so close together that cells have to shrink
_FEWEST_CELLS, _MOST_CELLS = 16, 400
_STEEP, _PARTS = 0.3, 32        # a cell with more mass is looked at in so many parts
_TAIL = 1e-10

Lives = Callable[[Sequence[float]], list[float]]    # chances to fail within runs [h] -> [1]


@lru_cache(maxsize=4096)
def renewals(
    beta: float, eta_h: float, age_h: float, ahead_h: float, from_h: float = 0.0
) -> Pmf:
    """Count failures of one unit in a stretch of running, each cured by a new piece.

    Args:
        beta: Weibull shape [1], above 0.
        eta_h: Weibull scale [h], above 0.
        age_h: Age of the piece at hour 0 [h], at least 0.
        ahead_h: Length of the stretch [h], at least 0.
        from_h: Hour at which the stretch begins [h]; failures before it are cured but not counted.

    Returns:
        Probability of 0, 1, 2 ... failures [1].

    Source:
        Renewal theory; first life 1 - exp((a/eta)^beta - ((a+t)/eta)^beta).

    Example:
        >>> [round(p, 4) for p in renewals(2.5, 1200.0, 400.0, 300.0)[:1]]
        [0.8222]
    """
    if ahead_h <= 0:
        return (1.0,)
    if from_h <= 0:
        first = _life(beta, eta_h, age_h)
    else:
        first = _residual_life(beta, eta_h, age_h, from_h)
    at_least = [1.0, *(one.reached[-1] for one in _arrivals(first, beta, eta_h, ahead_h))]
    return tuple(a - b for a, b in pairwise([*at_least, 0.0]))


def stationary(beta: float, eta_h: float, ahead_h: float) -> float:
    """Expected failures of a unit whose age nobody knows.

    Args:
        beta: Weibull shape [1], above 0.
        eta_h: Weibull scale [h], above 0.
        ahead_h: Running ahead [h], at least 0.

    Returns:
        Expected failures [1].

    Source:
        Stationary renewal process: time / mean life, mean life = eta Gamma(1 + 1/beta).

    Example:
        >>> round(stationary(1.0, 1000.0, 500.0), 6)
        0.5
    """
    return ahead_h / mean_life(beta, eta_h)


def mean_life(beta: float, eta_h: float) -> float:
    """Mean life of a new piece.

    Args:
        beta: Weibull shape [1], above 0.
        eta_h: Weibull scale [h], above 0.

    Returns:
        Mean life [h].

    Source:
        eta Gamma(1 + 1/beta).

    Example:
        >>> round(mean_life(2.5, 1200.0), 1)
        1064.7
    """
    return eta_h * gamma(1 + 1 / beta)


def unit_failures(
    beta: float, eta_h: float, age_h: float | None,
    stretch_h: tuple[float, float], renewed_at_h: tuple[float, ...] = (),
) -> Pmf:
    """Count failures of one unit in a stretch of the trip, with planned renewals in between.

    Args:
        beta: Weibull shape [1], above 0.
        eta_h: Weibull scale [h], above 0.
        age_h: Age at hour 0 of the trip [h], None if nobody knows.
        stretch_h: First and last running hour of the stretch [h].
        renewed_at_h: Running hours at which the piece is renewed by plan [h], rising.

    Returns:
        Probability of 0, 1, 2 ... failures in the stretch [1].

    Source:
        Renewals split at the planned ones, each part with a new piece.

    Example:
        >>> round(unit_failures(2.5, 1200.0, 400.0, (0.0, 900.0), (100.0, 600.0))[0], 5)
        0.82594
    """
    begins, ends = stretch_h
    marks = [0.0, *renewed_at_h]
    total: Pmf = (1.0,)
    for place, mark in enumerate(marks):
        until = marks[place + 1] if place + 1 < len(marks) else ends
        low, high = max(begins, mark), min(ends, until)
        if high <= low:
            continue
        age = age_h if place == 0 else 0.0
        part = (poisson(stationary(beta, eta_h, high - low)) if age is None
                else renewals(beta, eta_h, age, high - low, low - mark))
        total = convolve(total, part)
    return total


def _life(beta: float, eta: float, age: float) -> Lives:
    """Give the chance that a piece of that age fails within a run."""
    try:
        worn = (age / eta) ** beta
    except OverflowError:       # so far beyond the scale that it fails at once
        return lambda runs: [1.0 if run > 0 else 0.0 for run in runs]

    def fails(runs: Sequence[float]) -> list[float]:
        try:
            return [-expm1(worn - ((age + run) / eta) ** beta) for run in runs]
        except OverflowError:
            return [fails([run])[0] for run in runs] if len(runs) > 1 else [1.0]
    return fails


def _grid(ahead_h: float, eta_h: float, beta: float) -> tuple[int, float]:
    """Cells that a stretch is cut into, and their width [h]."""
    per_life = CELLS_PER_LIFE * max(1, beta / _EVEN_SHAPE)
    cells = max(_FEWEST_CELLS, min(_MOST_CELLS, ceil(per_life * ahead_h / eta_h)))
    return cells, ahead_h / cells


class _Arrival(NamedTuple):
    """One failure on the grid: its distribution at the marks, and the lives that begin there.

    The mass of each cell is laid on its two marks and its middle, so that centre and spread stay.
    """

    reached: list[float]
    on_marks: list[float]
    on_middles: list[float]


def _arrivals(first: Lives, beta: float, eta: float, ahead_h: float) -> list[_Arrival]:
    """Distribution of the first, second, third ... failure on the grid."""
    cells, width = _grid(ahead_h, eta, beta)
    marks, middles = _places(cells, width)
    found = [_first_arrival(first, marks, middles, width)]
    # new lives, the longest first, so that slices line up with the places they began at
    new = _life(beta, eta, 0.0)
    whole, halves = new(marks)[::-1], new(middles)[::-1]
    tails = [(whole[cells - i:], halves[cells - i:]) for i in range(1, cells)]
    while True:
        before = found[-1]
        last = min(before.reached[-1], _ended(before, whole, halves))
        if last <= _TAIL:
            return found
        if last * whole[0] <= _TAIL:        # the next one has no chance: only the end counts
            none = [0.0] * cells
            return [*found, _Arrival([*none, last], [*none, last], none)]
        reached = [0.0, *(_ended(before, *tail) for tail in tails), last]
        found.append(_smooth_arrival(reached))


def _places(cells: int, width: float) -> tuple[list[float], list[float]]:
    """Marks of a grid and middles of its cells [h]."""
    return [i * width for i in range(cells + 1)], [(i + 0.5) * width for i in range(cells)]


def _ended(begun: _Arrival, of_marks: list[float], of_middles: list[float]) -> float:
    """Chance that a life which began there has ended, by its chance from each place on."""
    return (sum(map(mul, begun.on_marks, of_marks))         # map ends with the shorter
            + sum(map(mul, begun.on_middles, of_middles)))


def _first_arrival(
    first: Lives, marks: list[float], middles: list[float], width: float
) -> _Arrival:
    """Lay out a first failure, whose distribution is known within the cells too.

    A cell leans by its mass times how far its centre lies beyond the middle [1, cell]; its
    spread is the same for the square of it [1, cell squared].
    """
    reached, on_marks, on_middles = first(marks), [0.0], []
    for start, m, (a, b) in zip(marks, first(middles), pairwise(reached), strict=False):
        lean, spread = (a + b - 2 * m) / 3, (b - a) / 12        # Simpson
        if b - a > _STEEP:
            lean, spread = _steep(first, start, width, a, b - a)
        on_marks[-1] += 2 * spread - lean
        on_middles.append(b - a - 4 * spread)
        on_marks.append(2 * spread + lean)
    return _Arrival(reached, on_marks, on_middles)


def _smooth_arrival(reached: list[float]) -> _Arrival:
    """Lay out a failure of which only the marks are known: a cell leans by a twelfth of its slope.

    That slope is half the difference between the cells beside it.
    """
    steps = [b - a for a, b in pairwise(reached)]
    begin, end = 2 * steps[0] - steps[1], 2 * steps[-1] - steps[-2]
    wide = [begin, *steps, end]
    inner = [(5 * (b + c) - a - d) / 24 for a, b, c, d in
             zip(wide, steps, steps[1:], [*steps[2:], end], strict=False)]
    return _Arrival(reached, [(steps[0] + begin) / 12, *inner, (steps[-1] + end) / 12],
                    [step * 2 / 3 for step in steps])


def _steep(
    first: Lives, start: float, width: float, low: float, mass: float
) -> tuple[float, float]:
    """Give how a cell leans and spreads where its distribution is no parabola."""
    at = [(i + 0.5) / _PARTS for i in range(_PARTS)]
    reached = [one - low for one in first([start + place * width for place in at])]
    return (mass / 2 - sum(reached) / _PARTS,
            mass / 4 - sum(2 * (place - 0.5) * one for place, one in zip(at, reached, strict=True)
                           ) / _PARTS)


def _residual_life(beta: float, eta: float, age: float, from_h: float) -> Lives:
    """Distribution of the life left at an hour, failures before it being cured."""
    cells, width = _grid(from_h, eta, beta)
    first, new = _life(beta, eta, age), _life(beta, eta, 0.0)
    begun = _Arrival(*([sum(place) for place in zip(*lists, strict=True)]
                       for lists in zip(*_arrivals(first, beta, eta, from_h), strict=True)))
    ages, middles = (places[::-1] for places in _places(cells, width))

    def ended(run: float) -> float:
        return _ended(begun, new([age + run for age in ages]),
                      new([age + run for age in middles]))

    gone, (never,) = ended(0.0), first([from_h])

    def left(runs: Sequence[float]) -> list[float]:
        return [min(1.0, later - never + ended(run) - gone)
                for run, later in zip(runs, first([from_h + run for run in runs]), strict=True)]
    return left
