"""Answers that rest on tables nobody prints beside us: what the trade says, from memory.

Where a row names no other source, the expected value is from memory too, set down apart from the
table's file and put to the fit check, so that a slip of the hand in either is noticed.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit.designations import bearings, flanges
from spares.domain.fit.designations.threads import parse_thread
from spares.domain.fit.judges.materials import family, means
from spares.domain.fit.judges.threads import mate
from spares.standards import table


def fit(kind: str, requires: dict[str, Any], offers: dict[str, Any], **more: Any) -> dict[str, Any]:
    asked = [{"attr": attr, **(v if isinstance(v, dict) and "value" in v else {"value": v})}
             for attr, v in requires.items()]
    return compute("fit", {"kind": kind, "requires": asked, "offers": offers, **more})


def row(answer: dict[str, Any], attr: str) -> dict[str, Any]:
    return next(r for r in answer["rows"] if r["attr"] == attr)


# --- names of materials: usual name, family, other names

NAMES = {
    ("nbr", "rubber"): "NBR nitrile", ("cr", "rubber"): "CR chloroprene polychloroprene",
    ("epdm", "rubber"): "EPDM", ("fkm", "rubber"): "FKM FPM fluorocarbon",
    ("vmq", "rubber"): "VMQ silicone", ("pu", "rubber"): "PU polyurethane",
    ("hnbr", "rubber"): "HNBR", ("rubber", "rubber"): "rubber",
    ("a1", "stainless"): "A1", ("stainless", "stainless"): "stainless stainless-steel",
    ("a2", "stainless"): "A2 A2-70 304 1.4301", ("nickel-copper", "nickel"): "nickel-copper",
    ("a4", "stainless"): "A4 A4-70 A4-80 316 316L 1.4401", ("duplex", "stainless"): "duplex",
    ("aluminium-bronze", "bronze"): "aluminium-bronze nickel-aluminium-bronze",
    ("bronze", "bronze"): "bronze gunmetal", ("brass", "brass"): "brass",
    ("dzr-brass", "brass"): "DZR-brass", ("copper", "copper"): "copper",
    ("steel", "steel"): "steel carbon-steel mild-steel",
    ("aluminium", "aluminium"): "aluminium aluminum bare-aluminium aluminium-alloy Al",
    ("anodised-aluminium", "aluminium"): "anodised-aluminium", ("nylon", "plastic"): "nylon PA",
    ("zinc-plated-steel", "steel"): "zinc-plated-steel plated-steel",
    ("galvanised-steel", "steel"): "galvanised-steel", ("cast-iron", "iron"): "cast-iron",
    ("plastic", "plastic"): "plastic", ("acetal", "plastic"): "acetal", ("zinc", "zinc"): "zinc Zn",
    ("magnesium", "magnesium"): "magnesium Mg"}


@pytest.mark.parametrize(("name", "usual", "sort"), [
    (name, usual, sort) for (usual, sort), names in NAMES.items() for name in names.split()])
def test_material_goes_by_its_other_names(name: str, usual: str, sort: str):
    assert (means(name), family(name)) == (usual, sort)


def test_no_other_material_is_known_by_name():
    assert {r["name"] for r in table("material_names").records()} == {
        name for names in NAMES.values() for name in names.split()}


# --- rubber by medium and temperature: good, fair (said, not barred), else it does not stand it

MEDIA = ("fresh-water", "sea-water", "brackish", "coolant", "engine-oil", "diesel", "petrol",
         "oily-bilge", "air")
RUBBERS = {"NBR": "g g g f g g f g f", "CR": "g g g f f p p p g", "EPDM": "g g g g n n n n g",
           "FKM": "f g f f g g g g g", "VMQ": "f f f f f p p p g"}
HEAT = {"NBR": (-30, 100), "CR": (-35, 100), "EPDM": (-45, 130), "FKM": (-20, 200),
        "VMQ": (-55, 200)}


@pytest.mark.parametrize(("rubber", "medium", "grade"), [
    (rubber, medium, grade) for rubber, grades in RUBBERS.items()
    for medium, grade in zip(MEDIA, grades.split(), strict=True)])
def test_rubber_serves_in_its_media(rubber: str, medium: str, grade: str):
    """EPDM not in oil, NBR for oil and fuel, CR for clean water as two makers' glossaries say."""
    answer = fit("o-ring", {}, {"material": rubber}, place={"medium": medium})
    assert row(answer, "material")["outcome"] == {
        "g": "match", "f": "advisory", "p": "stop", "n": "stop"}[grade]


@pytest.mark.parametrize("rubber", list(HEAT))
def test_rubber_bears_its_temperatures(rubber: str):
    low, high = HEAT[rubber]
    for heat, outcome in ((low, "match"), (low - 1, "stop"), (high, "match"), (high + 1, "stop")):
        answer = fit("o-ring", {}, {"material": rubber}, place={"temperature_c": heat})
        assert row(answer, "material")["outcome"] == outcome, heat
    for asked, outcome in ((high, "unknown"), (high + 1, "stop")):
        answer = fit("o-ring", {"temperature_c": asked}, {"material": rubber})
        assert row(answer, "temperature_c")["outcome"] == outcome


# --- anodes (two pages of makers): zinc or aluminium at sea, aluminium brackish, magnesium fresh

@pytest.mark.parametrize(("medium", "good"), [
    ("sea-water", {"zinc", "aluminium"}), ("brackish", {"aluminium"}),
    ("fresh-water", {"magnesium"})])
def test_anode_is_of_the_metal_of_its_water(medium: str, good: set[str]):
    for metal in ("zinc", "aluminium", "magnesium"):
        answer = fit("anode", {}, {"metal": metal}, place={"medium": medium})
        assert row(answer, "metal")["outcome"] == ("match" if metal in good else "stop")


# --- bearings

SUFFIXES = {"seal-both": "2RS 2RS1 2RSR 2RSH 2RSL LLU DDU DD 2HRS RS2",
            "seal-one": "RS RS1 RSR RSH LU DU", "shield-both": "ZZ 2Z 2ZR LLB VV 2RZ",
            "shield-one": "Z ZR"}
READ = "2RS 2RS1 2RSR LLU ZZ 2Z".split()       # on makers' pages


@pytest.mark.parametrize(("suffix", "closure"), [
    (suffix, closure) for closure, known in SUFFIXES.items() for suffix in known.split()])
def test_suffix_tells_what_closes_the_bearing(suffix: str, closure: str):
    found = bearings.read(f"6203-{suffix}")
    assert found is not None and found.attributes["closure"] == closure
    assert bool(found.rests_on_by.get("closure") or found.rests_on) == (suffix not in READ)


@pytest.mark.parametrize(("code", "size"), [
    ("605", (5, 14, 5)), ("606", (6, 17, 6)), ("6008", (40, 68, 15)), ("6009", (45, 75, 16)),
    ("6010", (50, 80, 16))])
def test_bearing_that_no_list_prints_has_its_size(code: str, size: tuple[int, ...]):
    found = bearings.read(code)
    assert found is not None and found.rests_on
    assert tuple(map(float, (found.attributes[n] for n in (
        "bore", "outside_diameter", "width")))) == size


# --- belts: section, kind, top width, height, datum width, least groove, to datum, how surely

SECTIONS = [
    ("Z", "v", 10, 6, 8.5, "9", 22, -16, 3), ("A", "v", 13, 8, 11, "11.4", 33, -19.5, 2.5),
    ("B", "v", 17, 11, 14, "14.3", 46, -24, 2.5), ("C", "v", 22, 14, 19, "19.1", 60, -30, 5),
    ("D", "v", 32, 19, 27, "28", 77, -42, 6), ("SPZ", "narrow-v", 10, 8, 8.5, "11", None, -13, 2),
    ("SPA", "narrow-v", 13, 10, 11, "14", None, -18, 2),
    ("SPB", "narrow-v", 17, 14, 14, "18", None, -22, 2),
    ("SPC", "narrow-v", 22, 18, 19, "24", None, -30, 3),
    ("3V", "narrow-v", 9.5, 8, None, "9", None, None, None),
    ("5V", "narrow-v", 16, 13.5, None, "15", None, None, None),
    ("8V", "narrow-v", 25.5, 23, None, "25", None, None, None),
    ("AVX10", "narrow-v", 10, 8, 8.5, "10.5", None, -13, 3),
    ("AVX13", "narrow-v", 13, 10, 11, "13.5", None, -18, 3)]


@pytest.mark.parametrize("told", SECTIONS, ids=lambda s: s[0])
def test_section_needs_its_depth_of_groove(told: tuple[Any, ...]):
    """11, 14, 18 and 24 mm as in a maker's copy of DIN 2211; the rest from memory."""
    section, kind, _, height, _, groove, *_ = told
    deep, step = float(groove), 0.05
    for depth, outcome in ((deep, "match"), (deep - step, "unknown" if kind == "v" else "stop")):
        answer = fit("drive-belt", {"groove_depth": depth}, {"section": section})
        assert row(answer, "groove_depth")["outcome"] == outcome, depth
    if kind == "v":
        for depth, outcome in ((height, "unknown"), (height - step, "stop")):
            answer = fit("drive-belt", {"groove_depth": depth}, {"section": section})
            assert row(answer, "groove_depth")["outcome"] == outcome


@pytest.mark.parametrize("told", [s for s in SECTIONS if s[8] is not None], ids=lambda s: s[0])
def test_length_of_another_system_is_turned_into_datum_length(told: tuple[Any, ...]):
    """Of a belt of 1000 mm with a take-up of 10 mm; how surely it is turned widens the doubt."""
    section, _, _, _, _, _, inside, outside, u = told
    for system, shift in (("inside", inside), ("outside", outside)):
        if shift is None:
            continue
        for off, outcome in ((0, "match"), (10 - u, "match"), (10 - u + 0.1, "unknown"),
                             (10 + u - 0.1, "unknown"), (10 + u, "stop")):
            answer = fit("drive-belt", {
                "section": section, "length": {"value": {"value": 1000, "system": "datum"},
                                               "tol": 10}},
                {"section": section, "length": {"value": 1000 - shift + off, "system": system}})
            assert row(answer, "length")["outcome"] == outcome, (system, off)


@pytest.mark.parametrize("told", [s for s in SECTIONS if s[0] in "ZABCD"], ids=lambda s: s[0])
def test_belt_named_by_its_width_is_of_its_section(told: tuple[Any, ...]):
    section, _, width, height, *_ = told
    answer = fit("drive-belt", {"section": section}, {"code": f"{width}x{height}x1000 Li"})
    assert row(answer, "section")["outcome"] == "match"
    narrow = {"Z": "SPZ", "A": "SPA", "B": "SPB", "C": "SPC"}.get(section)
    for other, _, _, high, _, groove, *_ in SECTIONS:
        if other != narrow:
            continue
        answer = fit("drive-belt", {"section": other}, {"code": f"{width}x{high}x1000 La"})
        assert row(answer, "section")["outcome"] == "match"
        answer = fit("drive-belt", {"section": section, "groove_depth": float(groove)},
                     {"section": other})
        assert row(answer, "section")["outcome"] == "match"      # the same datum width


def test_ribs_of_another_profile_are_named_by_their_pitch():
    """Rib pitches of ISO 9982 as a maker's glossary gives them."""
    pitches = {"PH": 1.6, "PJ": 2.34, "PK": 3.56, "PL": 4.7, "PM": 9.4}
    for (one, p), (other, q) in pairwise([*pitches.items(), ("PH", 1.6)]):
        answer = fit("drive-belt", {"rib_profile": one}, {"rib_profile": other})
        found = row(answer, "rib_profile")
        assert found["outcome"] == "stop" and f"({q} mm for {p} mm)" in found["reason"]


# --- fuses: colours of ISO 8820-3 (two pages; pink and blue-green from memory), wire of ISO 10133

SMALL = {1: "black", 2: "grey", 3: "violet", 4: "pink", 5: "tan", 7.5: "brown", 10: "red",
         15: "blue", 20: "yellow", 25: "clear", 30: "green", 35: "blue-green", 40: "orange"}
BIG = {20: "yellow", 30: "green", 40: "orange", 50: "red", 60: "blue", 70: "brown", 80: "clear"}


@pytest.mark.parametrize(("form", "amps", "colour"), [
    *[(form, amps, colour) for form in ("blade-mini", "blade-regular")
      for amps, colour in SMALL.items()],
    *[("blade-maxi", amps, colour) for amps, colour in BIG.items()]])
def test_blade_fuse_has_the_colour_of_its_rating(form: str, amps: float, colour: str):
    for painted, outcome in ((colour, "match"), ("rainbow", "advisory")):
        answer = fit("fuse", {}, {"form": form, "rating_a": amps, "colour": painted})
        assert row(answer, "colour")["outcome"] == outcome


WIRES = {0.75: (10, 16), 1: (14, 20), 1.5: (18, 25), 2.5: (25, 35), 4: (35, 45), 6: (45, 60),
         10: (65, 90), 16: (90, 130), 25: (120, 170), 35: (160, 210), 50: (210, 270)}


@pytest.mark.parametrize("area", list(WIRES))
def test_fuse_is_never_above_what_the_wire_bears(area: float):
    """70 °C insulation bears the first, 105 °C the second; a thinner wire has the row below."""
    usual, hot = WIRES[area]
    for amps, *outcomes in ((usual, "match", "match", "match"), (hot, "unknown", "stop", "match"),
                            (usual + 1, "unknown", "stop", "match"), (hot + 1, *["stop"] * 3)):
        for heat, wanted in zip((None, 70, 105), outcomes, strict=True):
            place = {"wire_mm2": area, "wire_insulation_c": heat}
            answer = fit("fuse", {"rating_a": amps}, {"rating_a": amps}, place=place)
            assert row(answer, "rating_a")["outcome"] == wanted, (amps, heat)
    below = [a for a in WIRES if a < area]
    thinner = fit("fuse", {"rating_a": usual}, {"rating_a": usual},
                  place={"wire_mm2": float(area) - 0.01})
    assert row(thinner, "rating_a")["outcome"] == (
        "unknown" if not below or usual <= WIRES[below[-1]][1] else "stop")


# --- oil classes in the order of their issue

@pytest.mark.parametrize("classes", [
    "CA CB CC CD CE CF-4 CF CG-4 CH-4 CI-4 CJ-4 CK-4", "SA SB SC SD SE SF SG SH SJ SL SM SN SP"])
def test_later_oil_class_serves_where_later_is_allowed(classes: str):
    for older, newer in pairwise(classes.split()):
        for asked, have, outcome in ((older, newer, "match"), (newer, older, "stop")):
            answer = fit("fluid", {"specification": f"API {asked} or later"},
                         {"specification": f"API {have}"})
            assert row(answer, "specification")["outcome"] == outcome, (asked, have)


def test_oil_for_petrol_is_no_later_class_of_one_for_diesel():
    for asked, have in (("CA", "SP"), ("SA", "CK-4")):
        answer = fit("fluid", {"specification": f"API {asked} or later"},
                     {"specification": f"API {have}"})
        assert row(answer, "specification")["outcome"] == "stop"


# --- pads: pilots of 50-2, 101-2 and 152-4 read on one page, the others by the same rule

@pytest.mark.parametrize(("code", "letter", "pilot", "bolts"), [
    ("50-2", "AA", 50.8, 2), ("82-2", "A", 82.55, 2), ("101-2", "B", 101.6, 2),
    ("127-2", "C", 127, 2), ("127-4", "C4", 127, 4), ("152-4", "D", 152.4, 4)])
def test_pad_has_its_pilot_and_bolts(code: str, letter: str, pilot: float, bolts: int):
    for text in (code, f"SAE {letter}"):
        found = flanges.read(text)
        assert found is not None, text
        assert (float(found.attributes["pilot_diameter"]), found.attributes["bolt_count"]) == (
            pilot, bolts)


# --- which thread goes into which: pipe threads of ISO 7-1, ISO 228-1, ASME B1.20.1

MATES = {("G", "G"): "yes", ("G", "Rp"): "face-seal", ("R", "G"): "sealant", ("R", "Rp"): "yes",
         ("R", "Rc"): "yes"}


@pytest.mark.parametrize("outer", ["G", "R"])
@pytest.mark.parametrize("inner", ["G", "Rp", "Rc"])
def test_pipe_thread_goes_into_its_partners_alone(outer: str, inner: str):
    (socket,), (stem,) = parse_thread(f"{inner} 1/2"), parse_thread(f"{outer} 1/2")
    wanted = MATES.get((outer, inner), "no")
    assert mate(socket, stem, "external")[0] == mate(stem, socket, "internal")[0] == wanted


@pytest.mark.parametrize(("one", "other"), [("R", "R"), ("Rp", "Rc"), ("Rc", "Rc")])
def test_two_pipe_threads_of_one_side_do_not_go_together(one: str, other: str):
    (first,), (second,) = parse_thread(f"{one} 1/2"), parse_thread(f"{other} 1/2")
    assert mate(first, second, "external")[0] == mate(first, second, "internal")[0] == "no"


@pytest.mark.parametrize(("outer", "inner"), [
    ("M10", "M10"), ("3/8-16 UNC", "3/8-16 UNC"), ("1/2 BSW", "1/2 BSW"), ("1/2 BSF", "1/2 BSF"),
    ("1/2 NPT", "1/2 NPT"), ("1/2 NPTF", "1/2 NPTF"), ("1/2 NPTF", "1/2 NPT"),
    ("1/2 NPT", "1/2 NPTF")])
def test_thread_goes_into_its_like(outer: str, inner: str):
    (first,), (second,) = parse_thread(inner), parse_thread(outer)
    assert mate(first, second, "external")[0] == "yes"


# --- shelf lives, years: first, and longer after a look

@pytest.mark.parametrize(("kind", "fluid", "attr", "first", "longer"), [
    ("drive-belt", None, "made_on", 5, 2), ("filter", None, "packed_on", 5, 0),
    ("fluid", "engine-oil", "packed_on", 5, 0), ("fluid", "coolant", "packed_on", 5, 0),
    ("fluid", "coolant-premix", "packed_on", 3, 0), ("fluid", "grease", "packed_on", 3, 2),
    ("fluid", "gear-oil", "packed_on", 5, 0), ("fluid", "sealant", "packed_on", 1, 1)])
def test_thing_keeps_for_its_years(kind: str, fluid: str, attr: str, first: int, longer: int):
    offers = {"fluid_kind": fluid} if fluid else {}
    answer = fit(kind, {}, offers | {attr: "2020-01-01"}, today="2026-11-25")
    assert row(answer, attr)["required"] == (
        f"{first} years, {longer} more after a look (usual shelf life)")
    for years, outcome in ((first, "match"), (first + 1, "advisory")):
        young = fit(kind, {}, offers | {attr: f"{2026 - years}-11-30"}, today="2026-11-25")
        assert row(young, attr)["outcome"] == outcome


# --- factors of torque (one page's ranges, widened where others give more)

@pytest.mark.parametrize(("surface", "low", "high"), [
    ("dry-steel", "0.18", "0.27"), ("machine-oil", "0.1", "0.26"), ("zinc-plated", "0.17", "0.35"),
    ("phosphate-and-oil", "0.15", "0.22"), ("zinc-flake", "0.16", "0.32"),
    ("stainless", "0.3", "0.5"), ("anti-seize", "0.12", "0.16")])
def test_torque_spreads_as_its_surface_does(surface: str, low: str, high: str):
    """M10 8.8: 57.99 mm² at 580 MPa, of which 0.75 pull (ISO 898-1), times K and 10 mm."""
    pull_kn = 57.99 * 0.580 * 0.75
    torque = compute("torque", {"thread": "M10", "class": "8.8", "surface": surface})["torque_nm"]
    assert torque["low"] == pytest.approx(float(Fraction(low)) * 10 * pull_kn, abs=0.06)
    assert torque["high"] == pytest.approx(float(Fraction(high)) * 10 * pull_kn, abs=0.06)


# --- sizes that nothing is judged by; they are offered to be looked up

@pytest.mark.parametrize(("name", "rows"), [
    ("hose_bores", "3.2 4 5 6.3 8 10 12.5 16 19 20 25 31.5 32 38 50 51 63 76 100"),
    ("clamp_ranges", "8/12 10/16 12/20 16/25 20/32 25/40 32/50 40/60 50/70 60/80 70/90 80/100 "
                     "90/110 100/120"),
    ("lip_seals", "8/22/7 10/22/7 12/22/7 12/28/7 15/26/7 15/30/7 17/30/7 17/35/7 20/35/7 "
                  "20/40/7 25/40/7 25/47/7 30/47/7 30/52/7 35/52/7"),
    ("oring_section_tolerances", "2.25/0.08 3.15/0.09 4.5/0.1 6.3/0.13 8.4/0.15")])
def test_sizes_to_look_up_are_those_of_the_trade(name: str, rows: str):
    """DIN 3017-1 and DIN 3760 as a public code file cites them; the rest from memory."""
    assert [tuple(r.values()) for r in table(name).records()] == [
        tuple(map(float, one.split("/"))) for one in rows.split()]


def test_sizes_of_fuses_and_grades_of_clamps_are_those_of_the_trade():
    assert {r["form"]: (r["length_mm"], r["width_mm"], r["height_mm"])
            for r in table("fuse_sizes").records()} == {
        "blade-mini": (10.9, 3.6, 16.3), "blade-regular": (19.1, 5.1, 18.5),
        "blade-maxi": (29.2, 8.5, 34.3), "5x20": (20, 5, 5), "6.3x32": (32, 6.3, 6.3)}
    assert [r["grade"] for r in table("clamp_grades").records() if r["all_stainless"]] == [
        "W4", "W5"]
    assert [r["grade"] for r in table("clamp_grades").records()] == ["W1", "W2", "W3", "W4", "W5"]


def test_sizes_of_belt_sections_are_those_told():
    """Also those by which nothing is judged: they stand on the screen."""
    assert [tuple(r.values()) for r in table("belt_sections").records()] == [
        (*told[:5], float(told[5]), *told[6:]) for told in SECTIONS]


def test_what_a_rubber_does_not_stand_is_graded_in_two_words():
    words = {"g": "good", "f": "fair", "p": "poor", "n": "no"}
    for r in table("elastomers").records():
        assert [r[medium] for medium in MEDIA] == [
            words[grade] for grade in RUBBERS[r["rubber"]].split()]


def test_wire_with_insulation_of_60_degrees_bears_the_least():
    """Shown beside the two columns by which a fuse is judged (ISO 10133, from memory)."""
    assert [r["i60_a"] for r in table("wire_ampacity").records()] == [
        6, 8, 12, 17, 22, 29, 40, 54, 71, 87, 105]


def test_grades_of_clamps_say_what_is_stainless():
    assert {r["grade"]: r["material"] for r in table("clamp_grades").records()} == {
        "W1": "plated steel", "W2": "stainless band, plated screw",
        "W3": "stainless band and housing, plated screw", "W4": "all stainless",
        "W5": "all stainless, 316 type"}


def test_threads_that_mate_are_listed_once_each():
    """Whitworth coarse and fine share a form; the rest as above."""
    pairs = {(r["external"], r["internal"]): r["how"] for r in table("thread_mating").records()}
    alike = {(one, other): "yes" for one in ("BSW", "BSF") for other in ("BSW", "BSF")}
    taper = {(one, other): "yes" for one in ("NPT", "NPTF") for other in ("NPT", "NPTF")}
    assert pairs == {("M", "M"): "yes", ("UN", "UN"): "yes", **alike, **taper, **MATES}
