"""How often a service falls due during a trip, and on which days.

What is overdue, due at departure, or of unknown history is done once before leaving;
then both its sides start anew. During the trip each day first looks at the calendar,
then runs the hours of that day. Whichever side fires, both start anew. What falls due
on the last day still counts: arriving with a service due and no part for it is what
the list exists to prevent.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Sequence
from datetime import date
from itertools import accumulate, chain, repeat
from typing import NamedTuple

from spares.domain.dates import add_days, add_months
from spares.domain.service.clock import Clock
from spares.domain.service.due import COMING_DAYS, COMING_TENTHS
from spares.errors import OutOfRange

BY_HOURS, BY_MONTHS = "hours", "months"
MOST_EVENTS = 10_000


class Running(NamedTuple):
    """Minutes a machine runs on each day of the trip; `sums[d]` [min] is the run before day d."""

    sums: tuple[int, ...] = (0,)

    @classmethod
    def of(cls, daily_min: Iterable[int]) -> Running:
        """Build from the minutes of each day."""
        return cls(tuple(accumulate(daily_min, initial=0)))

    @classmethod
    def even(cls, total_min: int, days: int) -> Running:
        """Spread minutes evenly over days, the remainder on the earliest ones."""
        if days == 0:
            return cls()
        each, rest = divmod(total_min, days)
        return cls.of(chain(repeat(each + 1, rest), repeat(each, days - rest)))

    @property
    def days(self) -> int:
        """Days of the trip."""
        return len(self.sums) - 1

    @property
    def total(self) -> int:
        """Minutes of the whole trip."""
        return self.sums[-1]

    def until(self, day: int) -> int:
        """Give the minutes run before a day."""
        return self.sums[min(day, self.days)]


STILL = Running()       # a machine that does not run


class Event(NamedTuple):
    """Work in the trip on day index `day`, for which a stop on day `closes` is not too early.

    `by` says which side fired, `run_min` how far the machine had run [min]; `due_day`
    differs from `day` when the work waits for a port.
    """

    day: int
    closes: int
    by: str
    run_min: int
    due_day: int
    since: date         # when the side that fired had last been set to 0
    interval_min: int | None = None     # the hour interval, if that side fired [min]


class Course(NamedTuple):
    """What happens to one task: before leaving, in the trip, and just after it."""

    clock: Clock
    before: bool
    events: tuple[Event, ...] = ()
    due_on_arrival: bool = False
    soon_after: bool = False


def course(
    clock: Clock, running: Running, leaves: date, port_days: Sequence[int] = ()
) -> Course:
    """Follow one task from departure to arrival.

    Args:
        clock: The task as it stands on the leaving date [min, month].
        running: Minutes its machine runs on each day [min].
        leaves: The leaving date [-].
        port_days: Day indexes of the stops [day], rising; used by tasks done in port only.

    Returns:
        Work before and in the trip [day indexes].

    Raises:
        OutOfRange: if it falls due more often than anybody can plan for.

    Source:
        Counting rule of this project.

    Example:
        >>> from spares.domain.service.task import Task
        >>> oil = Clock(Task("oil", "gen"), True, 180 * 60, 250 * 60, 250 * 60)
        >>> [e.day for e in course(oil, Running.even(120 * 60, 30), date(2027, 4, 1)).events]
        [17]
    """
    before = clock.is_due(leaves)
    now = clock.done(leaves) if before else clock
    add_days(leaves, running.days)      # the whole trip lies in the calendar
    found = _events(now, running, leaves, port_days)
    run, last = (found[-1].run_min, found[-1].day) if found else (0, 0)
    if found:
        now = now.done(add_days(leaves, last))
    return Course(clock, before, tuple(found), _at_the_end(found, running),
                  _soon(now, running.total - run, add_days(leaves, running.days)))


def _events(
    now: Clock, running: Running, leaves: date, port_days: Sequence[int]
) -> list[Event]:
    """Go from event to event; each sets both sides to 0."""
    task, sums, days = now.task, running.sums, running.days
    run, since, due_on = 0, now.last or leaves, now.due_on
    left_min = None if now.interval_min is None else now.interval_min - now.used_min
    interval_min, found = now.interval_min, []
    while True:
        by_months = by_hours = days + 1
        if due_on is not None:
            by_months = max(1, (due_on - leaves).days)
        if left_min is not None:
            # first day at whose end the running reaches the interval
            by_hours = bisect_left(sums, run + left_min) - 1
        if by_months > days and by_hours >= days:
            return found
        if by_months <= by_hours:
            event = Event(by_months, by_months, BY_MONTHS, sums[by_months], by_months, since)
        else:
            event = Event(by_hours, by_hours + 1, BY_HOURS, run + left_min, by_hours, since,
                          interval_min)
        if task.in_port:
            event = _in_port(event, running, port_days)
        found.append(event)
        if len(found) > MOST_EVENTS:
            raise OutOfRange(f"{task.id}: due more than {MOST_EVENTS} times in the trip; "
                             "look at its interval again", task=task.id, most=MOST_EVENTS)
        run, since = event.run_min, add_days(leaves, event.day)
        left_min = interval_min = now.every_min
        due_on = None if now.months is None else add_months(since, now.months)


def _in_port(event: Event, running: Running, port_days: Sequence[int]) -> Event:
    """Let the work wait for the next stop, or for arrival."""
    place = bisect_left(port_days, event.closes)
    day = port_days[place] if place < len(port_days) else running.days
    return event._replace(day=day, closes=day, run_min=running.until(day))


def _at_the_end(events: Sequence[Event], running: Running) -> bool:
    if not events:
        return False
    last = events[-1]
    if last.closes == last.day:
        return last.day == running.days
    ran_today = running.days > 0 and running.sums[-1] > running.sums[-2]
    return ran_today and last.day == running.days - 1 and last.run_min == running.total


def _soon(now: Clock, run_since: int, arrives: date) -> bool:
    by_hours = now.interval_min is not None and (
        (now.used_min + run_since) * 10 >= now.interval_min * COMING_TENTHS)
    by_date = now.due_on is not None and (now.due_on - arrives).days <= COMING_DAYS
    return by_hours or by_date
