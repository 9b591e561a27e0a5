"""How many failures: probabilities of 0, 1, 2 ... events, as plain lists.

A list sums to 1 up to a lost tail below 1e-14. Constant rate: Poisson. More spread, or a
rate known only from one's own log: negative binomial. Renewed only if found worn: binomial.
"""

from __future__ import annotations

from collections.abc import Callable
from math import exp, floor, inf, lgamma, log, log1p

Pmf = tuple[float, ...]

NONE: Pmf = (1.0,)
_SMALLEST = 1e-18       # terms below this, past the mode, are left out
_NOTHING = 1e-24        # terms below this add nothing to a sum
_MANY = 300_000         # products, from which on two long whole numbers are multiplied instead
_SCALE, _WIDTH = 1 << 64, 17        # a chance in such a number, and the bytes of its square
_UNDERFLOW = -600.0     # below this e^x is too near to 0 to start from


def poisson(mean: float) -> Pmf:
    """Failures at a constant rate.

    Args:
        mean: Expected failures [1], at least 0.

    Returns:
        Probability of 0, 1, 2 ... failures [1].

    Source:
        Poisson process; checked against MIL-HDBK-338B, example 5.3.8.1.

    Example:
        >>> [round(p, 5) for p in poisson(0.8)[:3]]
        [0.44933, 0.35946, 0.14379]
    """
    if mean <= 0:
        return NONE
    if mean < -_UNDERFLOW:
        return _poisson_from_0(mean)
    return _from_ratios(
        lambda k: k * log(mean) - mean - lgamma(k + 1), floor(mean),
        lambda k: mean / (k + 1))


def _poisson_from_0(mean: float) -> Pmf:
    term, k = exp(-mean), 0
    result = [term]
    while k <= mean or term > _SMALLEST:
        k += 1
        term *= mean / k
        result.append(term)
    return tuple(result)


def negative_binomial(r: float, p: float) -> Pmf:
    """Failures with more spread than Poisson.

    Args:
        r: Shape [1], above 0; need not be whole.
        p: Parameter [1], in (0, 1]; mean = r (1 - p) / p, variance / mean = 1 / p.

    Returns:
        Probability of 0, 1, 2 ... failures [1].

    Source:
        Gamma mixture of Poisson; parameters as in scipy.stats.nbinom.

    Example:
        >>> round(sum(negative_binomial(0.8, 0.5)[:3]), 5)
        0.90747
    """
    if p >= 1:
        return NONE
    mode = max(0, floor((r - 1) * (1 - p) / p))
    return _from_ratios(
        lambda k: lgamma(k + r) - lgamma(r) - lgamma(k + 1) + r * log(p) + k * log1p(-p), mode,
        lambda k: (k + r) / (k + 1) * (1 - p))


def binomial(trials: int, share: float) -> Pmf:
    """Pieces renewed out of those looked at.

    Args:
        trials: Pieces looked at [1], whole, at least 0.
        share: Share that is renewed [1], from 0 to 1.

    Returns:
        Probability of 0, 1 ... *trials* renewals [1].

    Source:
        Binomial distribution.

    Example:
        >>> binomial(4, 0.5)
        (0.0625, 0.25, 0.375, 0.25, 0.0625)
    """
    if share <= 0 or trials == 0:
        return NONE
    if share >= 1:
        return (0.0,) * trials + (1.0,)
    odds = share / (1 - share)
    return _from_ratios(
        lambda k: (lgamma(trials + 1) - lgamma(k + 1) - lgamma(trials - k + 1)
                   + k * log(share) + (trials - k) * log1p(-share)),
        min(trials, floor((trials + 1) * share)),
        lambda k: (trials - k) / (k + 1) * odds)


def convolve(first: Pmf, second: Pmf) -> Pmf:
    """Add two independent counts.

    Args:
        first: Probabilities of the one [1].
        second: Probabilities of the other [1].

    Returns:
        Probabilities of the sum [1]; a tail below 1e-18 is left out.

    Source:
        Convolution.

    Example:
        >>> convolve((0.5, 0.5), (0.5, 0.5))
        (0.25, 0.5, 0.25)
    """
    if len(first) == 1:
        return second if first[0] == 1.0 else tuple(first[0] * p for p in second)
    if len(second) == 1:
        return convolve(second, first)
    terms = [(j, q) for j, q in enumerate(second) if q > _NOTHING]
    if len(terms) * sum(p > _NOTHING for p in first) > _MANY:
        result = _as_one_product(first, second)
    else:
        result = [0.0] * (len(first) + len(second) - 1)
        for i, p in enumerate(first):
            if p > _NOTHING:
                for j, q in terms:
                    result[i + j] += p * q
    while len(result) > 1 and result[-1] < _SMALLEST:
        result.pop()
    return tuple(result)


def _as_one_product(first: Pmf, second: Pmf) -> list[float]:
    """Multiply the lists as two whole numbers whose digits are chances: far quicker if long."""
    one, other = (int.from_bytes(b"".join(
        round(p * _SCALE).to_bytes(_WIDTH, "little") for p in pmf), "little")
        for pmf in (first, second))
    places = len(first) + len(second) - 1
    digits = (one * other).to_bytes((places + 1) * _WIDTH, "little")
    return [int.from_bytes(digits[at:at + _WIDTH], "little") / _SCALE**2
            for at in range(0, places * _WIDTH, _WIDTH)]


def repeated(pmf: Pmf, times: int) -> Pmf:
    """Add up independent counts of the same kind.

    Args:
        pmf: Probabilities of the one count [1].
        times: How many there are [1], at least 0.

    Returns:
        Probabilities of their sum [1].

    Source:
        Convolution by repeated doubling.

    Example:
        >>> repeated((0.5, 0.5), 3)
        (0.125, 0.375, 0.375, 0.125)
    """
    total, doubled = NONE, pmf
    while times:
        if times % 2:
            total = convolve(total, doubled)
        times //= 2
        doubled = convolve(doubled, doubled) if times else doubled
    return total


def mean_of(pmf: Pmf) -> float:
    """Give the expected count [1] of a list of probabilities [1]."""
    return sum(k * p for k, p in enumerate(pmf))


def _from_ratios(
    ln_at: Callable[[int], float], mode: int, ratio: Callable[[int], float]
) -> Pmf:
    """Build from p(k + 1) / p(k): from 0 on, or outwards from the mode where e^x underflows."""
    start = 0 if ln_at(0) > _UNDERFLOW else mode
    result = [0.0] * start + [exp(ln_at(start))]
    k, step = start, inf
    while result[k] > 0 and (k <= mode or result[k] > _SMALLEST):
        step = ratio(k)
        if step <= 0:
            break
        result.append(result[k] * step)
        k += 1
    for k in range(start - 1, -1, -1):
        result[k] = result[k + 1] / ratio(k)
        if result[k] < _SMALLEST:
            break
    if start == 0:
        return tuple(result)
    total = sum(result)     # takes out the rounding of the logarithms
    return tuple(term / total for term in result)
