"""The best kit against a published home assignment and a published exercise."""

from __future__ import annotations

from itertools import pairwise
from math import exp, log

import pytest

from spares.domain.provision import Limits, Line, best_kit
from spares.domain.provision.climb import basket, in_order
from spares.domain.provision.demand import compound_poisson

# KTH course SF2863, home assignment 2, 2021: sheet with rates, repair times and prices, and
# a student report with tables 1 to 4; both read in full.
RATES = [50, 40, 45, 50, 25, 48, 60, 35, 15]        # per 1000 h
HOURS = [6, 8, 14, 25, 12, 18, 33, 8, 12]
PRICES = [12, 14, 21, 20, 11, 45, 75, 30, 22]
POINTS = {0: 6.10400, 20: 5.39050, 31: 5.13132, 52: 4.66391, 64: 4.40473, 78: 4.13088,
          98: 3.77552, 143: 3.19699, 218: 2.33506, 248: 2.09084, 323: 1.50229, 345: 1.33756,
          365: 1.20603, 386: 1.07415, 431: 0.85978, 506: 0.54187}
OPTIMA = {0: (0, 6.1040), 100: (98, 3.7755), 150: (143, 3.1970), 350: (345, 1.3376),
          500: (500, 0.6319)}


def _lines(rates, hours, prices):
    """Lines whose gain is the fall of the expected shortage: e^-shortage for protection."""
    lines = []
    for rate, time, price in zip(rates, hours, prices, strict=True):
        demand = compound_poisson(rate * time / 1000, ((1, 1.0),))
        lines.append(Line("part", tuple(exp(-demand.short_beyond(n)) for n in range(12)), price))
    return lines


def _shortage(protection):
    return -log(protection)


def test_efficient_points_by_marginal_analysis():
    """KTH SF2863, 2021: all sixteen efficient points, to five decimals."""
    curve = best_kit(_lines(RATES, HOURS, PRICES), Limits(cost=506)).curve
    found = {point.cost: _shortage(point.protection) for point in curve}
    assert found == pytest.approx(POINTS, abs=5.1e-6)


def test_units_are_bought_in_the_printed_order():
    """KTH SF2863, 2021: parts 4, 5, 3, 1, 2, 4, 6, 7, 8, 7, 9, 4, 3, 6, 7, and the first ratios."""
    lines = _lines(RATES, HOURS, PRICES)
    empty = basket(lines, [float(price) for price in PRICES])
    order = [step.line + 1 for step in in_order(empty)]
    assert order[:15] == [4, 5, 3, 1, 2, 4, 6, 7, 8, 7, 9, 4, 3, 6, 7]
    ratios = [empty.next_step(place).ratio for place in range(9)]
    assert ratios == pytest.approx(
        [0.0216, 0.0196, 0.0223, 0.0357, 0.0236, 0.0129, 0.0115, 0.0081, 0.0075], abs=5.1e-5)


# KTH SF2863, home assignment 2, 2024: a student report, read in full. Rates and times are not
# printed; price and gain of each unit follow from the differences of the printed points.
LATER = [(0, 7.7120), (21, 6.9148), (32, 6.6289), (45, 6.2943), (68, 5.7436), (89, 5.2699),
         (106, 4.9490), (159, 4.2654), (235, 3.3514), (256, 3.1359), (332, 2.4329),
         (355, 2.2223), (387, 1.9307), (410, 1.7395), (463, 1.4200)]


def test_points_of_a_later_assignment_follow_from_the_gains_of_its_units():
    """KTH SF2863, 2024. The printed points round, so that two ratios nearly alike may swap."""
    gains = [(b[0] - a[0], a[1] - b[1]) for a, b in pairwise(LATER)]
    lines = [Line(f"unit {n}", (exp(-gain), 1.0), price) for n, (price, gain) in enumerate(gains)]
    curve = best_kit(lines, Limits(cost=463)).curve
    found = {point.cost: _shortage(point.protection) + LATER[-1][1] for point in curve}
    assert len(found) == len(LATER)
    assert all(found[cost] == pytest.approx(short, abs=1e-9)
               for cost, short in LATER if cost in found)
    assert len(found.keys() & dict(LATER).keys()) >= len(LATER) - 2


@pytest.mark.parametrize(("money", "cost", "shortage"), [(150, 150, 4.5228), (350, 343, 2.3569)])
def test_two_optima_of_the_later_assignment(money, cost, shortage):
    """KTH SF2863, 2024, optimum by dynamic programming, to what the rounded points allow.

    The optima printed for 100 (5.2245) and 500 (1.2318 at 499, s = [2, 1, 2, 3, 1, 1, 3, 1, 1])
    hold second and third units that the printed path never buys, so that their gains are not
    known. The climb's own point below 500 is the printed 1.4200, at 463.
    """
    lines = [Line("unit", (exp(-(a[1] - b[1])), 1.0), b[0] - a[0]) for a, b in pairwise(LATER)]
    kit = best_kit(lines, Limits(cost=money))
    assert (kit.cost, kit.proven) == (cost, True)
    assert _shortage(kit.reached) + LATER[-1][1] == pytest.approx(shortage, abs=1.5e-4)


@pytest.mark.parametrize(("money", "cost", "shortage"), [
    (money, *found) for money, found in OPTIMA.items()])
def test_optimum_by_dynamic_programming(money, cost, shortage):
    """KTH SF2863, 2021: optimum of the report's dynamic programme."""
    kit = best_kit(_lines(RATES, HOURS, PRICES), Limits(cost=money))
    assert kit.cost == cost
    assert _shortage(kit.reached) == pytest.approx(shortage, abs=5.1e-5)
    assert kit.proven


def test_optimal_kit_for_500():
    """KTH SF2863, 2021: s(500) = [1, 2, 2, 2, 1, 2, 3, 1, 1]."""
    assert best_kit(_lines(RATES, HOURS, PRICES), Limits(cost=500)).buy == (
        1, 2, 2, 2, 1, 2, 3, 1, 1)


def test_cargo_loading_with_several_best_ways():
    """Taha's cargo-loading (fly-away kit) exercise, solved in full: capacity 6, masses 4, 1
    and 2, values 70, 20 and 40, any number of each; best 120."""
    values, masses = (70, 20, 40), (4, 1, 2)
    lines = [Line("part", tuple(exp((v * n - 600) / 100) for n in range(7)), 0, m)
             for v, m in zip(values, masses, strict=True)]
    kit = best_kit(lines, Limits(mass_g=6))
    assert sum(v * n for v, n in zip(values, kit.buy, strict=True)) == 120
    assert kit.mass_g <= 6
