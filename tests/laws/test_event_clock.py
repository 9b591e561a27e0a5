"""The count of services against a clock that runs minute by minute."""

from __future__ import annotations

import random
from dataclasses import dataclass
from datetime import date, timedelta

from spares.domain.service.clock import Clock
from spares.domain.service.events import Running, course
from spares.domain.service.task import Task
from tests.plans import LONG

LEAVES = date(2027, 4, 1)
TASKS = 3000 if LONG else 300


@dataclass
class Story:
    """One task, its state at departure, the running of its machine, the stops."""

    every_min: int | None
    months: int | None
    used: int
    last: date | None
    daily: list[int]
    ports: list[int]


def _story(rng: random.Random) -> Story:
    days = rng.randrange(0, 60)
    kind = rng.choice(("hours", "months", "both"))
    every = rng.randrange(30, 1200) if kind != "months" else None
    daily = [rng.choice((0, 0, rng.randrange(0, 240))) for _ in range(days)]
    if rng.random() < 0.5:
        daily = [120] * days
    last = LEAVES - timedelta(days=rng.randrange(0, 200)) if rng.random() < 0.9 else None
    return Story(every, rng.randrange(1, 7) if kind != "hours" else None,
                 rng.randrange(0, 2 * (every or 1)), last, daily,
                 sorted(rng.sample(range(days + 1), rng.randrange(0, 3)))
                 if days > 3 and rng.random() < 0.3 else [])


def _months_after(day: date, months: int) -> date:
    """Go on month by month on the calendar; the last day of a month that is too short."""
    year, month = day.year, day.month
    for _ in range(months):
        year, month = (year + 1, 1) if month == 12 else (year, month + 1)
    while True:
        try:
            return date(year, month, day.day)
        except ValueError:
            day = day - timedelta(days=1)


def _by_the_minute(story: Story, in_port: bool) -> tuple[bool, list[int]]:
    """Live through the trip minute by minute, looking at the calendar every morning."""
    used, last = story.used, story.last
    before = last is None or (story.every_min is not None and used >= story.every_min)
    if not before and story.months is not None:
        before = _months_after(last, story.months) <= LEAVES
    if before:
        used, last = 0, LEAVES
    done, waiting = [], False
    for day in range(len(story.daily) + 1):
        morning = LEAVES + timedelta(days=day)
        if day > 0 and story.months is not None and not waiting and (
                _months_after(last, story.months) <= morning):
            waiting = True
            if not in_port:
                done.append(day)
                used, last, waiting = 0, morning, False
        if in_port and waiting and (day in story.ports or day == len(story.daily)):
            done.append(day)
            used, last, waiting = 0, morning, False
        for _ in range(story.daily[day] if day < len(story.daily) else 0):
            used += 1
            if story.every_min is not None and used >= story.every_min and not waiting:
                waiting = True
                if not in_port:
                    done.append(day)
                    used, last, waiting = 0, morning, False
    return before, done


def _counted(story: Story, in_port: bool) -> tuple[bool, list[int]]:
    task = Task("t", "m", every_min=story.every_min, every_months=story.months, in_port=in_port)
    clock = Clock(task, story.last is not None, story.used if story.every_min else None,
                  story.every_min, story.every_min, story.last, story.months)
    found = course(clock, Running.of(story.daily), LEAVES, story.ports)
    return found.before, [event.day for event in found.events]


def test_services_are_those_of_a_clock_that_runs_by_the_minute():
    rng = random.Random(20270401)
    events = 0
    for number in range(TASKS):
        story = _story(rng)
        in_port = number % 5 == 0
        expected = _by_the_minute(story, in_port)
        assert _counted(story, in_port) == expected, (number, story)
        events += len(expected[1])
    assert events > 2 * TASKS / 3       # the stories do hold something to count


def test_minutes_of_a_machine_spread_evenly_and_add_up():
    rng = random.Random(5)
    for _ in range(200):
        total, days = rng.randrange(0, 10**6), rng.randrange(1, 400)
        sums = Running.even(total, days).sums
        daily = [b - a for a, b in zip(sums, sums[1:], strict=False)]
        assert sum(daily) == total
        assert max(daily) - min(daily) <= 1
        assert daily == sorted(daily, reverse=True)     # the remainder on the earliest days
