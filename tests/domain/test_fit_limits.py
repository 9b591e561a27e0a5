"""Limits, lists, grades and dates: what is just inside, just outside, and one of several.

Expected outcomes by hand from the rule each test names; rules of this project where no source is.
"""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from spares.domain.fit import Claim, FitRequest, check_fit
from spares.domain.fit.judges.holes import clearance
from spares.domain.fit.sheets import read_sheet
from spares.domain.fit.values import COMPARATORS, Link
from spares.errors import InvalidInput
from tests.domain.test_fit_edges import rows_of

HEAD = """
kind = "winch-pawl"
label = "Pawl of a winch"
[source]
body = "own measurements"
number = "-"
known_by = "read"
[attributes.line]
label = "Line"
measure = "look"
why = "it must go in"
"""
QUANTITY = 'unit = "mm"\ntool = "label"\n'
RANKS = 'type = "rank"\nranks = ["low", "mid", "high"]\n'
MAY = {
    "quantity": "tol equal at-least at-most range one-of", "word": "equal one-of mates",
    "material": "one-of equal", "flag": "equal at-least one-of", "thread": "mates equal one-of",
    "rank": "at-least at-most equal one-of", "day": "at-least at-most equal",
    "rotation": "equal one-of", "code": "equal one-of", "span": "equal range",
    "length": "tol equal at-least at-most range one-of", "flow": "at-least at-most tol equal range",
    "any": "equal tol at-least at-most range one-of mates"}


def outcome(line, asked, have, **more):
    sheet = read_sheet(HEAD + line, "pawl.toml")
    claims = [Claim("line", value) for value in (have if isinstance(have, tuple) else (have,))]
    request = FitRequest("winch-pawl", (Claim("line", asked, **more),), tuple(claims))
    return check_fit(request, {"winch-pawl": sheet}).rows[0].outcome


@pytest.mark.parametrize("sort", MAY)
def test_own_sheet_names_a_comparator_that_its_type_has(sort):
    for cmp in COMPARATORS:
        line = f'type = "{sort}"\ncmp = "{cmp}"\nunit = "mm"\ntol = 0.2\nranks = ["a", "b"]\n'
        if cmp in MAY[sort].split():
            assert read_sheet(HEAD + line, "x.toml").attributes["line"].cmp == cmp
        else:
            with pytest.raises(InvalidInput, match="cmp"):
                read_sheet(HEAD + line, "x.toml")


@pytest.mark.parametrize(("cmp", "asked", "have", "found"), [
    ("at-least", "mid", "high", "match"), ("at-least", "mid", "low", "stop"),
    ("at-most", "mid", "low", "match"), ("at-most", "mid", "high", "stop"),
    ("at-most", "mid", "mid", "match"), ("equal", "mid", "high", "stop"),
    ("equal", "mid", "odd", "stop"), ("at-least", "mid", "odd", "unknown"),
    ("at-least", ["low", "odd"], "high", "unknown"), ("at-least", ["low", "high"], "mid", "stop"),
    ("one-of", ["low", "high"], "mid", "stop"), ("one-of", ["low", "high"], "high", "match")])
def test_grades_have_an_order(cmp, asked, have, found):
    assert outcome(f'{RANKS}cmp = "{cmp}"\n', asked, have) == found


@pytest.mark.parametrize(("line", "asked", "have", "found"), [
    ('cmp = "one-of"\n', 10, 10, "match"), ('cmp = "one-of"\n', 10, 10.3, "stop"),
    ('cmp = "one-of"\n', [10, 20], 20, "match"), ('cmp = "one-of"\n', [10, 20], 10.5, "stop"),
    ("", [10, 20], 20, "match"), ("", [10, 20], 10.5, "stop"), ("", 10, 10.5, "stop"),
    ("tol = 0.2\n", [10, 20], 10.2, "match"), ("tol = 0.2\n", [10, 20], 19.7, "stop"),
    ("", {"min": 10, "max": 20}, 10, "match"), ("", {"min": 10, "max": 20}, 20, "match"),
    ("", {"min": 10, "max": 20}, 20.1, "stop"), ("", {"min": 10}, 9.9, "stop"),
    ("", {"min": 10, "max": None}, 11, "unknown"), ("", {"min": 10, "max": None}, 9, "stop"),
    ("", {"min": None, "max": None}, 11, "unknown"), ("", 0, 0, "match"), ("", 0, -1, "unknown"),
    ("signed = true\n", -1, -1, "match"), ("signed = true\n", -1, 1, "stop")])
def test_amount_is_held_to_one_to_several_and_to_a_range(line, asked, have, found):
    assert outcome(QUANTITY + line, asked, have) == found


def test_grade_is_held_to_the_poorest_of_those_asked_as_a_least():
    assert outcome(RANKS, ["low", "high"], "mid", cmp="at-least") == "match"
    assert outcome(RANKS, ["mid", "high"], "low", cmp="at-least") == "stop"


def test_comparator_that_an_amount_does_not_have_is_refused():
    with pytest.raises(InvalidInput, match="mates"):
        outcome(QUANTITY, 10, 10, cmp="mates")


def test_own_tolerance_counts_before_the_sheets_and_equal_asks_for_none():
    assert outcome(QUANTITY, 10, 10.4, tol=0.5) == "match"
    assert outcome(QUANTITY, 10, 10.6, tol=0.5) == "stop"
    assert outcome(QUANTITY + "tol = 0.2\n", 10, 10.1, cmp="equal") == "stop"
    assert outcome(QUANTITY + "tol = 0.2\n", 10, 10, cmp="equal") == "match"


def test_part_that_comes_in_two_words_serves_only_where_both_do():
    assert outcome("", "red", ["red", "blue"]) == "stop"
    assert outcome("offered_any = true\n", "red", ["red", "blue"]) == "match"
    assert outcome("", ["red", "blue"], ["red", "blue"]) == "match"


def test_one_of_two_origins_that_says_nothing_leaves_it_open():
    assert outcome(QUANTITY, 10, (10, None)) == "unknown"
    assert outcome(QUANTITY, 10, (10, 11)) == "unknown"
    assert outcome(QUANTITY, 10, (10, 10)) == "match"
    assert outcome(QUANTITY, 10, {"value": None, "note": "worn"}) == "unknown"


@pytest.mark.parametrize(("cmp", "asked", "have", "found"), [
    ("at-most", "2024-05", "2024-05-14", "match"), ("at-most", "2024-05", "2024-06-01", "stop"),
    ("at-least", "2024-05-14", "2024-06", "match"),
    ("at-least", "2024-05-14", "2024-05", "unknown"),
    ("at-least", "2024", "2023-12-31", "stop"), ("equal", "2024", "2024-12-31", "match")])
def test_dates_are_compared_as_far_as_they_are_known(cmp, asked, have, found):
    assert outcome(f'type = "day"\ncmp = "{cmp}"\n', asked, have) == found


@pytest.mark.parametrize(("have", "found"), [(True, "match"), ("y", "match"), ("1", "match"),
                                             (False, "stop"), ("none", "stop")])
def test_yes_is_yes_however_it_is_said(have, found):
    for line in ('type = "any"\n', 'type = "flag"\n'):
        assert outcome(line, True, have) == found


def test_part_cured_today_is_not_dated_after_today():
    for day, said in (("2027-03-10", False), ("2027-03-11", True)):
        answer = compute("fit", {"kind": "o-ring", "today": "2027-03-10", "requires": [],
                                 "offers": {"material": "NBR", "cured_on": day}})
        assert ("after today" in str(answer["rows"])) is said


def test_link_has_a_role_and_a_proof_that_there_are():
    assert Link("takes", "measured").proof == "measured"
    for role, proof in (("takes", "guess"), ("holds", "measured")):
        with pytest.raises(InvalidInput):
            Link(role, proof)


def test_of_several_codes_asked_the_one_that_serves_best_counts():
    codes = {"kind": "bearing", "requires": [{"attr": "code", "value": ["6204-2RS", "6203-2RS"]}]}
    assert compute("fit", codes | {"offers": {"bore": 17}})["verdict"] == "not-known-yet"
    assert compute("fit", codes | {"offers": {"code": "6203-2RS"}})["verdict"] == "fits"
    pads = {"kind": "pump", "place": {"medium": "diesel"}, "requires": [
        {"attr": "flange_code", "value": ["101-2", "82-2"]}, {"attr": "inlet_barb", "value": 25}]}
    answer = compute("fit", pads | {"offers": {"flange_code": "82-2", "inlet_barb": 19}})
    assert answer["verdict"] == "fits-with-changes"


def test_flow_is_looked_at_only_where_the_speed_of_the_pump_is_known():
    speeds = {"engine_speed_rpm": 3000, "drive_pulley_mm": 100, "driven_pulley_mm": 100}
    for place, seen in (({}, False), (speeds, True)):
        rows = rows_of("pump", {"bolt_count": 4}, {"bolt_count": 4, "flow": 30}, place=place)
        assert ("flow" in rows) is seen


def test_hole_is_drilled_to_the_size_that_is_asked():
    """M8: close 8.4, normal 9, coarse 10 mm (ISO 273)."""
    row = rows_of("pump", {"bolt_thread": "M8", "bolt_hole": 9}, {"bolt_hole": 8.7})["bolt_hole"]
    assert (row["outcome"], row["detail"]) == ("change", "drill to 9.0 mm")


@pytest.mark.parametrize("thread", ["M1.6", "M2.5", "M3.5"])
def test_screws_of_broken_size_have_holes_too(thread):
    close, normal, coarse = clearance(thread)
    assert float(thread[1:]) < close < normal < coarse


def test_thread_that_is_only_half_told_stays_open():
    for have in (["M8", "M10"], {"major": None, "pitch": 1.25}, {"major": 7.9}):
        assert rows_of("fastener", {"thread": "M8"}, {"thread": have})["thread"][
            "outcome"] == "unknown"


def test_rubber_of_one_of_two_sorts_stays_open():
    for asked, found in (("NBR", "unknown"), (["NBR", "CR"], "match"), ("FKM", "stop")):
        assert rows_of("o-ring", {"material": asked}, {"material": "CR/NBR"})["material"][
            "outcome"] == found


def test_what_is_printed_but_denied_of_a_hose_stays_open():
    row = rows_of("hose", {"standard": "ISO 8469"}, {"standard": ["not ISO 7840", "ISO 8469"]})
    assert row["standard"]["outcome"] == "unknown"


@pytest.mark.parametrize(("asked", "have", "drive", "found"), [
    (50, {"value": 60, "at_rpm": 1500}, "electric", "match"),
    (50, {"value": 60, "at_rpm": 1500}, "gear", "unknown"),
    ({"value": 50, "at_bar": 0}, {"value": 60, "at_bar": 0}, "electric", "match"),
    ({"value": 50, "at_bar": 0.5}, {"value": 60, "at_bar": 0}, "electric", "unknown"),
    ({"value": 50, "at_bar": 0.5}, {"value": 60, "at_bar": 0.5}, "electric", "match"),
    ({"value": 50, "at_bar": 0.5}, 60, "electric", "unknown")])
def test_flow_is_stated_at_a_speed_or_by_a_motor_and_at_a_pressure(asked, have, drive, found):
    row = rows_of("pump", {"flow": asked}, {"flow": have, "drive": drive})["flow"]
    assert row["outcome"] == found


def test_readings_between_a_metric_and_an_inch_pitch_ask_for_the_gauge():
    """M8x1 and 5/16-24 UNF (1.058 mm): a pitch read as 1.03 may be either."""
    read = {"thread": {"major": 7.9, "pitch": 1.03}}
    row = rows_of("fastener", {"thread": "M8x1"}, read)["thread"]
    assert (row["outcome"], row["measure"]) == ("unknown", "pitch gauge")


@pytest.mark.parametrize(("material", "place", "found"), [
    (["stainless", "steel"], {"mating_metal": "aluminium", "wet": True}, "change"),
    (["steel", "zinc-plated steel"], {"mating_metal": "aluminium", "wet": True}, "match"),
    (["A4"], {"mating_metal": "A2"}, "match")])
def test_one_noble_part_of_a_screw_is_enough_to_eat_aluminium(material, place, found):
    row = rows_of("fastener", {"material": material}, {"material": material}, place=place)
    assert row["material"]["outcome"] == found


def test_stainless_of_unsaid_sort_stays_open_in_aluminium_too():
    for place in ({}, {"mating_metal": "aluminium", "wet": True}):
        row = rows_of("fastener", {"material": "A4"}, {"material": "stainless"}, place=place)
        assert row["material"]["outcome"] == "unknown"


def test_stainless_on_stainless_is_advised_about():
    answer = compute("fit", {"kind": "fastener", "place": {"mating_metal": "A2"}, "requires": [
        {"attr": "material", "value": ["A4", "steel"]}], "offers": {"material": ["A4", "steel"]}})
    assert any("galls" in one["advisory"] for one in answer["advisories"])
