"""Judge fasteners: hand, engagement, holes, strength, metal against metal."""

from __future__ import annotations

import re
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, compare_amount
from spares.domain.fit.context import Context
from spares.domain.fit.designations.threads import Thread, parse_thread
from spares.domain.fit.finding import Finding, caution, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.holes import clearance, wide_hole
from spares.domain.fit.judges.materials import family, is_noble, judge_material, means
from spares.domain.fit.judges.plain import judge_word, listed, show
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim, Place
from spares.standards import table
from spares.units import exact, format_number

# Engagement in diameters, by the metal of the thread; from memory.
_DIAMETERS = {"aluminium": Fraction("1.5"), "plastic": Fraction(2), "steel": Fraction(1),
              "iron": Fraction(1), "stainless": Fraction(1), "bronze": Fraction(1),
              "brass": Fraction(1)}
_LEAST, _MOST = Fraction(1), Fraction(2)
_NUT = re.compile(r"(?:A[124]\s*-\s*)?(?P<number>[1-9]\d?)(?:[.]\d)?")    # 8; 8.8 of the screw
_STAINLESS_NUTS = (50, 70, 80)
_GRADE = re.compile(r"^(SAE)?(J429)?(GRADE)")
_STAINLESS = re.compile(r"\s*A([1-5])\b", re.I)
_SEA_PROOF = ("4", "5")         # of the stainless A1 to A5; from memory
_ACTIVE = ("aluminium", "iron", "magnesium", "steel", "zinc")
_RULE = ("engagement of 1.0, 1.5 and 2 diameters",)


@judge("hand", alone=True)
def judge_hand(ctx: Context, attribute: Attribute, asked: Claim | None,
               offered: Claim | None) -> Finding:
    """Judge the hand; a written thread without LH is right hand."""
    if asked is None:
        return unknown("not measured", f"on the part: {attribute.measure}")
    if offered is None:
        thread = the_thread(ctx.offered_claim("thread"))
        if thread is None:
            return unknown("not measured", f"on the part: {attribute.measure}",
                           required=show(asked.value))
        offered = Claim("hand", "left" if thread.left else "right", pointer="#/offers/thread")
    return judge_word(ctx, attribute, asked, offered)


@judge("engagement", alone=True, amounts=True)
def judge_engagement(ctx: Context, attribute: Attribute, asked: Claim | None,
                     offered: Claim | None) -> Finding:
    """Judge the engagement: as offered, or length minus stack."""
    if asked is None:
        return unknown("not measured", f"on the part: {attribute.measure}")
    have = reading.amount(attribute, offered) if offered is not None else _engages(ctx)
    if have is None:
        return unknown("length of the screw and stack under its head are not both known",
                       f"on the part: {attribute.measure}")
    found = compare_amount(attribute, asked, have)
    return found if offered is not None else found.but(
        reason=f"{found.reason} (length - stack = {have.text()})")


@judge("stack")
def judge_stack(ctx: Context, attribute: Attribute, asked: Claim,
                offered: Claim | None) -> Finding:
    """Judge what engages when a stack lies under the head."""
    stack, have = reading.amount(attribute, asked), _engages(ctx)
    text = f"stack of {stack.text()}"
    if have is None:
        return unknown("the length of the screw was not measured", "length under the head: "
                       "calipers", required=text)
    texts: dict[str, Any] = {"required": text, "offered": f"engages {have.text()}"}
    need = ctx.asked_amount("engagement")
    if need is not None:
        limits = (need.amount, need.amount)
    else:
        thread = the_thread(ctx.offered_claim("thread")) or the_thread(ctx.asked_claim("thread"))
        if thread is None:
            return unknown("the thread is not known, and so how far it must engage",
                           "thread: calipers on the crest and pitch gauge", **texts)
        factor = _DIAMETERS.get(family(ctx.place.mating_metal) or str(ctx.place.mating_metal))
        limits = ((factor, factor) if factor else (_LEAST, _MOST))
        limits = (limits[0] * thread.major_mm, limits[1] * thread.major_mm)
        texts["rests_on"] = _RULE
    if have.amount - have.u >= limits[1]:
        return match(f"engages {have.text()}, {format_number(limits[1])} mm are enough", **texts)
    if have.amount + have.u < limits[0]:
        return differs(f"engages {have.text()}, {format_number(limits[0])} mm are needed: strips",
                       side="less", **texts)
    return unknown("whether that is enough depends on the metal of the thread",
                   "say of what metal the thread is", **texts)


@judge("hole_diameter")
def judge_hole_diameter(ctx: Context, attribute: Attribute, asked: Claim,
                        offered: Claim | None) -> Finding:
    """Judge a plain hole against the thread of the screw."""
    hole, claim = reading.amount(attribute, asked), ctx.offered_claim("thread")
    thread = the_thread(claim)
    text = f"hole of {hole.text()}"
    if thread is None or claim is None:
        return unknown("the thread of the screw is not known", "thread: calipers on the crest",
                       required=text)
    row = clearance(claim.value) or (thread.major_mm + Fraction("0.2"), thread.major_mm * Fraction(
        "1.1"), thread.major_mm * Fraction("1.2"))
    texts: dict[str, Any] = {"required": text, "offered": thread.text}
    if hole.amount - hole.u >= row[0]:
        found = wide_hole(match("the screw passes", **texts), hole, row[2], attribute.measure,
                          ctx.offered_amount("washer_outside_diameter"))
        return caution(found.cautions[0], **texts) if found.cautions else found
    if hole.u and hole.amount + hole.u >= row[0]:
        return unknown("read too coarsely to tell", attribute.measure, **texts)
    return differs(f"under the close hole of {format_number(row[0])} mm: {attribute.why}",
                   side="less", detail=f"drill to {format_number(row[1], 1, 1)} mm", **texts)


@judge("property_class")
def judge_property_class(ctx: Context, attribute: Attribute, asked: Claim,
                         offered: Claim) -> Finding:
    """Judge strength by proof stress; a class that no table has is compared to the letter."""
    if (found := _by_letter(attribute, asked, offered)) is not None:
        return found
    wanted, have, texts = _classes(asked, offered)
    thread = the_thread(ctx.offered_claim("thread")) or the_thread(ctx.asked_claim("thread"))
    highest = comparator(attribute, asked) == "at-most"
    name, got = _easiest(wanted, thread, highest=highest), _proof(have, thread)
    if name is None or not got:
        return unknown("the strength of this class is not known here", attribute.measure, **texts)
    need = _proof(name, thread)
    stresses = (f"{format_number(min(got.values()))} MPa for "
                f"{format_number(max(need.values()))} MPa proof stress")
    enough = min(got.values()) >= max(need.values()) or all(
        got.get(size, min(got.values())) >= need[size] for size in need) and set(got) == set(need)
    texts["rests_on"] = ("proof stress of stainless and inch classes",) if "memory" in _known(
        name, have) else ()
    if highest:
        enough = max(got.values()) <= min(need.values())
    if not enough and not all(_proof(one, thread) for one in wanted):
        return unknown("the strength of one of these classes is not known here",
                       attribute.measure, **texts)
    if not enough:
        return differs(f"{stresses}: {attribute.why}", side="less", **texts)
    found = match(stresses, **texts)
    return _stainless_for_stainless(ctx, found, [show(w) for w in wanted], have)


def _stainless_for_stainless(ctx: Context, found: Finding, wanted: list[str],
                             have: str) -> Finding:
    """Look at what a class says of the metal, where strength is enough."""
    asked = [_STAINLESS.match(name) for name in wanted]
    got = _STAINLESS.match(have)
    if not all(asked) or got and got[1] in [hit[1] for hit in asked if hit]:
        return found
    if got:
        pits = got[1] not in _SEA_PROOF and all(hit[1] in _SEA_PROOF for hit in asked if hit)
        return found.warn(f"A{got[1]} pits in sea water sooner than what is asked") if pits \
            else found
    said, texts = "of the strength asked, but not stainless", {
        "required": found.required, "offered": found.offered}
    if ctx.place.wet is False:
        return found.warn(f"{said}: keep it dry")
    if ctx.place.wet or ctx.place.medium is not None:
        return differs(f"{said}: it rusts", **texts)
    return unknown(f"{said}, and whether it is wet there is not recorded",
                   "look: does water come to it? record it with the place", **texts)


@judge("nut_class")
def judge_nut_class(ctx: Context, attribute: Attribute, asked: Claim,
                    offered: Claim) -> Finding:
    """Judge the class of a nut: not below that of the screw."""
    if (found := _by_letter(attribute, asked, offered)) is not None:
        return found
    wanted, have, texts = _classes(asked, offered)
    needs, got = [mpa for one in wanted if (mpa := _nut_mpa(one)) is not None], _nut_mpa(have)
    need = min(needs, default=None)     # each of several serves
    if need is None or got is None or got < need and len(needs) < len(wanted):
        return unknown("the class cannot be read", attribute.measure, **texts)
    return match("not below", **texts) if got >= need else differs(f"below: {attribute.why}",
                                                                   **texts)


def some_screw_eats(place: Place) -> bool:
    """Tell whether a nobler screw would eat the metal of a place."""
    return place.wet is True and means(place.mating_metal) == "aluminium"


@judge("screw_metal", by_place=True, may_fail=some_screw_eats)
def judge_screw_metal(ctx: Context, attribute: Attribute, asked: Claim | None,
                      offered: Claim) -> Finding:
    """Judge the metal of a screw by the list asked and by the metal that it sits in."""
    by_list = judge_material(ctx, attribute, asked, offered)
    have, metal = listed(offered.value), ctx.place.mating_metal
    if metal is None or by_list.result == "unknown":
        return by_list
    if means(metal) == "aluminium" and any(is_noble(h) for h in have):
        if ctx.place.wet is False:
            return by_list.warn("keep it dry: the aluminium suffers where water comes to it")
        return differs(f"{show(have[0])} in wet aluminium: the aluminium is eaten",
                       change="isolate", detail="paste on the thread and under the head",
                       required=by_list.required, offered=by_list.offered)
    if family(metal) == "stainless" and any(family(h) == "stainless" for h in have):
        return by_list.warn("stainless on stainless galls: lubricate, turn slowly")
    eaten = next((h for h in have if family(h) in _ACTIVE), None)
    if eaten is not None and is_noble(metal) and ctx.place.wet is not False:
        return by_list.warn(f"{show(eaten)} in {show(metal)}: where both are wet the screw is "
                            "eaten first")
    return by_list


def the_thread(claim: Claim | None) -> Thread | None:
    """Give the one thread that a written claim means.

    Args:
        claim: A claim of a thread, or None [-].

    Returns:
        The thread [-], or None where it is measured or not clear.

    Source:
        Counting rule of this project; no standard applies.
    """
    if claim is None or not isinstance(claim.value, str):
        return None
    found = parse_thread(claim.value)
    return found[0] if len(found) == 1 else None


def _engages(ctx: Context) -> Amount | None:
    own = ctx.offered_amount("engagement")
    if own is not None:
        return own
    length, stack = ctx.offered_amount("length"), ctx.asked_amount("stack")
    if length is None or stack is None:
        return None
    return Amount(length.amount - stack.amount, length.u + stack.u, "mm")


def _nut_mpa(name: Any) -> int | None:
    """Give the stress under which a nut is tested [MPa]; thin nuts (04, 05) bear less than that.

    A class of steel is a hundredth of it, one of stainless (50, 70, 80) a tenth.
    """
    hit = _NUT.fullmatch(str(name).strip())
    if hit is None:
        return None
    number = int(hit["number"])
    return number * (10 if number in _STAINLESS_NUTS else 100)


def _classes(asked: Claim, offered: Claim) -> tuple[list[Any], str, dict[str, Any]]:
    """Give the classes asked, the one offered, and both as they are shown."""
    wanted, have = listed(asked.value), show(reading.part(offered.value, "value"))
    return wanted, have, {"required": " or ".join(map(show, wanted)), "offered": have}


def _by_letter(attribute: Attribute, asked: Claim, offered: Claim) -> Finding | None:
    """Compare classes as they are written; None where their strength has to decide."""
    wanted, have, texts = _classes(asked, offered)
    if reading.word(have) in {reading.word(w) for w in wanted}:
        return match("as asked", **texts)
    if comparator(attribute, asked) in ("equal", "one-of"):
        return differs(f"not as asked: {attribute.why}", **texts)
    return None


def _rows(name: Any) -> list[dict[str, Any]]:
    # inch grades need their name: a bare 8 may be a nut's class, or what is left of 8.8
    wanted = _GRADE.sub("SAE", "".join(str(name).upper().split()))
    return [r for r in table("proof_stress").records()
            if "".join(r["class"].upper().split()) == wanted]


def _proof(name: Any, thread: Thread | None) -> dict[Any, Fraction]:
    """Give the proof stress of a class by size; one value where the size is known."""
    rows = _rows(name)
    if thread is not None and rows:
        row = next((r for r in rows if r["up_to_d_mm"] is None
                    or thread.major_mm <= r["up_to_d_mm"]), rows[-1])
        return {"": exact(row["proof_mpa"])}
    return {r["up_to_d_mm"]: exact(r["proof_mpa"]) for r in rows}


def _easiest(wanted: list[Any], thread: Thread | None, *, highest: bool) -> Any:
    """Give the class among several that is met soonest; None where no strength is known."""
    known = [(one, proof) for one in wanted if (proof := _proof(one, thread))]
    if highest:
        return max(known, key=lambda pair: min(pair[1].values()), default=(None,))[0]
    return min(known, key=lambda pair: max(pair[1].values()), default=(None,))[0]


def _known(*names: Any) -> set[str]:
    return {r["known"] for name in names for r in _rows(name)}
