"""The best kit: cases worked out by full enumeration, apart from the program."""

from __future__ import annotations

import itertools

import pytest
from scipy.stats import poisson

from spares.actions.compute import compute
from spares.domain.trip.plan import shortages
from spares.domain.trip.trip_kit import trip_kit
from spares.errors import OutOfRange
from spares.transfer.compute import trip, trip_shape
from tests.plans import ask

FOUR = [("impeller", 0.3, 28), ("belt", 0.5, 22), ("seal", 0.15, 35), ("lift-pump", 0.08, 95)]
THREE = [("a", 0.36, 40), ("b", 0.2, 25), ("c", 1.2, 15)]


def _kit(lines, **more):
    return compute("kit", {"lines": [
        {"part": part, "mu": mu, "cost": cost} for part, mu, cost in lines], **more})


@pytest.mark.parametrize(("level", "buy", "cost", "reached"), [
    (0.90, (2, 3, 1, 0), 157, 0.90883), (0.95, (2, 2, 1, 1), 230, 0.96911)])
def test_cheapest_kit_for_a_level(level, buy, cost, reached):
    found = _kit(FOUR, level=level)
    assert tuple(found["buy"].values()) == buy
    assert found["spent"]["cost"] == cost
    assert found["protection"]["reached"] == pytest.approx(reached, abs=5e-6)


def test_a_level_for_every_line_is_not_the_level_of_the_kit():
    each = [int(poisson.ppf(0.95, mu)) for _, mu, _ in FOUR]
    assert each == [1, 2, 1, 1]
    assert sum(n * cost for n, (_, _, cost) in zip(each, FOUR, strict=True)) == 202
    found = _kit(FOUR, limits={"cost": 202})
    assert found["protection"]["reached"] >= 0.93669 - 5e-6


def _trip(lines, hours, **given):
    """A trip in which each line fails so often on average, by its MTBF."""
    return ask(hours={"m": hours}, trip=given, parts=[
        {"id": part, "cost": cost} for part, _, cost in lines], failures=[
        {"part": part, "machine": "m", "mtbf_h": round(hours / mu, 6)} for part, mu, _ in lines])


def test_the_plan_of_a_trip_holds_the_level_line_by_line_and_says_what_the_kit_reaches():
    found = compute("trip", _trip(FOUR, 300, protection=0.95))
    assert [row["for_failure"] for row in found["lines"]] == [1, 2, 1, 1]
    assert sum(row["cost"] for row in found["lines"]) == 202
    assert found["protection"]["asked"] == 0.95
    assert found["protection"]["reached_bought"] == pytest.approx(0.93669, abs=5e-6)


@pytest.mark.parametrize(("level", "buy", "cost", "reached"), [
    (0.90, (2, 3, 1, 0), 157, 0.90883), (0.95, (2, 2, 1, 1), 230, 0.96911)])
def test_the_cheapest_kit_of_a_trip_reaches_the_level_as_a_whole(level, buy, cost, reached):
    asked = trip.request_of(trip_shape.Request().load(_trip(FOUR, 300, protection=0.95)))
    found = trip_kit(shortages(asked), level=level)
    assert (found.parts, found.kit.buy) == (tuple(part for part, _, _ in FOUR), buy)
    assert (found.kit.cost, found.sure_cost) == (100 * cost, 0)
    assert found.kit.reached == pytest.approx(reached, abs=5e-6)


@pytest.mark.parametrize(("money", "buy", "cost", "reached"), [
    (100, (1, 1, 2), 95, 0.81987), (150, (2, 1, 3), 150, 0.94365)])
def test_the_plan_of_a_trip_buys_the_best_kit_for_its_money(money, buy, cost, reached):
    found = compute("trip", _trip(THREE, 360, protection=0.95, limits={"cost": money}))
    assert tuple(row["buy"] for row in found["lines"]) == buy
    assert sum(row["cost"] for row in found["lines"]) == cost
    assert found["protection"]["reached"] == pytest.approx(0.17204, abs=5e-6)
    assert found["protection"]["reached_bought"] == pytest.approx(reached, abs=5e-6)


@pytest.mark.parametrize(("money", "buy", "cost", "reached"), [
    (100, (1, 1, 2), 95, 0.81987), (150, (2, 1, 3), 150, 0.94365)])
def test_best_kit_for_money(money, buy, cost, reached):
    found = _kit(THREE, limits={"cost": money})
    assert tuple(found["buy"].values()) == buy
    assert found["spent"]["cost"] == cost
    assert found["protection"]["start"] == pytest.approx(0.17204, abs=5e-6)
    assert found["protection"]["reached"] == pytest.approx(reached, abs=5e-6)
    assert found["protection"]["upper_bound"] >= found["protection"]["reached"]


def test_curve_starts_with_nothing_rises_and_ends_with_the_kit():
    found = _kit(THREE, limits={"cost": 150})
    points = found["curve"]
    assert points[0] == {"cost": 0, "mass_kg": 0, "protection": found["protection"]["start"]}
    assert [p["cost"] for p in points] == sorted(p["cost"] for p in points)
    assert points[-1]["protection"] == found["protection"]["reached"]
    # the hull stops at (1, 1, 4) for 125
    assert any(p["cost"] == 125 and p["protection"] == pytest.approx(0.92499, abs=5e-6)
               for p in points)


def test_limits_of_money_and_mass_hold_together():
    asked = {"lines": [
        {"part": "relay", "mu": 0.4, "cost": 11, "mass_kg": 0.07, "aboard": 1},
        {"part": "valve", "mu": "0,09", "cost": 72, "mass_kg": 0.9}],
        "limits": {"cost": 90, "mass_kg": 1.0}}
    found = compute("kit", asked)
    assert found["buy"] == {"relay": 1, "valve": 1}
    assert found["spent"] == {"cost": 83, "mass_kg": 0.97}


@pytest.mark.parametrize(("money", "bought"), [("0,30", 3), ("0,29", 2)])
def test_limits_are_inclusive_to_the_cent(money, bought):
    found = compute("kit", {"lines": [{"part": "p", "mu": 5, "cost": 0.1}],
                            "limits": {"cost": money}})
    assert found["buy"] == {"p": bought}    # 3 x 0.10 is exactly 0.30


def test_a_line_that_only_gains_by_pairs_is_bought_by_pairs():
    found = compute("kit", {"lines": [
        {"part": "pair", "pmf": [0.5, 0, 0.5], "cost": 10},
        {"part": "one", "pmf": [0.8, 0.2], "cost": 15}], "limits": {"cost": 20}})
    assert found["buy"] == {"pair": 2, "one": 0}


def test_rising_gains_are_found_by_enumeration_too():
    """A small problem of money and mass from a public problem set; optimum by enumeration."""
    reach = {"x": [.5, .6, .7, .8, .9, 1], "y": [.6, .75, .95, 1, 1, 1], "z": [.7, .9, 1, 1, 1, 1]}
    price, mass = {"x": 20, "y": 30, "z": 40}, {"x": 2, "y": 4, "z": 6}
    lines = [{"part": k, "pmf": [round(b - a, 3) for a, b in zip([0, *v], v, strict=False)],
              "cost": price[k], "mass_kg": mass[k]} for k, v in reach.items()]

    def held(n):
        return reach["x"][n[0]] * reach["y"][n[1]] * reach["z"][n[2]]
    best, after = sorted(
        (n for n in itertools.product(range(6), repeat=3)
         if sum(i * price[k] for i, k in zip(n, reach, strict=True)) <= 150
         and sum(i * mass[k] for i, k in zip(n, reach, strict=True)) <= 20),
        key=held, reverse=True)[:2]
    assert (held(best), held(after)) == (pytest.approx(0.6075), pytest.approx(0.5985))
    found = compute("kit", {"lines": lines, "limits": {"cost": 150, "mass_kg": 20}})
    assert tuple(found["buy"].values()) == best == (4, 1, 1)
    assert found["protection"]["reached"] == pytest.approx(0.6075)
    assert found["spent"] == {"cost": 150, "mass_kg": 18}


def test_a_level_no_kit_reaches_is_refused_with_what_can_be_reached():
    with pytest.raises(OutOfRange) as caught:
        compute("kit", {"lines": [{"part": "p", "pmf": [0.5, 0.3], "cost": 1}], "level": 0.9})
    assert caught.value.facts["most"] == pytest.approx(0.8)


def test_a_level_already_reached_buys_nothing():
    found = _kit([("p", 0.01, 5)], level=0.9)
    assert (found["buy"], found["spent"]["cost"]) == ({"p": 0}, 0)
