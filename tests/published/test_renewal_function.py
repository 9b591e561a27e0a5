"""Wear-out against a published table of the renewal function, and against scipy."""

from __future__ import annotations

from itertools import accumulate
from math import gamma

import pytest
from scipy.integrate import quad
from scipy.stats import weibull_min

from spares.domain.provision.counts import mean_of
from spares.domain.provision.renewal import renewals, stationary, unit_failures

TIJMS = [   # Tijms, A First Course in Stochastic Models, p. 312, table 8.1.1, mean life 1
    (2.10135, {0.1: "0.0061", 0.2: "0.0261", 0.4: "0.1087", 0.6: "0.2422", 0.8: "0.4141",
               1.0: "0.6091", 1.2: "0.8143", 1.5: "1.124", 2.0: "1.627", 2.5: "2.125"}),
    (0.72090, {0.2: "0.3841", 0.5: "0.7785", 1.0: "1.357", 1.5: "1.901", 2.0: "2.428",
               2.5: "2.947", 3.0: "3.460", 3.5: "3.969", 5.0: "5.485", 7.5: "7.995"})]


@pytest.mark.parametrize(("beta", "at", "printed"), [
    (beta, at, printed) for beta, row in TIJMS for at, printed in row.items()])
def test_renewal_function_of_the_weibull_distribution(beta, at, printed):
    """Tijms, table 8.1.1: twenty values, within one unit of the last printed digit."""
    unit = 10.0 ** -len(printed.partition(".")[2])
    found = mean_of(renewals(beta, 1 / gamma(1 + 1 / beta), 0, at))
    assert found == pytest.approx(float(printed), abs=1.001 * unit)


@pytest.mark.parametrize(("beta", "squared_variation", "at"), [
    (2.10135, 0.25, 2.5), (0.72090, 2.0, 7.5)])
def test_renewal_function_nears_its_asymptote(beta, squared_variation, at):
    """Tijms, table 8.1.1, column of the asymptote: t / mean + (c^2 - 1) / 2."""
    found = mean_of(renewals(beta, 1 / gamma(1 + 1 / beta), 0, at))
    assert found == pytest.approx(at + (squared_variation - 1) / 2, abs=6e-3)


@pytest.mark.parametrize(("beta", "row"), [
    (2, (0.0483, 0.1843, 0.6241, 1.1342, 1.6379, 2.6365)),
    (2.5, (0.0230, 0.1244, 0.5650, 1.0981, 1.5922, 2.5920)),
    (3, (0.0111, 0.0856, 0.5310, 1.0850, 1.5595, 2.5665)),
    (4, (0.0026, 0.0413, 0.4968, 1.0753, 1.5159, 2.5314))])
def test_renewal_function_worked_out_by_another_method(beta, row):
    """Values of the integral equation on a fine grid, computed apart from this program.

    Soland (1968), AD0675424, tabulates the same for shapes 2 to 6; only its abstract could be
    read, so that none of these is taken from there.
    """
    eta = 1 / gamma(1 + 1 / beta)
    found = [mean_of(renewals(beta, eta, 0, t)) for t in (0.25, 0.5, 1, 1.5, 2, 3)]
    assert found == pytest.approx(row, abs=1.5e-4)


def test_first_life_is_that_of_scipy():
    new = weibull_min.cdf(300, 2.5, scale=1200)
    used = 1 - weibull_min.sf(700, 2.5, scale=1200) / weibull_min.sf(400, 2.5, scale=1200)
    assert 1 - renewals(2.5, 1200, 0, 300)[0] == pytest.approx(new, abs=1e-12)
    assert 1 - renewals(2.5, 1200, 400, 300)[0] == pytest.approx(used, abs=1e-12)
    assert (new, used) == (pytest.approx(0.030767, abs=5e-7), pytest.approx(0.177775, abs=5e-7))


def test_shape_one_is_poisson():
    from scipy.stats import poisson
    assert list(accumulate(renewals(1.0, 500, 123, 400)))[:5] == pytest.approx(
        poisson.cdf(range(5), 0.8), abs=1e-4)


@pytest.mark.parametrize("at", [1.94, 1.98, 2.02])
def test_second_of_two_steep_lives_is_that_of_scipy(at):
    """Convolution of two lives of shape 50 by scipy's quad: 0.13985, 0.47938, 0.90560."""
    life = weibull_min(50)
    two, _ = quad(lambda x: life.pdf(x) * life.cdf(at - x), 0.5, 1.2, epsabs=1e-10)
    assert 1 - sum(renewals(50, 1, 0, at)[:2]) == pytest.approx(two, abs=5e-5)


def test_mean_life_behind_an_unknown_age():
    """Mean of weibull_min(2.5, scale=1200) by scipy: 1064.717 h."""
    assert 300 / stationary(2.5, 1200, 300) == pytest.approx(weibull_min.mean(2.5, scale=1200))
    assert 300 / stationary(2.5, 1200, 300) == pytest.approx(1064.717, abs=5e-4)


@pytest.mark.parametrize(("args", "reached"), [
    ((2.5, 1200, 0, 300), (.96923, .99991)), ((2.5, 1200, 400, 300), (.82222, .99870)),
    ((2.5, 1200, 900, 300), (.59878, .99639)),
    ((4, 500, 0, 1200), (None, .04911, .76493, .99166))])
def test_failures_of_a_worn_piece(args, reached):
    found = list(accumulate(renewals(*args)))
    for place, value in enumerate(reached):
        if value is not None:
            assert found[place] == pytest.approx(value, abs=3e-5)


def test_two_windows_add_up_to_the_whole():
    whole = mean_of(unit_failures(2.5, 1200, 400, (0, 900)))
    parts = sum(mean_of(unit_failures(2.5, 1200, 400, s)) for s in ((0, 300), (300, 900)))
    assert parts == pytest.approx(whole, abs=1e-5)


def test_a_planned_renewal_in_an_earlier_window_still_counts():
    """After a renewal at 100 h the second window of a new piece is that of a new piece."""
    late = unit_failures(2.5, 1200, 400, (300, 600), (100,))
    assert late == pytest.approx(unit_failures(2.5, 1200, 0, (200, 500)), abs=1e-12)
