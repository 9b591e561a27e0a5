"""Every spelling that the trade has for one thing: read alike, and what is no spelling is not."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit.designations import bearings, belts, fuses, lip_seals, orings
from spares.domain.fit.designations.threads import parse_thread
from spares.domain.fit.judges.rotation import read_rotation


def row_of(kind: str, attr: str, asked: Any, offered: Any, **more: Any) -> dict[str, Any]:
    answer = compute("fit", {"kind": kind, "requires": [{"attr": attr, "value": asked}],
                             "offers": {attr: offered}, **more})
    return next(r for r in answer["rows"] if r["attr"] == attr)


@pytest.mark.parametrize(("mark", "system"), [
    ("Li", "inside"), ("Ld", "datum"), ("Lw", "datum"), ("Lp", "datum"), ("La", "outside"),
    ("Le", "effective")])
def test_belt_length_is_in_the_system_of_its_mark(mark: str, system: str):
    """Ld is the datum length of ISO 4184; Lw and Lp are its older names."""
    for text in (f"13x1000 {mark}", f"A 1000 {mark}", f"SPA1000 {mark}", f"13 x 1000 mm {mark}"):
        found = belts.read(text)
        assert found and found.attributes["length"]["system"] == system, text


@pytest.mark.parametrize(("text", "attributes"), [
    ("640-8M-30", {"belt_kind": "toothed", "tooth_pitch": "8", "teeth": 80, "width": "30"}),
    ("6PK1200", {"rib_profile": "PK", "rib_count": 6}), ("10 PJ 610", {"rib_profile": "PJ"}),
    ("AX38", {"section": "A", "construction": "raw-edge-cogged"}),
    ("XPZ 987", {"section": "SPZ", "construction": "raw-edge-cogged", "belt_kind": "narrow-v"}),
    ("5VX800", {"section": "5V", "construction": "raw-edge-cogged", "belt_kind": "narrow-v"}),
    ("SPB2000", {"section": "SPB", "belt_kind": "narrow-v"}),
    ("C 2500 Li", {"section": "C", "belt_kind": "v"}),
    ("AVX13x1000", {"section": "AVX13", "construction": "raw-edge-cogged"})])
def test_belt_code_gives_its_attributes(text: str, attributes: dict[str, Any]):
    found = belts.read(text)
    assert found is not None
    assert {name: str(found.attributes.get(name)) for name in attributes} == {
        name: str(value) for name, value in attributes.items()}


@pytest.mark.parametrize("silent", ["P6", "P5", "P0", "TN9", "TN", "J", "M", "MA", "JN", "TVH",
                                    "ETN9", "E", "VL0241", "W33", "SS"])
def test_suffix_of_cage_class_or_steel_says_nothing_of_the_sides(silent: str):
    """Makers' suffixes for cages, tolerance classes and steel, from memory."""
    for text in (f"6203 {silent}", f"6203-2RS {silent} C3", f"6203-2RS{silent}"):
        found = bearings.read(text)
        assert found is not None and found.attributes.get("closure") == (
            "open" if text == f"6203 {silent}" else "seal-both"), text


@pytest.mark.parametrize("clearance", ["C2", "CN", "C3", "C4", "C5"])
def test_internal_clearance_is_read_from_its_suffix(clearance: str):
    for text in (f"6203 {clearance}", f"6203-2RS/{clearance}", f"6203ZZ{clearance}"):
        found = bearings.read(text)
        assert found is not None and found.attributes["clearance"] == clearance, text
    assert bearings.read("6203 C0").attributes["clearance"] == "CN"


def test_angular_contact_bearing_has_the_size_of_its_deep_groove_sister():
    for code, sister in (("7203", "6203"), ("7303", "6303")):
        one, other = bearings.read(code), bearings.read(sister)
        assert one.attributes["bearing_type"] == "angular-contact"
        assert other.attributes["bearing_type"] == "deep-groove"
        for name in ("bore", "outside_diameter", "width"):
            assert one.attributes[name] == other.attributes[name]
    assert bearings.read("6203 N").attributes["snap_groove"] is True
    assert bearings.read("6203 NR").attributes["snap_groove"] is True
    assert bearings.read("6203").attributes["snap_groove"] is False


@pytest.mark.parametrize(("form", "spellings"), [
    ("blade-micro2", "blade-micro2|micro2|blade micro2|micro-2"),
    ("blade-mini", "blade-mini|mini|blade mini"),
    ("blade-regular", "blade-regular|regular|blade regular"),
    ("blade-maxi", "blade-maxi|maxi|blade maxi"), ("5x20", "5x20|5 x 20|5×20"),
    ("6.3x32", "6.3x32|6,3x32|6 x 32|6x32"), ("bolt-down", "bolt-down|bolt down")])
def test_fuse_form_is_read_in_its_spellings(form: str, spellings: str):
    for name in spellings.split("|"):
        found = fuses.read(f"{name} 10 A")
        assert found and found.attributes == {"form": form, "rating_a": "10"}, name


@pytest.mark.parametrize("speed", ["FF", "F", "M", "T", "TT"])
def test_fuse_speed_is_read_before_its_rating(speed: str):
    """IEC 60127-1: FF very fast, F fast, M medium, T lag, TT long lag."""
    for text in (f"5x20 {speed} 2 A", f"5x20 {speed}2A 250 V"):
        assert fuses.read(text).attributes["speed"] == speed


@pytest.mark.parametrize(("text", "volts", "kind"), [
    ("5x20 T 2 A 250 V AC", 250, "ac"), ("5x20 T 2 A 32V DC", 32, "dc"),
    ("32 V blade", None, None), ("5x20 F 500 mA 125V", 125, None)])
def test_fuse_voltage_is_read_with_its_kind(text: str, volts: int | None, kind: str | None):
    found = fuses.read(text)
    if volts is None:
        assert found is None
    else:
        assert found.attributes["voltage_v"] == volts
        assert found.attributes.get("current_kind") == kind


@pytest.mark.parametrize(("word", "rubber"), [
    ("NBR", "NBR"), ("FKM", "FKM"), ("FPM", "FKM"), ("EPDM", "EPDM"), ("CR", "CR"),
    ("VMQ", "VMQ")])
def test_rubber_behind_a_ring_or_a_lip_is_read(word: str, rubber: str):
    for text in (f"AS568-214 {word}", f"25x3.5 {word} 70", f"25 x 3,5 {word}-70 Shore A"):
        assert orings.read(text).attributes["material"] == rubber, text
    assert lip_seals.read(f"16x28x7 AS {word}").attributes["material"] == rubber


def test_hardness_behind_a_ring_is_read_with_or_without_its_scale():
    for tail in ("70", "70 Shore A", "70 IRHD", "70 Sh A", "A 70", "70 SH"):
        assert orings.read(f"AS568-214 NBR {tail}").attributes["hardness"] == 70, tail
    assert orings.read("AS568-214 NBR 30") is None      # no ring is as soft


@pytest.mark.parametrize(("word", "attr", "value"), [
    *[(form, "form", form) for form in ("A", "AS", "B", "BS", "C", "CS")],
    ("RD", "ribs", "rd"), ("LD", "ribs", "ld"), ("WD", "ribs", "wd")])
def test_form_and_ribs_of_a_lip_are_read(word: str, attr: str, value: str):
    for head in ("", "seal ", "lip seal ", "type "):
        assert lip_seals.read(f"{head}16-28-7 {word}").attributes[attr] == value


@pytest.mark.parametrize(("sense", "words"), [
    ("cw", "cw clockwise right"),
    ("ccw", "ccw left anticlockwise anti-clockwise counterclockwise counter-clockwise")])
def test_sense_of_turning_has_many_words(sense: str, words: str):
    other = {"cw": "ccw", "ccw": "cw"}[sense]
    for word in words.split():
        for end in ("shaft-end", "shaft", "pulley", "pulley-end", "drive-end"):
            assert read_rotation({"value": word, "seen_from": end}) == sense
        for end in ("cover-end", "cover"):
            assert read_rotation({"value": word, "seen_from": end}) == other
        assert read_rotation(word) is None
        assert read_rotation({"value": word, "seen_from": "the pontoon"}) is None
    assert read_rotation("either") == read_rotation("both") == "either"


@pytest.mark.parametrize(("word", "side"), [
    *[(w, "external") for w in ("male", "external", "ext", "outside")],
    *[(w, "internal") for w in ("female", "internal", "int", "inside")]])
def test_side_of_a_thread_is_read(word: str, side: str):
    (found,) = parse_thread(f"M10x1.5 {word}")
    assert found.side == side


@pytest.mark.parametrize(("text", "meant"), [
    ("1/2-13 unr", "1/2-13 UNC"), ("#12-32 unef", "#12-32 UNEF"), ("1/4-28 un", "1/4-28 UNF"),
    ("1/2-16 bsf", "1/2-16 BSF"), ("1/2-12 w", "1/2-12 BSW"), ("w 1/2", "1/2-12 BSW"),
    ("1/2-12 whit", "1/2-12 BSW"), ("bsw 1/2", "1/2-12 BSW"), ("bsf 1/2", "1/2-16 BSF"),
    ("1/2 nptf", "1/2 NPTF"), ("nptf 1/2", "1/2 NPTF"), ("npt 1/2", "1/2 NPT"),
    ("1/2-14 npt", "1/2 NPT"), ("bspp 1/2", "G 1/2"), ("1/2 bspp", "G 1/2"), ("1/2 g", "G 1/2"),
    ("1/2 r", "R 1/2"), ("1/2 rp", "Rp 1/2"), ("1/2 rc", "Rc 1/2"), ("unc 3/8", "3/8-16 UNC"),
    ("3/8 unf", "3/8-24 UNF"), ("3/8-16 unc-2a", "3/8-16 UNC"), ("m10-6g", "M10x1.5"),
    ("mf10x1.25", "M10x1.25"), ("M10x1.5-6H", "M10x1.5"), ("½ BSPP", "G 1/2"),
    ("¼ BSPP", "G 1/4"), ("¾ BSPP", "G 3/4"), ("⅛ BSPP", "G 1/8"), ("⅜ BSPP", "G 3/8"),
    ("⅝ BSPP", "G 5/8"), ("⅞ BSPP", "G 7/8"), ("1¼ BSPP", "G 1 1/4")])
def test_thread_is_read_in_its_spellings(text: str, meant: str):
    assert [t.text for t in parse_thread(text)] == [meant]


@pytest.mark.parametrize(("surface", "row"), [
    ("dry", "dry-steel"), ("steel", "dry-steel"), ("oil", "machine-oil"),
    ("oiled", "machine-oil"), ("zinc", "zinc-plated"), ("phosphate", "phosphate-and-oil"),
    ("stainless on stainless", "stainless"), ("stainless steel", "stainless"),
    ("Dry_Steel", "dry-steel")])
def test_surface_of_a_screw_has_other_names(surface: str, row: str):
    ask = {"thread": "M10", "class": "8.8"}
    assert compute("torque", ask | {"surface": surface})["torque_nm"] == compute(
        "torque", ask | {"surface": row})["torque_nm"]


@pytest.mark.parametrize(("metal", "diameters"), [
    ("steel", 1), ("cast iron", 1), ("stainless", 1), ("bronze", 1), ("brass", 1),
    ("aluminium", 1.5), ("plastic", 2)])
def test_screw_engages_by_the_metal_it_goes_into(metal: str, diameters: float):
    """1.0 diameter in steel, 1.5 in aluminium, 2 in plastic: handbook rule, from memory."""
    for engages, outcome in ((10 * diameters, "match"), (10 * diameters - 0.1, "stop")):
        answer = compute("fit", {"kind": "fastener", "requires": [{"attr": "stack", "value": 10}],
                                 "offers": {"thread": "M10", "length": 10 + engages},
                                 "place": {"mating_metal": metal}})
        row = next(r for r in answer["rows"] if r["attr"] == "stack")
        assert row["outcome"] == outcome, engages


@pytest.mark.parametrize(("said", "yes"), [
    ("yes", True), ("true", True), ("y", True), ("1", True), ("no", False), ("false", False),
    ("n", False), ("0", False), ("none", False)])
def test_yes_and_no_are_read_in_their_spellings(said: str, yes: bool):
    assert row_of("bearing", "snap_groove", True, said)["outcome"] == ("match" if yes else "stop")
    assert row_of("bearing", "snap_groove", False, said)["outcome"] == ("stop" if yes else "match")


@pytest.mark.parametrize(("asked", "offered", "outcome"), [
    ({"min": 22, "max": 30}, {"min": 20, "max": 32}, "match"),
    ({"min": 22, "max": 30}, {"min": 22, "max": 30}, "match"),
    ({"min": 22, "max": 30}, {"min": 23, "max": 32}, "stop"),
    ({"min": 22, "max": 30}, {"min": 20, "max": 29}, "stop"),
    ({"min": 22, "max": None}, {"min": 20, "max": 32}, "unknown"),
    ({"min": 22, "max": 30}, {"min": 20, "max": None}, "unknown"),
    ("22-30", "20-32", "match"), ("22 to 30", "23-32", "stop"),
    (26, {"min": 20, "max": 32}, "match"), (21, {"min": 20, "max": 32}, "match"),
    (31, {"min": 20, "max": 32}, "match"), (20.9, {"min": 20, "max": 32}, "stop"),
    (31.1, {"min": 20, "max": 32}, "stop")])
def test_clamp_covers_what_is_asked_with_a_millimetre_to_spare(asked: Any, offered: Any,
                                                              outcome: str):
    """At least 1 mm inside either end of the stamped range: common practice, no source."""
    assert row_of("clamp", "range", asked, offered)["outcome"] == outcome
