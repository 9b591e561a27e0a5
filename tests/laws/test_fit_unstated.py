"""What a part does not state never helps it, where the place asks by itself.

For every rule of every kind sheet, at a place where it holds, a part that says nothing of the
attribute is held against parts that say all sorts of things: saying less is never judged better,
but that what was ruled out may become not known. The exceptions are named with their reason.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from spares.actions.compute import compute
from spares.domain.fit import load_sheets
from spares.errors import InvalidInput
from spares.standards import table

RANK = {"fits": 3, "fits-with-changes": 2, "not-known-yet": 1, "does-not-fit": 0}
SPEEDS = {"engine_speed_rpm": 2600, "drive_pulley_mm": 110, "driven_pulley_mm": 100}
PLACES: list[dict[str, Any]] = [
    {}, {"wet": True}, {"wet": False}, {"petrol_space": True},
    {"petrol_space": True, "driven_by": "belt"}, {"petrol_space": True, "driven_by": "electric"},
    {"petrol_space": True, "medium": "petrol"}, {"below_waterline": True},
    {"above_waterline": True}, {"attitude": "horizontal"}, SPEEDS, {"temperature_c": 20},
    {"temperature_c": 100}, {"temperature_c": 140}, {"wire_mm2": 1.5},
    {"rotation": {"value": "cw", "seen_from": "shaft-end"}},
    {"mating_metal": "aluminium"}, {"mating_metal": "aluminium", "wet": True},
    {"mating_metal": "stainless", "wet": True},
    *({"medium": medium} for medium in (
        "sea-water", "fresh-water", "brackish", "coolant", "engine-oil", "diesel", "petrol",
        "oily-bilge", "air"))]
#: What is judged only where the part states it, and why.
ONLY_WHERE_STATED = {
    ("fastener", "material"): "asked where it is wet; most places do not record that they are",
    ("hose", "max_temperature_c"): "asked above what the poorest hose bears",
    ("general", "ignition_protected"): "asked where something says that the part is electrical",
    ("pump", "body_material"): "pumps of sea water are sold as such; bare aluminium is the freak",
    ("pump", "cover_material"): "as the body", ("pump", "shaft_material"): "as the body",
    ("pump", "max_speed_rpm"): "said as advice; most plates do not give it",
    ("pump-seal", "max_speed_m_s"): "maker's list only, and small shafts never come near",
    ("pump-seal", "ribs"): "most lips have none; asked where the place says how the shaft turns",
    ("pump-seal", "rotation"): "as the ribs",
    ("pump", "self_priming"): "the principle stands in for it",
    ("impeller", "max_temperature_c"): "the rubber stands in for it",
}


def values(kind: str, attr: str) -> Iterator[Any]:
    """Give all sorts of things that a part may say of an attribute."""
    line = load_sheets()[kind].attributes[attr]
    yield from (True, False) if line.type == "flag" else ()
    yield from (*line.words, *line.ranks, *line.aliases)
    if line.type == "quantity":
        yield from (0, 1, 5, 20, 80, 2860, 5000)
    if line.type == "flow":
        yield from (30, {"value": 30, "at_rpm": 1500})
    if "material" in attr or attr == "metal":
        yield from (row["rubber"] for row in table("elastomers").records())
        yield "rubber"
        if line.judge != "rubber":      # where rubber goes, metal is a record at fault
            yield from ("moon rock", "A4", "steel", "bronze", "aluminium", "magnesium")
    if line.judge == "rubber":
        return
    yield from ("none", "cw", {"value": "ccw", "seen_from": "shaft-end"}, "2019-05", "ISO 8469",
                "soft", "red")


def verdict(kind: str, place: dict[str, Any], offers: dict[str, Any],
            advice: dict[str, Any] | None = None) -> str | None:
    ruled = {rule.attr for rule in load_sheets()[kind].implied}
    met: dict[str, Any] = {"range": {"min": 20, "max": 32}} if kind == "clamp" else {next(
        a.code for a in load_sheets()[kind].attributes.values() if a.severity == "stop"
        and a.type in ("quantity", "word") and not a.judge and a.code not in ruled): 10}
    if kind == "filter" and "attitude" in place:
        met["medium"] = "oil"
    try:
        return compute("fit", {"kind": kind, "place": place, "today": "2027-03-15",
                               "requires": [*({"attr": a, "value": v} for a, v in met.items()),
                                            *([advice] if advice else [])],
                               "offers": {**met, **offers}})["verdict"]
    except InvalidInput:
        return None


@pytest.mark.parametrize("kind", sorted(load_sheets()))
def test_part_that_says_less_of_what_the_place_asks_is_never_judged_better(kind):
    for rule in load_sheets()[kind].implied:
        attr = rule.attr
        if (kind, attr) in ONLY_WHERE_STATED:
            continue
        needed = set(rule.when.get("place", {}))
        for place in (one for one in PLACES if (needed <= set(one) if needed else not one)):
            silent = verdict(kind, place, {})
            if RANK[silent] <= RANK["not-known-yet"]:
                continue        # nothing could be worse but a stop, which may become not known
            for value in values(kind, attr):
                said = verdict(kind, place, {attr: value})
                assert said is None or RANK[silent] <= max(RANK[said], RANK["not-known-yet"]), (
                    attr, value, place, said, silent)


@pytest.mark.parametrize("kind", sorted(load_sheets()))
def test_row_that_is_advice_never_quiets_the_place(kind):
    """Whatever an advisory row asks, the verdict is no better than without it."""
    for rule in load_sheets()[kind].implied:
        needed = set(rule.when.get("place", {}))
        sorts = [value for value in values(kind, rule.attr) if not isinstance(value, dict)][:4]
        for place in (one for one in PLACES if needed and needed <= set(one)):
            for said in ({}, *({rule.attr: value} for value in sorts)):
                bare = verdict(kind, place, said)
                for value in sorts:
                    with_row = verdict(kind, place, said, {
                        "attr": rule.attr, "value": value, "severity": "advisory"})
                    assert None in (with_row, bare) or RANK[with_row] <= RANK[bare], (
                        rule.attr, place, said, value)


def test_exceptions_are_rules_that_there_are():
    rules = {(kind, rule.attr) for kind, found in load_sheets().items() for rule in found.implied}
    assert set(ONLY_WHERE_STATED) <= rules
