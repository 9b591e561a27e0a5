"""The trip "Sound survey", with legs, energy, water, a stop and failures, reckoned apart.

Hours and litres are worked out by hand in the comments; when work falls due by the slow
reckoning beside this file; spares against failures by scipy's distributions.
"""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from itertools import product
from math import log, prod
from pathlib import Path

import pytest
from scipy.stats import nbinom, poisson

from spares.actions.trip.preview import kit_for
from spares.actions.trip.restock import restock
from spares.transfer.tables import read_tables
from tests.demo import reckoning

LEAVE, DAYS, STOP = date(2027, 8, 2), 20, 10
# Two legs of 84 nm at 7 kn with half an hour of manoeuvring each, on days 0 and 17.
ENG_H = 2 * (84 / 7 + 0.5)
ENG_DAILY = [Fraction(25, 2) if day in (0, 17) else Fraction(0) for day in range(DAYS)]
HYD_H, WMK_H = 10 * 1.5, 20 * (4 * 30 / 60)
# 80 W x 24 h + 250 W x 10 h through an inverter of 90 % + 40 W x 6 h, in kWh a day.
LOADS = 1.92 + 2.5 / 0.9 + 0.24
SOLAR = 0.4 * 4 * 0.75
# 60 A x 24 V x 85 % for 12.5 h would be 15.3 kWh; the battery takes 35 % of 400 Ah at 24 V,
# 3.36 kWh, less than the 3.74 kWh that the day wants; two such days in twenty.
MOTORING = 2 * 3.36 / 20
DEFICIT_AH = 1000 * (LOADS - SOLAR - MOTORING) / 24
# 30 % of 400 Ah at 70 A and 85 %, then the taper from 80 % to 85 %: 2.0168 h + 0.3868 h.
CYCLE_H = 0.30 * 400 / (0.85 * 70) + 0.20 * 400 / (0.85 * 70) * log(0.20 / 0.15)
HBR_H = DAYS * CYCLE_H * DEFICIT_AH / (0.35 * 400)
# 40 % load lies between 25 % (1.1 l/h) and 50 % (1.6 l/h).
HBR_L = HBR_H * (1.1 + 0.5 * (0.40 - 0.25) / 0.25)
# Cube law from 18 l/h at 8 kn; two half hours of manoeuvring at the idle 3 l/h.
ENG_L = 24 * 18 * (7 / 8) ** 3 + 1 * 3


@pytest.fixture(scope="module")
def plan(demo):
    return restock(demo, "Sound survey")


@pytest.fixture(scope="module")
def tables():
    return read_tables(Path(__file__).parents[2] / "seed" / "tangloppe")


@pytest.fixture(scope="module")
def work(tables):
    run = {"ENG": ENG_DAILY, "GBX": ENG_DAILY, "HYD": Fraction(15), "WMK": Fraction(40),
           "HBR": Fraction(HBR_H)}
    return reckoning.days_of_work(tables, LEAVE, DAYS, run)


@pytest.fixture(scope="module")
def spares_wanted():
    """For part: the mean or the own log, and the level of its weight."""
    hours, tried = 6 * ENG_H, 11474.4          # six nozzles
    return {"P037": poisson.ppf(0.95, HBR_H / 600), "P048": poisson.ppf(0.95, DAYS / 900),
            "P061": poisson.ppf(0.99, DAYS / 1000),
            "P014": nbinom.ppf(0.99, 1 + 0.5, tried / (tried + hours))}


def test_hours_are_those_of_legs_anchor_battery_and_water(plan):
    assert {no: h for no, h in plan["hours"].items() if h} == pytest.approx(
        {"ENG": ENG_H, "GBX": ENG_H, "HYD": HYD_H, "WMK": WMK_H, "HBR": HBR_H}, abs=0.01)
    assert {one["machine"]: one["by"] for one in plan["running"] if one["hours"]} == {
        "ENG": "legs", "HYD": "legs", "GBX": "counter-of", "HBR": "energy", "WMK": "water"}


def test_the_daily_balance_and_the_fuel_are_those_worked_out(plan):
    energy, fuel = plan["energy"], plan["fuel"]
    assert [energy[name] for name in (
        "loads_kwh_per_day", "solar_kwh_per_day", "motoring_kwh_per_day", "deficit_ah", "cycle_h",
    )] == pytest.approx([LOADS, SOLAR, MOTORING, DEFICIT_AH, CYCLE_H], abs=0.001)
    assert fuel["machines"] == pytest.approx({"ENG": ENG_L, "HBR": HBR_L}, abs=0.01)
    assert fuel["needed_l"] == pytest.approx(1.5 * (ENG_L + HBR_L), abs=0.02)
    assert (fuel["state"], fuel["tank_l"]) == ("enough", 600)


def test_services_fall_on_the_days_reckoned(plan, work):
    days, _, unknown = work
    told = {one["service"]: [0] * one["before"] + [day + 1 for day in one["days"]]
            for one in plan["services"]}
    counts = {no: len(found) for no, found in days.items()}
    assert {no: len(found) for no, found in told.items()} == counts
    assert sorted(plan["history_unknown"]) == sorted(unknown)


def test_minimum_is_services_up_to_the_stop_and_spares_for_the_level(
        plan, tables, work, spares_wanted):
    days = work[0]
    filters = {row["no"] for row in reckoning.rows(tables, "parts") if row["kind"] == "filter"}
    sure, aside, later = {}, {}, {}
    for line in reckoning.rows(tables, "kits"):
        part, pieces = line["part"], line["quantity"] // 1000
        first = [n for n in days[line["service"]] if part not in filters or n <= STOP]
        sure[part] = sure.get(part, 0) + pieces * len(first)
        later[part] = later.get(part, 0) + pieces * (len(days[line["service"]]) - len(first))
        aside[part] = aside.get(part, 0) + pieces * bool(line["set_aside"])
    keep = {row["part"]: row["quantity"] // 1000 for row in reckoning.rows(tables, "keep")}
    wanted = {part: max(keep.get(part, 0), sure.get(part, 0) + max(
        aside.get(part, 0), int(spares_wanted.get(part, 0))))
        for part in {*sure, *keep, *spares_wanted}}
    told = {line["part"]: line["minimum"] for line in plan["lines"]}
    assert {part: n for part, n in told.items() if n} == {p: n for p, n in wanted.items() if n}
    (stop,) = plan["stops"]
    assert stop["name"] == "Fjord harbour"
    assert {line["part"]: line["for_service"] for line in stop["lines"] if line["for_service"]
            } == {part: n for part, n in later.items() if n}


def test_spares_against_failures_are_those_of_the_distributions(plan, spares_wanted):
    told = {line["part"]: line["for_failure"] for line in plan["lines"]}
    assert {part: told.get(part, 0) for part in spares_wanted} == spares_wanted
    assert {one["part"] for one in plan["failures"] if one["assumed"]} == {"P061"}


def test_protection_is_said_as_so_many_of_a_hundred_trips(plan):
    reached = plan["protection"]["reached"]
    assert 0.5 < reached < 0.99     # so no decimals, and cut to the trip below
    assert f"Of 100 such trips, {int(100 * reached)} need nothing" in plan["protection"]["text"]
    curve = [point["protection"] for point in plan["kit"]["curve"]]
    assert curve == sorted(curve) and plan["kit"]["upper_bound"] >= curve[-1] - 1e-12


def test_mass_is_that_of_the_pieces_to_buy(plan):
    # g: 5 nozzles 190, gasket 18, hose element 1900, strainer 350, 2 nuts 34, impeller 310,
    # 4 rockets 330, extinguisher 9200, seal 45, eye-wash 560, biocide 520, sealant 70
    assert plan["sums"]["mass_kg"] == 15.311


@pytest.mark.parametrize("mass_g", [50, 100, 200, 250, 500, 700])
def test_the_kit_for_a_mass_is_the_best_of_all_that_could_be_carried(demo, mass_g):
    """Every mix of up to three further pieces of each part that may fail, tried out [min, g]."""
    tried = 11474.4
    # part: chance that so many are enough, pieces aboard that no service takes, mass of one [g]
    lines = {"P014": (lambda n: nbinom.cdf(n, 1.5, tried / (tried + 6 * ENG_H)), 0, 190),
             "P037": (lambda n: poisson.cdf(n, round(60 * HBR_H) / 60 / 600), 1, 60),
             "P048": (lambda n: poisson.cdf(n, DAYS / 900), 1, 190),
             "P061": (lambda n: poisson.cdf(n, DAYS / 1000), 1, 310)}

    def reached(further):
        return prod(enough(aboard + n) for (enough, aboard, _), n in
                    zip(lines.values(), further, strict=True))

    mixes = [further for further in product(range(4), repeat=len(lines)) if sum(
        n * mass for n, (_, _, mass) in zip(further, lines.values(), strict=True)) <= mass_g]
    best = max(mixes, key=reached)
    sure_g = 15121      # the list without the fifth nozzle, which no service takes
    kit = kit_for(demo, "Sound survey", mass_kg=(sure_g + mass_g) / 1000)
    assert kit["start"] == pytest.approx(reached((0, 0, 0, 0)), abs=1e-9)
    assert kit["reached"] == pytest.approx(reached(best), abs=1e-9)
    assert {one["part"]: one["quantity"] for one in kit["buy"]} == {
        part: n for part, n in zip(lines, best, strict=True) if n}
