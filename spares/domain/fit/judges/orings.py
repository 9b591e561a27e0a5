"""Judge O-rings: the squeeze that the groove gives, series of codes, heat."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount
from spares.domain.fit.context import Context
from spares.domain.fit.designations.orings import section_tolerance
from spares.domain.fit.finding import Finding, caution, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.materials import means, most_heat
from spares.domain.fit.judges.plain import judge_code, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table
from spares.units import exact, format_number

_TOLERANCE = ("tolerance of O-ring sections",)


@judge("oring_code", alone=True)
def judge_oring_code(ctx: Context, attribute: Attribute, asked: Claim | None,
                     offered: Claim | None) -> Finding:
    """Judge a code: one that was read only tells whether the series is another."""
    if asked is None:
        return unknown("no code is asked")
    if not asked.code:      # it could not be read: to the letter, or nobody can tell
        return judge_code(ctx, attribute, asked, offered) if offered is not None else unknown(
            "not measured", f"on the part: {attribute.measure}", required=show(asked.value))
    texts: dict[str, Any] = {"required": show(asked.value),
                             "offered": show(offered.value) if offered else None}
    if offered is not None and offered.code == asked.code:
        return match("the same series; the sizes decide", **texts)
    return caution("another standard or none named: the sizes decide", **texts)


@judge("gland_max")
def judge_gland_max(ctx: Context, attribute: Attribute, asked: Claim,
                    offered: Claim | None) -> Finding:
    """Judge the deepest gland: the least squeeze must still seal."""
    crossed = _crossed(ctx, attribute)
    if crossed:
        return crossed
    depth = reading.amount(attribute, asked)
    limit = ctx.asked_amount("min_squeeze")
    least = limit.amount if limit else exact(_squeeze_range()["least_percent"])
    return _squeeze(ctx, depth.amount + depth.u, least, f"gland ≤ {depth.text()}")


@judge("min_squeeze")
def judge_min_squeeze(ctx: Context, attribute: Attribute, asked: Claim,
                      offered: Claim | None) -> Finding:
    """Judge the least squeeze, which the deepest gland gives."""
    crossed = _crossed(ctx, attribute)
    if crossed:
        return crossed
    least = reading.amount(attribute, asked)
    depth = ctx.asked_amount("gland_depth_max") or ctx.asked_amount("gland_depth_min")
    text = f"≥ {least.text()}"
    if depth is None:
        return unknown("the depth of the gland is not known", "depth rod in the groove",
                       required=text)
    return _squeeze(ctx, depth.amount + depth.u, least.amount, text)


@judge("gland_min")
def judge_gland_min(ctx: Context, attribute: Attribute, asked: Claim,
                    offered: Claim | None) -> Finding:
    """Judge the shallowest gland: the greatest squeeze must not overfill it."""
    crossed = _crossed(ctx, attribute)
    if crossed:
        return crossed
    depth = reading.amount(attribute, asked)
    most = exact(_squeeze_range()["most_percent"])
    sections = _sections(ctx)
    text = f"gland ≥ {depth.text()}"
    if sections is None:
        return _no_section(text)
    worst = _percent(sections[1], depth.amount - depth.u)
    mildest = _percent(sections[0], depth.amount + depth.u)
    texts = _texts(text, ctx, worst)
    if worst <= most:
        return match(f"squeeze of {format_number(worst, 1)} % at most (section - depth) / section",
                     **texts)
    if mildest > most:
        return differs(f"squeeze of {format_number(mildest, 1)} % at least overfills", **texts)
    return unknown("the section is too close to overfilling to tell", "measure the section with "
                   "calipers at three places", **texts)


@judge("oring_heat", alone=True)
def judge_oring_heat(ctx: Context, attribute: Attribute, asked: Claim | None,
                     offered: Claim | None) -> Finding:
    """Judge heat by what the maker states; a rubber known to bear less is ruled out."""
    if asked is None:
        return unknown("no temperature is asked")
    if offered is not None:
        value = reading.part(offered.value, "max") if isinstance(offered.value, dict) else None
        return compare_amount(attribute, asked, reading.amount(attribute, offered, value))
    rubber = ctx.offered_word("material")
    row = next((r for r in table("elastomers").records()
                if rubber and reading.word(r["rubber"]) == means(rubber)), None)
    if row is not None and asked.cmp in (None, "at-least"):
        wanted = reading.amount(attribute, asked)
        most = most_heat(row, ctx.place)
        if exact(most) < wanted.amount:
            return differs(f"{row['rubber']} bears {most} °C only",
                           required=f"≥ {wanted.text()}", rests_on=("rubber by medium",))
    return unknown("not stated", f"on the part: {attribute.measure}")


def _crossed(ctx: Context, attribute: Attribute) -> Finding | None:
    """Find that the shallowest gland is recorded as deeper than the deepest."""
    low, high = ctx.asked_amount("gland_depth_min"), ctx.asked_amount("gland_depth_max")
    if low is None or high is None or low.amount <= high.amount:
        return None
    return unknown("the shallowest gland is deeper than the deepest: one of the two is wrong",
                   f"at the fit point: {attribute.measure}",
                   required=f"{low.text()} to {high.text()}")


def _squeeze(ctx: Context, depth: Fraction, least: Fraction, text: str) -> Finding:
    sections = _sections(ctx)
    if sections is None:
        return _no_section(text)
    worst, best = (_percent(section, depth) for section in sections)
    texts = _texts(text, ctx, worst)
    if worst >= least:
        return match(f"squeeze of {format_number(worst, 1)} % at least (section - depth) / section",
                     **texts)
    if best < least:
        return differs(f"squeeze from {format_number(worst, 1)} to {format_number(best, 1)} %, "
                       f"under {format_number(least)} %: leak", **texts)
    return unknown(f"squeeze of {format_number(worst, 1)} % at worst, too close to tell",
                   "measure the section with calipers at three places", **texts)


def _sections(ctx: Context) -> tuple[Fraction, Fraction] | None:
    """Give the least and the greatest section that the ring may have [mm]."""
    section = ctx.offered_amount("section")
    if section is None or section.amount <= 0:
        return None
    spread = section.u
    if not spread:
        tolerance = section_tolerance(section.amount)
        spread = exact(tolerance) if tolerance is not None else section.amount / 50
    return section.amount - spread, section.amount + spread


def _percent(section: Fraction, depth: Fraction) -> Fraction:
    return (section - depth) / section * 100


def _texts(text: str, ctx: Context, worst: Fraction) -> dict[str, Any]:
    section = ctx.offered_amount("section")
    remembered = section is not None and not section.u and not any(
        exact(r["section_mm"]) == section.amount for r in table("orings_as568").records())
    return {"required": text, "offered": f"section {section.text() if section else '?'}",
            "rests_on": _TOLERANCE if remembered else ()}


def _no_section(text: str) -> Finding:
    return unknown("the section was not measured", "section: calipers at three places, no squeeze",
                   required=text)


def _squeeze_range() -> dict[str, Any]:
    return table("oring_squeeze").find(use="static") or {}
