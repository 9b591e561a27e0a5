"""Each named change where it may be used, and not on the other side; whether it takes a part."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit import named_changes

# The words that a verdict may use, and whether a further part is needed: rule of this project.
NAMES = {
    "thread-adapter": ("thread adapter at a port", True),
    "thread-sealant": ("sealant or a sealing ring at the joint", False),
    "face-seal": ("face seal at the port", True), "hose-tail": ("hose tail or reducer", True),
    "drill-holes": ("drill flange holes to the next ISO 273 size", False),
    "other-screw": ("longer or shorter screw, washers", False),
    "sleeve": ("sleeve on a worn shaft, seal moved 2 mm", True),
    "other-pulley": ("pulley of other bore or diameter", True),
    "set-pulley": ("set or shim the pulley on its shaft", False),
    "shim": ("shim under the foot", False),
    "swap-hoses": ("swap hoses for the other rotation", False),
    "re-route": ("re-route the hose", False),
    "turn-body": ("turn the body so that the drain points down", False),
    "cut-anode": ("cut anode to length", False), "isolate": ("isolating paste or bush", False),
    "flush": ("drain, flush and refill", False),
    "mix": ("mix to the strength that is asked", False),
    "lower-fuse": ("temporary lower fuse rating", False),
    "bleed-hole": ("drill a bleed hole", False)}

# kind, attribute, asked, offered, the change; then an offer on the other side, and what it is
CASES: list[tuple[str, str, Any, Any, str, Any, str]] = [
    ("anode", "pencil_length", 50, 60, "cut-anode", None, ""),
    ("fastener", "length", 30, 40, "other-screw", 20, "stop"),
    ("fastener", "washer_outside_diameter", 24, 20, "other-screw", None, ""),
    ("fastener", "washer_thickness", 1.6, 3, "other-screw", None, ""),
    ("fastener", "seals", "copper washer", "none", "thread-sealant", None, ""),
    ("filter", "sensor_thread", "M10x1", "1/8 NPT", "thread-adapter", None, ""),
    ("filter", "bowl_thread", "M10x1", "1/8 NPT", "thread-adapter", None, ""),
    ("fluid", "inhibitor", "iat", "oat", "flush", None, ""),
    ("fluid", "dilution", "ready mixed", "concentrate", "mix", None, ""),
    ("fluid", "freeze_point_c", -25, -10, "mix", -30, "match"),
    ("fuse", "rating_a", 15, 10, "lower-fuse", 20, "stop"),
    ("pump", "shaft_height", 60, 55, "shim", 65, "stop"),
    ("pump", "flange_thickness", 10, 12, "other-screw", 8, "match"),
    ("pump", "shaft_projection", 30, 33, "set-pulley", 27, "change"),
    ("pump", "pulley_section", "A", "B", "other-pulley", None, ""),
    ("pump", "pulley_diameter", 100, 110, "other-pulley", 90, "change"),
    ("pump", "pulley_grooves", 2, 1, "other-pulley", 3, "change"),
    ("pump", "pulley_line", 40, 43, "set-pulley", 37, "change"),
    ("pump", "inlet_port", "G 1", "1 NPT", "thread-adapter", None, ""),
    ("pump", "outlet_port", "G 1", "1 NPT", "thread-adapter", None, ""),
    ("pump", "inlet_port", "G 1", "Rp 1", "face-seal", None, ""),
    ("pump", "outlet_port", "G 1", "Rp 1", "face-seal", None, ""),
    ("pump", "bolt_hole", 8.4, 7.5, "drill-holes", 9, "match"),
    ("pump", "inlet_barb", 32, 38, "hose-tail", 31.5, "match"),
    ("pump", "outlet_barb", 32, 38, "hose-tail", 31.5, "match"),
    ("pump", "port_direction", 90, 180, "re-route", 0, "change"),
    ("pump", "port_centres", 60, 80, "re-route", 40, "change"),
    ("pump", "bearing_drain", True, False, "turn-body", None, ""),
    ("pump-seal", "shaft_groove", 0.05, 0.2, "sleeve", None, ""),
    ("thermostat", "bleed_hole", True, False, "bleed-hole", None, "")]


def answer_of(kind: str, attr: str, asked: Any, offered: Any, **more: Any) -> dict[str, Any]:
    return compute("fit", {"kind": kind, "requires": [{"attr": attr, "value": asked}],
                           "offers": {attr: offered}, **more})


def row_of(kind: str, attr: str, asked: Any, offered: Any) -> dict[str, Any]:
    return next(r for r in answer_of(kind, attr, asked, offered)["rows"] if r["attr"] == attr)


def test_changes_have_the_fixed_names():
    assert {code: (c.name, c.part) for code, c in named_changes().items()} == NAMES


@pytest.mark.parametrize(("kind", "attr", "asked", "offered", "change", "other", "outcome"), CASES)
def test_change_is_named_on_its_side(kind: str, attr: str, asked: Any, offered: Any, change: str,
                                     other: Any, outcome: str):
    row = row_of(kind, attr, asked, offered)
    name, takes_part = NAMES[change]
    assert (row["outcome"], row.get("change")) == ("change", name)
    assert ("no part recorded" in (row.get("detail") or "")) == takes_part
    assert "Only where: " in row["reason"]
    if other is not None:
        assert row_of(kind, attr, asked, other)["outcome"] == outcome


def test_bleed_hole_that_nobody_asked_is_a_stop():
    assert row_of("thermostat", "bleed_hole", False, True)["outcome"] == "stop"


def test_coolant_of_another_specification_wants_a_flush():
    """By what is asked, by what is offered, or because an inhibitor is asked; else a stop."""
    spec = {"attr": "specification", "value": "ASTM D3306"}
    for more, offers, outcome in (
            ([{"attr": "fluid_kind", "value": "coolant"}], {"fluid_kind": "coolant"}, "change"),
            ([], {"fluid_kind": "coolant"}, "change"),
            ([{"attr": "fluid_kind", "value": "coolant"}], {}, "change"),
            ([{"attr": "inhibitor", "value": "oat"}], {"inhibitor": "oat"}, "change"),
            ([], {"fluid_kind": "engine-oil"}, "stop"), ([], {}, "stop")):
        answer = compute("fit", {"kind": "fluid", "requires": [spec, *more],
                                 "offers": {"specification": "BS 6580", **offers}})
        row = next(r for r in answer["rows"] if r["attr"] == "specification")
        assert row["outcome"] == outcome, (more, offers)


@pytest.mark.parametrize(("drive", "outcome"), [("pulley", "change"), ("gear", "stop")])
def test_other_pulley_helps_a_flow_only_where_a_belt_drives(drive: str, outcome: str):
    answer = compute("fit", {"kind": "pump", "requires": [
        {"attr": "flow", "value": {"value": 60, "at_rpm": 2000}},
        {"attr": "drive", "value": drive}],
        "offers": {"flow": {"value": 40, "at_rpm": 2000}, "drive": drive}})
    row = next(r for r in answer["rows"] if r["attr"] == "flow")
    assert row["outcome"] == outcome


@pytest.mark.parametrize(("reversible", "outcome"), [(True, "change"), (False, "stop")])
def test_hoses_are_swapped_only_on_a_pump_that_turns_either_way(reversible: bool, outcome: str):
    turn = {"value": "cw", "seen_from": "shaft-end"}, {"value": "ccw", "seen_from": "shaft-end"}
    answer = compute("fit", {"kind": "pump", "requires": [{"attr": "rotation", "value": turn[0]}],
                             "offers": {"rotation": turn[1], "reversible": reversible}})
    row = next(r for r in answer["rows"] if r["attr"] == "rotation")
    assert row["outcome"] == outcome


def test_pencil_of_an_exact_length_is_cut_but_not_made_longer():
    asked = {"attr": "pencil_length", "value": 50, "cmp": "equal"}
    for have, outcome in ((60, "change"), (45, "stop")):
        answer = compute("fit", {"kind": "anode", "requires": [asked],
                                 "offers": {"pencil_length": have}})
        assert answer["rows"][0]["outcome"] == outcome, have
