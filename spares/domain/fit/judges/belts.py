"""Judge belts: section against the grooves, length in its system, ribs."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount, reaches
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_word, listed, show
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput
from spares.standards import table
from spares.units import exact, format_number

_SECTIONS = ("V-belt sections",)
_SYSTEMS = {"datum": "datum", "pitch": "datum", "inside": "inside", "outside": "outside",
            "effective": "effective", "ld": "datum", "lw": "datum", "li": "inside",
            "la": "outside", "le": "effective"}
# Without a recorded take-up: alike within 0.5 % (making), unlike from 3 % on; proposed here.
_ALIKE, _UNLIKE = Fraction("0.005"), Fraction("0.03")
# Long belts of section B are offset less: 6 to 10 mm from B225 on in the makers' table.
_LONG_B_MM, _LONG_B_OFFSET_MM = 5500, Fraction(8)


@judge("belt_kind", alone=True)
def judge_belt_kind(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim | None) -> Finding:
    """Judge the kind, told by section or ribs where it is not said itself.

    Between V and narrow V the section decides where it is asked.
    """
    own = offered if offered is not None else _kind_by_shape(ctx)
    if asked is None or own is None:
        return unknown("not measured", f"on the part: {attribute.measure}")
    found = judge_word(ctx, attribute, asked, own)
    kinds = {attribute.aliases.get(w, w) for w in (*ctx.asked_words("belt_kind"),
                                                   reading.word(own.value))}
    if found.result == "differs" and kinds == {"v", "narrow-v"} and ctx.asked.get("section"):
        return found.but(result="match", reason="V and narrow V: the section decides")
    return found


def _kind_by_shape(ctx: Context) -> Claim | None:
    section, ribs = ctx.offered_claim("section"), ctx.offered_claim("rib_profile")
    row = table("belt_sections").find(section=_section(reading.part(section.value, "value"))) \
        if section else None
    if row is not None:
        return Claim("belt_kind", row["belt_kind"], pointer=section.where)
    return Claim("belt_kind", "poly-v", pointer=ribs.where) if ribs else None


@judge("belt_section")
def judge_belt_section(ctx: Context, attribute: Attribute, asked: Claim,
                       offered: Claim) -> Finding:
    """Judge the section: one of those asked, or a narrow belt in grooves deep enough for it."""
    wanted = [_section(v) for v in listed(asked.value)]
    have = _section(reading.part(offered.value, "value"))
    texts: dict[str, Any] = {"required": " or ".join(wanted), "offered": have}
    if have in wanted:
        return match("as asked", **texts)
    rows = {r["section"]: r for r in table("belt_sections").records()}
    deep = ctx.asked_amount("groove_depth")
    row = rows.get(have)
    if row is None or any(w not in rows for w in wanted):
        return differs(f"another section: {attribute.why}", **texts)
    same_width = [w for w in wanted if rows[w]["datum_width_mm"] == row["datum_width_mm"]
                  and rows[w]["belt_kind"] == "v" and row["belt_kind"] == "narrow-v"]
    if same_width and deep is not None:
        inside = reaches(deep.amount, exact(row["groove_depth_mm"]), deep.u)
        if inside:
            return match("the grooves are deep enough for this narrow belt too",
                         rests_on=_SECTIONS, **texts)
        if inside is None:
            return unknown("the depth of the grooves is read too coarsely", "depth rod in the "
                           "grooves", **texts)
    reason = ("a narrow belt does not belong in pulleys made only for classical ones"
              if same_width else f"another section: {attribute.why}")
    return differs(reason, **texts)


@judge("groove_depth")
def judge_groove_depth(ctx: Context, attribute: Attribute, asked: Claim,
                       offered: Claim | None) -> Finding:
    """Judge the depth of the grooves against the section of the belt."""
    groove = reading.amount(attribute, asked)
    claim = ctx.offered_claim("section")
    have = _section(reading.part(claim.value, "value")) if claim else None
    row = table("belt_sections").find(section=have) if have else None
    text = f"grooves {groove.text()} deep"
    if row is None:
        return unknown("the section of the belt is not known", "section of the belt: code, or "
                       "calipers on a cut end", required=text, offered=have)
    need = exact(row["groove_depth_mm"])
    inside = reaches(groove.amount, need, groove.u)
    texts: dict[str, Any] = {"required": text, "rests_on": _SECTIONS,
                             "offered": f"{have} needs {format_number(need)} mm"}
    if inside is None:
        return unknown("read too coarsely to tell", attribute.measure, **texts)
    if inside:
        return match("deep enough", **texts)
    if row["belt_kind"] == "v" and groove.amount - groove.u >= exact(row["height_mm"]):
        return unknown("shallower than the standard groove, deeper than the belt is high",
                       "lay the belt in: it must stand clear of the bottom", **texts)
    return differs(f"too shallow: {attribute.why}", side="less", **texts)


@judge("length")
def judge_length(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a length in its system; what is not said of the system must not matter."""
    have = reading.amount(attribute, offered)
    systems = [_system(ctx, claim) for claim in (asked, offered)]
    shown = have.text() + (f" {systems[1]}" if systems[1] else "")
    options = _in_asked_system(ctx, have, systems[0], systems[1])
    found = [_compare(attribute, asked, option) for option in options]
    if not found:
        return unknown("lengths of these two systems cannot be compared here", attribute.measure,
                       required=show(asked.value), offered=shown)
    required = (found[0].required or show(asked.value)) + (f" {systems[0]}" if systems[0] else "")
    results = {f.result for f in found}
    if len(results) > 1 or None in systems and results != {"differs"}:
        return unknown("the system of the length is not said: datum, inside, outside or effective",
                       "say in which system the length is, or string round the outside",
                       required=required, offered=shown)
    best = found[0]
    if systems[0] != systems[1] and None not in systems:
        best = best.but(reason=f"{best.reason} ({format_number(have.amount)} {systems[1]} is about "
                               f"{format_number(options[0].amount, 0)} {systems[0]})",
                        rests_on=_SECTIONS)
    return best.but(required=required, offered=shown)


@judge("rib_profile")
def judge_rib_profile(ctx: Context, attribute: Attribute, asked: Claim,
                      offered: Claim) -> Finding:
    """Judge the profile of the ribs and say their pitches."""
    found = judge_word(ctx, attribute, asked, offered)
    rows = {r["profile"]: r["rib_pitch_mm"] for r in table("belt_ribs").records()}
    pitches = [rows.get(str(v).upper()) for v in (*listed(asked.value), *listed(offered.value))]
    if found.result != "differs" or None in pitches:
        return found
    return found.but(reason=f"{found.reason} ({pitches[-1]} mm for {pitches[0]} mm)")


@judge("rib_count")
def judge_rib_count(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the number of ribs: not fewer, and more only where the pulleys have the grooves."""
    have = reading.amount(attribute, offered)
    found = compare_amount(attribute, asked, have)
    if found.result != "match" or found.side != "more":
        return found
    grooves = ctx.asked_amount("grooves")
    if grooves is None:
        return unknown("more ribs than asked, and the grooves were not counted",
                       "count the grooves of both pulleys", required=found.required,
                       offered=found.offered)
    if have.amount > grooves.amount:
        return differs("the belt hangs over", required=found.required, offered=found.offered)
    return found


@judge("grooves")
def judge_grooves(ctx: Context, attribute: Attribute, asked: Claim,
                  offered: Claim | None) -> Finding:
    """Judge the grooves of the pulleys against the ribs, or the belts of a set."""
    grooves = reading.amount(attribute, asked)
    ribs = ctx.offered_amount("rib_count") or ctx.offered_amount("belts_in_set")
    text = f"{grooves.text()} grooves"
    if ribs is None:
        return unknown("the ribs of the belt were not counted", "count the ribs", required=text)
    texts: dict[str, Any] = {"required": text, "offered": f"{ribs.text()} ribs"}
    if ribs.amount > grooves.amount:
        return differs("the belt hangs over", **texts)
    return match("the ribs find their grooves", **texts)


def _compare(attribute: Attribute, asked: Claim, have: Amount) -> Finding:
    """Compare in one system; without a take-up alike and unlike are far apart."""
    if asked.tol is not None or attribute.tol is not None or asked.cmp not in (None, "tol") \
            or isinstance(asked.value, list) or isinstance(asked.value, dict) and {
                "min", "max"} & set(asked.value):
        return compare_amount(attribute, asked, have)
    wanted = reading.amount(attribute, asked)
    nominal = wanted.amount
    middle, half = nominal * (_UNLIKE + _ALIKE) / 2, nominal * (_UNLIKE - _ALIKE) / 2
    in_mm = replace(asked, value=nominal, tol=middle, u=wanted.u, unit=None)
    found = compare_amount(attribute, in_mm, replace(have, u=have.u + half)).but(
        required=wanted.text())
    if found.result == "unknown":
        return found.but(reason="the travel of the adjuster is not recorded",
                         measure="how much the adjuster takes up")
    return found


def _in_asked_system(ctx: Context, have: Amount, asked: str | None,
                     offered: str | None) -> list[Amount]:
    """Give the offered length in the system asked; several where a system is not said."""
    if asked is not None and asked == offered:
        return [have]
    row = _section_row(ctx)
    made = []
    for to_system in [asked] if asked else ["datum", "inside", "outside", "effective"]:
        for from_system in [offered] if offered else ["datum", "inside", "outside", "effective"]:
            if to_system == from_system:
                made.append(have)
                continue
            shifts = [_to_datum(row, s, have.amount) for s in (from_system, to_system)]
            if None in shifts or row is None:
                continue
            u = exact(row["system_u_mm"])
            made.append(replace(have, amount=have.amount + shifts[0] - shifts[1],  # type: ignore
                                u=have.u + u))
    return made


def _to_datum(row: dict[str, Any] | None, system: str, length: Fraction) -> Fraction | None:
    """Give what is added to a length of *system* to make it a datum length [mm]."""
    if system == "datum":
        return Fraction(0)
    shift = row.get(f"{system}_to_datum_mm") if row else None
    if shift is None:
        return None
    if row and row["section"] == "B" and system == "inside" and length > _LONG_B_MM:
        return _LONG_B_OFFSET_MM
    return exact(shift)


def _section_row(ctx: Context) -> dict[str, Any] | None:
    for claim in (ctx.offered_claim("section"), ctx.asked_claim("section")):
        if claim is not None:
            row = table("belt_sections").find(section=_section(listed(claim.value)[0]))
            if row is not None:
                return row
    return None


def _system(ctx: Context, claim: Claim) -> str | None:
    said = reading.part(claim.value, "system") if isinstance(claim.value, dict) else None
    if said is not None:
        system = _SYSTEMS.get(reading.word(said))
        if system is None:
            raise InvalidInput.at(f"{claim.where}/system", "datum, inside, outside or effective")
        return system
    one_system = ctx.asked.get("rib_profile") or ctx.offered.get("rib_profile") \
        or ctx.asked.get("teeth") or ctx.offered.get("teeth")
    return "effective" if one_system else None


def _section(value: Any) -> str:
    """Write a section plainly: AX and XPA are A and SPA with a raw edge."""
    name = "".join(str(value).upper().split())
    if name.startswith("XP"):
        return "S" + name[1:]
    return name[0] if name in ("AX", "BX", "CX", "ZX", "DX") else name
