"""Buying by marginal analysis: the step with the best gain per price first.

Each stop of the climb is a corner of the hull of (price, protection), so no kit of that
price or less is better. Between corners another mix can win, so what is left is filled
up, and then each unit that was left out is forced in once to see whether it pays.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import NamedTuple

from spares.domain.provision.hull import Line, Step, hull_steps

_MOST_FORCED = 60       # the forced-in pass is quadratic
_MOST_LOOKS = 60_000    # steps looked at in one round of it


class Limits(NamedTuple):
    """What may be spent, inclusive: money [minor units], mass [g]; None is no limit."""

    cost: int | None = None
    mass_g: int | None = None

    def allow(self, cost: int, mass_g: int) -> bool:
        """Tell whether a kit of that cost [minor units] and mass [g] is within the limits."""
        return ((self.cost is None or cost <= self.cost)
                and (self.mass_g is None or mass_g <= self.mass_g))


class Corner(NamedTuple):
    """A stop of the climb: money [minor units], mass [g], gain [ln of protection]."""

    cost: int
    mass_g: int
    gain: float


@dataclass
class Basket:
    """Steps taken so far, line by line; `taken[i]` counts the steps of line i."""

    lines: Sequence[Line]
    steps: Sequence[Sequence[Step]]
    taken: list[int] = field(default_factory=list)
    cost: int = 0
    mass_g: int = 0
    gain: float = 0.0

    def next_step(self, line: int) -> Step | None:
        """The next step of a line, None at its end."""
        steps = self.steps[line]
        return steps[self.taken[line]] if self.taken[line] < len(steps) else None

    def last_step(self, line: int) -> Step | None:
        """The step of a line taken last, None if none was."""
        return self.steps[line][self.taken[line] - 1] if self.taken[line] else None

    def fits(self, step: Step, limits: Limits) -> bool:
        """Tell whether one more step stays within the limits."""
        line = self.lines[step.line]
        return limits.allow(self.cost + step.units * line.cost,
                            self.mass_g + step.units * line.mass_g)

    def take(self, step: Step, back: int = 1) -> None:
        """Take a step, or with *back* -1 take it back."""
        line = self.lines[step.line]
        self.taken[step.line] += back
        self.cost += back * step.units * line.cost
        self.mass_g += back * step.units * line.mass_g
        self.gain += back * step.gain

    def units(self) -> list[int]:
        """Units bought, line by line."""
        return [sum(s.units for s in steps[:taken])
                for steps, taken in zip(self.steps, self.taken, strict=True)]

    def corner(self) -> Corner:
        """What it takes and wins."""
        return Corner(self.cost, self.mass_g, self.gain)

    def copy(self) -> Basket:
        """An independent basket with the same content."""
        return Basket(self.lines, self.steps, [*self.taken], self.cost, self.mass_g, self.gain)


def basket(lines: Sequence[Line], prices: Sequence[float]) -> Basket:
    """An empty basket for lines whose units have these prices [any one unit of price]."""
    steps = [hull_steps(i, line, price) for i, (line, price) in
             enumerate(zip(lines, prices, strict=True))]
    return Basket(lines, steps, [0] * len(lines))


def in_order(empty: Basket) -> list[Step]:
    """All steps, best ratio first; the steps of one line keep their order."""
    return sorted((s for steps in empty.steps for s in steps), key=lambda s: -s.ratio)


def climb(empty: Basket, limits: Limits) -> tuple[Basket, list[Corner]]:
    """Buy while the next step fits.

    Args:
        empty: Basket without any step [any one unit of price].
        limits: What may be spent [minor units, g].

    Returns:
        The basket at the last corner, and all corners [minor units, g, ln of protection].

    Source:
        Marginal analysis (Fox); checked against a published home assignment, see the tests.

    Example:
        >>> start = basket([Line("a", (0.5, 0.9), 10)], [10.0])
        >>> climb(start, Limits(cost=10))[0].units()
        [1]
    """
    now, corners = empty.copy(), [empty.corner()]
    for step in in_order(empty):
        if not now.fits(step, limits):
            break
        now.take(step)
        corners.append(now.corner())
    return now, corners


def fill(now: Basket, limits: Limits, order: Sequence[Step]) -> Basket:
    """Go on with the next best step that still fits; a line that does not is left."""
    now = now.copy()
    for step in order:
        if now.next_step(step.line) is step and now.fits(step, limits):
            now.take(step)
    return now


def forced_in(now: Basket, limits: Limits, order: Sequence[Step]) -> Basket:
    """Force each unit left out in once, drop the worst ones for it, keep what pays.

    Args:
        now: A filled basket [minor units, g, ln of protection].
        limits: What may be spent [minor units, g].
        order: All steps, best ratio first [1].

    Returns:
        A basket at least as good [minor units, g, ln of protection].

    Source:
        Exchange pass of this project.

    Example:
        >>> start = basket([Line("a", (0.5, 0.9), 10)], [10.0])
        >>> forced_in(start, Limits(cost=10), in_order(start)).units()
        [1]
    """
    best, most = now, max(1, min(_MOST_FORCED, _MOST_LOOKS // max(1, len(order))))
    while True:
        better = max((_forced(best, step, limits, order) for step in _left_out(best)[:most]),
                     key=lambda b: b.gain, default=best)
        if better.gain <= best.gain + 1e-12:
            return best
        best = better


def _left_out(now: Basket) -> list[Step]:
    steps = [s for i in range(len(now.lines)) if (s := now.next_step(i)) is not None]
    return sorted(steps, key=lambda s: -s.ratio)


def _forced(now: Basket, step: Step, limits: Limits, order: Sequence[Step]) -> Basket:
    trial = now.copy()
    trial.take(step)
    while not limits.allow(trial.cost, trial.mass_g):
        worst = min((s for i in range(len(trial.lines)) if i != step.line
                     and (s := trial.last_step(i)) is not None),
                    key=lambda s: s.ratio, default=None)
        if worst is None:
            return now
        trial.take(worst, back=-1)
    return fill(trial, limits, order)
