"""Lives of pump seals and bearings as printed, against the lives that plans reckon with.

Barringer, Weibull analysis of pump seal life (two pumps, twenty ages to failure) and note on
ball bearings; both read. Base rates: NSWC Handbook of Reliability Prediction Procedures for
Mechanical Equipment, as quoted.
"""

from __future__ import annotations

import pytest
from scipy.stats import weibull_min

from spares.domain.provision.failure import Failure, Stretch, expected
from spares.domain.provision.renewal import mean_life, renewals

RUNNING = [14400, 19800, 21300, 23600, 24300, 28100, 29600, 29600, 34200, 38000]    # [h]
STANDBY = [2200, 3800, 4600, 5000, 6700, 7500, 7800, 8000, 11000, 12900]            # [h]


def test_printed_means_are_hours_over_failures():
    """26,290 and 16,620 h are printed; 69,500 for the stand-by pump is the sum, not the mean."""
    assert sum(RUNNING) / 10 == 26_290
    assert sum(RUNNING + STANDBY) / 20 == 16_620
    assert (sum(STANDBY), sum(STANDBY) / 10) == (69_500, 6950)


@pytest.mark.parametrize(("ages", "eta", "beta"), [
    (RUNNING, 28_860, 4.428), (STANDBY, 7858, 2.419)])
def test_mean_life_of_the_fitted_shape_is_that_of_the_ages(ages, eta, beta):
    """Shape and scale by likelihood (`reliability.Fitters.Fit_Weibull_2P`, `weibull_min.fit`)."""
    shape, _, scale = weibull_min.fit(ages, floc=0)
    assert (shape, scale) == (pytest.approx(beta, rel=2e-3), pytest.approx(eta, rel=2e-3))
    assert mean_life(beta, eta) == pytest.approx(sum(ages) / len(ages), rel=5e-3)


def test_a_constant_rate_misjudges_a_new_and_an_old_seal():
    """500 h of the stand-by pump's seal: new, and at the age of the longest one seen."""
    steady = expected(Failure("seal", "pump", mtbf_h=6950), Stretch(0, 500 * 60, 30))
    new = 1 - renewals(2.419, 7858.0, 0.0, 500.0)[0]
    old = 1 - renewals(2.419, 7858.0, 12_900.0, 500.0)[0]
    # by scipy: 1 - sf(13400) / sf(12900)
    late = 1 - weibull_min.sf(13_400, 2.419, scale=7858) / weibull_min.sf(
        12_900, 2.419, scale=7858)
    assert old == pytest.approx(late, abs=1e-9)
    assert new < steady / 30 and old > 3 * steady


@pytest.mark.parametrize(("beta", "times"), [(1.3, 5.65), (1.5, 4.48)])
def test_scale_of_a_bearing_is_about_five_times_its_l10(beta, times):
    """Printed: about 5. A tenth has failed at L10."""
    eta = 5000.0
    assert 1 - renewals(beta, eta, 0.0, eta / times)[0] == pytest.approx(0.1, abs=2e-4)


def test_base_rate_of_a_seal():
    """22.8 failures in a million hours: 43,860 h between failures.

    The handbook's other base rates (spring 23.8, motor brush 3.2 a brush, stator housing 0.001,
    shaft coupling 5.0) would test the same division. Its factors for flow (0.80 + 1.1 Q / Qr),
    temperature and a bearing's load (10^6 / (60 n) (Ls / La)^y) are not reckoned: a plan takes
    the figure a person gives for the part as it runs aboard.
    """
    row = Failure("seal", "pump", mtbf_h=43_860)
    assert expected(row, Stretch(0, 10**6 * 60, 1)) == pytest.approx(22.8, abs=0.001)


def test_a_worked_example_that_errs_is_not_followed():
    """A public worked set prints 0.719 for shape 2.5, scale 25,000 h at 15,000 h; scipy: 0.7566.

    Another public table, of offshore equipment, gives repair times of 8,760 h, a whole year:
    nothing of it is used.
    """
    ours = renewals(2.5, 25_000.0, 0.0, 15_000.0)[0]
    assert ours == pytest.approx(weibull_min.sf(15_000, 2.5, scale=25_000), abs=1e-12)
    assert ours == pytest.approx(0.7566, abs=5e-5)
