"""What the fit check says beside its verdict: sizes, tools, reasons, to the figure."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute


def row_of(kind: str, attr: str, asked: Any, offered: Any, **more: Any) -> dict[str, Any]:
    wanted = asked if isinstance(asked, dict) and "value" in asked else {"value": asked}
    answer = compute("fit", {"kind": kind, "requires": [{"attr": attr, **wanted}],
                             "offers": {attr: offered}, **more})
    return next(r for r in answer["rows"] if r["attr"] == attr)


@pytest.mark.parametrize(("tol", "tool"), [
    (0.02, "a micrometer or better"), (0.03, "a micrometer or better"), (0.14, "a micrometer"),
    (0.15, "calipers"), (1.4, "calipers"), (1.5, "a steel rule"), (2.9, "a steel rule"),
    (3, "a tape")])
def test_coarsest_tool_that_reads_to_a_third_of_the_tolerance_is_named(tol: float, tool: str):
    """A reading should be good to a third of the tolerance at least: common practice, no source."""
    row = row_of("impeller", "bore", {"value": 40, "tol": tol, "u": 9}, 40)
    assert row["outcome"] == "unknown"
    assert row["measure"].startswith(f"measure again with {tool}")


def test_too_coarse_pressure_is_measured_as_its_line_says():
    row = row_of("filter", "bypass_bar", {"value": 1, "u": 1}, 1)
    assert row["outcome"] == "unknown" and row["measure"]
    assert "measure again" not in row["measure"]


def test_between_two_tolerances_both_are_named():
    """A gasket of 1 mm: 0.05 mm serves any joint, 0.2 mm only some."""
    row = row_of("gasket", "thickness", 1, 1.1)
    assert row["outcome"] == "unknown" and "more than ± 0.05, less than ± 0.2" in row["reason"]
    coarse = row_of("gasket", "thickness", 1, {"value": 1.1, "u": 0.05})
    assert coarse["outcome"] == "unknown" and "readings are good to" in coarse["reason"]


@pytest.mark.parametrize(("have", "told"), [
    (40.6, "0.6 mm more than asked"), (39.4, "0.6 mm less than asked"),
    (41.234, "1.234 mm more than asked")])
def test_difference_is_told_with_its_side(have: float, told: str):
    assert told in row_of("impeller", "bore", 40, have)["reason"]


@pytest.mark.parametrize(("have", "told"), [(40, "as asked"), (40.05, "inside")])
def test_match_says_whether_it_is_to_the_figure(have: float, told: str):
    assert row_of("impeller", "bore", 40, have)["reason"] == told


def test_sum_of_both_readings_is_told_where_it_is_too_coarse():
    row = row_of("impeller", "bore", {"value": 40, "u": 0.05}, {"value": 40, "u": 0.1})
    assert "good to ± 0.15 only" in row["reason"]
    assert row["required"].endswith(" mm ± 0.1 (read to ± 0.05)")
    assert row["offered"].endswith(" mm ± 0.1")


@pytest.mark.parametrize(("kind", "attr", "inside", "outside", "outcome"), [
    ("pump", "port_direction", 50, 50.1, "change"), ("pump", "port_direction", 30, 29.9, "change"),
    ("gasket", "outline", 40.5, 40.51, "stop"), ("gasket", "outline", 39.5, 39.49, "stop")])
def test_amount_of_a_line_that_may_be_anything_has_its_tolerance(
        kind: str, attr: str, inside: float, outside: float, outcome: str):
    """Ports to 10 degrees of the clock, outlines to 0.5 mm: common practice, no source."""
    assert row_of(kind, attr, 40, inside)["outcome"] == "match"
    assert row_of(kind, attr, 40, outside)["outcome"] == outcome


@pytest.mark.parametrize("port", ["inlet_port", "outlet_port"])
def test_port_smaller_than_it_was_takes_no_adapter(port: str):
    row = row_of("pump", port, "G 1", "G 3/4")
    assert row["outcome"] == "stop" and "smaller bore" in row["reason"]


@pytest.mark.parametrize("barb", ["inlet_barb", "outlet_barb"])
def test_barb_smaller_than_the_hose_takes_no_tail(barb: str):
    assert row_of("pump", barb, 32, 25, place={"medium": "sea-water"})["outcome"] == "stop"


def test_flow_above_a_limit_is_worked_out_at_the_speed_of_the_place():
    """42 L/min at 1750 1/min are 68.64 at 2860: above 68, not above 69."""
    place = {"engine_speed_rpm": 2600, "drive_pulley_mm": 110, "driven_pulley_mm": 100}
    for limit, outcome in ((69, "match"), (68, "advisory")):
        answer = compute("fit", {"kind": "pump", "place": place, "requires": [
            {"attr": "max_flow", "value": limit}], "offers": {
                "flow": {"value": 42, "at_rpm": 1750}}})
        row = next(r for r in answer["rows"] if r["attr"] == "max_flow")
        assert row["outcome"] == outcome


def test_between_v_and_narrow_v_the_section_decides_where_it_is_asked():
    asked = [{"attr": "belt_kind", "value": "v"}]
    offers = {"belt_kind": "narrow-v", "section": "SPA"}
    for more, outcome in (([], "stop"), ([{"attr": "section", "value": ["A", "SPA"]}], "match")):
        answer = compute("fit", {"kind": "drive-belt", "requires": asked + more, "offers": offers})
        assert answer["rows"][0]["outcome"] == outcome


@pytest.mark.parametrize("have", ["15W40", "SAE 15W-40", "15 w 40", "sae_15w_40"])
def test_viscosity_is_read_in_its_spellings(have: str):
    assert row_of("fluid", "viscosity", "SAE 15W-40", have)["outcome"] == "match"
    assert row_of("fluid", "viscosity", "10W-40", have)["outcome"] == "stop"


def test_ring_by_size_is_told_apart_from_a_ring_by_dash_number():
    """The sizes decide; that the standard is another is advice."""
    answer = compute("fit", {"kind": "o-ring", "requires": [{"attr": "code", "value": "AS568-214"}],
                             "offers": {"code": "24.99x3.53"}})
    row = next(r for r in answer["rows"] if r["attr"] == "code")
    assert row["outcome"] == "advisory" and "another standard" in row["reason"]
    assert answer["verdict"] == "fits"


@pytest.mark.parametrize(("section", "outcome"), [(5, "match"), (5.2, "match"), (5.3, "stop"),
                                                  (4.7, "stop")])
def test_packing_fills_half_of_bore_less_shaft(section: float, outcome: str):
    """(30 - 20) / 2 = 5 mm, to 0.2 mm: common practice, no source."""
    answer = compute("fit", {"kind": "pump-seal", "requires": [
        {"attr": "seal_kind", "value": "packing"}, {"attr": "shaft_diameter", "value": 20},
        {"attr": "housing_bore", "value": 30}], "offers": {
            "seal_kind": "packing", "section": section}})
    outcomes = {r["attr"]: r["outcome"] for r in answer["rows"]}
    assert outcome in (outcomes["shaft_diameter"], outcomes["housing_bore"])
    assert answer["verdict"] == ("fits" if outcome == "match" else "does-not-fit")
