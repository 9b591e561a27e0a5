"""What the place, the drive, the hand and the metal make of a part; rules in the tests' names.

Expected outcomes are worked out by hand from the rule each test names: common practice, no source,
where nothing else is said.
"""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from spares.domain.fit.judges.materials import family, is_noble, means
from spares.errors import InvalidInput
from tests.domain.test_fit_edges import rows_of

SPEEDS = {"engine_speed_rpm": 3000, "drive_pulley_mm": 100, "driven_pulley_mm": 100}


@pytest.mark.parametrize("medium", [
    "sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel", "petrol",
    "oily-bilge", "air"])
def test_each_medium_aboard_may_be_named(medium):
    asked = {"kind": "o-ring", "place": {"medium": medium}, "requires": [],
             "offers": {"material": "FKM"}}
    assert compute("fit", asked)["rows"][0]["required"] == f"serves in {medium}"
    with pytest.raises(InvalidInput):
        compute("fit", asked | {"place": {"medium": f"{medium}s"}})


@pytest.mark.parametrize(("drive", "outcome"), [
    ("electric", "stop"), ("belt", "match"), ("pulley", "match"), ("gear", "match"),
    ("spline", "match"), ("tang", "match")])
@pytest.mark.parametrize("side", ["asked", "offered"])
def test_flow_goes_with_the_engine_unless_a_motor_drives_the_pump(drive, outcome, side):
    """30 L/min at 1500 1/min are 60 at 3000; an electric pump gives its 30 at any engine speed."""
    asked = {"flow": {"value": 50, "at_rpm": 3000}}
    have = {"flow": {"value": 30, "at_rpm": 1500}}
    (asked if side == "asked" else have)["drive"] = drive
    row = rows_of("pump", asked, have, place=SPEEDS)["flow"]
    assert row["outcome"] == outcome


@pytest.mark.parametrize(("drive", "outcome"), [
    ("belt", "change"), ("pulley", "change"), ("gear", "stop"), ("tang", "stop"),
    ("spline", "stop"), ("electric", "stop")])
@pytest.mark.parametrize("side", ["asked", "offered"])
def test_another_pulley_mends_the_flow_of_a_belt_driven_pump_only(drive, outcome, side):
    asked = {"flow": {"value": 50, "at_rpm": 3000}}
    have = {"flow": {"value": 20, "at_rpm": 1500}}
    (asked if side == "asked" else have)["drive"] = drive
    row = rows_of("pump", asked, have, place=SPEEDS)["flow"]
    assert row["outcome"] == outcome


@pytest.mark.parametrize(("flow", "limit", "outcome"), [
    (20, 3750, "change"), (20, 3749, "stop"), (20, None, "change"), (0, None, "stop")])
def test_another_pulley_must_not_turn_the_pump_too_fast(flow, limit, outcome):
    """20 at 1500: 50 needs 3750 1/min; pulley 100 x 3000 / 3750 = 80 mm, and just that speed."""
    have = {"flow": {"value": flow, "at_rpm": 1500}, "drive": "belt"}
    if limit:
        have["max_speed_rpm"] = limit
    row = rows_of("pump", {"flow": {"value": 50, "at_rpm": 3000}}, have, place=SPEEDS)["flow"]
    assert row["outcome"] == outcome
    if outcome == "change" and limit:
        assert "pump pulley 80 mm for 100 mm" in row["detail"]


@pytest.mark.parametrize("said", ["left", "lh", "left-hand", "LH", "left hand"])
def test_hand_told_apart_from_the_thread_counts(said):
    asked = {"thread": "M10", "hand": said}
    assert rows_of("fastener", asked, {"thread": "M10 LH"})["thread"]["outcome"] == "match"
    assert rows_of("fastener", asked, {"thread": "M10"})["thread"]["outcome"] == "stop"
    have = {"thread": "M10", "hand": said}
    assert rows_of("fastener", {"thread": "M10"}, have)["thread"]["outcome"] == "stop"


@pytest.mark.parametrize(("asked", "have", "outcome"), [
    ("male", "female", "match"), ("female", "male", "match"), ("external", "internal", "match"),
    ("internal", "external", "match"), ("male", "male", "stop"), ("female", "female", "stop")])
def test_male_goes_into_female_whatever_they_are_called(asked, have, outcome):
    found = rows_of("pipe-thread", {"thread": "G 1/2", "gender": asked},
                    {"thread": "G 1/2", "gender": have})
    assert found["gender"]["outcome"] == outcome


@pytest.mark.parametrize("said", ["not stainless", "no stainless", "non stainless",
                                  "without stainless", "stainless free", "except stainless"])
def test_metal_that_is_denied_is_none_of_its_family(said):
    assert family(said) == ""


@pytest.mark.parametrize(("said", "name", "sort"), [
    ("stainless steel 316", "a4", "stainless"), ("316 stainless", "a4", "stainless"),
    ("stainless steel", "stainless", "stainless"), ("A4 stainless steel", "a4", "stainless"),
    ("zinc plated steel", "zinc-plated-steel", "steel"), ("bronze brass", "bronze-brass", "")])
def test_metal_named_by_several_words_is_known_by_its_parts(said, name, sort):
    assert (means(said), family(said)) == (name, sort)


@pytest.mark.parametrize("metal", ["stainless", "bronze", "brass", "copper", "nickel-copper"])
def test_noble_metals_eat_aluminium(metal):
    assert is_noble(metal)
    row = rows_of("fastener", {"thread": "M8"}, {"thread": "M8", "material": metal},
                  place={"mating_metal": "aluminium", "wet": True})["material"]
    assert row["outcome"] == "change" and "isolating" in row["change"]


@pytest.mark.parametrize("metal", ["steel", "zinc", "aluminium", "plastic", "unobtainium"])
def test_base_metals_and_plastic_do_not(metal):
    assert not is_noble(metal)


@pytest.mark.parametrize(("diameter", "advised"), [
    (24, False), (28, False), (23.9, True), (28.1, True)])
def test_clamp_grips_best_in_the_middle_third_of_its_range(diameter, advised):
    """20 to 32: its thirds end at 24 and 28."""
    asked = {"kind": "clamp", "requires": [{"attr": "on_diameter", "value": diameter}],
             "offers": {"range": {"min": 20, "max": 32}}}
    answer = compute("fit", asked)
    assert answer["verdict"] == "fits" and bool(answer["advisories"]) is advised


@pytest.mark.parametrize(("asked", "have", "outcome"), [
    ({"min": 20, "max": 32}, {"min": 20, "max": 32}, "match"),
    ({"min": 20, "max": 32}, {"min": 18, "max": 35}, "match"),
    ({"min": 20, "max": 32}, {"min": 21, "max": 35}, "stop"),
    ({"min": 20, "max": 32}, {"min": 18, "max": 31}, "stop"),
    ({"min": 20, "max": 32}, {"min": 18, "max": None}, "unknown"),
    ({"min": 20, "max": 32}, {"min": None, "max": 40}, "unknown"),
    ({"min": 20}, {"min": 18, "max": 40}, "unknown"),
    ("20-32", "18-35", "match"), ("20 to 32", "21-35", "stop"), ("22", "20-32", "match")])
def test_clamp_covers_the_whole_range_that_is_asked(asked, have, outcome):
    assert rows_of("clamp", {"range": asked}, {"range": have})["range"]["outcome"] == outcome


@pytest.mark.parametrize(("asked", "have", "outcome"), [
    ("ISO 7840 A1", "ISO 7840 A1, SAE J1527", "match"), ("ISO 7840", "iso 7840 type A1", "match"),
    ("DIN 7840", "7840", "match"), ("SAE J1527 type A1", "J1527 A1", "match"),
    ("ISO 7840 A1", "ISO 7840", "unknown"), ("ISO 7840 A1", "ISO 7840 A2", "stop"),
    ("ISO 7840 and SAE J1527", "ISO 7840 SAE J1527", "match"),
    ("ISO 7840 A1", "ISO 8469 A1", "stop"), (["ISO 7840", "ISO 8469"], "ISO 8469", "match"),
    ("ISO 7840", ["ISO 8469", "ISO 7840"], "match"), ("ISO 7840", "none", "stop"),
    ("ISO 7840", "not ISO 7840", "unknown")])
def test_standard_of_a_hose_stands_in_print_with_its_class(asked, have, outcome):
    assert rows_of("hose", {"standard": asked}, {"standard": have})["standard"][
        "outcome"] == outcome
