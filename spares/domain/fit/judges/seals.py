"""Judge shaft seals: seat, form, ribs against rotation, spring, speed of the lip, worn shaft."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount, reaches, within
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, caution, differs, match, unknown, worst
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.materials import family, judge_material
from spares.domain.fit.judges.plain import judge_quantity, listed, not_stated, show
from spares.domain.fit.judges.rotation import read_rotation
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.units import exact, format_number

_EITHER_WAY, _ONE_WAY = ("none", "wd"), {"rd": "cw", "ld": "ccw"}
_GROOVE_MM = Fraction("0.05")       # what a fingernail feels; proposed here
_PI = exact("3.14159265")
_NO_TURN = ("made for one way of turning, and which way the shaft turns is not recorded",
            "at the fit point: turn the engine by hand, stopped and isolated; say clockwise "
            "or anticlockwise, and whether seen from the shaft end or the cover end")


@judge("packing_shaft", alone=True, amounts=True)
@judge("packing_bore", alone=True, amounts=True)
def judge_seat_size(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim | None) -> Finding:
    """Judge shaft or housing bore; a packing is judged by its section between the two."""
    if asked is None:
        return not_stated(attribute, None)
    if offered is not None and offered.value is not None:
        return judge_quantity(ctx, attribute, asked, offered)
    section = ctx.offered_amount("section")
    shaft, bore = ctx.asked_amount("shaft_diameter"), ctx.asked_amount("housing_bore")
    if ctx.offered_word("seal_kind") not in ("packing", "gland-packing") or section is None \
            or shaft is None or bore is None:
        return not_stated(attribute, asked)
    need = (bore.amount - shaft.amount) / 2
    inside = within(section.amount - need, Fraction("0.2"),
                    section.u + (bore.u + shaft.u) / 2)
    texts: dict[str, Any] = {"required": f"section {format_number(need)} mm "
                             "(bore - shaft) / 2", "offered": f"section {section.text()}"}
    if inside is None:
        return unknown("read too coarsely to tell", attribute.measure, **texts)
    return match("fills the gland", **texts) if inside else differs(
        "does not fill the gland", **texts)


@judge("seat_depth")
def judge_seat_depth(ctx: Context, attribute: Attribute, asked: Claim,
                     offered: Claim | None) -> Finding:
    """Judge the depth of the seat against the width of the seal."""
    depth, width = reading.amount(attribute, asked), ctx.offered_amount("width")
    text = f"seat {depth.text()} deep"
    if width is None:
        return unknown("the width of the seal was not measured", "width of the seal: calipers "
                       "on the rim", required=text)
    texts: dict[str, Any] = {"required": text, "offered": f"{width.text()} wide"}
    inside = reaches(depth.amount, width.amount, depth.u + width.u)
    if inside is None:
        return unknown("read too coarsely to tell", attribute.measure, **texts)
    return match("goes in wholly", **texts) if inside else differs(
        f"stands out of its seat: {attribute.why}", side="more", **texts)


@judge("seal_form")
def judge_form(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the form: another body is a stop, a dust lip more or less is said."""
    wanted = [str(v).strip().upper() for v in listed(asked.value)]
    have = str(reading.part(offered.value, "value")).strip().upper()
    texts: dict[str, Any] = {"required": " or ".join(wanted), "offered": have}
    if have in wanted:
        return match("as asked", **texts)
    bodies = {"A", "B", "C"}
    if have.removesuffix("S") in {w.removesuffix("S") for w in wanted} & bodies:
        more = have.endswith("S")
        return caution("has a dust lip more than asked" if more else
                       "has no dust lip: dirt and splash reach the lip", **texts)
    return differs(f"another form: {attribute.why}", **texts)


@judge("ribs", by_place=True)
def judge_ribs(ctx: Context, attribute: Attribute, asked: Claim | None,
               offered: Claim) -> Finding:
    """Judge the ribs of a lip by the list asked and by the rotation of the place."""
    have = reading.word(listed(offered.value)[0])
    findings = []
    if asked is not None:
        wanted = [reading.word(w) for w in listed(asked.value)]
        texts: dict[str, Any] = {"required": " or ".join(wanted), "offered": have}
        findings.append(match("among those asked", **texts) if have in wanted else differs(
            f"not among those asked: {attribute.why}", **texts))
    turns = ctx.place.rotation
    if turns is not None:
        findings.append(_by_rotation(attribute, turns, have))
    elif asked is None:
        turns = ctx.asked_claim("rotation")
        findings.append(_by_rotation(attribute, turns.value if turns else None, have))
    return worst(*findings)


@judge("seal_rotation", alone=True)
def judge_seal_rotation(ctx: Context, attribute: Attribute, asked: Claim | None,
                        offered: Claim | None) -> Finding:
    """Judge the rotation that is asked against the ribs, or against what the seal is made for."""
    ribs, turns = ctx.offered_word("ribs"), asked.value if asked else ctx.place.rotation
    if offered is not None and offered.value is not None:
        wanted, have = None if turns is None else read_rotation(turns), read_rotation(offered.value)
        texts: dict[str, Any] = {"required": show(turns), "offered": show(offered.value)}
        if have == "either":
            return match("made for either rotation", **texts)
        if turns is None:
            return unknown(*_NO_TURN, **texts)
        if wanted is None or have is None:
            return unknown("from where one looks is not said", attribute.measure, **texts)
        return match("as asked", **texts) if wanted == have else differs(
            f"the other way round: {attribute.why}", **texts)
    if ribs is None or asked is None:
        return not_stated(attribute, asked)
    return _by_rotation(attribute, asked.value, ribs)


@judge("spring", by_place=True)
def judge_spring(ctx: Context, attribute: Attribute, asked: Claim | None,
                 offered: Claim) -> Finding:
    """Judge the metal of the spring: stainless where it is wet, or what is asked."""
    if asked is not None:
        return judge_material(ctx, attribute, asked, offered)
    have = listed(offered.value)[0]
    texts: dict[str, Any] = {"required": "stainless where it is wet", "offered": show(have)}
    if family(have) in ("stainless", "bronze") or reading.is_absent(have):
        return match("does not rust", **texts)
    return differs(attribute.why, **texts)


@judge("lip_speed", alone=True)
def judge_lip_speed(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim | None) -> Finding:
    """Judge the speed of the lip: asked, and derived from shaft and speed of the pump."""
    if offered is None:
        return not_stated(attribute, asked)
    have = reading.amount(attribute, offered)
    findings = [compare_amount(attribute, asked, have)] if asked else []
    shaft, turns = ctx.asked_amount("shaft_diameter") or ctx.offered_amount(
        "shaft_diameter"), ctx.pump_speed_rpm
    if shaft is not None and turns is not None:
        speed = _PI * shaft.amount * turns / 60000      # mm per minute to m/s
        derived = Claim(attribute.code, round(speed, 3), cmp="at-least", pointer="#/place")
        found = compare_amount(attribute, derived, have)
        findings.append(found.but(reason=f"{found.reason} (π × {format_number(shaft.amount)} mm × "
                                         f"{format_number(turns, 0)} r/min)"))
    return worst(*findings) if findings else match("nothing is asked of it", offered=have.text())


@judge("shaft_groove", alone=True)
def judge_shaft_groove(ctx: Context, attribute: Attribute, asked: Claim | None,
                       offered: Claim | None) -> Finding:
    """Judge a track worn into the shaft; a sleeve helps, but not under ribs that pump."""
    if asked is None:
        return not_stated(attribute, None)
    if offered is not None and offered.value is not None:
        found = compare_amount(attribute, asked, reading.amount(attribute, offered))
    else:
        groove = reading.amount(attribute, asked)
        limit = replace(asked, value=_GROOVE_MM, unit=None, tol=None, cmp="at-most", u=0)
        found = compare_amount(attribute, limit, groove).but(
            required=f"groove ≤ {format_number(_GROOVE_MM)} mm", offered=groove.text())
        if found.result == "match" and not asked.origin.how.startswith("measured"):
            return not_stated(attribute, asked)
    if found.result == "differs" and ctx.offered_word("ribs") in ("wd", *_ONE_WAY):
        return found.but(barred="a lip with ribs must not be moved or sleeved")
    return found


def _by_rotation(attribute: Attribute, rotation: Any, ribs: str) -> Finding:
    texts: dict[str, Any] = {"required": show(rotation), "offered": ribs}
    if ribs in _EITHER_WAY:
        return match("serves either rotation", **texts)
    if ribs not in _ONE_WAY:
        return unknown("which ribs it has is not known", attribute.measure, **texts)
    if rotation is None:
        return unknown(*_NO_TURN, **texts)
    sense = read_rotation(rotation)
    if sense is None:
        return unknown("from where one looks is not said, or the sense is not known",
                       "say clockwise or anticlockwise, and whether seen from the shaft end or "
                       "the cover end",
                       **texts)
    return match("made for this rotation", **texts) if sense == _ONE_WAY[ribs] else differs(
        f"made for the other rotation: {attribute.why}", **texts)
