"""Demand for pieces: failures times pieces per failure, and how many spares hold a level.

Pieces are whole thousandths of the part's unit, so that litres count as exactly as
filters. A `Demand` lies on a lattice: `pmf[k]` is the probability of `k * step`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import accumulate
from math import exp, fsum, gcd, log

from spares.domain.provision.counts import NONE, Pmf, convolve, negative_binomial, poisson
from spares.domain.provision.workable import ask_added

TIE = 1e-12         # a level reached up to this counts as reached
_TAIL = 1e-14
_UNDERFLOW = -600.0         # below this e^x is too near to 0 to start from
_HUGE = 1e200

Pieces = tuple[tuple[int, float], ...]      # ((thousandths, probability), ...)


@dataclass(frozen=True)
class Demand:
    """Probabilities of needing 0, 1, 2 ... steps; `step` [thousandths of the unit]."""

    step: int = 1
    pmf: Pmf = NONE

    @cached_property
    def cumulative(self) -> tuple[float, ...]:
        """Probability of needing at most 0, 1, 2 ... steps [1]."""
        return tuple(accumulate(self.pmf))

    @property
    def is_none(self) -> bool:
        """True if nothing can be needed."""
        return self.pmf == NONE

    def protection(self, pieces: int) -> float:
        """Probability that *pieces* [thousandths] are enough; below 0 counts as 0."""
        return min(1.0, self.cumulative[min(max(pieces, 0) // self.step, len(self.pmf) - 1)])

    def enough(self, level: float) -> int:
        """Fewest pieces [thousandths] whose protection reaches *level* [1]."""
        for steps, reached in enumerate(self.cumulative):
            if reached >= level - TIE:
                return steps * self.step
        return (len(self.pmf) - 1) * self.step

    def mean(self) -> float:
        """Expected pieces [thousandths]."""
        return self.step * sum(k * p for k, p in enumerate(self.pmf))

    def short_beyond(self, pieces: int) -> float:
        """Expected pieces short [thousandths] with *pieces* [thousandths] at hand."""
        return sum((k * self.step - pieces) * p for k, p in enumerate(self.pmf)
                   if k * self.step > pieces)


def pooled(demands: Iterable[Demand]) -> Demand:
    """Add independent demands for one part: one stock serves all.

    Args:
        demands: The demands [thousandths].

    Returns:
        Their sum [thousandths].

    Raises:
        OutOfRange: if their common measure is so fine that they cannot be added up.

    Source:
        Convolution on the common lattice.

    Example:
        >>> both = pooled([Demand(2000, (0.5, 0.5)), Demand(1000, (0.5, 0.5))])
        >>> both.step, both.pmf
        (1000, (0.25, 0.25, 0.25, 0.25))
    """
    some = [d for d in demands if not d.is_none]
    if not some:
        return Demand()
    if len(some) == 1:
        return some[0]
    step = gcd(*(d.step for d in some))
    ask_added(sum((len(d.pmf) - 1) * (d.step // step) for d in some))
    total = NONE
    for pmf in sorted((_stretched(d.pmf, d.step // step) for d in some), key=len):
        total = convolve(total, pmf)
    return Demand(step, total)


def pieces_of(counts: Pmf, pieces: Pieces) -> Demand:
    """Turn failures into pieces, each failure taking a piece number of its own.

    Args:
        counts: Probabilities of 0, 1, 2 ... failures [1].
        pieces: Pairs of pieces [thousandths] and probability [1], which add up to 1.

    Returns:
        Demand [thousandths].

    Raises:
        OutOfRange: if the pieces are so unlike that they cannot be added up.

    Source:
        Compound distribution, summed over the number of failures.

    Example:
        >>> pieces_of((0.5, 0.5), ((2000, 1.0),))
        Demand(step=2000, pmf=(0.5, 0.5))
    """
    step, sizes = _lattice(pieces)
    if step == 0:
        return Demand()
    if len(sizes) == 2 and sizes[1] == 1.0:
        return Demand(step, counts)
    ask_added(len(counts) * len(sizes),
              len(counts) ** 2 * len(sizes) / 2 * sum(size > 0 for size in sizes))
    total, power = [0.0], NONE
    for chance in counts:
        total += [0.0] * (len(power) - len(total))
        for k, p in enumerate(power):
            total[k] += chance * p
        power = convolve(power, sizes)
    return Demand(step, tuple(total))


def compound_poisson(mean: float, pieces: Pieces) -> Demand:
    """Pieces needed when failures come at a constant rate.

    Args:
        mean: Expected failures [1].
        pieces: Pairs of pieces [thousandths] and probability [1], which add up to 1.

    Returns:
        Demand [thousandths].

    Source:
        Panjer recursion, (a, b) = (0, mean); from memory, checked by simulation.

    Example:
        >>> both = compound_poisson(0.6, ((1000, 0.7), (2000, 0.3)))
        >>> both.enough(0.95), round(both.protection(3000), 5)
        (3000, 0.97477)
    """
    if len(pieces) == 1 and mean > 0 and pieces[0][0]:      # always so many
        return Demand(pieces[0][0], poisson(mean))
    step, sizes = _lattice(pieces)
    if step == 0 or mean <= 0:
        return Demand()
    mean *= 1 - sizes[0]
    if len(sizes) == 2:
        return Demand(step, poisson(mean))
    sizes = tuple(p / (1 - sizes[0]) for p in sizes)
    return Demand(step, _panjer(-mean, 0.0, mean, sizes))


def compound_spread(r: float, p: float, pieces: Pieces) -> Demand:
    """Pieces needed when failures are spread more than Poisson.

    Args:
        r: Shape of the negative binomial [1].
        p: Its parameter [1], in (0, 1].
        pieces: Pairs of pieces [thousandths] and probability [1], which add up to 1.

    Returns:
        Demand [thousandths].

    Source:
        Panjer recursion, (a, b) = (1 - p, (r - 1) (1 - p)); from memory.

    Example:
        >>> compound_spread(0.8, 0.5, ((1000, 1.0),)).enough(0.95)
        3000
    """
    step, sizes = _lattice(pieces)
    if step == 0 or p >= 1:
        return Demand()
    kept = 1 - sizes[0]
    p = 1 / (1 + kept * (1 - p) / p)        # failures that take nothing are thinned out
    if len(sizes) == 2:
        return Demand(step, negative_binomial(r, p))
    sizes = (0.0, *(size / kept for size in sizes[1:]))
    return Demand(step, _panjer(r * log(p), 1 - p, (r - 1) * (1 - p), sizes))


def _panjer(ln_none: float, a: float, b: float, sizes: Sequence[float]) -> Pmf:
    """Go up from the chance of none [ln]; from any figure, scaled after, where it is tiny."""
    scaled = ln_none < _UNDERFLOW
    result = [1.0 if scaled else exp(ln_none)]
    reached = result[0]
    terms = [(k, size) for k, size in enumerate(sizes) if k and size]
    mean = (a + b) / (1 - a) * sum(k * size for k, size in terms)
    flat = 0
    while (scaled or reached < 1 - _TAIL) and flat < len(sizes):
        n = len(result)
        term = sum((a + b * k / n) * size * result[n - k] for k, size in terms if k <= n)
        result.append(term)
        reached += term
        if reached > _HUGE:
            result = [one / _HUGE for one in result]
            reached /= _HUGE
        flat = flat + 1 if n > mean and term < _TAIL * _TAIL * reached else 0
    if not scaled:
        return tuple(result)
    total = fsum(result)
    return tuple(one / total for one in result)


def _lattice(pieces: Pieces) -> tuple[int, Pmf]:
    """Give the step [thousandths] and the probabilities of 0, 1, 2 ... steps a failure."""
    step = gcd(*(size for size, _ in pieces))
    if step == 0:
        return 0, NONE
    sizes = [0.0] * (max(size for size, _ in pieces) // step + 1)
    for size, chance in pieces:
        sizes[size // step] += chance
    return step, tuple(sizes)


def _stretched(pmf: Pmf, times: int) -> Pmf:
    if times == 1:
        return pmf
    result = [0.0] * ((len(pmf) - 1) * times + 1)
    result[::times] = pmf
    return tuple(result)
