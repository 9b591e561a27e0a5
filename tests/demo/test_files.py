"""The demo's data files say what the vessel's description says."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest

from spares.domain.codes import is_code
from spares.transfer.tables import read_tables
from spares.transfer.vessel_rows import vessel_mark
from tests.demo import expected

SEED = Path(__file__).parents[2] / "seed"


@pytest.fixture(scope="module")
def tables():
    return read_tables(SEED / "tangloppe")


def by_no(rows):
    return {row.get("no"): row for row in rows}


def test_both_vessels_have_their_marks():
    marks = [vessel_mark(read_tables(SEED / name)) for name in ("tangloppe", "hestereje")]
    assert tuple(marks) == expected.MARKS


def test_there_is_as_much_of_everything_as_described(tables):
    assert {name: len(tables[name]) for name in expected.COUNTS} == expected.COUNTS


@pytest.mark.parametrize(("table", "codes"), [
    ("lockers", expected.LOCKER_CODES), ("machines", expected.MACHINE_CODES)])
def test_every_label_code_is_the_described_one_and_checks(tables, table, codes):
    assert {row.get("no"): row.get("code") for row in tables[table]} == codes
    assert all(is_code(code) for code in codes.values())


def test_the_codes_of_the_other_vessel_check():
    other = read_tables(SEED / "hestereje")
    found = {row.get("name"): row.get("code") for row in other["lockers"]}
    assert found == {"Stern box": "LVYR", "Bow box": "C4RH"}
    assert all(is_code(row.get("code")) for row in (*other["lockers"], *other["machines"]))


def test_only_two_lockers_cannot_be_reached_and_one_is_ashore(tables):
    shut = [r.get("no") for r in tables["lockers"] if not r.get("reachable") and r.get("aboard")]
    assert tuple(shut) == expected.NOT_REACHABLE_LOCKERS
    assert [r.get("no") for r in tables["lockers"] if not r.get("aboard")] == ["L25"]


def test_all_pieces_at_list_price_make_the_insurance_sum(tables):
    parts = by_no(tables["parts"])
    total = sum(Decimal(parts[row.get("part")].get("price")) * row.get("quantity") / 100_000
                for row in tables["stock"] if row.get("quantity") != "?")
    assert total == expected.INSURANCE_SUM_EUR
    assert {part.get("currency") for part in parts.values()} == {"EUR"}


def test_last_readings_are_the_hours_of_day_zero(tables):
    trusted = [row for row in tables["readings"] if not row.get("doubt")]
    last = {row.get("machine"): row.get("hours") for row in trusted}
    assert last == {no: Decimal(hours) * 60 for no, hours in expected.HOURS.items()}


def test_the_two_readings_that_nobody_believes_are_marked(tables):
    doubted = [(r.get("machine"), r.get("hours")) for r in tables["readings"] if r.get("doubt")]
    assert doubted == [("HYD", 603 * 60), ("WMK", 960 * 60)]


def test_services_of_unknown_history_have_no_record(tables):
    dated = {row.get("service") for row in tables["done"]}
    assert sorted({row.get("no") for row in tables["services"]} - dated) == (
        expected.HISTORY_UNKNOWN)


def test_the_dates_on_pieces_are_the_described_ones(tables):
    dated = {row.get("part"): row.get("expires") for row in tables["stock"] if row.get("expires")}
    for some in (expected.OUT_OF_DATE_TODAY, expected.OUT_OF_DATE_BEFORE_RETURN):
        assert some.items() <= dated.items()
    out = {part for part, day in dated.items() if day < expected.DAY_ZERO}
    soon = {part for part, day in dated.items()
            if expected.DAY_ZERO <= day < expected.RETURNS}
    assert out == expected.OUT_OF_DATE_TODAY.keys()
    assert soon == expected.OUT_OF_DATE_BEFORE_RETURN.keys()


def test_the_trip_is_the_described_one(tables):
    trip = next(row for row in tables["trips"] if row.get("no") == "T1")
    assert (trip.get("name"), trip.get("departs_on"), trip.get("returns_on")) == (
        expected.TRIP, expected.DEPARTS, expected.RETURNS)
    hours = {row.get("machine"): row.get("hours") / 60 for row in tables["trip_hours"]}
    assert hours == expected.TRIP_HOURS


@pytest.mark.parametrize(("file", "no"), [("kits", "service"), ("keep", "part")])
def test_kits_and_keep_levels_are_all_there(tables, file, no):
    # 33 services have a kit, two are only looked at; eleven parts have a keep level.
    assert len({row.get(no) for row in tables[file]}) == {"kits": 33, "keep": 11}[file]


def test_eight_kit_lines_are_set_aside_against_breakdown(tables):
    aside = sorted(row.get("part") for row in tables["kits"] if row.get("set_aside"))
    assert aside == "P001 P003 P005 P010 P037 P038 P058 P061".split()
