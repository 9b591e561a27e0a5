"""Protection against trips lived through by chance, failure by failure.

The share of simulated trips without a shortage must agree with the protection worked out,
within three standard errors; the seed is fixed.
"""

from __future__ import annotations

import random
from math import exp, sqrt

import pytest

from tests.plans import LONG, failure, line, plan, task

TRIPS = 100_000 if LONG else 20_000


def _poisson(rng: random.Random, mean: float) -> int:
    count, left = 0, rng.random()
    chance = exp(-mean)
    while left > chance:
        left -= chance
        count += 1
        chance *= mean / count
    return count


def _lives(rng: random.Random, beta: float, eta: float, age: float, hours: float) -> list[float]:
    """Hours at which a unit of that age fails, each time replaced by a new piece."""
    at, found = 0.0, []
    while True:
        left = eta * ((age / eta) ** beta + rng.expovariate(1)) ** (1 / beta) - age
        at, age = at + left, 0.0
        if at > hours:
            return found
        found.append(at)


def _share(trials) -> float:
    return sum(trials) / TRIPS


def _agrees(found: float, simulated: float) -> bool:
    return abs(found - simulated) <= 3 * sqrt(max(found * (1 - found), 1e-6) / TRIPS) + 1e-4


def _protection(rows, hours, held, **more):
    return line(plan(days=60, hours={"m": hours}, failures=rows, **more,
                     lots=[{"part": "p", "quantity": held}]))["protection"]


@pytest.mark.parametrize(("mtbf", "units", "hours", "held"), [
    (4000, 6, 240, 2), (1500, 2, 360, 1), (1000, 8, 300, 4)])
def test_constant_rate(mtbf, units, hours, held):
    rng = random.Random(1)
    found = _protection([failure(mtbf_h=mtbf, units=units)], hours, held)
    simulated = _share(_poisson(rng, units * hours / mtbf) <= held for _ in range(TRIPS))
    assert _agrees(found, simulated)


def test_one_or_two_pieces_a_failure():
    rng = random.Random(2)
    found = _protection([failure(mtbf_h=1000, pieces=[[1, 0.7], [2, 0.3]])], 600, 3)
    simulated = _share(
        sum(1 if rng.random() < 0.7 else 2 for _ in range(_poisson(rng, 0.6))) <= 3
        for _ in range(TRIPS))
    assert _agrees(found, simulated)


@pytest.mark.parametrize(("beta", "eta", "ages", "hours", "held"), [
    (2.5, 1200, [400, 900], 300, 2), (4, 500, [0], 1200, 3), (1.5, 4000, [2500] * 4, 600, 2)])
def test_wear_out_of_any_age(beta, eta, ages, hours, held):
    rng = random.Random(3)
    row = failure(weibull={"beta": beta, "eta_h": eta, "ages_h": ages})
    found = _protection([row], hours, held)
    simulated = _share(sum(len(_lives(rng, beta, eta, age, hours)) for age in ages) <= held
                       for _ in range(TRIPS))
    assert _agrees(found, simulated)


def test_planned_renewals_and_wear_out_together():
    """Interval 500 h, 400 h used, 900 h ahead: renewed at 100 h and 600 h on fixed days."""
    rng = random.Random(4)
    row = failure(weibull={"beta": 2.5, "eta_h": 1200, "ages_h": [400]}, renewed_by="t")
    found = _protection([row], 900, 3, tasks=[task(500, used_h=400, kit=[{"part": "p"}])])

    def failures() -> int:
        return sum(len(_lives(rng, 2.5, 1200, age, run))
                   for age, run in ((400, 100), (0, 500), (0, 300)))

    assert _agrees(found, _share(failures() <= 1 for _ in range(TRIPS)))


def test_second_window_of_a_piece_that_may_have_failed_in_the_first():
    rng = random.Random(5)
    answer = plan(days=60, hours={"m": 900}, trip={"stops": [{"day": 20, "sells": ["p"]}]},
                  failures=[failure(weibull={"beta": 2.5, "eta_h": 1200, "ages_h": [400]})])
    stop = answer["stops"][0]["lines"][0]
    held = stop["left_over"] + stop["buy"]
    simulated = _share(sum(300 < at for at in _lives(rng, 2.5, 1200, 400, 900)) <= held
                       for _ in range(TRIPS))
    assert _agrees(stop["protection"], simulated)


def test_whole_kit_of_three_lines():
    rng = random.Random(6)
    rows = [{"part": p, "machine": "m", "mtbf_h": mtbf} for p, mtbf in
            (("a", 800), ("b", 2000), ("c", 5000))]
    held = {"a": 1, "b": 0, "c": 0}
    found = plan(hours={"m": 400}, failures=rows, lots=[
        {"part": p, "quantity": n} for p, n in held.items()])["protection"]["reached"]
    simulated = _share(all(_poisson(rng, 400 / row["mtbf_h"]) <= held[row["part"]]
                           for row in rows) for _ in range(TRIPS))
    assert _agrees(found, simulated)
