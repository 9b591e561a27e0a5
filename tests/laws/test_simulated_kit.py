"""A whole list against trips lived through by chance, written apart from the planner.

Every failure line, and all of them together, must agree with the share of 100,000 simulated
trips without a shortage within three standard errors. Machines' hours are given; the seed is
fixed. Draws of one trip are independent, as failures of different parts are.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from tests.plans import plan, task

TRIPS = 100_000
HOURS = {"a": 180, "b": 180, "gen": 90, "wmk": 300}     # in 60 days
DAYS = 60
WORN = {"beta": 2.5, "eta_h": 1200, "ages_h": [400, 900]}

FAILURES = [
    # one seal on three machines: pooled
    {"part": "seal", "machine": "a", "mtbf_h": 3000},
    {"part": "seal", "machine": "b", "mtbf_h": 3000},
    {"part": "seal", "machine": "gen", "mtbf_h": 2500},
    {"part": "hose", "machine": "a", "units": 6, "mtbf_h": 3000},
    {"part": "nozzle", "machine": "gen", "units": 8, "mtbf_h": 900},
    # one belt or both of a pair
    {"part": "belt", "machine": "a", "mtbf_h": 300, "pieces": [[1, 0.7], [2, 0.3]]},
    {"part": "lamp", "mtbf_days": 50, "units": 2},
    {"part": "pump", "machine": "wmk", "mtbf_h": 375, "spread": 2},
    {"part": "relay", "machine": "wmk", "own_log": {"failures": 3, "hours": 2000}},
    {"part": "impeller", "machine": "wmk", "units": 2, "weibull": WORN},
    {"part": "anode", "machine": "wmk", "weibull": {"beta": 4, "eta_h": 125, "ages_h": [0]}},
    {"part": "bearing", "machine": "a", "units": 4,
     "weibull": {"beta": 1.5, "eta_h": 4000, "ages_h": [2500] * 4}},
    # renewed by plan at 100 running hours, from age 400
    {"part": "lip", "machine": "wmk", "renewed_by": "lips",
     "weibull": {"beta": 2.5, "eta_h": 1200, "ages_h": [400]}},
]
HELD = {"seal": 1, "hose": 2, "nozzle": 2, "belt": 2, "lamp": 4, "pump": 2, "relay": 1,
        "impeller": 2, "anode": 3, "bearing": 2, "lip": 2, "plate": 3}


def _lives(rng, beta: float, eta: float, age: float, hours: float) -> np.ndarray:
    """Failures of one unit in each trip: the first life from its age on, then new ones."""
    count, alive = np.zeros(TRIPS, int), np.full(TRIPS, True)
    at = eta * ((age / eta) ** beta + rng.exponential(size=TRIPS)) ** (1 / beta) - age
    while (alive := alive & (at <= hours)).any():
        count += alive
        at = at + eta * rng.weibull(beta, TRIPS)
    return count


def _needed(rng) -> dict[str, np.ndarray]:
    """Pieces that chance takes in each trip, part by part."""
    belts = rng.poisson(180 / 300, TRIPS)
    rate = rng.gamma(3.5, 1 / 2000, TRIPS)      # what three failures in 2,000 h say of a rate
    return {
        "seal": (rng.poisson(180 / 3000, TRIPS) + rng.poisson(180 / 3000, TRIPS)
                 + rng.poisson(90 / 2500, TRIPS)),
        "hose": sum(rng.poisson(180 / 3000, TRIPS) for _ in range(6)),
        "nozzle": sum(rng.poisson(90 / 900, TRIPS) for _ in range(8)),
        "belt": belts + rng.binomial(belts, 0.3),
        "lamp": rng.poisson(2 * DAYS / 50, TRIPS),
        # mean .8, variance 1.6: a Poisson whose mean is gamma of mean .8 and variance .8
        "pump": rng.poisson(rng.gamma(0.8, 1.0, TRIPS)),
        "relay": rng.poisson(rate * 300),
        "impeller": sum(_lives(rng, 2.5, 1200, age, 300) for age in (400, 900)),
        "anode": _lives(rng, 4, 125, 0, 300),
        "bearing": sum(_lives(rng, 1.5, 4000, 2500, 180) for _ in range(4)),
        "lip": 1 + _lives(rng, 2.5, 1200, 400, 100) + _lives(rng, 2.5, 1200, 0, 200),
        # four plates looked at, once; half of them are renewed
        "plate": rng.binomial(4, 0.5, TRIPS),
    }


@pytest.fixture(scope="module")
def planned():
    tasks = [task(500, used_h=400, id="lips", machine="wmk", kit=[{"part": "lip"}]),
             task(100, used_h=50, id="plates", machine="gen",
                  kit=[{"part": "plate", "quantity": 4, "share": 0.5}])]
    return plan(days=DAYS, hours=HOURS, tasks=tasks, failures=FAILURES,
                machines=[{"id": machine} for machine in HOURS],
                lots=[{"part": part, "quantity": held} for part, held in HELD.items()])


@pytest.fixture(scope="module")
def served() -> dict[str, np.ndarray]:
    """In which trips each part was enough."""
    return {part: needed <= HELD[part]
            for part, needed in _needed(np.random.default_rng(41)).items()}


def _z(found: float, share: float) -> float:
    return (share - found) / sqrt(found * (1 - found) / TRIPS)


@pytest.mark.parametrize("part", HELD)
def test_a_line_is_enough_in_as_many_trips_as_it_says(planned, served, part):
    found = next(row["protection"] for row in planned["lines"] if row["part"] == part)
    z = _z(found, served[part].mean())
    print(f"{part}: planned {found:.5f}, simulated {served[part].mean():.5f}, z {z:+.1f}")
    assert abs(z) <= 3


def test_the_whole_list_is_enough_in_as_many_trips_as_it_says(planned, served):
    found = planned["protection"]["reached"]
    share = np.logical_and.reduce(list(served.values())).mean()
    print(f"whole: planned {found:.5f}, simulated {share:.5f}, z {_z(found, share):+.1f}")
    assert set(served) == {row["part"] for row in planned["lines"]}
    assert abs(_z(found, share)) <= 3
