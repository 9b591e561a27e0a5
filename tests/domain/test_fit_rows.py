"""Rows of the fit check: what they say, what they rest on, what is to be measured first."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit import Claim, FitRequest, Link, check_fit


def fit(kind: str, requires: list[dict[str, Any]], offers: dict[str, Any],
        **more: Any) -> dict[str, Any]:
    return compute("fit", {"kind": kind, "requires": requires, "offers": offers, **more})


def row(answer: dict[str, Any], attr: str) -> dict[str, Any]:
    return next(r for r in answer["rows"] if r["attr"] == attr)


def test_row_shows_both_sides_in_the_attributes_unit():
    answer = fit("impeller", [{"attr": "bore", "value": "5/8 in", "tol": 0.1},
                              {"attr": "outside_diameter", "value": 65.0, "tol": 0.5}],
                 {"outside_diameter": {"value": 65.2, "unit": "mm", "u": 0.05}})
    assert row(answer, "bore")["required"] == "15.875 mm ± 0.1"
    assert row(answer, "bore")["offered"] is None
    assert row(answer, "bore")["measure"]
    assert row(answer, "outside_diameter")["offered"] == "65.2 mm ± 0.05"


def test_too_coarse_reading_asks_for_a_better_tool_by_name():
    for tol, tool in ((0.3, "calipers"), (0.1, "micrometer"), (2.0, "steel rule")):
        answer = fit("pump", [{"attr": "bolt_circle", "value": 90.0, "tol": tol, "u": 3}],
                     {"bolt_circle": 90.0})
        assert tool in row(answer, "bolt_circle")["measure"]


def test_uncertainty_comes_from_the_tool_when_it_was_measured():
    asked = [{"attr": "bore", "value": 16.0, "tol": 0.1}]
    for origin, offered, verdict in (
            ({"how": "maker"}, 16.1, "fits"), ({"how": "measured"}, 16.1, "not-known-yet"),
            ({"how": "measured"}, 16.05, "fits"), ({"how": "measured", "tool": "rule"}, 16.0,
                                                   "not-known-yet"),
            ({"how": "measured", "tool": "micrometer"}, 16.09, "fits"), ({"how": "plate"}, 16.1,
                                                                         "fits")):
        answer = fit("impeller", asked, {"bore": {"value": offered, "origin": origin}})
        assert answer["verdict"] == verdict, origin


def test_two_origins_of_a_part_that_disagree_are_not_known():
    asked = [{"attr": "bore", "value": 16.0}]
    two = [{"value": 16.0, "origin": {"how": "seller"}},
           {"value": 15.875, "origin": {"how": "plate"}}]
    assert fit("impeller", asked, {"bore": two})["verdict"] == "not-known-yet"
    same = [{"value": 16.0}, {"value": "16 mm", "origin": {"how": "plate"}}]
    assert fit("impeller", asked, {"bore": same})["verdict"] == "fits"


def test_two_requirements_of_other_comparators_both_hold():
    asked = [{"attr": "height", "value": 22, "cmp": "at-least"},
             {"attr": "height", "value": 27, "cmp": "at-most"}]
    assert fit("impeller", asked, {"height": 25})["verdict"] == "fits"
    assert fit("impeller", asked, {"height": 28})["verdict"] == "does-not-fit"
    assert len(fit("impeller", asked, {"height": 25})["rows"]) == 1


def test_range_with_an_unknown_end_is_not_known():
    asked = [{"attr": "height", "value": {"min": 22, "max": None}}]
    assert fit("impeller", asked, {"height": 25})["verdict"] == "not-known-yet"
    assert fit("impeller", asked, {"height": 20})["verdict"] == "does-not-fit"
    open_end = [{"attr": "height", "value": {"min": 22}, "cmp": "range"}]
    assert fit("impeller", open_end, {"height": 25})["verdict"] == "fits"


def test_none_matches_nothing_but_none():
    asked = [{"attr": "pilot_diameter", "value": 60.0}]
    assert fit("pump", asked, {"pilot_diameter": "none"})["verdict"] == "does-not-fit"
    none = [{"attr": "pilot_diameter", "value": "none"}]
    assert fit("pump", none, {"pilot_diameter": "none"})["verdict"] == "fits"
    assert fit("pump", none, {"pilot_diameter": 60.0})["verdict"] == "does-not-fit"
    assert fit("pump", none, {})["verdict"] == "not-known-yet"


def test_what_can_rule_out_is_measured_before_what_can_be_changed():
    answer = fit("pump", [{"attr": "inlet_port", "value": "G 1"},
                          {"attr": "pulley_line", "value": 48},
                          {"attr": "key_width", "value": 5},
                          {"attr": "pilot_diameter", "value": 60},
                          {"attr": "max_flow", "value": 100}], {})
    assert answer["to_measure"] == ["pilot_diameter", "key_width", "pulley_line", "inlet_port"]


def test_row_that_rests_on_memory_says_so():
    answer = fit("bearing", [{"attr": "code", "value": "62203-2RS"}], {"code": "62203-2RS"})
    assert answer["verdict"] == "fits"
    assert "from memory" in row(answer, "width")["reason"] and row(answer, "width")["rests_on"]
    printed = fit("bearing", [{"attr": "code", "value": "6203-2RS"}], {"code": "6203-2RS"})
    assert "from memory" not in row(printed, "width")["reason"]


def test_attribute_beside_a_code_replaces_what_the_code_says():
    asked = [{"attr": "code", "value": "6203-2RS"}, {"attr": "width", "value": 16}]
    assert fit("bearing", asked, {"code": "62203-2RS"})["verdict"] == "fits"
    offered = {"code": "6203-2RS", "width": 16}
    assert fit("bearing", [{"attr": "code", "value": "6203-2RS"}], offered)["verdict"] == \
        "does-not-fit"


def test_one_of_several_codes_is_enough():
    asked = [{"attr": "code", "value": ["A38", "SPA1000"], "tol": 20}]
    assert fit("drive-belt", asked, {"code": "SPA1000"})["verdict"] == "fits"
    assert fit("drive-belt", asked, {"code": "A41"})["verdict"] == "does-not-fit"


def test_change_names_the_part_that_is_recorded_for_it():
    asked, offered = [{"attr": "inlet_port", "value": "G 1 1/4"}], {"inlet_port": "1 1/4 NPT"}
    bare = fit("pump", asked, offered)["changes"][0]
    assert bare["change"] == "thread adapter at a port" and "no part recorded" in bare["detail"]
    named = fit("pump", asked, offered, companions={"inlet_port": ["P092"]})["changes"][0]
    assert "needs P092" in named["detail"]


def test_explicit_advisory_never_blocks_and_change_without_name_is_a_stop():
    asked = [{"attr": "bore", "value": 16}, {"attr": "width", "value": 20, "severity": "advisory"}]
    assert fit("impeller", asked, {"bore": 16, "width": 30})["verdict"] == "fits"
    asked[1]["severity"] = "change"
    assert fit("impeller", asked, {"bore": 16, "width": 30})["verdict"] == "does-not-fit"


def test_only_advice_recorded_is_said():
    answer = fit("impeller", [{"attr": "blade_count", "value": 9}], {"blade_count": 6})
    assert answer["verdict"] == "fits"
    assert any("only advice" in a["advisory"] for a in answer["advisories"])
    assert fit("impeller", [{"attr": "blade_count", "value": 9}], {})["verdict"] == "not-known-yet"


@pytest.mark.parametrize(("medium", "verdict"), [
    # some rubbers do not stand diesel, all that are listed stand sea water
    ("diesel", "not-known-yet"), ("sea-water", "fits")])
def test_place_that_asks_for_what_is_not_stated_blocks_where_something_would_fail(medium, verdict):
    answer = fit("impeller", [{"attr": "bore", "value": 16}], {"bore": 16},
                 place={"medium": medium})
    assert answer["verdict"] == verdict
    assert {r["attr"]: r["outcome"] for r in answer["rows"]} == {
        "bore": "match", "material": "unknown"}


@pytest.mark.parametrize(("kind", "offers", "place", "verdict"), [
    ("impeller", {}, {"medium": "diesel"}, "fits"),
    ("impeller", {"material": "rubber"}, {"medium": "diesel"}, "fits"),
    ("impeller", {"material": "EPDM"}, {"medium": "diesel"}, "does-not-fit"),
    ("fuse", {"form": "blade-mini"}, {"wire_mm2": 1.5}, "not-known-yet"),
    ("pump", {}, {"petrol_space": True, "driven_by": "electric"}, "not-known-yet")])
def test_proof_that_decides_alone_lifts_what_nobody_can_tell_but_no_rule_that_always_holds(
        kind, offers, place, verdict):
    linked = [{"role": "takes", "proof": "makers-list"}]
    assert fit(kind, [], offers, place=place, links=linked)["verdict"] == verdict


@pytest.mark.parametrize(("links", "verdict"), [
    ([("takes", "hearsay"), ("takes", "measured")], "fits"),
    ([("takes", "candidate")], "not-known-yet"),
    ([("takes", "fitted-before")], "fits"), ([("takes", "tried-no")], "does-not-fit"),
    ([("takes", "measured"), ("goes-with", "makers-list")], "fits"),
    ([("goes-with", "measured")], "does-not-fit"), ([], "not-known-yet")])
def test_strongest_link_decides_where_nothing_is_asked(links, verdict):
    answer = fit("pump", [], {}, links=[{"role": r, "proof": p} for r, p in links])
    assert answer["verdict"] == verdict


def test_hand_and_thread_go_together():
    asked = [{"attr": "thread", "value": "M12x1.5"}, {"attr": "hand", "value": "left"}]
    assert fit("fastener", asked, {"thread": "M12x1.5 LH"})["verdict"] == "fits"
    assert fit("fastener", asked, {"thread": "M12x1.5"})["verdict"] == "does-not-fit"
    measured = {"thread": {"major": 11.85, "pitch": 1.5}}
    assert fit("fastener", asked[:1] + [], measured)["verdict"] == "fits"
    left = [{"attr": "thread", "value": "M12x1.5 LH"}]
    assert fit("fastener", left, measured)["verdict"] == "not-known-yet"


def test_thread_and_word_are_different_and_a_strange_thread_is_not_known():
    asked = [{"attr": "retaining", "value": "M4"}]
    assert fit("impeller", asked, {"retaining": "circlip"})["verdict"] == "does-not-fit"
    assert fit("impeller", asked, {"retaining": "M4x0.7"})["verdict"] == "fits"
    assert fit("impeller", asked, {"retaining": "4 mm screw"})["verdict"] == "not-known-yet"


def test_key_may_be_written_with_its_height():
    asked = [{"attr": "key_width", "value": "5x5"}]
    assert fit("pump", asked, {"key_width": 5, "key_height": 5})["verdict"] == "fits"
    assert fit("pump", asked, {"key_width": "5x6"})["verdict"] == "does-not-fit"
    assert fit("pump", asked, {"key_width": 5})["to_measure"] == ["key_height"]


def test_speed_may_be_given_by_teeth_of_gears():
    place = {"engine_speed_rpm": 2000, "drive_pulley_mm": 40, "driven_pulley_mm": 20,
             "driven_by": "gear"}
    answer = fit("pump", [{"attr": "gear_teeth", "value": 20}],
                 {"gear_teeth": 20, "max_speed_rpm": 3500}, place=place)
    assert row(answer, "max_speed_rpm")["required"] == "≥ 4000 r/min"
    assert answer["verdict"] == "does-not-fit"


def test_flow_that_nobody_asked_is_told_at_the_derived_speed():
    place = {"engine_speed_rpm": 2600, "drive_pulley_mm": 110, "driven_pulley_mm": 100}
    answer = fit("pump", [{"attr": "bolt_count", "value": 4}],
                 {"bolt_count": 4, "flow": {"value": 42, "at_rpm": 1750}}, place=place)
    assert answer["verdict"] == "fits" and "68.6" in row(answer, "flow")["reason"]


def test_part_of_another_kind_is_judged_by_what_the_place_asks():
    request = FitRequest("gasket", (Claim("thickness", 1.0),), (Claim("thread", "M10"),))
    assert check_fit(request).verdict == "not-known-yet"


def test_companion_answers_that_it_does_not_sit_here():
    request = FitRequest("gasket", (Claim("thickness", 1.0),), (Claim("thread", "M10"),),
                         links=(Link("goes-with", "measured"),))
    assert check_fit(request).verdict == "does-not-fit"


def test_place_without_a_kind_is_decided_by_its_links():
    assert check_fit(FitRequest("", (), (), links=(Link("takes", "measured"),))).verdict == "fits"


@pytest.mark.parametrize("order", [("advisory", "stop"), ("stop", "advisory")])
def test_the_gravest_of_two_origins_decides(order):
    asked = [{"attr": "bore", "value": 16, "severity": one} for one in order]
    said = compute("fit", {"kind": "impeller", "requires": asked, "offers": {"bore": 25}})
    assert said["verdict"] == "does-not-fit"
