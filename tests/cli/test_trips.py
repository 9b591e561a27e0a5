"""restock and trip on the command line: where hours come from, and what is said of a trip."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from spares.actions.context import Context, open_context
from spares.actions.documents import write_document
from spares.actions.trip.write import edit_trip
from spares.config import read_settings
from spares.domain.aboard import name_of
from spares.domain.draft import setting

LEGS = [{"distance_nm": "60", "speed_kn": "6", "machines": ["ENG"], "day": 0}]
STOP = {"name": "Grimvik", "arrives_on": "2027-05-20", "all": True}


@pytest.fixture
def aboard(demo: Path) -> Iterator[Context]:
    """Where the tests write what has no command of its own."""
    opened = open_context(read_settings())
    yield opened
    opened.store.close()


def test_a_new_trip_takes_hours_that_are_left_out_from_the_last_one_day_for_day(run, demo):
    made = run("trip", "new", "Short one", "2027-08-01", "2027-08-22", "--hours", "ENG=60,5",
               "--json").answer
    # The last trip's 20 days had 15 h of HYD at anchor and 40 h of WMK for the crew's water; GBX
    # counts by ENG, so it is not told.
    assert made["hours"] == {"ENG": 60.5, "HYD": 15.8, "WMK": 42, "HBR": 51.1}


def test_a_machine_by_any_of_its_names_has_its_own_hours_once(run, demo):
    made = run("trip", "new", "Short one", "2027-08-01", "2027-08-22", "--hours", "DYF7=10",
               "--json").answer
    assert made["hours"]["HBR"] == 10


def test_restock_says_hours_worked_out_and_what_to_buy_at_a_harbour(run, aboard):
    edit_trip(aboard, "T1", run={"ENG": None}, legs=LEGS, stops=[STOP])
    run("counted", "P034", "L17", "0")
    ran = run("restock", "T1")
    # 60 nm at 6 kn and half an hour of manoeuvring.
    assert "hours worked out: ENG 10.5" in ran.out
    assert "hours worked out: ENG 10.5" in run("trip", "show", "T1").out
    at_once, harbour = ran.out.split("At Grimvik, 2027-05-20, to buy:")
    # 190 h in 63 days from 45.6 h used of 100: changes on days 18 and 51, the harbour on 17.
    assert re.search(r"P034 +2 +Lube oil filter", harbour)
    assert "P034" not in at_once
    assert max(map(len, ran.out.splitlines())) <= 80


def test_restock_says_fuel_and_protection(run, aboard):
    aboard.write([setting(name_of("failure", one), gone=True)
                  for one in aboard.aboard().all("failure")])
    engine = aboard.named("ENG", "m", "machine")
    write_document(aboard, "machine", {"burns": {
        "at_kn": "6", "l_per_h": "9", "idle_l_per_h": "3"}}, doc=engine)
    write_document(aboard, "failure", {
        "part": aboard.named("P014", "part", "part"), "machine": engine,
        "figures": {"mtbf_days": 630, "units": 1}})
    edit_trip(aboard, "T1", run={"ENG": None}, legs=LEGS, fuel={"tank_l": 50},
              count_failures=True)
    said = " ".join(run("restock", "T1").out.split())
    # 10 h at 9 l/h and half an hour at 3 l/h; half as much again stays in the tank.
    assert "the trip burns 91.5 L" in said and "137.2 L are wanted" in said
    assert "the tank gives only 50 L" in said
    # Two nozzles are aboard and six are due, so none is to spare: e^-(63/630) is 0.905.
    assert "Of 100 such trips, 90 need nothing against breakdown that is not aboard" in said


def test_restock_names_a_leg_that_is_faster_than_the_fuel_table(run, aboard):
    engine = aboard.named("ENG", "m", "machine")
    write_document(aboard, "machine", {"burns": None}, doc=engine)
    edit_trip(aboard, "T1", run={"ENG": None}, legs=LEGS, fuel={"tank_l": 5000})
    write_document(aboard, "machine", {"burns": {"table": [[4, 3], [5, 5]]}}, doc=engine)
    said = " ".join(run("restock", "T1").out.split())
    assert ("fuel: what ENG burns at 6 kn on leg 1 is not known (its table ends at 5 kn), "
            "and not counted") in said


def test_restock_never_calls_aboard_what_was_only_accepted_as_missing(run, aboard):
    lines = run("restock", "T1", "--json").answer["lines"]
    short = [one["part"] for one in lines if one["state"] not in ("enough", "accepted")]
    for part in short:
        write_document(aboard, "trip-accept", {
            "trip": aboard.named("T1", "trip", "trip"), "part": aboard.named(part, "part", "part"),
            "by": "Anna", "on": "2027-03-15"})
    said = run("restock", "T1").out
    assert f"{len(lines) - len(short)} of {len(lines)} lines are aboard" in said
    assert f"{short[0]} " in said and said.count("accepted as missing by Anna, 2027-03-15") \
        == len(short)
    assert "by Anna, 2027-03-15" in run("restock", "T1", "--why", short[0]).out


def test_restock_names_every_machine_whose_fuel_is_not_known(run, demo):
    # the demo's trip gives hours alone: engine, generator and heater burn, nobody said how much
    assert "fuel: what ENG, HBR and HTR burn is not known, and not counted" in " ".join(
        run("restock", "T1").out.split())


def test_restock_says_what_its_protection_leaves_out(run, aboard):
    plan = run("restock", "T2", "--json").answer
    said = " ".join(run("restock", "T2").out.split())
    assert f"{len(plan['no_figure'])} parts have no failure figure and are left out" in said
    assert "1 of its failure figures is assumed" in said
    assumed = next(one["part"] for one in plan["failures"] if one["assumed"])
    assert "assumed, not known: " in run("restock", "T2", "--why", assumed).out
