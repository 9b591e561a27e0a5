"""Failure figures of parts, and the demand they make in a stretch of the trip.

In the order of trust: an own log, wear-out of known age, a maker's or handbook mean time
between failures. Rows of one part are pooled before a level is asked.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from fractions import Fraction
from typing import NamedTuple

from spares.domain.provision.counts import Pmf, convolve, mean_of, repeated
from spares.domain.provision.demand import (
    Demand,
    Pieces,
    compound_poisson,
    compound_spread,
    pieces_of,
    pooled,
)
from spares.domain.provision.renewal import unit_failures
from spares.domain.provision.workable import MOST_LIVES, ask_failures, ask_steps
from spares.errors import OutOfRange

ONE_PIECE: Pieces = ((1000, 1.0),)      # [thousandths]
_HOUR_MIN = 60


class OwnLog(NamedTuple):
    """Failures seen and the unit hours [h] in which they were seen."""

    failures: int
    hours: Fraction


class Weibull(NamedTuple):
    """Shape [1], scale [h], and one age [h] a unit at departure; an age may be None."""

    beta: Fraction
    eta_h: Fraction
    ages_h: tuple[Fraction | None, ...] | None = None


class Failure(NamedTuple):
    """What is known about the failures of one part on one machine; exactly one figure."""

    part: str
    machine: str | None = None
    units: int = 1
    mtbf_h: Fraction | None = None
    mtbf_days: Fraction | None = None
    own_log: OwnLog | None = None
    weibull: Weibull | None = None
    pieces: Pieces = ONE_PIECE
    spread: Fraction | None = None
    renewed_by: str | None = None


class Stretch(NamedTuple):
    """A window as one row sees it: running minutes it begins and ends at, days, renewals [min]."""

    begins_min: int
    ends_min: int
    days: int
    renewed_at_min: tuple[int, ...] = ()

    @property
    def hours(self) -> float:
        """Running in the stretch [h]."""
        return (self.ends_min - self.begins_min) / _HOUR_MIN


def expected(row: Failure, stretch: Stretch) -> float:
    """Expected failures of one row.

    Args:
        row: The failure figure [h or day].
        stretch: The window [min, day].

    Returns:
        Expected failures [1].

    Source:
        Units times time over mean time between failures; own log with a gamma prior of
        shape 1/2; renewals for wear-out.

    Example:
        >>> row = Failure("hose", "eng", units=6, mtbf_h=Fraction(4000))
        >>> round(expected(row, Stretch(0, 240 * 60, 30)), 9)
        0.36
    """
    if row.mtbf_h is not None:
        return row.units * stretch.hours / float(row.mtbf_h)
    if row.mtbf_days is not None:
        return row.units * stretch.days / float(row.mtbf_days)
    if row.own_log is not None:
        ahead = row.units * stretch.hours
        return (row.own_log.failures + 0.5) * ahead / float(row.own_log.hours)
    return mean_of(_worn_out(row, stretch))


def demand(rows: Iterable[tuple[Failure, Stretch]]) -> Demand:
    """Pool the demand of all rows of one part in one window.

    Args:
        rows: Failure figures with the window as each sees it [h, day, min].

    Returns:
        Pieces needed [thousandths].

    Raises:
        OutOfRange: if more failures are expected than can sensibly be worked out, or their
            pieces have no measure in common; asked before anything is worked out.

    Source:
        Sum of independent demands; constant rates add up to one constant rate, whose failures
        take the pieces of one or the other.

    Example:
        >>> rows = [(Failure("s", "m", 2, Fraction(3000)), Stretch(0, 180 * 60, 30)),
        ...         (Failure("s", "g", 1, Fraction(2500)), Stretch(0, 90 * 60, 30))]
        >>> round(demand(rows).protection(1000), 5)
        0.98903
    """
    steady: dict[int, float] = {}       # expected failures by the pieces that one takes
    others: list[tuple[Failure, Stretch]] = []
    for row, stretch in rows:
        if (row.mtbf_h or row.mtbf_days) and (row.spread is None or row.spread == 1):
            mean = expected(row, stretch)
            for size, chance in row.pieces:
                steady[size] = steady.get(size, 0.0) + mean * chance
        else:
            others.append((row, stretch))
    found = [_one(row, stretch) for row, stretch in others]
    return pooled([_steady(steady), *found])


def _steady(means: dict[int, float]) -> Demand:
    mean = sum(means.values())
    ask_failures(mean)
    if mean <= 0:
        return Demand()
    ask_steps(means)
    if len(means) == 1:
        return compound_poisson(mean, ((next(iter(means)), 1.0),))
    return compound_poisson(mean, tuple((size, one / mean) for size, one in means.items()))


def _one(row: Failure, stretch: Stretch) -> Demand:
    counts = _worn_out(row, stretch) if row.weibull is not None else None
    mean = expected(row, stretch) if counts is None else mean_of(counts)
    if mean <= 0:
        return Demand()
    spread = float(row.spread or 1)
    if row.own_log is not None:
        seen, ahead = float(row.own_log.hours), row.units * stretch.hours
        if spread <= (seen + ahead) / seen:
            _ask(row, mean, (seen + ahead) / seen)
            return compound_spread(row.own_log.failures + 0.5, seen / (seen + ahead), row.pieces)
    elif counts is not None and spread <= 1:
        _ask(row, mean, spread)
        return pieces_of(counts, row.pieces)
    _ask(row, mean, spread)
    return compound_spread(mean / (spread - 1), 1 / spread, row.pieces)


def _ask(row: Failure, mean: float, spread: float) -> None:
    ask_failures(mean)
    sizes: dict[int, float] = {}
    for size, chance in row.pieces:
        sizes[size] = sizes.get(size, 0.0) + mean * chance
    ask_steps(sizes, spread)


def _worn_out(row: Failure, stretch: Stretch) -> Pmf:
    life = row.weibull
    if stretch.hours > MOST_LIVES * float(life.eta_h):
        raise OutOfRange(f"the window is longer than {MOST_LIVES} lives; give a mean time "
                         "between failures instead", field="weibull", most=MOST_LIVES)
    ages = life.ages_h if life.ages_h is not None else (None,) * row.units
    each = [(unit_failures(
        float(life.beta), float(life.eta_h), None if age is None else float(age),
        (stretch.begins_min / _HOUR_MIN, stretch.ends_min / _HOUR_MIN),
        tuple(run / _HOUR_MIN for run in stretch.renewed_at_min)), units)
        for age, units in Counter(ages).items()]
    ask_failures(sum(mean_of(pmf) * units for pmf, units in each))
    total: Pmf = (1.0,)
    for pmf, units in each:
        total = convolve(total, repeated(pmf, units))
    return total
