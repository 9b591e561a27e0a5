"""What each part needs in each window of the trip.

Stops that sell a part cut the trip, for that part, into windows: up to the first such
stop, from there to the next, and so on. Work that falls due on the day of a stop by the
calendar still belongs to the window that ends there.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from math import inf
from typing import NamedTuple

from spares.domain.provision.counts import binomial
from spares.domain.provision.demand import Demand, pooled
from spares.domain.provision.failure import Failure, Stretch, demand
from spares.domain.provision.workable import ask_looked_at
from spares.domain.service.events import STILL, Course, Event, Running
from spares.domain.service.task import KitLine
from spares.domain.trip.request import WHOLE


class Use(NamedTuple):
    """One kit line of one task, with what happens to the task."""

    line: KitLine
    course: Course


class Window(NamedTuple):
    """From one day index to another; the first one also holds the work before leaving."""

    begins: int
    ends: int
    first: bool
    last: bool

    def holds(self, event: Event) -> bool:
        """Tell whether an event falls into this window."""
        low = -inf if self.first else self.begins
        return low < event.closes <= (inf if self.last else self.ends)


class WindowNeed(NamedTuple):
    """Need of one part in one window [thousandths].

    `uses` pairs each kit line with its events in the window and whether it is also done
    before leaving; `sure` is what they take, `failing` are the failure figures with what each
    machine runs, `demand` is what chance may take, `spares` how many pieces hold the level.
    """

    window: Window
    uses: tuple[tuple[Use, bool, tuple[Event, ...]], ...]
    failing: tuple[tuple[Failure, Stretch], ...]
    sure: int
    demand: Demand
    spares: int
    set_aside: int
    keep: int

    @property
    def minimum(self) -> int:
        """Pieces to have when the window begins [thousandths]."""
        return max(self.keep, self.sure + max(self.set_aside, self.spares))

    @property
    def carried(self) -> int:
        """Of the pieces beyond the services, those wanted to the last day [thousandths]."""
        return max(self.set_aside, self.keep - self.sure, 0)


def windows(days: int, stop_days: Sequence[int]) -> list[Window]:
    """Cut the trip at the stops.

    Args:
        days: Days of the trip [day].
        stop_days: Day indexes of the stops where the part is sold [day], in any order.

    Returns:
        Windows in order [day].

    Source:
        Counting rule of this project.

    Example:
        >>> [(w.begins, w.ends) for w in windows(90, [40])]
        [(0, 40), (40, 90)]
    """
    marks = [0, *sorted(set(stop_days)), days]
    last = len(marks) - 2
    return [Window(a, b, i == 0, i == last)
            for i, (a, b) in enumerate(zip(marks, marks[1:], strict=False))]


def window_need(
    window: Window, uses: Sequence[Use], rows: Sequence[tuple[Failure, Sequence[int]]],
    ran: Mapping[str, Running], level: float, keep: int,
) -> WindowNeed:
    """Work out the need of one part in one window.

    Args:
        window: The window [day].
        uses: Kit lines that name the part, with the course of their task [thousandths].
        rows: Failure figures of the part, each with the running at its renewals [h, min].
        ran: Running by machine [min].
        level: Protection the spares must hold [1], in (0, 1).
        keep: Pieces to keep in any case [thousandths].

    Returns:
        Services, chance and minimum [thousandths].

    Raises:
        OutOfRange: if chance asks for more than can be worked out.

    Source:
        Minimum = max(keep, services + max(set aside, spares that hold the level)).

    Example:
        >>> window_need(Window(0, 90, True, True), [], [], {}, 0.95, 2000).minimum
        2000
    """
    whole = window.first and window.last
    inside = tuple((use, window.first and use.course.before,
                    use.course.events if whole else tuple(filter(window.holds, use.course.events)))
                   for use in uses)
    sure, chance = 0, []
    for use, before, events in inside:
        times = before + len(events)
        if use.line.share >= 1:
            sure += times * use.line.quantity
        elif times and use.line.share > 0:
            chance.append(_found_worn(use.line, times))
    failing = tuple((row, _stretch(row, renewals, window, ran)) for row, renewals in rows)
    total = pooled([*chance, demand(failing)])
    return WindowNeed(window, inside, failing, sure, total, total.enough(level),
                      sum(use.line.quantity for use in uses if use.line.set_aside), keep)


def _found_worn(line: KitLine, times: int) -> Demand:
    """Pieces renewed only if found worn: piece by piece, or all at once if they are not whole."""
    pieces, part = divmod(line.quantity, WHOLE)
    ask_looked_at(times * max(pieces, 1))
    if part:
        return Demand(line.quantity, binomial(times, float(line.share)))
    return Demand(WHOLE, binomial(times * pieces, float(line.share)))


def _stretch(
    row: Failure, renewals: Sequence[int], window: Window, ran: Mapping[str, Running]
) -> Stretch:
    run = ran.get(row.machine or "", STILL)
    ends = run.until(window.ends)
    return Stretch(run.until(window.begins), ends, window.ends - window.begins,
                   tuple(r for r in renewals if r <= ends) if renewals else ())
