"""What is recorded for the fit check is read when it is written, so that no verdict stops later."""

from __future__ import annotations

import pytest

from spares.actions.claims import claim_text
from spares.actions.claims_written import check_claim
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.fit import fit
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.domain.draft import setting
from spares.domain.fit import Place
from spares.domain.place_fields import place_wrongs
from spares.errors import InvalidInput
from spares.transfer.compute.fit_shape import PlaceShape
from spares.transfer.compute.own_fit import PLACE
from tests.actions.conftest import TODAY

#: What nobody can read in a place, and the field that is named.
WRONG_PLACES = [
    ({"wet": "maybe"}, "wet"), ({"wet": 1}, "wet"), ({"wets": True}, "wets"),
    ({"medium": "beer"}, "medium"), ({"medium": ["diesel"]}, "medium"),
    ({"attitude": "odd"}, "attitude"), ({"driven_by": "wind"}, "driven_by"),
    ({"temperature_c": "hot"}, "temperature_c"), ({"temperature_c": 5000}, "temperature_c"),
    ({"wire_mm2": -2}, "wire_mm2"), ({"wire_mm2": True}, "wire_mm2"), ({"slip": 3}, "slip"),
    ({"mating_metal": 5}, "mating_metal"), ({"rotation": {"turns": "cw"}}, "rotation"),
    ({"rotation": 7}, "rotation"), ({"rotation": "sideways"}, "rotation"),
    ({"rotation": {"value": "cw", "seen_from": "mars"}}, "rotation"),
    ({"engine_speed_rpm": "1.8"}, "engine_speed_rpm"),
    ({"wet": True, "drive_pulley_mm": "0"}, "drive_pulley_mm"),
]


def test_a_place_that_cannot_be_read_is_refused_at_its_field(ctx):
    point = ctx.named("ENG-01", "point", "point")
    before, named = ctx.aboard().get(point).place, []
    for place, _ in WRONG_PLACES:
        with pytest.raises(InvalidInput) as refused:
            write_document(ctx, "point", {"place": place}, doc=point)
        named.append(refused.value.facts["errors"][0]["pointer"])
    assert named == [f"#/fields/place/{field}" for _, field in WRONG_PLACES]
    assert ctx.aboard().get(point).place == before
    assert fit(ctx, "ENG-01", "P02")["verdict"] == "fits"


def test_every_field_of_a_place_is_taken(ctx):
    point = ctx.named("ENG-01", "point", "point")
    place = {"wet": True, "medium": "sea-water", "petrol_space": False, "below_waterline": True,
             "above_waterline": None, "attitude": "upright", "mating_metal": "aluminium",
             "temperature_c": "-5.5", "wire_mm2": "2.5", "wire_insulation_c": 70,
             "rotation": {"value": "cw", "seen_from": "shaft-end"}, "engine_speed_rpm": 2800,
             "drive_pulley_mm": 127, "driven_pulley_mm": "114.3", "driven_by": "belt",
             "slip": "0.02"}
    write_document(ctx, "point", {"place": place}, doc=point)
    assert ctx.aboard().get(point).place == place
    assert set(place) == set(Place.__dataclass_fields__) == set(PlaceShape().fields) == set(PLACE)
    assert fit(ctx, "ENG-01", "P02")["rows"]


#: What nobody can read in a requirement, and where.
WRONG_CLAIMS = [
    ("bore", {"value": "abc"}, "#/fields/claim/value"),
    ("bore", {"value": True}, "#/fields/claim/value"),
    ("bore", {"value": 16, "cmp": "roughly"}, "#/fields/claim/cmp"),
    ("bore", {"value": 16, "tol": "x"}, "#/fields/claim/tol"),
    ("bore", {"value": 16, "u": "-1"}, "#/fields/claim/u"),
    ("bore", {"value": 16, "unit": "kg"}, "#/fields/claim/value"),
    ("bore", {"value": 16, "severity": "grave"}, "#/fields/claim/severity"),
    ("bore", {"value": 16, "origin": {"how": "guess"}}, "#/fields/claim/origin/how"),
    ("bore", {"value": {"a": 1}}, "#/fields/claim/value/a"),
    ("boring", {"value": 16}, "#/fields/attribute"),
]


def test_a_requirement_that_cannot_be_read_is_refused_at_its_field(ctx):
    point, named = ctx.named("ENG-03", "point", "point"), []
    for attribute, claim, _ in WRONG_CLAIMS:
        with pytest.raises(InvalidInput) as refused:
            write_document(ctx, "requirement",
                           {"subject": point, "attribute": attribute, "claim": claim})
        named.append(refused.value.facts["errors"][0]["pointer"])
    assert named == [pointer for *_, pointer in WRONG_CLAIMS]
    assert not ctx.aboard().requirements_of.get(point)


def test_a_spec_is_read_as_well_and_one_that_is_there_may_be_mended(ctx):
    part = ctx.named("P03", "part", "part")
    with pytest.raises(InvalidInput) as refused:
        write_document(ctx, "spec", {"part": part, "attribute": "bore", "claim": {"value": "two"}})
    assert refused.value.facts["errors"][0]["pointer"] == "#/fields/claim/value"
    done = write_document(ctx, "spec", {"part": part, "attribute": "bore",
                                        "claim": {"value": "5/8 in"}})
    with pytest.raises(InvalidInput):
        write_document(ctx, "spec", {"claim": {"value": "wide"}}, doc=done["doc"])
    write_document(ctx, "spec", {"claim": {"value": 16, "unit": "mm"}}, doc=done["doc"])
    write_document(ctx, "spec", {"gone": True}, doc=done["doc"])


def test_what_the_fit_check_can_read_is_taken(ctx):
    point, part = ctx.named("ENG-03", "point", "point"), ctx.named("P01", "part", "part")
    for attribute, claim in (("bore", {"value": [16, 17], "cmp": "one-of"}),
                             ("blade_count", {"value": [6, 8]}),
                             ("bore", {"value": "10-20", "cmp": "range"}),
                             ("bore", {"value": {"min": 10, "max": 20}, "cmp": "range"}),
                             ("bore", {"value": None}), ("bore", {"value": "5/8 in"})):
        made = write_document(ctx, "requirement", {"subject": point, "attribute": attribute,
                                                   "claim": claim})
        assert attribute in [row["attr"] for row in fit(ctx, "ENG-03", "P03")["rows"]]
        write_document(ctx, "requirement", {"gone": True}, doc=made["doc"])
    assert write_document(ctx, "spec", {"part": part, "attribute": "flow",
                                        "claim": {"value": "none"}})["was_new"]


def test_a_kind_whose_sheet_lacks_what_is_recorded_is_refused_by_name(ctx):
    point = ctx.named("ENG-03", "point", "point")
    made = write_document(ctx, "requirement", {"subject": point, "attribute": "blade_count",
                                               "claim": {"value": 6}})
    with pytest.raises(InvalidInput, match="blade_count; take that off first") as refused:
        write_document(ctx, "point", {"kind": "filter"}, doc=point)
    assert refused.value.facts["errors"][0]["pointer"] == "#/fields/kind"
    write_document(ctx, "requirement", {"gone": True}, doc=made["doc"])
    assert write_document(ctx, "point", {"kind": "filter"}, doc=point)["fields"]["kind"] == "filter"


def test_a_kind_of_which_there_is_no_sheet_holds_nobody_up(ctx):
    part = write_document(ctx, "part", {"name": "Bilge float", "kind": "float-switch"})["doc"]
    assert write_document(ctx, "spec", {"part": part, "attribute": "colour",
                                        "claim": {"value": "red"}})["was_new"]


def test_what_came_from_elsewhere_and_cannot_be_read_is_named_and_never_fits(ctx):
    point = ctx.named("ENG-03", "point", "point")
    ctx.write([setting("requirement/3b6a4f5e-0000-4000-8000-000000000001", subject=point,
                       attribute="bore", claim={"value": "abc"})])
    with pytest.raises(InvalidInput, match="'abc' does not begin with a number"):
        fit(ctx, "ENG-03", "P03")
    assert fit(ctx, "ENG-01", "P02")["verdict"] == "fits"


def test_whatever_the_demo_records_can_be_read(demo_file):
    store = open_store(demo_file)
    with store.reading() as session:
        hulls = [Context(store, ident, TODAY) for ident, _ in vessels(session)]
    read = 0
    for ctx in hulls:
        for kind in ("requirement", "spec"):
            for one in ctx.aboard().all(kind):
                check_claim(ctx, kind, {"claim": one.claim}, one)
                read += one.claim["value"] is not None
        for kind in ("point", "inner"):
            assert not [one for one in ctx.aboard().all(kind) if place_wrongs(one.place or {})]
    store.close()
    assert read > 100


@pytest.mark.parametrize("parts", [("value", "at_rpm", "at_bar"), ("at_bar", "at_rpm", "value")])
def test_a_flow_is_said_in_one_order_however_its_parts_are_kept(parts):
    """A table that was made anew from the log holds them in the order of the alphabet."""
    flow = {"value": "140", "at_rpm": "2000", "at_bar": "0.8"}
    claim = {"value": {one: flow[one] for one in parts}, "unit": "L/min", "cmp": "at-least"}
    assert claim_text(claim) == "at least 140 L/min, at 2000 r/min, at 0.8 bar"
