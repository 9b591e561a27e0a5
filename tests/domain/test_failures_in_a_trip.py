"""Failure spares: cases worked out by hand and with scipy, see each row."""

from __future__ import annotations

import pytest
from scipy.stats import binom, nbinom, poisson

from tests.plans import failure, line, plan, task


def _spares(rows, hours, *, days=30, trip=None, **more):
    found = plan(days=days, hours=hours, trip=trip, failures=rows, **more)
    return line(found)


@pytest.mark.parametrize(("row", "hours", "spares", "held", "reached"), [
    ({"mtbf_h": 2000}, 100, 0, 0, 0.95123),                     # mean .05
    ({"mtbf_h": 2000}, 103, 1, 0, 0.94980),                     # mean .0515
    ({"mtbf_h": 4000, "units": 6}, 240, 2, 1, 0.94884),         # mean .36
    ({"mtbf_h": "1000"}, 355, 1, 1, 0.95009),                   # mean .355
])
def test_spares_step_up_where_the_level_is_just_missed(row, hours, spares, held, reached):
    found = _spares([failure(**row)], {"m": hours}, lots=[{"part": "p", "quantity": held}])
    assert found["for_failure"] == spares
    assert found["protection"] == pytest.approx(reached, abs=5e-6)


def test_identical_parts_are_pooled_over_machines():
    rows = [{"part": "p", "machine": m, "mtbf_h": mtbf} for m, mtbf in
            (("port", 3000), ("stbd", 3000), ("gen", 2500))]
    hours = {"port": 180, "stbd": 180, "gen": 90}
    found = _spares(rows, hours, lots=[{"part": "p", "quantity": 1}])
    assert found["for_failure"] == 1
    assert found["protection"] == pytest.approx(poisson.cdf(1, 0.156), abs=1e-9)
    assert found["protection"] == pytest.approx(0.98903, abs=5e-6)
    apart = [_spares([row], hours)["for_failure"] for row in rows]
    assert apart == [1, 1, 0]       # means .06, .06, .036


def test_belts_changed_in_pairs_need_two_pairs():
    found = _spares([failure(mtbf_h=1000, pieces=2)], {"m": 360},
                    lots=[{"part": "p", "quantity": 2}])
    assert found["for_failure"] == 4
    assert found["protection"] == pytest.approx(0.94884, abs=5e-6)      # one pair


@pytest.mark.parametrize(("spread", "held", "spares", "reached"), [
    (1, 2, 2, 0.95258), (2, 2, 3, 0.90747), (2, 3, 3, 0.95572)])
def test_more_spread_than_poisson_needs_more(spread, held, spares, reached):
    found = _spares([failure(mtbf_h=1000, spread=spread)], {"m": 800},
                    lots=[{"part": "p", "quantity": held}])
    assert found["for_failure"] == spares
    assert found["protection"] == pytest.approx(reached, abs=5e-6)


@pytest.mark.parametrize(("failures", "logged", "ahead"), [(1, 1000, 300), (0, 500, 300),
                                                           (3, 2000, 400)])
def test_an_own_log_carries_its_doubt(failures, logged, ahead):
    row = failure(own_log={"failures": failures, "hours": logged})
    found = _spares([row], {"m": ahead}, days=60, lots=[{"part": "p", "quantity": 2}])
    assert found["for_failure"] == nbinom.ppf(
        0.95, failures + 0.5, logged / (logged + ahead)) == 2
    assert found["protection"] == pytest.approx(
        nbinom.cdf(2, failures + 0.5, logged / (logged + ahead)), abs=1e-9)
    told = "1 failure" if failures == 1 else f"{failures} failures"
    assert any(f"own log of {told} in {logged} h" in why for why in found["why"])


def test_an_own_log_counts_unit_hours():
    one = _spares([failure(own_log={"failures": 4, "hours": 1000}, units=3)], {"m": 100})
    other = _spares([failure(own_log={"failures": 4, "hours": 1000})], {"m": 300})
    assert one["protection"] == pytest.approx(other["protection"])


@pytest.mark.parametrize(("ages", "spares", "held", "reached"), [
    ([0], 0, 0, 0.96923), ([400], 1, 0, 0.82222), ([400], 1, 1, 0.99870),
    ([400, 900], 2, 1, 0.92492), ([400, 900], 2, 2, 0.99883)])
def test_a_worn_impeller_needs_a_spare(ages, spares, held, reached):
    row = failure(weibull={"beta": 2.5, "eta_h": 1200, "ages_h": ages}, units=len(ages))
    found = _spares([row], {"m": 300}, lots=[{"part": "p", "quantity": held}])
    assert found["for_failure"] == spares
    assert found["protection"] == pytest.approx(reached, abs=2e-5)


def test_planned_renewals_make_a_worn_impeller_new_again():
    row = failure(weibull={"beta": 2.5, "eta_h": 1200, "ages_h": [400]})
    change = task(500, used_h=400, kit=[{"part": "p"}])
    with_plan = _spares([{**row, "renewed_by": "t"}], {"m": 900}, days=90, tasks=[change],
                        lots=[{"part": "p", "quantity": 3}])
    assert (with_plan["for_service"], with_plan["for_failure"], with_plan["minimum"]) == (2, 1, 3)
    assert with_plan["protection"] == pytest.approx(0.98952, abs=2e-5)
    without = _spares([row], {"m": 900}, days=90, tasks=[change])
    assert without["minimum"] == 4


def test_a_renewal_that_changes_nothing_in_a_constant_rate_is_remarked():
    change = task(500, used_h=400, kit=[{"part": "p"}])
    for row in (failure(mtbf_h=2000), failure(own_log={"failures": 1, "hours": 900})):
        plain = _spares([row], {"m": 300}, tasks=[change])
        told = _spares([{**row, "renewed_by": "t"}], {"m": 300}, tasks=[change])
        assert set(told["remarks"]) - set(plain["remarks"]) == {
            "renewal by t not counted: a rate that is constant has no age"}
        assert told["minimum"] == plain["minimum"]


def test_a_renewal_before_leaving_makes_the_piece_new():
    row = failure(weibull={"beta": 4, "eta_h": 500, "ages_h": [490]}, renewed_by="t")
    found = _spares([row], {"m": 100}, tasks=[task(500, used_h=500, kit=[{"part": "p"}])])
    assert (found["for_service"], found["for_failure"]) == (1, 0)


def test_an_age_nobody_knows_is_taken_as_the_long_run():
    found = _spares([failure(weibull={"beta": 2.5, "eta_h": 1200})], {"m": 300},
                    lots=[{"part": "p", "quantity": 1}])
    assert found["protection"] == pytest.approx(poisson.cdf(1, 300 / 1064.717), abs=1e-6)
    assert any("age not known" in why for why in found["why"])


def test_parts_that_fail_by_time_count_days():
    found = _spares([{"part": "p", "mtbf_days": 365, "units": 2}], {"m": 0}, days=90,
                    lots=[{"part": "p", "quantity": 1}])
    assert found["protection"] == pytest.approx(poisson.cdf(1, 180 / 365), abs=1e-9)


def test_an_inspection_of_four_anodes_with_half_renewed_needs_four():
    look = task(250, used_h=200, kit=[{"part": "p", "quantity": 4, "share": "0,5"}])
    found = plan(hours={"m": 100}, tasks=[look], lots=[{"part": "p", "quantity": 3}])
    assert (line(found)["for_service"], line(found)["minimum"]) == (0, 4)
    assert line(found)["protection"] == pytest.approx(binom.cdf(3, 4, 0.5))    # .9375


def test_one_or_two_pieces_a_failure_are_mixed():
    row = failure(mtbf_h=1000, pieces=[[1, 0.7], [2, 0.3]])
    found = _spares([row], {"m": 600}, lots=[{"part": "p", "quantity": 3}])
    assert found["for_failure"] == 3
    assert found["protection"] == pytest.approx(0.97477, abs=5e-6)


def test_litres_per_failure_stay_exact():
    found = _spares([failure(mtbf_h=1000, pieces="1,5")], {"m": 360})
    assert found["for_failure"] == 3        # two failures of 1.5 L


def test_a_part_without_a_failure_figure_says_so():
    found = plan(hours={"m": 120}, tasks=[task(250, used_h=200, kit=[{"part": "p"}])])
    assert line(found)["for_failure"] == 0
    assert "no failure figure" in line(found)["remarks"]


def test_a_failure_figure_of_nothing_says_so():
    for given, said in (({"units": 0}, "counts no units in use"),
                        ({"pieces": 0}, "takes no pieces")):
        row = {"part": "p", "machine": "m", "mtbf_h": 100, **given}
        found = line(plan(hours={"m": 50}, failures=[row]))
        assert (found["for_failure"], found["remarks"]) == (0, [f"failure figure of m {said}"])


def test_the_level_follows_the_weight_of_the_line():
    rows = [{"part": p, "machine": "m", "mtbf_h": 1000} for p in ("a", "b", "c")]
    points = [{"id": w, "machine": "m", "weight": w, "takes": [w.lower()]} for w in "ABC"]
    found = plan(hours={"m": 400}, trip={"protection": {"A": .99, "B": .95, "C": .80}},
                 failures=rows, fit_points=points)
    assert [line(found, p)["for_failure"] for p in ("a", "b", "c")] == [
        poisson.ppf(g, 0.4) for g in (0.99, 0.95, 0.80)]


def test_reached_is_the_product_of_the_lines_and_of_the_a_lines():
    rows = [{"part": p, "machine": "m", "mtbf_h": 1000} for p in ("a", "b")]
    points = [{"id": w, "machine": "m", "weight": w, "takes": [w.lower()]} for w in "AB"]
    found = plan(hours={"m": 400}, failures=rows, fit_points=points,
                 lots=[{"part": "a", "quantity": 1}])["protection"]
    assert found["asked"] == 0.95
    assert found["reached"] == pytest.approx(poisson.cdf(1, .4) * poisson.cdf(0, .4))
    assert found["reached_a"] == pytest.approx(poisson.cdf(1, .4))
    assert found["reached_bought"] == pytest.approx(poisson.cdf(2, .4) ** 2)
    none_vital = plan(hours={"m": 400}, failures=rows[1:])["protection"]
    assert (none_vital["reached"], none_vital["reached_a"]) == (
        pytest.approx(poisson.cdf(0, .4)), None)
