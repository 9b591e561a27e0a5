"""How long a plan takes for a vessel far larger than any that will use it."""

from __future__ import annotations

import gc
import random
from functools import _lru_cache_wrapper
from math import log

import numpy as np
from scipy.optimize import Bounds, LinearConstraint, milp

from spares.domain.provision import Limits, Line, best_kit
from spares.domain.provision.climb import basket, climb, fill, in_order
from spares.domain.provision.counts import poisson
from spares.transfer.compute import kit, trip, trip_shape
from tests.bench.conftest import seconds_of

MACHINES, PARTS, DAYS = 200, 2000, 365
SIZES = (200, 2000, 20_000)
KITS = 10


def _request(rng: random.Random, lines: int = PARTS) -> dict:
    machines = [f"m{i}" for i in range(max(1, lines * MACHINES // PARTS))]
    parts = range(lines)
    return {
        "today": "2027-03-15",
        "trip": {"departs_on": "2027-04-01", "days": DAYS,
                 "hours_per_day": {m: rng.choice([0.5, 2, 4, 8]) for m in machines}},
        "machines": [{"id": m} for m in machines],
        "fit_points": [{"id": f"p{i}", "machine": machines[i % len(machines)],
                        "takes": [f"x{i}"]} for i in parts],
        "tasks": [{"id": f"t{i}", "machine": machines[i % len(machines)], "fit_point": f"p{i}",
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
        "failures": [{"part": f"x{i}", "machine": machines[i % len(machines)],
                      **({"mtbf_h": rng.randint(1000, 30000)} if i % 10 else
                         {"weibull": {"beta": 2.5, "eta_h": 2000 + i, "ages_h": [100 + i % 7]}})}
                     for i in parts]}


def _planning_s(loaded: dict, times: int) -> float:
    """Time of one plan [s], with nothing remembered of the plan before."""
    kept = [one for one in gc.get_objects() if isinstance(one, _lru_cache_wrapper)
            and one.__module__.startswith("spares.")]

    def work() -> None:
        for one in kept:
            one.cache_clear()
        trip.answer(loaded)
    return seconds_of(work, times)


def bench_plan(figure):
    request = _request(random.Random(3))
    loaded = trip_shape.Request().load(request)
    figure("plan: 200 machines, 2,000 tasks and lines, a year, with why",
           _planning_s(loaded, times=5), "s", limit=0.5)
    figure("the same request read from JSON",
           seconds_of(lambda: trip_shape.Request().load(request), times=3), "s")


def bench_growth(figure):
    """Time a line against that of n log n: 1 is n log n, below is better."""
    taken = {n: _planning_s(trip_shape.Request().load(_request(random.Random(3), n)),
                            times=1 if n > PARTS else 3) for n in SIZES}
    for n, seconds in taken.items():
        figure(f"plan of {n:,} lines", seconds, "s")
    few, many = SIZES[0], SIZES[-1]
    figure("growth from 200 to 20,000 lines over that of n log n",
           taken[many] / taken[few] / (many * log(many) / (few * log(few))), "times", limit=1)


def bench_kit(figure):
    rng = random.Random(4)
    lines = [{"part": f"x{i}", "mu": round(rng.lognormvariate(-1, 1), 4),
              "cost": round(rng.lognormvariate(3, 1), 2), "mass_kg": 1} for i in range(60)]
    loaded = kit.Request().load({"lines": lines, "limits": {"cost": 3000}})
    figure("best kit of 60 lines for money", seconds_of(lambda: kit.answer(loaded)), "s")


def bench_kit_against_highs(figure):
    """The climb with fill, and the whole search, against an integer programme in the same run."""
    rng = random.Random(29)
    kits = []
    for _ in range(KITS):
        lines = [Line.of(f"p{i}", poisson(rng.lognormvariate(-1, 1)), 0,
                         round(100 * rng.lognormvariate(3, 1))) for i in range(40)]
        enough = sum(line.cost * next(j for j, f in enumerate(line.levels) if f >= 0.99)
                     for line in lines)
        kits.append((lines, Limits(cost=round(enough * rng.uniform(0.5, 1)))))
    climbing = seconds_of(lambda: [_climb(*one) for one in kits]) / KITS
    searching = seconds_of(lambda: [best_kit(*one) for one in kits], times=3) / KITS
    solving = seconds_of(lambda: [_solve(*one) for one in kits], times=1) / KITS
    figure("kit of 40 lines by climb and fill", climbing, "s")
    figure("the same with exchange, bound and search", searching, "s")
    figure("the same by HiGHS", solving, "s")
    figure("climb and fill faster than HiGHS", solving / climbing, "times")


def _climb(lines: list[Line], limits: Limits) -> None:
    empty = basket(lines, [float(line.cost) for line in lines])
    fill(climb(empty, limits)[0], limits, in_order(empty))


def _solve(lines: list[Line], limits: Limits) -> None:
    units = [(line, k) for line in lines for k in range(1, len(line.levels))]
    gains = np.array([line.gains[k] - line.gains[k - 1] for line, k in units])
    costs = np.array([[line.cost for line, _ in units]])
    milp(-gains, integrality=np.ones(len(units)), bounds=Bounds(0, 1),
         constraints=LinearConstraint(costs, -np.inf, [limits.cost]),
         options={"mip_rel_gap": 0})
