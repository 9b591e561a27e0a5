"""Kind sheets are data: ours are sound, a person's own are checked when loaded."""

from __future__ import annotations

import json
from typing import Any

import pytest

from spares.domain.fit import Claim, FitRequest, Place, check_fit, load_sheets, sheet
from spares.errors import InvalidInput

GOOD = """
kind = "winch-pawl"
label = "Pawl of a winch"
[source]
body = "own measurements"
number = "-"
known_by = "read"
[attributes.length]
label = "Length"
unit = "mm"
tol = 0.2
measure = "calipers"
[attributes.colour]
label = "Colour"
severity = "advisory"
"""


def test_sheet_of_a_persons_own_is_used(tmp_path):
    (tmp_path / "pawl.toml").write_text(GOOD, encoding="utf-8")
    sheets = load_sheets(tmp_path)
    asked, offered = (Claim("length", 18),), (Claim("length", "18.1 mm"),)
    assert check_fit(FitRequest("winch-pawl", asked, offered), sheets).verdict == "fits"
    with pytest.raises(InvalidInput):
        sheet("winch-pawl")


@pytest.mark.parametrize(("old", "new", "says"), [
    ("tol = 0.2", "tol = -1", "negative"), ("tol = 0.2", 'tol = "wide"', "number"),
    ('unit = "mm"', 'unit = "furlong"', "furlong"),
    ('label = "Length"', 'name = "Length"', "label"),
    ('severity = "advisory"', 'severity = "bad"', "severity"),
    ("tol = 0.2", 'cmp = "mates"', "cmp"),
    ("tol = 0.2", 'judge = "oracle"', "oracle"),
    ("tol = 0.2", 'changes = [{name = "weld"}]', "change"),
    ("tol = 0.2", 'tool = "eyeglass"', "tool"), ("tol = 0.2", 'type = "smell"', "type"),
    ("tol = 0.2", "weight = 3", "weight"), ('known_by = "read"', "", "known_by"),
    ('kind = "winch-pawl"', "", "kind"), ("[source]", "[sourse]", "where"),
    ('label = "Colour"', 'label = "Colour', "TOML"),
    ('severity = "advisory"', '[[implied]]\nattr = "mass"', "mass"),
    ('severity = "advisory"', '[[implied]]\nattr = "length"', "value"),
    ('severity = "advisory"', '[[implied]]\nattr = "length"\nvalue = 3\nunstated = "may-fail"',
     "no judge of this line knows what may fail"),
    ('severity = "advisory"', '[[implied]]\nattr = "length"\nvalue = 3\nalways = true\n'
     'severity = "advisory"', "what always holds is no advice"),
    ("tol = 0.2", 'advisory_when = [{place = {weather = "fair"}}]', "weather"),
    ("tol = 0.2", 'changes = [{name = "shim", when = {asked = {mass = 1}}}]', "mass"),
    ("tol = 0.2", 'changes = [{name = "shim", when = {place = "wet"}}]', "cannot be"),
    ("tol = 0.2", 'changes = [{name = "shim", when = {drive = [3]}}]', "cannot be"),
    ("tol = 0.2", 'changes = [{name = "shim", when = {drive = ["belt", 3]}}]', "cannot be"),
    ("tol = 0.2", 'judge = "bolt_circle"', "bolt_circle judges a line called")])
def test_sheet_that_cannot_be_right_is_refused_with_its_line(tmp_path, old, new, says):
    assert old in GOOD
    (tmp_path / "pawl.toml").write_text(GOOD.replace(old, new), encoding="utf-8")
    with pytest.raises(InvalidInput) as caught:
        load_sheets(tmp_path)
    assert says in caught.value.detail and caught.value.facts["sheet"]


def own(tmp_path, attr: str, asked: Claim, have: Any, *more: str, **place: Any) -> str:
    """Judge by the good sheet with *more* lines put to it; give the outcome of the row."""
    (tmp_path / "pawl.toml").write_text(GOOD + "\n".join(more), encoding="utf-8")
    request = FitRequest("winch-pawl", (asked,), (Claim(attr, have),), Place(**place))
    answer = check_fit(request, load_sheets(tmp_path))
    return next(row.outcome for row in answer.rows if row.attr == attr)


@pytest.mark.parametrize(("have", "outcome"), [(18, "match"), (18.001, "stop")])
def test_tolerance_of_nothing_is_a_tolerance(tmp_path, have, outcome):
    lines = ('[attributes.bore]', 'label = "Bore"', 'unit = "mm"', "tol = 0", 'measure = "look"')
    assert own(tmp_path, "bore", Claim("bore", 18), have, *lines) == outcome


@pytest.mark.parametrize(("cmp", "have", "outcome"), [
    (None, 18.2, "match"), ("equal", 18.2, "match"), ("equal", 18.21, "stop")])
def test_equal_is_what_the_sheet_takes_for_equal(tmp_path, cmp, have, outcome):
    lines = ('[attributes.bore]', 'label = "Bore"', 'unit = "mm"', "tol = 0.2", 'cmp = "equal"')
    assert own(tmp_path, "bore", Claim("bore", 18, cmp=cmp), have, *lines) == outcome


@pytest.mark.parametrize(("cmp", "outcome"), [("one-of", "stop"), ("at-least", "unknown")])
def test_grade_that_no_order_has_is_told_by_its_word_alone(tmp_path, cmp, outcome):
    """Where grades are only chosen from, another word is another grade; nobody can order it."""
    lines = ('[attributes.temper]', 'label = "Temper"', 'type = "rank"', f'cmp = "{cmp}"',
             'ranks = ["soft", "half-hard", "hard"]')
    assert own(tmp_path, "temper", Claim("temper", "hard"), "spring", *lines) == outcome


@pytest.mark.parametrize("driven_by", ["belt", "gear", "tang", "electric"])
@pytest.mark.parametrize(("drive", "way"), [
    ("pulley", "belt"), ("belt", "belt"), ("gear", "gear"), ("spline", "gear"),
    ("tang", "tang"), ("electric", "electric")])
def test_change_that_one_way_of_driving_allows_is_no_change_by_another(
        tmp_path, driven_by, drive, way):
    """A pulley means a belt, a splined end a gear: common practice, no source."""
    lines = ('[attributes.drive]', 'label = "Drive"', "[attributes.bore]", 'label = "Bore"',
             'unit = "mm"', f'changes = [{{name = "shim", when = {{drive = "{driven_by}"}}}}]')
    (tmp_path / "pawl.toml").write_text(GOOD + "\n".join(lines), encoding="utf-8")
    request = FitRequest("winch-pawl", (Claim("drive", drive), Claim("bore", 18)),
                         (Claim("drive", drive), Claim("bore", 19)))
    rows = {row.attr: row.outcome for row in check_fit(request, load_sheets(tmp_path)).rows}
    assert rows == {"drive": "match", "bore": "change" if way == driven_by else "stop"}


def test_comparator_that_an_amount_cannot_have_is_refused_before_a_verdict():
    with pytest.raises(InvalidInput):
        check_fit(FitRequest("impeller", (Claim("bore", 16, cmp="mates"),), (Claim("bore", 16),)))


def test_sheet_as_json_names_the_changes_of_each_line():
    for found in load_sheets().values():
        plain = found.as_dict()["attributes"]
        for code, line in found.attributes.items():
            told = [(c["name"], c.get("side", "")) for c in plain[code].get("changes", ())]
            assert told == [(c.name, c.side) for c in line.changes], f"{found.kind} {code}"


def test_sheet_is_plain_json_for_other_programs():
    for found in load_sheets().values():
        plain = json.loads(json.dumps(found.as_dict()))
        assert list(plain["attributes"]) == list(found.attributes)
    bore = load_sheets()["impeller"].as_dict()["attributes"]["bore"]
    assert (bore["tol"], bore["unit"], bore["severity"]) == ("0.1", "mm", "stop")


CODES = {
    "impeller": "outside_diameter width bore drive_type drive_size spline_count "
    "spline_major_diameter hub_length insert_depth retaining blade_count blade_shape material "
    "hub_material max_temperature_c dry_run_min cured_on",
    "pump": "principle drive mounting flange_code pilot_diameter pilot_depth bolt_count "
    "bolt_circle "
    "bolt_thread bolt_hole flange_thickness foot_hole_length foot_hole_width shaft_height "
    "shaft_diameter shaft_shape key_width key_height spline_count shaft_projection "
    "shaft_end_thread "
    "gear_teeth gear_module gear_helix gear_face_width gear_offset pulley_section pulley_diameter "
    "pulley_grooves pulley_line tang_width tang_engagement rotation reversible cam_height "
    "inlet_port outlet_port inlet_barb outlet_barb port_direction port_centres flow max_flow "
    "max_speed_rpm max_head_bar suction_lift_m self_priming body_material cover_material "
    "shaft_material seal_kind bearing_drain length width height voltage_v current_a "
    "ignition_protected",
    "pump-seal": "seal_kind shaft_diameter housing_bore width seat_depth form ribs rotation "
    "material "
    "spring_material max_speed_m_s max_pressure_bar shaft_groove seat_outside_diameter "
    "seat_thickness working_length faces section",
    "drive-belt": "belt_kind code section groove_depth length belts_in_set rib_profile rib_count "
    "grooves tooth_pitch tooth_profile teeth width construction made_on",
    "filter": "medium thread gasket_outside_diameter gasket_inside_diameter gasket_section height "
    "can_diameter bypass_bar bypass_present anti_drain_back micron flow burst_bar length "
    "outside_diameter bore end_caps drain sensor_thread bowl_thread fire_resistant stub_bore",
    "fastener": "thread hand length engagement stack shank_length head_form across_flats "
    "drive_form "
    "property_class nut_class material coating washer_bore washer_outside_diameter "
    "washer_thickness locking single_use seals hole_diameter",
    "pipe-thread": "thread gender seat_angle sealing_face",
    "o-ring": "code inside_diameter section gland_depth_min gland_depth_max min_squeeze material "
    "hardness temperature_c cured_on",
    "bearing": "code bore outside_diameter width bearing_type closure clearance snap_groove "
    "load_kn "
    "speed_rpm material",
    "anode": "metal pencil_diameter pencil_length passage_depth pencil_thread plug_thread "
    "hole_spacing bore mass_kg",
    "hose": "bore spigot use wall standard length bend_radius max_temperature_c max_pressure_bar "
    "vacuum",
    "clamp": "range on_diameter clamp_kind band_width grade",
    "gasket": "outline thickness joint_type material bolt_circle",
    "thermostat": "opens_c flange_diameter flange_thickness height_above height_below bypass_disc "
    "bypass_disc_diameter bleed_hole",
    "fuse": "form rating_a voltage_v current_kind breaking_capacity_a speed ignition_protected "
    "colour",
    "fluid": "fluid_kind viscosity specification inhibitor dilution freeze_point_c gear_oil_class "
    "thickener volume_l packed_on colour"}


@pytest.mark.parametrize("kind", sorted(CODES))
def test_promised_attributes_of_a_kind_are_there(kind):
    assert set(CODES[kind].split()) <= set(sheet(kind).attributes)


@pytest.mark.parametrize("kind", sorted(load_sheets()))
def test_measuring_sheet_says_how_each_line_is_measured(kind):
    lines = load_sheets()[kind].attributes.values()
    assert lines and all(line.label and line.measure for line in lines)


def test_rule_that_is_silent_about_what_is_unstated_never_outweighs_a_row_of_advice(tmp_path):
    rule = '''[attributes.width]\nlabel = "Width"\nunit = "mm"\ntol = 0.2
[[implied]]\nattr = "length"\nwhen = { place = { wet = true } }\nvalue = 18\nunstated = "%s"\n'''
    asked = (Claim("length", 18, severity="advisory"), Claim("width", 5))
    verdicts = []
    for unstated in ("silent", "unknown"):
        (tmp_path / "pawl.toml").write_text(GOOD + rule % unstated, encoding="utf-8")
        request = FitRequest("winch-pawl", asked, (Claim("width", 5),), Place(wet=True))
        verdicts.append(check_fit(request, load_sheets(tmp_path)).verdict)
    assert verdicts == ["fits", "not-known-yet"]


def test_rule_about_a_worn_shaft_asks_for_it_to_be_measured(tmp_path):
    rule = """[attributes.shaft_groove]\nlabel = "Groove"\nunit = "mm"\njudge = "shaft_groove"
[[implied]]\nattr = "shaft_groove"\nwhen = { place = { wet = true } }\nunstated = "unknown"\n"""
    (tmp_path / "pawl.toml").write_text(GOOD + rule, encoding="utf-8")
    request = FitRequest("winch-pawl", (Claim("length", 18),),
                         (Claim("length", 18), Claim("shaft_groove", 0)), Place(wet=True))
    rows = {row.attr: row.outcome for row in check_fit(request, load_sheets(tmp_path)).rows}
    assert rows == {"length": "match", "shaft_groove": "unknown"}
