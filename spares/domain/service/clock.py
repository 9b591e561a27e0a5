"""Where a service stands on a day: running since it was last done, and its due date.

A service nobody can date is *history unknown*. It is never taken for fine.
"""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from spares.domain.dates import add_months
from spares.domain.service.counters import TO_COME, is_to_come
from spares.domain.service.hours import say_hours
from spares.domain.service.meter import OLD_READING_DAYS, Meter
from spares.domain.service.task import Record, Task


class Clock(NamedTuple):
    """One task on one day; what does not apply is None.

    `used_min` and `interval_min` are the hour side, `last` and `months` the calendar
    side, `every_min` the interval that follows the one now running.
    """

    task: Task
    known: bool
    used_min: int | None = None
    interval_min: int | None = None
    every_min: int | None = None
    last: date | None = None
    months: int | None = None
    at_total: int | None = None
    estimated: bool = False
    remarks: tuple[str, ...] = ()

    @property
    def due_on(self) -> date | None:
        """The day the calendar side falls due."""
        if self.months is None or self.last is None:
            return None
        return add_months(self.last, self.months)

    def is_due(self, day: date) -> bool:
        """Tell whether it is due by hours now or by the calendar on that day."""
        if not self.known:
            return True
        by_hours = self.interval_min is not None and self.used_min >= self.interval_min
        return by_hours or (self.due_on is not None and self.due_on <= day)

    def done(self, day: date) -> Clock:
        """Give the clock just after the work is done: both sides start anew."""
        return Clock(self.task, True, None if self.every_min is None else 0, self.every_min,
                     self.every_min, day, self.months)


def clock_on(
    task: Task,
    records: Sequence[Record],
    meter: Meter | None,
    today: date,
    day: date,
    as_usual: bool = False,
) -> Clock:
    """Say where a task stands on a day.

    Args:
        task: The task [-].
        records: Its own records [min on the counter], in any order.
        meter: Meter of its machine, None without a counter or readings [-].
        today: Day the readings are seen from [-].
        day: Day asked for, today or later [-].
        as_usual: Whether the machine runs on as usual until then [-].

    Returns:
        The clock of the task on that day [min, month].

    Source:
        Counting rule of this project.

    Example:
        >>> oil = Task("oil", "gen", every_min=250 * 60, used_min=100 * 60)
        >>> clock_on(oil, [], None, date(2027, 3, 15), date(2027, 4, 1)).used_min
        6000
    """
    done = [record for record in records if not is_to_come(record.on, today)]
    last = max(done, key=lambda r: (r.on, r.at_min or 0), default=None)
    first = task.first_min is not None and len(done) <= 1
    interval = task.first_min if first else task.every_min
    remarks = [f"done on {record.on}: not used, {TO_COME}"
               for record in records if is_to_come(record.on, today)]
    if last is not None and not last.whole:
        remarks.append(f"last done known only roughly, taken as {last.on}")
    if last is not None and last.estimated:
        remarks.append("last done is the owner's estimate")
    if last is not None and last.doubt is not None:
        remarks.append(f"{say_hours(last.at_min or 0)} at the service of {last.on} not used: "
                       f"{last.doubt}")
        last = last._replace(at_min=None)
    if first:
        remarks.append(f"first interval {say_hours(interval)}")
    used = total = None
    if interval is not None:
        used, total = _used(task, last, meter, (today, day, as_usual), remarks)
    unknown = (interval is not None and used is None) or (
        task.every_months is not None and last is None)
    estimated = last is not None and (last.estimated or (total is not None
                                                         and last.at_min is None))
    return Clock(
        task, not unknown, used, interval, task.every_min, last.on if last else None,
        task.every_months, total, estimated, tuple(remarks))


def _used(
    task: Task, last: Record | None, meter: Meter | None,
    span: tuple[date, date, bool], remarks: list[str],
) -> tuple[int | None, int | None]:
    """Running since the service, and the meter's total at it [min]; None where not known."""
    today, day, as_usual = span
    rate = meter.usual_rate() if meter is not None and as_usual else None
    if as_usual and rate is None and day > today:
        remarks.append("running before departure not known, none assumed")
    total = _total_at_service(last, meter)
    used, ahead = task.used_min, 0
    if meter is not None and total is not None and (
            last.at_min is not None or task.used_min is None):
        ahead = _run_on(rate, max(meter.days[-1], last.on), day)
        used = max(0, meter.totals[-1] - total) + ahead
        _remark_age(meter, today, remarks)
        if last.at_min is None:
            at = "baseline" if last.baseline else "last service"
            remarks.append(f"counter at the {at} worked out from the readings around it")
    else:
        total = None
        if used is not None:
            ahead = _run_on(rate, today, day)
            used += ahead
    if ahead:
        remarks.append(f"{say_hours(ahead)} of running assumed until {day}, as usual")
    return used, total


def _total_at_service(last: Record | None, meter: Meter | None) -> int | None:
    if last is None or meter is None:
        return None
    if last.at_min is not None:
        return meter.total_shown(last.on, last.at_min, last.latest)
    return meter.total_on(last.on)


def _run_on(rate: Fraction | None, seen_on: date, day: date) -> int:
    if rate is None:
        return 0
    days = (day - seen_on).days
    return max(0, (2 * rate.numerator * days + rate.denominator) // (2 * rate.denominator))


def _remark_age(meter: Meter, today: date, remarks: list[str]) -> None:
    age = (today - meter.days[-1]).days
    if age > OLD_READING_DAYS:
        remarks.append(f"last trusted reading is of {meter.days[-1]}, {age} days old")
    if meter.doubtful:
        reading, doubt = meter.doubtful[-1]
        if reading.on >= meter.days[-1]:
            remarks.append(
                f"reading {say_hours(reading.minutes)} of {reading.on} not used: {doubt.words}")
