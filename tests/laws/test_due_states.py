"""Where every service stands, against a diary kept day by day with paper and pencil."""

from __future__ import annotations

import random
from collections import Counter
from datetime import date, timedelta
from typing import Any

from spares.actions.compute import compute
from tests.laws.diary import Done, Entry, Job, Life, a_life, month_by_month, reckon

TASKS = 3000
PER_LIFE = 6
COUNTERS = ("eng", "gearbox", "winch")      # its own, the engine's, none


def _days(rng: random.Random, life: Life, most: int) -> list[date]:
    days = (life.today - life.first).days + 1
    return sorted(life.first + timedelta(days=d)
                  for d in rng.sample(range(days), min(days, rng.randrange(0, most))))


def _job(rng: random.Random, life: Life) -> Job:
    kind = rng.choice(("hours", "months", "both"))
    job = Job(rng.randrange(20, 900) * 60 if kind != "months" else None,
              rng.randrange(1, 25) if kind != "hours" else None)
    if job.every_min and rng.random() < 0.2:
        job.first_min = rng.randrange(10, 100) * 60
    for day in _days(rng, life, 4):
        job.done.append(Done(day, life.note(day, False) if rng.random() < 0.7 else None,
                             rng.random() < 0.1))
    if not job.done and job.every_min and rng.random() < 0.5:
        job.used_min = rng.randrange(0, 2 * job.every_min)
    return job


def _hours(minutes: int | None) -> str | None:
    """Write minutes as hours, exact enough to come back as the same minutes."""
    return None if minutes is None else f"{minutes / 60:.4f}"


def _asked(rng: random.Random, life: Life, jobs: list[tuple[str, Job]]) -> dict[str, Any]:
    """Write the diary as a request, with slips that the program has to see through."""
    readings = [{"machine": rng.choice(("eng", "gearbox")), "on": one.day.isoformat(),
                 "h": _hours(one.shown),
                 "new_counter": one.counter == 1 and one.day == life.changed_on}
                for one in life.entries if one.read]
    _slip(rng, life, readings)
    if [one for one in life.entries if one.read] and rng.random() < 0.3:
        readings.append({"machine": "eng", "h": 90_000,
                         "on": (life.today + timedelta(days=rng.choice((2, 366)))).isoformat()})
    records = [{"task": f"t{n}", "on": one.day.isoformat(), "estimated": one.estimated,
                "at_h": _hours(one.entry.shown) if one.entry else None}
               for n, (_, job) in enumerate(jobs) for one in job.done]
    if rng.random() < 0.2:
        records.append({"task": "t0", "on": (life.today + timedelta(days=365)).isoformat()})
    return {
        "today": life.today.isoformat(), "readings": sorted(readings, key=lambda r: r["on"]),
        "machines": [{"id": "eng"}, {"id": "gearbox", "counter": "eng"},
                     {"id": "winch", "counter": "none"}],
        "tasks": [{"id": f"t{n}", "machine": machine, "every_h": _hours(job.every_min),
                   "every_months": job.months, "first_h": _hours(job.first_min),
                   "used_h": _hours(job.used_min)} for n, (machine, job) in enumerate(jobs)],
        "records": rng.sample(records, len(records))}


def _slip(rng: random.Random, life: Life, readings: list[dict[str, Any]]) -> None:
    """Add readings that nobody would believe: far below that day's, or ten times it."""
    for row in rng.sample(readings, min(len(readings), 2)):
        if row is readings[0] or row["new_counter"] or rng.random() < 0.5:
            continue
        hours = float(row["h"])
        readings.insert(readings.index(row) + 1, {
            **row, "h": round(hours / 10 if hours > 150 else hours * 10 + 10_000, 1)})


def _a_life_with_jobs(rng: random.Random) -> tuple[Life, list[tuple[str, Job]]]:
    life = a_life(rng)
    for day in _days(rng, life, rng.choice((2, 6, 30))):
        life.note(day, True)
    jobs = [(rng.choice(COUNTERS), _job(rng, life)) for _ in range(PER_LIFE)]
    for one in (one for machine, job in jobs if machine == "winch" for one in job.done):
        if one.entry is not None:           # nothing to note there
            life.entries.remove(one.entry)
            one.entry = None
    if life.changed_on is not None:
        if rng.random() < 0.7:              # the old one is read as it comes off
            life.note(life.changed_on, True)
        run, _, _ = life.evening(life.changed_on)
        life.entries.append(Entry(life.changed_on, run, life.new_begins_at, 1, True))
    life.entries.sort(key=lambda one: (one.day, one.counter))
    for machine, job in jobs:
        if rng.random() < 0.15:
            _to_the_point(rng, life, job, machine != "winch")
    return life, jobs


def _to_the_point(rng: random.Random, life: Life, job: Job, has_counter: bool) -> None:
    """Set the intervals so that the job is due today, or a minute or a day beside it."""
    left = reckon(life, job, has_counter)["left"]
    if left is not None and job.first_min is None and job.every_min > left + 1:
        job.every_min -= left + rng.choice((-1, 0, 0, 1))
    if job.months and len(job.done) == 1 and not job.done[0].entry:
        job.months, back = rng.randrange(1, 13), life.today
        while month_by_month(back, job.months) > life.today:
            back -= timedelta(days=1)
        job.done[0].day = back + timedelta(days=rng.choice((-1, 0, 0, 1)))


def test_states_are_those_of_a_diary_kept_day_by_day():
    rng = random.Random(20270315)
    states: Counter[str] = Counter()
    for number in range(TASKS // PER_LIFE):
        life, jobs = _a_life_with_jobs(rng)
        request = _asked(rng, life, jobs)
        for (machine, job), got in zip(jobs, compute("service", request)["tasks"], strict=True):
            expected = reckon(life, job, machine != "winch")
            minutes = {name: None if got[name] is None else round(got[name] * 60)
                       for name in ("due_at_h", "hours_left")}
            due_on = got["due_on"] and date.fromisoformat(got["due_on"])
            assert got["state"] == expected["state"], (number, got, expected)
            assert minutes["hours_left"] == expected["left"], (number, got, expected)
            assert minutes["due_at_h"] == expected["due_at"], (number, got, expected)
            assert (got["estimated"], due_on) in expected["estimated_due"], (number, got, expected)
            assert got["days_left"] == (due_on and (due_on - life.today).days)
            states[got["state"]] += 1
    # the lives do hold something of each
    assert all(states[state] > TASKS / 60 for state in (
        "done", "coming", "due", "overdue", "history-unknown")), states
