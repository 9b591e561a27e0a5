"""The best kit against a published home assignment and a published exercise."""

from __future__ import annotations

from math import exp, log

import pytest

from spares.domain.provision import Limits, Line, best_kit
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
