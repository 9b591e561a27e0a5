"""A machine's life lived day by day, and what a skipper with paper and pencil makes of it.

Nothing here is shared with the program: days are walked one by one, running is added up
minute for minute, months are told by looking at the calendar every morning.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from typing import Any

ONE = timedelta(days=1)


@dataclass
class Entry:
    """One honest line of the diary: what the engine had run in truth, what its counter showed."""

    day: date
    run: int        # in truth, over all counters [min]
    shown: int      # [min]
    counter: int    # first counter 0, the one that replaced it 1
    read: bool      # read for its own sake; else noted at a service


@dataclass
class Life:
    """One engine from its first day in the diary to the day that is asked about."""

    first: date
    today: date
    daily: list[int]
    begins_at: int
    changed_on: date | None
    new_begins_at: int
    entries: list[Entry] = field(default_factory=list)

    def evening(self, day: date) -> tuple[int, int, int]:
        """Give what had run, what the counter showed, and which one it was, that evening."""
        run, shown, counter, now = self.begins_at, self.begins_at, 0, self.first
        while now <= day:
            more = self.daily[(now - self.first).days]
            if self.changed_on is not None and now == self.changed_on + ONE:
                shown, counter = self.new_begins_at, 1      # fitted after that day's running
            run, shown, now = run + more, shown + more, now + ONE
        return run, shown, counter

    def note(self, day: date, read: bool) -> Entry:
        """Write down the counter that evening."""
        entry = Entry(day, *self.evening(day), read)
        self.entries.append(entry)
        return entry


def a_life(rng: random.Random) -> Life:
    """Make up a life of one to three years; an engine used daily, one to four hours."""
    first = date(2023, 1, 1) + timedelta(days=rng.randrange(800))
    days = rng.randrange(40, 900)
    changed = first + timedelta(days=rng.randrange(5, days - 5)) if rng.random() < 0.3 else None
    return Life(first, first + timedelta(days=days - 1),
                [rng.randrange(60, 241) for _ in range(days)], rng.randrange(500, 9000) * 60,
                changed, rng.choice((0, 0, 300 * 60)))


def month_by_month(start: date, months: int) -> date:
    """Walk the calendar day by day until so many months have come round."""
    day, round_ = start, 0
    while round_ < months:
        day += ONE
        short_month = (day + ONE).month != day.month and day.day < start.day
        if day.day == start.day or short_month:
            round_ += 1
    return day


def believed(life: Life) -> list[Entry]:
    """Give the lines that tell the running: readings, and services nobody read after.

    Goes back from today; a figure of a service counts until a reading of the same counter
    is met. One service alone, with nothing else written down, tells no running.
    """
    met: set[int] = set()
    found: list[Entry] = []
    for entry in sorted(life.entries, key=lambda one: (one.day, one.counter, one.read),
                        reverse=True):
        if entry.read:
            met.add(entry.counter)
        told = (entry.day, entry.counter, entry.shown)
        is_new = told not in [(one.day, one.counter, one.shown) for one in found]
        if is_new and (entry.read or entry.counter not in met):
            found.insert(0, entry)
    if not met and len({one.day for one in found}) < 2:
        return []
    return [replace(one, run=told_run(life, one, found)) for one in found]


def told_run(life: Life, entry: Entry, lines: list[Entry]) -> int:
    """Give the running a line tells: what ran between two counters is in nobody's book."""
    if entry.counter == 0:
        return entry.run
    old = [one.run for one in lines if one.counter == 0]
    return (old[-1] if old else life.new_begins_at) + entry.shown - life.new_begins_at


def spread(lines: list[Entry], day: date) -> int | None:
    """Give the running on a day between two lines, each day an equal share; flat after the last."""
    before = [one for one in lines if one.day <= day]
    after = [one for one in lines if one.day > day]
    if not before:
        return None
    if not after:
        return before[-1].run
    gain, days = after[0].run - before[-1].run, (after[0].day - before[-1].day).days
    share, now = 0, before[-1].day
    while now < day:
        share, now = share + gain, now + ONE
    return before[-1].run + share // days


def day_reached(lines: list[Entry], run: int) -> set[date]:
    """Give the first day by whose evening the shares had reached a running, and the day before."""
    now = lines[0].day
    while spread(lines, now) < run:
        now += ONE
    return {now - ONE, now}


def day_ahead(lines: list[Entry], left: int, now: date) -> date | None:
    """Give the day by which the usual running of the last year will have used up *left*."""
    if len(lines) < 2:
        return None
    last = lines[-1]
    year = [one for one in lines if one.day >= last.day - timedelta(days=365)]
    since = year[0] if len(year) > 1 else lines[-2]
    gain, days = last.run - since.run, (last.day - since.day).days
    if not gain or not days:
        return None
    used = 0
    while used < left * days:
        used, now = used + gain, now + ONE
    return now


@dataclass
class Done:
    """One carrying-out: the day it is dated, its line in the diary if the counter was noted."""

    day: date
    entry: Entry | None
    estimated: bool = False


@dataclass
class Job:
    """One task on the engine with what was done."""

    every_min: int | None
    months: int | None
    first_min: int | None = None
    done: list[Done] = field(default_factory=list)
    used_min: int | None = None


def reckon(life: Life, job: Job, has_counter: bool = True) -> dict[str, Any]:
    """Say where a job stands today, from the diary alone.

    `estimated_due` holds pairs of estimated and day: a line stands for a moment of its
    day, so the day on which hours were reached is known to one day only.
    """
    last = job.done[-1] if job.done else None
    interval = job.first_min if job.first_min and len(job.done) <= 1 else job.every_min
    lines = believed(life) if has_counter else []
    begun = None
    if lines and last is not None and interval is not None:
        begun = told_run(life, last.entry, lines) if last.entry else spread(lines, last.day)
    used = job.used_min if begun is None else max(0, lines[-1].run - begun)
    if interval is not None and used is None or job.months is not None and last is None:
        return {"state": "history-unknown", "due_at": None, "left": None,
                "estimated_due": {(False, None)}}
    left = None if interval is None else interval - used
    dated = month_by_month(last.day, job.months) if job.months else None
    by_running, unread = _by_running(life, lines, begun, interval, left, last and last.day)
    guessed = unread or last is not None and (
        last.estimated or begun is not None and not last.entry)
    state = _live_through(life.today, dated, used, interval)
    return {
        "state": "coming" if state == "done" and unread else state,
        "due_at": None if begun is None else lines[-1].shown + left, "left": left,
        "estimated_due": {
            (True, day) if day and (dated is None or day < dated) else (guessed, dated)
            for day in by_running}}


def _by_running(
    life: Life, lines: list[Entry], begun: int | None, interval: int | None, left: int | None,
    done_on: date | None,
) -> tuple[set[date | None], bool]:
    """Give the days on which the hours may be over, and whether only a reading can tell.

    Hours of a job done after the last line cannot have been used before it was done.
    """
    if left is None or not lines:
        return {None}, False
    if left <= 0:
        return ({lines[-1].day} if begun is None else day_reached(lines, begun + interval)), False
    ahead = day_ahead(lines, left, life.today if begun is None else max(lines[-1].day, done_on))
    unread = ahead is not None and ahead < life.today
    return {None if unread else ahead}, unread


def _live_through(today: date, dated: date | None, used: int | None, interval: int | None) -> str:
    """Tick off the days up to today, then the minutes of the counter."""
    state = "done"
    if dated is not None:
        day = min(today, dated - timedelta(days=31))
        while day < today:
            day += ONE
            if state == "due":
                state = "overdue"
            elif day == dated:
                state = "due"
            elif state == "done" and day >= dated - timedelta(days=30):
                state = "coming"
    if interval is not None:
        by_hours = ("overdue" if used > interval else "due" if used == interval else
                    "coming" if 10 * (interval - used) <= interval else "done")
        order = ("done", "coming", "due", "overdue")
        state = max(state, by_hours, key=order.index)
    return state
