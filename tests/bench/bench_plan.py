"""How long a plan takes for a vessel far larger than any that will use it."""

from __future__ import annotations

import random

from spares.transfer.compute import kit, trip
from tests.bench.conftest import seconds_of

MACHINES, PARTS, DAYS = 200, 2000, 365


def _request(rng: random.Random) -> dict:
    machines = [f"m{i}" for i in range(MACHINES)]
    parts = range(PARTS)
    return {
        "today": "2027-03-15",
        "trip": {"departs_on": "2027-04-01", "days": DAYS,
                 "hours_per_day": {m: rng.choice([0.5, 2, 4, 8]) for m in machines}},
        "machines": [{"id": m} for m in machines],
        "fit_points": [{"id": f"p{i}", "machine": machines[i % MACHINES], "takes": [f"x{i}"]}
                       for i in parts],
        "tasks": [{"id": f"t{i}", "machine": machines[i % MACHINES], "fit_point": f"p{i}",
                   "every_h": rng.choice([100, 250, 500, 1000]),
                   "every_months": rng.choice([6, 12, 24, None]),
                   "kit": [{"part": f"x{i}", "quantity": rng.choice([1, 2, "1,5"])}]}
                  for i in parts],
        "records": [{"task": f"t{i}", "on": "2026-11-01", "at_h": rng.randint(900, 1000)}
                    for i in parts],
        "readings": [{"machine": m, "on": on, "h": h} for m in machines
                     for on, h in (("2026-10-01", 900), ("2027-03-01", 1100))],
        "parts": [{"id": f"x{i}", "lead_days": 7, "cost": "12,5",
                   "stand_ins": [] if i % 50 else [f"x{i + 1}"]} for i in parts],
        "lots": [{"part": f"x{i}", "quantity": rng.randint(0, 5)} for i in parts],
        "failures": [{"part": f"x{i}", "machine": machines[i % MACHINES],
                      **({"mtbf_h": rng.randint(1000, 30000)} if i % 10 else
                         {"weibull": {"beta": 2.5, "eta_h": 2000 + i, "ages_h": [100 + i % 7]}})}
                     for i in parts]}


def bench_plan(figure):
    request = _request(random.Random(3))
    loaded = trip.Request().load(request)
    figure("plan: 200 machines, 2,000 tasks and lines, a year, with why",
           seconds_of(lambda: trip.answer(loaded), times=3), "s")
    figure("the same request read from JSON",
           seconds_of(lambda: trip.Request().load(request), times=3), "s")


def bench_kit(figure):
    rng = random.Random(4)
    lines = [{"part": f"x{i}", "mu": round(rng.lognormvariate(-1, 1), 4),
              "cost": round(rng.lognormvariate(3, 1), 2), "mass_kg": 1} for i in range(60)]
    loaded = kit.Request().load({"lines": lines, "limits": {"cost": 3000}})
    figure("best kit of 60 lines for money", seconds_of(lambda: kit.answer(loaded)), "s")
