"""What can be worked out at all: asked before any sum is begun, so that none runs for ever."""

from __future__ import annotations

from math import gcd, sqrt

from spares.errors import OutOfRange

MOST_FAILURES = 10_000      # more in one window is no figure to plan spares by
MOST_LIVES = 50             # so many scales of wear-out in one window can be worked out
MOST_STEPS = 400_000        # so many steps of the common measure of pieces can be gone through
MOST_ADDED = 150_000        # so many steps can demands have that are added up
MOST_PRODUCTS = 20_000_000  # so many products of chances can be added up
_DEVIATIONS, _FEW, _LONG_TAIL = 8.5, 17, 33     # beyond them lies less than 1e-14
UNLIKE = "pieces so unlike each other cannot be added up; give rounder pieces"


def at_most(mean: float, spread: float = 1.0) -> float:
    """Give a number of failures beyond which there is hardly a chance.

    Args:
        mean: Expected failures [1].
        spread: Variance / mean [1], at least 1.

    Returns:
        Failures [1].

    Source:
        Bound of this project: Poisson and negative binomial tails below 1e-14.

    Example:
        >>> at_most(100.0)
        202.0
    """
    return mean + _DEVIATIONS * sqrt(mean * spread) + _FEW + _LONG_TAIL * (spread - 1)


def ask_failures(mean: float) -> None:
    """Refuse more failures than anybody plans for.

    Raises:
        OutOfRange: more than `MOST_FAILURES` are expected.
    """
    if mean > MOST_FAILURES:
        raise OutOfRange(f"{mean:.0f} failures expected in one window; look at the figure again",
                         most=MOST_FAILURES)


def ask_steps(sizes: dict[int, float], spread: float = 1.0) -> None:
    """Refuse pieces whose common measure is too fine.

    Args:
        sizes: Expected failures [1] by the pieces that one takes [thousandths].
        spread: Variance / mean of the failures [1].

    Raises:
        OutOfRange: their sums would have more than `MOST_STEPS` steps.
    """
    step = gcd(*sizes)
    steps = sum(at_most(mean, spread) * size // step for size, mean in sizes.items() if size)
    if steps <= MOST_STEPS and steps * len(sizes) <= MOST_PRODUCTS:
        return
    unlike = sum(size > 0 for size in sizes) > 1 and at_most(
        sum(sizes.values()), spread) <= MOST_STEPS
    raise OutOfRange(UNLIKE if unlike else "so uncertain a figure cannot be worked out; look at "
                     "it again", field="pieces" if unlike else "", most=MOST_STEPS)


def ask_looked_at(pieces: int) -> None:
    """Refuse more pieces looked at than chance can be worked out for.

    Raises:
        OutOfRange: there are more than `MOST_STEPS`.
    """
    if pieces > MOST_STEPS:
        raise OutOfRange(f"{pieces} pieces are looked at; nobody can work out how many of them are "
                         "renewed", most=MOST_STEPS)


def ask_added(steps: float, products: float = 0) -> None:
    """Refuse a sum of demands that would take too long.

    Raises:
        OutOfRange: more than `MOST_ADDED` steps, or more than `MOST_PRODUCTS`.
    """
    if products > MOST_PRODUCTS or steps > MOST_ADDED:
        raise OutOfRange(UNLIKE, field="pieces", most=MOST_ADDED)
