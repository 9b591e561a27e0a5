"""A request that cannot be right is refused, and the field is named."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit import Claim, FitRequest, check_fit
from spares.errors import InvalidInput


def ask(**more: Any) -> dict[str, Any]:
    return {"kind": "impeller", "requires": [{"attr": "bore", "value": 16}], "offers": {"bore": 16},
            **more}


def one(**claim: Any) -> dict[str, Any]:
    return ask(requires=[{"attr": "bore", **claim}])


@pytest.mark.parametrize(("request_", "pointer"), [
    ({"requires": []}, "#/kind"), (ask(kind="propeller-nut"), "#/kind"),
    (ask(colour=1), "#/colour"),
    (ask(place={"depth": 1}), "#/place/depth"), (ask(place={"medium": "beer"}), "#/place/medium"),
    (ask(place={"wet": "perhaps"}), "#/place/wet"),
    (ask(requires=[{"value": 1}]), "#/requires/0/attr"),
    (ask(requires=[{"attr": "boer", "value": 1}]), "#/requires/0/attr"),
    (ask(offers={"boer": 1}), "#/offers/boer"),
    (ask(offers={"bore": {"value": 1, "note": "x"}}), "#/offers/bore/note"),
    (ask(offers={"bore": {"value": 1, "a/b~c": "x"}}), "#/offers/bore/a~1b~0c"),     # RFC 6901, 3
    (one(value={"a/b": 1}), "#/requires/0/value/a~1b"),
    (ask(companions={"bore": "P1"}), "#/companions/bore"),
    (ask(companions={"bore": ["P1", 2]}), "#/companions/bore/1"),
    (one(value=16, size=2), "#/requires/0/size"), (one(value=16, cmp="about"), "#/requires/0/cmp"),
    (one(value=16, cmp="mates"), "#/requires/0/cmp"),
    (one(value=16, severity="bad"), "#/requires/0/severity"),
    (one(value="sixteen"), "#/requires/0/value"), (one(value="16 kg"), "#/requires/0/value"),
    (one(value=16, unit="furlong"), "#/requires/0/unit"),
    (one(value=16, tol=-1), "#/requires/0/tol"),
    (one(value=16, tol="wide"), "#/requires/0/tol"), (one(value=16, u=-0.1), "#/requires/0/u"),
    (one(value={"min": 20, "max": 10}, cmp="range"), "#/requires/0/value"),
    *[({"kind": kind, "requires": [{"attr": attr, "value": {"system": "inside"}}]},
       "#/requires/0/value") for kind, attr in (
           ("impeller", "material"), ("impeller", "drive_type"), ("clamp", "grade"),
           ("filter", "bypass_present"))],
    (one(value={}, cmp="range"), "#/requires/0/value"), (one(value=[]), "#/requires/0/value"),
    (one(value=[16, None]), "#/requires/0/value"), (one(value=True), "#/requires/0/value"),
    (one(value=16, origin={"how": "dreamt"}), "#/requires/0/origin/how"),
    (ask(offers={"bore": {"value": 16, "origin": {"how": "dreamt"}}}), "#/offers/bore/origin"),
    (ask(offers={"bore": "wide"}), "#/offers/bore/value"),
    *[(ask(offers={"bore": {"value": 16, "u": u}}), "#/offers/bore/u")
      for u in ([], {}, [0.1], True, "wide", -1)],
    (ask(links=[{"role": "takes"}]), "#/links/0/proof"),
    (ask(links=[{"proof": "sworn"}]), "#/links/0/proof")])
def test_request_that_cannot_be_right_names_its_field(request_, pointer):
    with pytest.raises(InvalidInput) as caught:
        compute("fit", request_)
    assert [e["pointer"] for e in caught.value.facts["errors"]][0] == pointer


@pytest.mark.parametrize(("place", "pointer"), [
    ({"driven_pulley_mm": 0}, "#/place/driven_pulley_mm"), ({"slip": 1}, "#/place/slip"),
    ({"engine_speed_rpm": "fast"}, "#/place/engine_speed_rpm"),
    ({"drive_pulley_mm": -5}, "#/place/drive_pulley_mm")])
def test_place_that_cannot_be_names_its_field(place, pointer):
    driven = {"engine_speed_rpm": 2000, "drive_pulley_mm": 100, "driven_pulley_mm": 100}
    with pytest.raises(InvalidInput) as caught:
        compute("fit", {"kind": "pump", "requires": [{"attr": "flow", "value": 10}],
                        "offers": {"flow": {"value": 20, "at_rpm": 1000}},
                        "place": driven | place})
    assert caught.value.facts["errors"][0]["pointer"] == pointer


@pytest.mark.parametrize("value", [16, "16", "16.0 mm", "16,0", "0.62992125984251968503937 in"])
def test_the_same_bore_written_in_many_ways_fits(value):
    answer = compute("fit", one(value=value, tol="0,001"))
    assert answer["verdict"] == "fits"


def test_claim_of_an_unknown_comparator_is_refused_in_python_too():
    with pytest.raises(InvalidInput):
        Claim("bore", 16, cmp="roughly")


def test_several_codes_for_one_part_are_refused():
    with pytest.raises(InvalidInput):
        check_fit(FitRequest("bearing", (Claim("code", "6203"),),
                             (Claim("code", ["6203", "6204"]),)))
