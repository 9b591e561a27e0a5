"""Reference values of distributions, worked out once with scipy 1.17.1 and reliability 0.9.0.

Each row names the call that gave its value; the value stands here as a literal, so that a
later library and this program are both held to it.
"""

from __future__ import annotations

from itertools import accumulate
from math import log

import numpy as np
import pytest
from scipy.optimize import minimize_scalar
from scipy.stats import binom, chi2, nbinom, weibull_min
from scipy.stats import poisson as scipys

from spares.domain.provision.counts import binomial, mean_of, negative_binomial, poisson, repeated
from spares.domain.provision.demand import Demand, compound_poisson, pieces_of
from spares.domain.provision.failure import Failure, OwnLog, Stretch, Weibull, demand
from spares.domain.provision.renewal import mean_life, renewals

ONE = 1000      # thousandths


def _reached(pmf, spares):
    return Demand(ONE, tuple(pmf)).protection(spares * ONE)


@pytest.mark.parametrize(("level", "mean", "spares", "reached"), [
    (0.95, 0.8, 2, 0.952577), (0.80, 0.8, 1, 0.808792), (0.95, 0.05, 0, 0.951229),
    (0.95, 0.0515, 1, 0.998718), (0.95, 0.355, 1, 0.950090), (0.95, 0.36, 2, 0.994049),
    (0.95, 2, 5, 0.983436), (0.99, 3, 8, 0.996197), (0.95, 10, 15, 0.951260),
    (0.90, 30, 37, 0.910987), (0.95, 100, 117, 0.957155), (0.98, 0.375, 2, 0.993348)])
def test_poisson_quantile_and_what_it_holds(level, mean, spares, reached):
    """`poisson.ppf(level, mean)` and `poisson.cdf(spares, mean)`."""
    ours = Demand(ONE, poisson(mean))
    assert ours.enough(level) == spares * ONE
    assert ours.protection(spares * ONE) == pytest.approx(reached, abs=1e-6)
    assert scipys.cdf(spares, mean) == pytest.approx(reached, abs=1e-6)


def test_one_spare_less_just_misses():
    """`poisson.cdf(1, .36)`, `cdf(4, 2)`, `cdf(7, 3)`."""
    assert [_reached(poisson(m), s) for m, s in ((0.36, 1), (2, 4), (3, 7))] == pytest.approx(
        [0.948840, 0.947347, 0.988095], abs=1e-6)


def test_wide_spread_of_mean_0_8():
    """`nbinom.cdf([0, 1, 2, 3], .8, .5)`."""
    ours = list(accumulate(negative_binomial(0.8, 0.5)))[:4]
    assert ours == pytest.approx([0.574349, 0.804089, 0.907472, 0.955717], abs=1e-6)
    assert nbinom.cdf([0, 1, 2, 3], 0.8, 0.5) == pytest.approx(ours, abs=1e-9)


@pytest.mark.parametrize(("failures", "logged", "ahead", "reached"), [
    (1, 1000, 300, 0.975562), (0, 500, 300, 0.980491), (3, 2000, 400, 0.952008)])
def test_two_spares_by_an_own_log(failures, logged, ahead, reached):
    """`nbinom.cdf(2, failures + 1/2, logged / (logged + ahead))`."""
    row = Failure("p", "m", own_log=OwnLog(failures, logged))
    ours = demand([(row, Stretch(0, ahead * 60, 30))])
    assert ours.enough(0.95) == 2 * ONE
    assert ours.protection(2 * ONE) == pytest.approx(reached, abs=1e-6)
    if failures == 1:       # the same log taken for certain, mean .3, would ask for one only
        assert Demand(ONE, poisson(0.3)).enough(0.95) == 1 * ONE


def test_weibull_life_of_an_impeller():
    """`Weibull_Distribution(alpha=1200, beta=2.5)`: mean 1064.717, b10 487.812 (reliability)."""
    assert mean_life(2.5, 1200) == pytest.approx(1064.717, abs=5e-4)
    assert 1 - renewals(2.5, 1200.0, 0.0, 487.812)[0] == pytest.approx(0.1, abs=1e-6)


def _mean_within(hours: float, age: float) -> float:
    """Mean run [h] within some hours of the impeller, by the chances that it does not fail."""
    at, weight = np.polynomial.legendre.leggauss(40)
    return sum(w * hours / 2 * renewals(2.5, 1200.0, age, float(hours * (1 + x) / 2))[0]
               for x, w in zip(at, weight, strict=True))


def test_life_left_to_an_impeller_of_400_hours():
    """`Weibull_Distribution(alpha=1200, beta=2.5).mean_residual_life(400)`: 716.429 (reliability).
    Beyond 3,200 h more nothing is left that shows."""
    assert _mean_within(3200, 400.0) == pytest.approx(716.429, abs=5e-4)


def test_best_hour_to_renew_an_impeller():
    """`optimal_replacement_time(cost_PM=40, cost_CM=600, weibull_alpha=1200, weibull_beta=2.5,
    q=0)`: 355.9 h (reliability, on its grid; scipy's minimum is at 356.0 h).

    No plan proposes an interval: a task has the one its machine's manual prints. The chances by
    which such an hour is found are those plans reckon with: the cost an hour is the least there.
    """
    def cost_an_hour(interval: float) -> float:
        lasts = renewals(2.5, 1200.0, 0.0, interval)[0]
        return (40 * lasts + 600 * (1 - lasts)) / _mean_within(interval, 0.0)
    best = minimize_scalar(cost_an_hour, bounds=(200, 600), method="bounded",
                           options={"xatol": 0.01}).x
    assert best == pytest.approx(355.9, abs=0.2)


@pytest.mark.parametrize(("beta", "eta", "age", "hours", "bound", "renewed"), [
    (2.5, 1200.0, 0.0, 300.0, 0.0312, 0.0309), (2.5, 1200.0, 400.0, 300.0, 0.195741, 0.179),
    (4.0, 500.0, 0.0, 1200.0, 33.2, 2.19)])
def test_repair_that_leaves_the_age_as_it_was_is_an_upper_bound(
        beta, eta, age, hours, bound, renewed):
    """`Weibull_Distribution(alpha=1200, beta=2.5)`: CHF(700) - CHF(400) = 0.195741 (reliability).

    A piece as old after its repair as before fails so often on average; a Poisson number of that
    mean never asks for fewer spares than renewal does while wear rises. No plan goes by it.
    """
    mean = ((age + hours) / eta)**beta - (age / eta)**beta
    found = renewals(beta, eta, age, hours)
    assert mean == pytest.approx(bound, rel=2e-3)
    assert mean == pytest.approx(-log(found[0]), rel=2e-4)
    assert mean_of(found) == pytest.approx(renewed, rel=3e-3)
    for level in (0.8, 0.9, 0.95, 0.99, 0.999):
        assert Demand(ONE, found).enough(level) <= scipys.ppf(level, mean) * ONE


def test_four_anodes_of_which_half_are_renewed():
    """`binom.cdf(3, 4, .5)` and `ppf(.95, 4, .5)`."""
    assert _reached(binomial(4, 0.5), 3) == 0.9375
    assert Demand(ONE, binomial(4, 0.5)).enough(0.95) == 4 * ONE


def test_means_up_to_which_spares_are_enough():
    """`chi2.ppf(.05, [2, 4, 6, 8]) / 2`."""
    limits = [0.05129, 0.35536, 0.81769, 1.36632]
    assert chi2.ppf(0.05, [2, 4, 6, 8]) / 2 == pytest.approx(limits, abs=5e-6)
    for spares, limit in enumerate(limits):
        assert Demand(ONE, poisson(limit - 1e-5)).enough(0.95) == spares * ONE
        assert Demand(ONE, poisson(limit + 1e-5)).enough(0.95) == (spares + 1) * ONE


def test_one_or_two_pieces_a_failure_by_panjers_recursion():
    """Mean .6 events, 70 % one piece and 30 % two; mean .36, always two."""
    mixed = compound_poisson(0.6, ((ONE, 0.7), (2 * ONE, 0.3)))
    assert (mixed.enough(0.95), round(mixed.protection(3 * ONE), 5)) == (3 * ONE, 0.97477)
    pairs = compound_poisson(0.36, ((2 * ONE, 1.0),))
    assert [pairs.protection(n * ONE) for n in range(5)] == pytest.approx(
        [0.69768, 0.69768, 0.94884, 0.94884, 0.99405], abs=5e-6)
    assert pairs.enough(0.95) == 4 * ONE
    by_count = pieces_of(poisson(0.6), ((ONE, 0.7), (2 * ONE, 0.3)))
    assert by_count.pmf[:6] == pytest.approx(mixed.pmf[:6], abs=1e-12)


@pytest.mark.parametrize(("beta", "eta", "ages", "hours", "first", "reached"), [
    (2.5, 1200, (0,), 300, 0, (0.96923, 0.99991)),
    (2.5, 1200, (400,), 300, 0, (0.82222, 0.99870)),
    (2.5, 1200, (900,), 300, 0, (0.59878, 0.99639)),
    (4, 500, (0,), 1200, 1, (0.04911, 0.76493, 0.99166)),
    (3, 800, (0, 600), 600, 0, (0.03422, 0.59537, 0.95137))])
def test_failures_of_worn_pieces(beta, eta, ages, hours, first, reached):
    """The renewal equation on a grid, worked out apart from this program."""
    row = Failure("p", "m", len(ages), weibull=Weibull(beta, eta, ages))
    ours = demand([(row, Stretch(0, hours * 60, 30))])
    found = [ours.protection((first + k) * ONE) for k in range(len(reached))]
    assert found == pytest.approx(reached, abs=1e-4)


def test_mean_number_of_steep_lives():
    """Beta 4, eta 500 h, 1,200 h, new: 2.1944 (renewal function on a grid, apart from this)."""
    assert mean_of(renewals(4.0, 500.0, 0.0, 1200.0)) == pytest.approx(2.1944, abs=2e-4)


def test_a_piece_far_beyond_its_life_fails_at_the_start():
    """Then a new one begins, and the second failure is that of its life: F(eta) = 1 - 1/e."""
    found = renewals(20.0, 1000.0, 1500.0, 1000.0)
    assert found[0] == pytest.approx(0, abs=1e-9)
    assert sum(found[2:]) == pytest.approx(weibull_min.cdf(1000, 20, scale=1000), abs=1e-3)


def test_many_units_of_one_kind_are_their_sum():
    """`binom.pmf(k, 37, .2)`."""
    assert repeated((0.8, 0.2), 37)[:30] == pytest.approx(binom.pmf(range(30), 37, 0.2), abs=1e-12)
    assert repeated((0.8, 0.2), 0) == (1.0,)
