"""Failure demand against published examples and against scipy.

Each check names its source. Those marked *as quoted* were read as quotations in another
public text; the source itself was not open.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import accumulate
from math import log

import numpy as np
import pytest
from scipy.stats import binom, chi2, nbinom, poisson

from spares.domain.provision import Failure, Line, OwnLog, Stretch, best_kit, demand
from spares.domain.provision.counts import binomial, convolve, negative_binomial
from spares.domain.provision.counts import poisson as ours
from spares.domain.provision.demand import Demand, compound_poisson

ONE = 1000      # thousandths


def _demand(mean: float) -> Demand:
    return compound_poisson(mean, ((ONE, 1.0),))


def _of_row(hours: int, **figure: object) -> Demand:
    """Give what a row of failures demands in so many running hours, as a trip asks for it."""
    return demand([(Failure("pump", **figure), Stretch(0, hours * 60, 30))])


def test_two_spare_lamps_in_500_hours():
    """MIL-HDBK-338B (1 October 1998), 5.3.8, example 5.3.8.1, p. 5-27, as quoted: 0.986."""
    assert _demand(0.001 * 500).protection(2 * ONE) == pytest.approx(0.986, abs=5e-4)


def test_two_spares_for_0_365_a_year_over_500_days():
    """The same figures restated in the text that quotes MIL-HDBK-338B."""
    assert _demand(0.365 * 500 / 365).protection(2 * ONE) == pytest.approx(0.985612, abs=5e-7)


def test_weekly_demand_of_0_8():
    """MIT ESD.260J, lecture 13, slides 11 and 12, as quoted: probabilities and shortages."""
    demand = _demand(0.8)
    assert demand.pmf[:3] == pytest.approx([0.449, 0.359, 0.144], abs=5e-4)
    assert demand.cumulative[1:5] == pytest.approx([0.809, 0.953, 0.991, 0.999], abs=5e-4)
    short = [demand.short_beyond(n * ONE) / ONE for n in range(5)]
    assert short[:4] == pytest.approx([0.80, 0.25, 0.06, 0.01], abs=5e-3)
    # The slide's 0.009 beyond 4 is a slip: by its own rows it is what is short beyond 3 less
    # P(more than 3), 0.01 - 0.009. The sum over scipy's Poisson probabilities is 0.0016.
    by_scipy = sum((k - 4) * poisson.pmf(k, 0.8) for k in range(5, 40))
    assert (round(by_scipy, 4), short[4]) == (0.0016, pytest.approx(by_scipy, abs=1e-12))


def test_level_for_nine_tenths_of_the_items():
    """MIT ESD.260J, lecture 13, as quoted: short at most 0.08 of 0.8 needs 2."""
    demand = _demand(0.8)
    assert next(n for n in range(9) if demand.short_beyond(n * ONE) <= 0.08 * ONE) == 2


def test_long_counts_are_added_as_a_library_adds_them():
    """Two wide negative binomials, 178 million products: numpy's convolution of scipy's."""
    first, second = negative_binomial(0.5, 1 / 361), negative_binomial(1.5, 1 / 400)
    apart = [nbinom.pmf(range(16_000), r, p) for r, p in ((0.5, 1 / 361), (1.5, 1 / 400))]
    found = np.cumsum(convolve(first, second))
    assert found == pytest.approx(np.convolve(*apart)[:len(found)].cumsum(), abs=1e-12)


def test_pooled_and_separate_spares_of_three_machines():
    """Trivedi, Probability and Statistics with Reliability, 2nd ed., chapter 6, problem 2.

    The problem was read (rate 0.002 per hour, 1300, 1500 and 1200 hours, level 0.90); the
    answers are scipy's: 12 pooled (11 hold .88808), 17 separate.
    """
    means = [0.002 * t for t in (1300, 1500, 1200)]
    pooled = _demand(sum(means))
    assert pooled.enough(0.90) == 12 * ONE == poisson.ppf(0.90, 8) * ONE
    assert pooled.protection(12 * ONE) == pytest.approx(0.93620, abs=5e-6)
    assert pooled.protection(11 * ONE) == pytest.approx(0.88808, abs=5e-6)
    apart = [_demand(mean).protection(n * ONE) for mean, n in zip(means, (5, 6, 6), strict=True)]
    assert apart[0] * apart[1] * apart[2] == pytest.approx(0.90844, abs=5e-6)
    fewest = best_kit([Line.of("seal", ours(mean), 0, 1) for mean in means], level=0.90)
    assert (fewest.cost, fewest.proven) == (17, True)


def test_ten_lives_of_a_hundred_days():
    """Exercise on nine spares with exponential lives (Bain and Engelhardt style, read on a
    question page): ten lives of 100 days outlast 547.5 days with probability .9475."""
    assert _demand(5.475).protection(9 * ONE) == pytest.approx(0.947509, abs=5e-7)
    assert _demand(5.475).protection(9 * ONE) == pytest.approx(chi2.sf(10.95, 20), abs=1e-12)
    assert _demand(7.30).enough(0.95) == 12 * ONE       # 730 days
    assert _demand(7.30).protection(12 * ONE) == pytest.approx(0.96422, abs=5e-6)


def test_exactly_four_failures_in_a_thousand_hours():
    """Reliability article on the homogeneous Poisson process: MTBF 500 h, 1,000 h, .09022."""
    assert ours(2.0)[4] == pytest.approx(0.09022, abs=5e-6)


def test_poisson_loss_at_18_with_mean_15():
    """stockpyl 1.0.2, docstring of poisson_loss, after Snyder and Shen, Fundamentals of
    Supply Chain Theory, 2nd ed.: 0.517610 short; the complementary loss, left over, 3.517610."""
    short = _demand(15).short_beyond(18 * ONE) / ONE
    assert short == pytest.approx(0.517610, abs=5e-7)
    assert 18 - _demand(15).mean() / ONE + short == pytest.approx(3.517610, abs=5e-7)


@pytest.mark.parametrize(("mean", "left_over", "lacking", "level", "cost"), [
    (6, 1, 4, 8, 3.5701), (50, 0.18, 0.70, 56, 1.797235)])
def test_newsvendor_levels_and_costs(mean, left_over, lacking, level, cost):
    """stockpyl 1.0.2, docstrings of newsvendor_poisson, after Snyder and Shen, example 4.7:
    mean 6 with costs 1 and 4 gives 8 for 3.5701; mean 50 with 0.18 and 0.70 gives 56 for
    1.797235. A level of 5 for the first costs 6.5903."""
    demand = _demand(mean)
    assert demand.enough(lacking / (left_over + lacking)) == level * ONE

    def cost_of(pieces: int) -> float:
        short = demand.short_beyond(pieces * ONE) / ONE
        return left_over * (pieces - mean + short) + lacking * short
    assert cost_of(level) == pytest.approx(cost, rel=1e-5)
    assert min(map(cost_of, range(2 * mean))) == cost_of(level)
    if mean == 6:
        assert cost_of(5) == pytest.approx(6.5903, abs=5e-5)


def test_identical_units_with_cold_spares_pool_their_rates():
    """Birolini, Reliability Engineering (2007), p. 143: k parts in use fail at k lambda."""
    assert _demand(4 * 300 / 2000).protection(2 * ONE) == pytest.approx(0.97688, abs=5e-6)


def test_cold_spares_against_a_run_of_a_simulation_library():
    """simpy 4.1.2, run once: four units of MTBF 2000 h, 300 h, two spares; 0.9756 of 20,000
    trips were served, with a standard error of 0.0011. The library is not installed here."""
    assert abs(_demand(4 * 300 / 2000).protection(2 * ONE) - 0.9756) <= 3 * 0.0011


def test_limits_of_a_mean_time_between_failures_from_a_log():
    """NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.5.1: 2T over chi-square of 2r + 2
    and of 2r. For 2 failures in 800 h and 90 % that is 127.1 to 2251.2 h (scipy).

    No plan goes by such an interval: an own log is reckoned with its doubt, as a negative
    binomial. What the limits mean must hold all the same: at the lower one 2 failures or fewer,
    at the upper one 2 or more, come about once in twenty times.
    """
    low, high = 2 * 800 / chi2.ppf(0.95, 6), 2 * 800 / chi2.ppf(0.05, 4)
    assert (round(low, 1), round(high, 1)) == (127.1, 2251.2)
    assert _demand(800 / low).protection(2 * ONE) == pytest.approx(0.05, abs=1e-9)
    assert 1 - _demand(800 / high).protection(1 * ONE) == pytest.approx(0.05, abs=1e-9)
    # the same place: no failure in T hours leaves an MTBF of T / -ln(0.05) at the least
    assert _demand(800 / (800 / -log(0.05))).pmf[0] == pytest.approx(0.05, abs=1e-12)


# ------------------------------------------------------------- against scipy

@pytest.mark.parametrize("mean", [1e-4, 0.05, 0.0515, 0.355, 0.36, 0.8, 2, 3, 10, 30, 100,
                                  599, 601, 745, 1600])
@pytest.mark.parametrize("level", [0.5, 0.8, 0.9, 0.95, 0.98, 0.99, 0.999])
def test_poisson_quantile_is_that_of_scipy(mean, level):
    assert _demand(mean).enough(level) == poisson.ppf(level, mean) * ONE


def test_a_level_reached_exactly_counts_as_reached():
    assert _demand(1.0).enough(0.7357588823428847) == 1 * ONE       # 2/e


@pytest.mark.parametrize(("level", "row"), [
    (0.80, (.22314, .82439, 1.53504, 2.29679, 3.08954, 3.90366, 4.73366, 5.57606, 6.42848)),
    (0.90, (.10536, .53181, 1.10207, 1.74477, 2.43259, 3.15190, 3.89477, 4.65612, 5.43247)),
    (0.95, (.05129, .35536, .81769, 1.36632, 1.97015, 2.61301, 3.28532, 3.98082, 4.69523)),
    (0.98, (.02020, .21470, .56721, 1.01624, 1.52953, 2.08914, 2.68410, 3.30712, 3.95311)),
    (0.99, (.01005, .14855, .43605, .82325, 1.27911, 1.78528, 2.33021, 2.90611, 3.50746))])
def test_spares_are_enough_up_to_the_mean_that_chi_square_gives(level, row):
    for spares, mean in enumerate(row):
        exact = chi2.ppf(1 - level, 2 * (spares + 1)) / 2
        assert exact == pytest.approx(mean, abs=5.1e-6)
        assert _demand(exact * (1 - 1e-9)).enough(level) == spares * ONE
        assert _demand(exact * (1 + 1e-9)).enough(level) == (spares + 1) * ONE


@pytest.mark.parametrize(("r", "p"), [(0.8, 0.5), (4, 1 / 1.5), (1.5, 1000 / 1300), (0.5, 5 / 8),
                                      (3000, 0.5), (2, 0.001)])
def test_negative_binomial_is_that_of_scipy(r, p):
    found = list(accumulate(negative_binomial(r, p)))
    places = range(0, len(found), max(1, len(found) // 40))
    assert [found[k] for k in places] == pytest.approx(nbinom.cdf(list(places), r, p), abs=1e-11)


@pytest.mark.parametrize(("mean", "spread", "spares"), [(0.8, 2, (2, 3, 6)), (2, 1.5, (4, 5, 7))])
def test_wide_spread_quantiles(mean, spread, spares):
    found = _of_row(int(mean * 1000), mtbf_h=Fraction(1000), spread=Fraction(spread))
    assert tuple(found.enough(g) // ONE for g in (0.90, 0.95, 0.99)) == spares
    assert spares == tuple(nbinom.ppf([.90, .95, .99], mean / (spread - 1), 1 / spread))


def test_own_log_is_the_predictive_negative_binomial():
    for failures, hours, ahead in ((1, 1000, 300), (0, 500, 300), (3, 2000, 400)):
        found = _of_row(ahead, own_log=OwnLog(failures, Fraction(hours))).cumulative
        assert found[:6] == pytest.approx(
            nbinom.cdf(range(6), failures + 0.5, hours / (hours + ahead)), abs=1e-12)


@pytest.mark.parametrize(("trials", "share"), [(4, 0.5), (10, 0.01), (200, 0.3), (3000, 0.9),
                                               (5, 0), (5, 1)])
def test_binomial_is_that_of_scipy(trials, share):
    found = binomial(trials, share)
    assert found == pytest.approx(binom.pmf(range(len(found)), trials, share), abs=1e-12)
