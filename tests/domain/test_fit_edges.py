"""Corners of the rules: several ports, nothing there, a hand nobody wrote, a turn not said."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit.designations.threads import parse_thread
from spares.errors import InvalidInput


def rows_of(kind: str, requires: dict[str, Any], offers: dict[str, Any],
            **more: Any) -> dict[str, dict[str, Any]]:
    asked = [{"attr": attr, "value": value} for attr, value in requires.items()]
    answer = compute("fit", {"kind": kind, "requires": asked, "offers": offers, **more})
    return {row["attr"]: row for row in answer["rows"]}


@pytest.mark.parametrize(("asked", "have", "outcome"), [
    (["G 1", "1 NPT"], "1 NPT", "match"), (["1 NPT", "G 1"], "1 NPT", "match"),
    ("Rp 1", "Rp 1", "match"), ("Rc 1", "Rc 1", "match"), ("R 1", "Rp 1", "match"),
    ("R 1", "Rc 1", "match"), ("Rp 1", "Rc 1", "match"), ("G 1", "G 1", "match"),
    ("G 1", "Rc 1", "change")])
def test_port_takes_the_fitting_that_comes_to_it(asked: Any, have: str, outcome: str):
    """What is asked is the fitting, or the port as it was: R goes into Rp and Rc (ISO 7-1)."""
    for port in ("inlet_port", "outlet_port"):
        assert rows_of("pump", {port: asked}, {port: have})[port]["outcome"] == outcome


def test_bolt_circle_that_is_looked_for_and_not_there_is_a_stop():
    assert rows_of("pump", {"bolt_circle": 90}, {"bolt_circle": "none"})[
        "bolt_circle"]["outcome"] == "stop"


@pytest.mark.parametrize(("count", "spacing", "circle"), [
    (3, 60, 69.282), (4, 60, 84.853), (5, 60, 102.078), (6, 60, 120), (2, 60, 60)])
def test_bolt_circle_follows_from_the_spacing_of_its_holes(count: int, spacing: float,
                                                           circle: float):
    """Circle = spacing / sin(180 degrees / count), worked out by hand."""
    for off, outcome in ((0.29, "match"), (0.32, "stop"), (-0.29, "match"), (-0.32, "stop")):
        row = rows_of("pump", {"bolt_circle": round(circle + off, 3)},
                      {"hole_spacing": spacing, "bolt_count": count})["bolt_circle"]
        assert row["outcome"] == outcome
    back = rows_of("pump", {"hole_spacing": spacing},
                   {"bolt_circle": circle, "bolt_count": count})["hole_spacing"]
    assert back["outcome"] == "match"
    alone = rows_of("pump", {"bolt_circle": circle}, {"hole_spacing": spacing})["bolt_circle"]
    assert alone["outcome"] == "unknown"


def test_hand_of_a_thread_that_nobody_wrote_is_not_known():
    row = rows_of("fastener", {"hand": "left"}, {})["hand"]
    assert row["outcome"] == "unknown" and row["required"] == "left" and row["measure"]


@pytest.mark.parametrize(("text", "pitch_mm"), [("M15x4", 4), ("M15x5", 5)])
def test_metric_thread_with_no_coarse_pitch_takes_one_up_to_a_third(text: str, pitch_mm: int):
    """A number above that is the length of a screw: rule of this project."""
    assert [t.pitch_mm for t in parse_thread(text)] == [pitch_mm]
    assert parse_thread("M15x5.1") == () == parse_thread("M15x20")


def test_part_that_one_origin_does_not_know_is_not_measured():
    """Not: that two origins do not say the same, for one of them says nothing."""
    row = rows_of("impeller", {"bore": 16}, {"bore": [{"value": 16}, {"value": None}]})["bore"]
    assert row["outcome"] == "unknown" and row["reason"] == "not measured"


def test_second_material_by_another_name_rests_on_the_names_too():
    def names(have: Any) -> list[str]:
        return rows_of("impeller", {"material": ["NBR", "CR"]}, {"material": have})[
            "material"].get("rests_on", [])
    assert names(["NBR"]) == names(["NBR", "CR"]) == []
    assert names("nitrile") == names(["NBR", "nitrile"]) == ["names of materials"]


def test_screw_that_may_be_stronger_than_the_most_asked_does_not_fit():
    """SAE 5 bears 585 MPa (from memory); 8.8 bears 580 up to M16 and 600 above (ISO 898-1)."""
    asked = [{"attr": "property_class", "value": "SAE 5", "cmp": "at-most"}]
    for thread, good in (("M10", True), ("M20", False), (None, False)):
        offers = {"property_class": "8.8", **({"thread": thread} if thread else {})}
        answer = compute("fit", {"kind": "fastener", "requires": asked, "offers": offers})
        assert (answer["rows"][0]["outcome"] == "match") is good, thread


@pytest.mark.parametrize("text", ["M10x0", "M10x10", "M0", "M10x4", "M10x-1"])
def test_metric_thread_with_a_pitch_that_cannot_be_is_none(text: str):
    assert parse_thread(text) == ()


@pytest.mark.parametrize("curve", [[[0, 5]], [[-5, 5]], [[1000, -1]], [[1000, 5], [1000, 6]]])
def test_rated_point_that_cannot_be_is_refused(curve: list[list[float]]):
    with pytest.raises(InvalidInput):
        compute("cooling", {"heat_kw": 20, "rise_k": 15, "engine_rpm": 1500, "drive_pulley_mm": 1,
                            "driven_pulley_mm": 1, "pump": {"curve": curve}})


def test_pump_that_gives_nothing_at_its_rated_speed_gives_nothing():
    answer = compute("cooling", {"heat_kw": 20, "rise_k": 15, "engine_rpm": 1500,
                                 "drive_pulley_mm": 1, "driven_pulley_mm": 1,
                                 "pump": {"curve": [[1, 0]]}})
    assert answer["given_l_min"] == 0 and answer["enough"] is False


@pytest.mark.parametrize(("heat", "rise"), [(2000, 2), (2000, 40), (0.1, 40)])
def test_cooling_holds_at_the_ends_of_its_range(heat: float, rise: float):
    """4 095 083 J/(m³·K) of sea water: heat / (that × rise), in L/min."""
    needed = heat * 1000 / (1024.77 * 3996.1 * rise) * 60000
    answer = compute("cooling", {"heat_kw": heat, "rise_k": rise, "water": "sea"})
    assert answer["needed_l_min"] == pytest.approx(needed, abs=0.06)


def test_warm_outlet_is_told_above_25_kelvin_in_sea_water_alone():
    def remarks(rise: float, water: str) -> str:
        return " ".join(compute("cooling", {"heat_kw": 20, "rise_k": rise, "water": water})[
            "remarks"])
    assert "salt settles" in remarks(25.5, "sea")
    assert "salt settles" not in remarks(25, "sea") + remarks(30, "fresh")


@pytest.mark.parametrize(("asked", "have", "outcome"), [
    ({"value": "cw", "seen_from": "shaft"}, {"value": "cw", "seen_from": "cover"}, "stop"),
    ({"value": "cw", "seen_from": "shaft"}, {"value": "ccw", "seen_from": "cover"}, "match"),
    ({"value": "cw", "seen_from": "shaft"}, "cw", "unknown"),
    ("cw", {"value": "cw", "seen_from": "shaft"}, "unknown"),
    ({"value": "cw", "seen_from": "shaft"}, "either", "match")])
def test_turn_is_the_same_seen_from_either_end(asked: Any, have: Any, outcome: str):
    for kind in ("pump", "pump-seal"):
        row = rows_of(kind, {"rotation": asked}, {"rotation": have})["rotation"]
        assert row["outcome"] == outcome, kind


@pytest.mark.parametrize(("slip", "good"), [(0, 2860), (0.02, 2803), (0.1, 2574)])
def test_slip_slows_the_driven_shaft(slip: float, good: int):
    """2600 × 110 / 100 × (1 - slip)."""
    place = {"engine_speed_rpm": 2600, "drive_pulley_mm": 110, "driven_pulley_mm": 100,
             "slip": slip}
    for limit, outcome in ((good, "match"), (good - 1, "stop")):
        row = rows_of("pump", {}, {"max_speed_rpm": limit}, place=place)["max_speed_rpm"]
        assert row["outcome"] == outcome
