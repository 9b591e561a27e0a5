"""Judge materials: by the list asked, by the medium, by the metal they touch."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.finding import Finding, caution, differs, match, unknown, worst
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_absent, listed, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim, Place
from spares.standards import table
from spares.units import exact

_ELASTOMERS = "rubber by medium"
_NAMES = ("names of materials",)
_SEA = ("sea-water", "brackish")
_WATERS = ("fresh-water", *_SEA, "coolant")
_NOT = {"not", "no", "non", "without", "free", "except"}
_SORTS = re.compile(r"/|,|;|\bor\b")
_SUFFERS = {"iron": "rusts in sea water: short life", "steel": "rusts in sea water: short life",
            "brass": "loses its zinc in sea water: look at it every season"}
_BEARS = ("dzr-brass",)
_UNMARKED = ("unmarked", "not-marked", "no-mark", "no-marking")
_NOBLE = ("stainless", "bronze", "brass", "copper", "nickel")


@judge("material", by_place=True)
def judge_material(ctx: Context, attribute: Attribute, asked: Claim | None,
                   offered: Claim) -> Finding:
    """Judge a material against those asked; a family asked takes each of its members."""
    if asked is None:
        return match("nothing is asked of it", offered=show(offered.value))
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent
    wanted, have = listed(asked.value), listed(offered.value)
    texts: dict[str, Any] = {"required": " or ".join(map(show, wanted)),
                             "offered": ", ".join(map(show, have))}
    if any(reading.word(item) in _UNMARKED for item in have):
        return unknown("which sort exactly is not said", attribute.measure, **texts)
    options = [one for item in wanted for one in _sorts(item)]
    results = [_one_of_sorts(item, options) for item in have]
    if False in results:
        return differs(f"not among those asked: {attribute.why}", **texts)
    if None in results:
        return unknown("which sort exactly is not said", attribute.measure, **texts)
    written = {reading.word(w) for w in wanted}
    if any(reading.word(h) not in written for h in have):
        texts["rests_on"] = _NAMES
    found = match("among those asked", **texts)
    if len(wanted) > 1 and _one(have[0], wanted[:1]) is not True:
        return found.warn(f"{show(have[0])} is allowed, {show(wanted[0])} would be the first "
                          "choice: look whether it serves as well")
    return found


def some_rubber_fails(place: Place) -> bool:
    """Tell whether a rubber that is listed would not stand a place."""
    heat = None if place.temperature_c is None else place_number(place, "temperature_c")
    return any(row.get(place.medium or "", "good") not in ("good", "fair")
               or heat is not None and not (
                   exact(row["min_c"]) <= heat <= exact(most_heat(row, place)))
               for row in table("elastomers").records())


def most_heat(row: dict[str, Any], place: Place) -> Any:
    """Give the most heat that a listed rubber bears at a place: less in water [°C]."""
    return row["water_max_c" if place.medium in _WATERS else "max_c"]


@judge("rubber", by_place=True, may_fail=some_rubber_fails)
def judge_rubber(ctx: Context, attribute: Attribute, asked: Claim | None,
                 offered: Claim) -> Finding:
    """Judge rubber: by the list asked; without one by the medium and the temperature."""
    by_list = judge_material(ctx, attribute, asked, offered)
    by_place = [f for item in listed(offered.value) for f in _by_sorts(ctx, item, attribute)]
    if asked is None or by_list.result == "match" and _of_no_sort(listed(asked.value)) and (
            ctx.place.medium or ctx.place.temperature_c is not None):
        strange = [_not_listed(ctx, attribute, item) for item in listed(offered.value)
                   if not _by_sorts(ctx, item, attribute)]
        found = worst(*by_place, *strange).but(offered=show(offered.value))
        return found if asked is None else found.but(required=by_list.required)
    if by_list.result != "match":
        return by_list
    bad = next((f for f in by_place if f.result == "differs"), None)
    if bad is not None and len(listed(asked.value)) > 1:
        # a list of several does not vouch for each of them at this place
        return unknown(f"among those asked, yet {bad.reason}", "ask the maker which of them serves "
                       "there", required=by_list.required, offered=by_list.offered,
                       rests_on=bad.rests_on)
    # one that is named outranks a table that nobody looked up, but what the table says is said
    notes = [f.reason for f in by_place if f.result in ("differs", "caution")]
    return by_list.warn(*notes)


@judge("pump_metal", by_place=True)
def judge_pump_metal(ctx: Context, attribute: Attribute, asked: Claim | None,
                     offered: Claim) -> Finding:
    """Judge metal of a pump: by the list asked; bare aluminium never in sea water."""
    by_list = judge_material(ctx, attribute, asked, offered)
    bare = [item for item in listed(offered.value) if means(item) == "aluminium"]
    if ctx.place.medium in _SEA and bare and by_list.result != "differs":
        said = "bare aluminium in sea water is eaten away"
        return differs(said, required="no bare aluminium", offered=show(offered.value)) \
            if asked is None else by_list.warn(said)
    if ctx.place.medium in _SEA and by_list.result == "match":
        return by_list.warn(*(f"{show(item)} {_SUFFERS[kind]}" for item in listed(offered.value)
                              if (kind := family(item)) in _SUFFERS and means(item) not in _BEARS))
    return by_list


def means(name: Any) -> str:
    """Give the usual name of a material, its own where no list has it.

    Args:
        name: As written [-].

    Returns:
        The usual name as words are compared [-].

    Source:
        Table `material_names`, from memory.

    Example:
        >>> means("Nitrile"), means("316")
        ('nbr', 'a4')
    """
    return _named(reading.word(name))[0]


def family(name: Any) -> str:
    """Give the family of a material; empty where no list has it.

    Args:
        name: As written [-].

    Returns:
        Such as `stainless` or `rubber` [-].

    Source:
        Table `material_names`, from memory.
    """
    return _named(reading.word(name))[1]


def is_noble(name: Any) -> bool:
    """Tell whether a metal eats aluminium where both are wet.

    Args:
        name: As written [-].

    Returns:
        Yes or no [-].

    Source:
        Order of attack in sea water, one printed list seen; common practice.
    """
    return family(name) in _NOBLE


@cache
def _named(name: str) -> tuple[str, str]:
    """Give usual name and family of a word; `A4 stainless` is known by its parts."""
    names = _names()
    if name in names:
        return names[name]
    sorts = [part.strip(" -") for part in _SORTS.split(name)]
    if len(sorts) > 1 and len(found := {_named(sort) for sort in sorts}) > 1:
        families = {one[1] for one in found}        # half known is not known
        return name, families.pop() if len(families) == 1 else ""
    words = re.findall(r"[\w.]+", name)
    if _NOT.intersection(words):
        return name, ""
    parts = [names[p] for p in words if p in names]
    families = {family_name for _, family_name in parts}
    if families == {"stainless", "steel"}:      # stainless steel 316
        parts = [p for p in parts if p[1] == "stainless"]
        families = {"stainless"}
    if len(families) != 1:
        return name, ""     # nothing known, or of two sorts
    kind = families.pop()
    usual = {one for one, _ in parts if one != kind}
    return (usual.pop() if len(usual) == 1 else kind if not usual else name), kind


@cache
def _names() -> dict[str, tuple[str, str]]:
    return {reading.word(r["name"]): (reading.word(r["means"]), r["family"])
            for r in table("material_names").records()}


def _sorts(said: Any) -> list[Any]:
    """Part `CR/NBR` and `bronze or brass` into the sorts that may be meant."""
    parts = [part.strip() for part in _SORTS.split(str(said))]
    return parts if len(parts) > 1 and all(family(part) for part in parts) else [said]


def _one_of_sorts(have: Any, wanted: list[Any]) -> bool | None:
    """Tell whether whatever sort it may be is among those asked; None where only some are."""
    results = {_one(sort, wanted) for sort in _sorts(have)}
    return results.pop() if len(results) == 1 else None


def _one(have: Any, wanted: list[Any]) -> bool | None:
    """Tell whether one material is among those asked; None where it is said too roughly."""
    rough = False
    for item in wanted:
        if means(have) == means(item) or family(have) and means(item) == family(have):
            return True
        rough = rough or means(have) == family(item) != means(item)
    return None if rough else False


def _of_no_sort(wanted: list[Any]) -> bool:
    """Tell whether nothing but rubber, of whatever sort, is asked."""
    return all(means(item) == family(item) for item in wanted)


def _not_listed(ctx: Context, attribute: Attribute, material: Any) -> Finding:
    place = ctx.place
    what = place.medium or f"{show(place.temperature_c)} °C"
    said = f"whether {show(material)} stands {what} is not known here"
    texts: dict[str, Any] = {"required": f"serves in {what}"}
    if family(material) != "rubber" or some_rubber_fails(place):
        return unknown(said, attribute.measure, **texts)
    return caution(f"{said}; every rubber that is listed does", rests_on=(_ELASTOMERS,), **texts)


def _by_sorts(ctx: Context, material: Any, attribute: Attribute) -> list[Finding]:
    """Judge whatever sort it may be; where only some stand the place, nobody can tell."""
    found = [_by_place(ctx, sort, attribute) for sort in _sorts(material)]
    bad = [any(one.result == "differs" for one in some) for some in found]
    if any(bad) and not all(bad):
        return [unknown("which sort exactly is not said", attribute.measure,
                        offered=show(material))]
    return [one for some in found for one in some]


def _by_place(ctx: Context, material: Any, attribute: Attribute) -> list[Finding]:
    """Judge a rubber by the medium and the temperature of the place."""
    row = next((r for r in table("elastomers").records()
                if reading.word(r["rubber"]) == means(material)), None)
    if row is None:
        return []
    found, place = [], ctx.place
    grade = row.get(place.medium) if place.medium else None
    texts: dict[str, Any] = {"required": f"serves in {place.medium}", "rests_on": (_ELASTOMERS,)}
    if grade == "good":
        found.append(match(f"{row['rubber']} serves well in {place.medium}", **texts))
    elif grade == "fair":
        found.append(caution(f"{row['rubber']} serves only fairly in {place.medium}", **texts))
    elif grade:
        found.append(differs(f"{row['rubber']} does not stand {place.medium}: {attribute.why}",
                             **texts))
    if place.temperature_c is not None:
        heat = place_number(place, "temperature_c")
        texts["required"] = f"serves at {show(place.temperature_c)} °C"
        most = most_heat(row, place)
        bears = f"{row['rubber']} bears {row['min_c']} to {most} °C"
        found.append(match(bears, **texts) if exact(row["min_c"]) <= heat <= exact(most)
                     else differs(f"{bears} only", **texts))
    return found
