"""Trend of a gauge against SciPy's Theil-Sen estimator (scipy.stats.theilslopes)."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.stats import kendalltau, theilslopes

from spares.domain.trend import Trend, trend, until

ROWS = st.lists(st.tuples(st.integers(0, 400), st.integers(600, 1100)), min_size=3, max_size=25,
                unique_by=lambda row: row[0]).map(
    lambda rows: sorted((float(x), y / 10) for x, y in rows))


@given(ROWS)
def test_slope_is_the_one_of_theil_and_sen_and_its_sign_agrees_with_kendall(rows):
    found = trend(rows)
    xs, ys = zip(*rows, strict=True)
    slope, *_ = theilslopes(ys, xs)
    assert found.slope == pytest.approx(slope, abs=1e-9)
    assert found.pairs == len(rows) * (len(rows) - 1) // 2
    if found.code in ("climbs", "falls"):       # three quarters of the pairs: tau beyond a half
        assert abs(kendalltau(xs, ys).statistic) >= 0.5
        assert (slope > 0) == (found.code == "climbs")


@given(ROWS, st.integers(0, 24), st.integers(-5000, 5000))
def test_one_slip_among_many_is_never_the_trend(rows, place, slip):
    """With five or more readings in a straight line, one wrong one leaves the slope."""
    line = [(x, 70 + x / 100) for x, _ in rows]
    if len(line) < 5:
        return
    at = place % len(line)
    line[at] = (line[at][0], 70.0 + slip)
    assert trend(line).slope == pytest.approx(0.01)


def test_the_limit_is_reached_where_the_line_meets_it():
    found = trend([(0, 80.0), (10, 81.0), (20, 82.0)])
    assert until(found, None, 95.0) == pytest.approx(130)
    assert until(found, 70.0, None) is None and until(Trend("steady", 0.0, 80.0), 1, 2) is None
    assert until(found, None, 81.0) == 0
