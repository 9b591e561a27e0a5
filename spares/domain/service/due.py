"""Which service is due today, and when the others will be.

Coming from 90 % of the hours or 30 days before the date; due when reached; overdue
from the next day, or the next step of the counter, on. Both sides count, whichever
comes first. The state goes by what was read; where the last reading is so old that the
hours are likely over, it is coming at least, and the counter is asked for.

What nobody can date is counted from the baseline, if there is one. That gives it a day and can
make it due, but never good: until then its history stays unknown. So it is where only the date
is known of work that goes by hours too: the words then say what the calendar alone would ask.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from math import ceil
from typing import NamedTuple

from spares.domain.dates import add_days
from spares.domain.service.clock import Clock, clock_on
from spares.domain.service.counters import is_to_come, meters
from spares.domain.service.meter import Meter, Reading
from spares.domain.service.task import FitPoint, Machine, Record, Task, counter_owner

COMING_TENTHS = 9       # coming from nine tenths of the interval on
COMING_DAYS = 30
UNKNOWN = "nobody knows when it was last done"
UNREAD = "done on {}, but nobody knows what its counter showed then"


class TaskDue(NamedTuple):
    """The state of one task; what does not apply or is not known is None.

    `state` is done, coming, due, overdue, history-unknown or not-wanted; `due_at_min`
    is what the counter will show [min], `left_min` may be below 0 [min].
    """

    task: str
    state: str
    due_on: date | None = None
    due_at_min: int | None = None
    left_min: int | None = None
    days_left: int | None = None
    estimated: bool = False
    remarks: tuple[str, ...] = ()
    from_baseline: bool = False


def due_tasks(
    today: date,
    machines: Sequence[Machine],
    tasks: Sequence[Task],
    records: Sequence[Record] = (),
    readings: Iterable[tuple[str, Reading]] = (),
    fit_points: Sequence[FitPoint] = (),
    baseline: date | None = None,
) -> list[TaskDue]:
    """Say the state of every task, in the order given.

    Args:
        today: The day asked for [-].
        machines: The machines [-].
        tasks: Their tasks [min, month].
        records: Services done [min on the counter].
        readings: Pairs of machine id and reading [min].
        fit_points: Places that may have retired; a task at one is not wanted [-].
        baseline: Day from which what nobody can date is counted; None for none [-].

    Returns:
        One state a task [-].

    Raises:
        InvalidInput: if a service stands at more than the counter can have shown.

    Source:
        Counting rule of this project.

    Example:
        >>> oil = Task("oil", "gen", every_months=12)
        >>> due_tasks(date(2027, 3, 15), [Machine("gen")], [oil])[0].state
        'history-unknown'
    """
    by_id = {machine.id: machine for machine in machines}
    gauge = meters(by_id, tasks, records, readings, today)
    done: dict[str, list[Record]] = {}
    for record in records:
        done.setdefault(record.task, []).append(record)
    retired = {point.id for point in fit_points if point.retired}
    return [
        TaskDue(task.id, "not-wanted", remarks=("its place is no longer fitted",))
        if task.fit_point in retired
        else _due(task, done.get(task.id, ()), _meter_of(task, by_id, gauge), today, baseline)
        for task in tasks
    ]


def _meter_of(
    task: Task, machines: Mapping[str, Machine], gauge: Mapping[str, Meter]
) -> Meter | None:
    return gauge.get(counter_owner(task.machine, machines) or "")


def _due(task: Task, records: Sequence[Record], meter: Meter | None, today: date,
         baseline: date | None) -> TaskDue:
    clock = clock_on(task, records, meter, today, today)
    if clock.known:
        return _counted(clock, meter, today)
    words = UNKNOWN if clock.last is None else UNREAD.format(clock.last) + (
        f"; by the calendar it {'was' if clock.due_on < today else 'is'} due on {clock.due_on}"
        if clock.due_on else "")
    told = TaskDue(task.id, "history-unknown", remarks=(words, *clock.remarks))
    if baseline is None or clock.last is not None or is_to_come(baseline, today):
        return told
    since = clock_on(task._replace(first_min=None), [
        Record(task.id, baseline, baseline=True)], meter, today, today)
    if not since.known:
        return told
    found = _counted(since, meter, today)
    return found._replace(
        state=found.state if found.state in ("due", "overdue") else told.state,
        estimated=True, from_baseline=True,
        remarks=(UNKNOWN, f"{'counted' if clock.used_min is None else 'its date is counted'} from "
                 f"the baseline of {baseline}, not from a known service", *found.remarks))


def _counted(clock: Clock, meter: Meter | None, today: date) -> TaskDue:
    by_running = _day_by_running(clock, meter, today)
    left = None if clock.used_min is None or clock.interval_min is None else (
        clock.interval_min - clock.used_min)
    remarks = clock.remarks
    unread = by_running is not None and left > 0 and by_running < today
    if unread:      # the readings are too old to say; the day they point to is gone
        remarks += (f"by the usual running the hours may be over since {by_running}: "
                    "read the counter",)
        by_running = None
    days = [day for day in (clock.due_on, by_running) if day is not None]
    due_on = min(days, default=None)
    from_running = by_running is not None and due_on == by_running and due_on != clock.due_on
    if from_running:
        remarks += ("day worked out from the usual running",)
    return TaskDue(
        clock.task.id, _state(clock, left, today, unread), due_on,
        None if clock.at_total is None else meter.shown_at(clock.at_total + clock.interval_min),
        left, None if due_on is None else (due_on - today).days,
        from_running or unread or clock.estimated, remarks)


def _state(clock: Clock, left_min: int | None, today: date, unread: bool) -> str:
    days = None if clock.due_on is None else (clock.due_on - today).days
    lefts = [left for left in (left_min, days) if left is not None]
    if any(left < 0 for left in lefts):
        return "overdue"
    if any(left == 0 for left in lefts):
        return "due"
    near_hours = left_min is not None and clock.used_min * 10 >= clock.interval_min * COMING_TENTHS
    near_date = days is not None and days <= COMING_DAYS
    return "coming" if near_hours or near_date or unread else "done"


def _day_by_running(clock: Clock, meter: Meter | None, today: date) -> date | None:
    """The day the hours run out, from the usual running; passed ones from the readings.

    Running that was given as it stands today goes on from today.
    """
    if meter is None or not meter.days or clock.used_min is None or clock.interval_min is None:
        return None
    left = clock.interval_min - clock.used_min
    if left <= 0:
        reached = None if clock.at_total is None else meter.day_of(
            clock.at_total + clock.interval_min)
        return reached or meter.days[-1]
    rate = meter.usual_rate()
    # after the last reading nobody ran up the hours of a service that came later still
    seen_on = today if clock.at_total is None else max(meter.days[-1], clock.last)
    days = ceil(left / rate) if rate else None
    # a machine that hardly runs: its hours last beyond the calendar
    return None if days is None or days >= (date.max - seen_on).days else add_days(seen_on, days)
