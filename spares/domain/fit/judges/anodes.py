"""Judge anodes: metal by water, length in its passage."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount
from spares.domain.fit.context import Context
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.materials import family, judge_material
from spares.domain.fit.judges.plain import listed, show
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table
from spares.units import format_number

_CLEAR_MM = Fraction(3)             # left in front of the tubes; proposed here
_LEFT = Fraction("0.7")             # share of the metal that must be left


@judge("anode_metal", by_place=True)
def judge_anode_metal(ctx: Context, attribute: Attribute, asked: Claim | None,
                      offered: Claim) -> Finding:
    """Judge the metal by the list asked; without one by the water."""
    metals = [r["metal"] for r in table("anodes_by_water").find_all(medium=ctx.place.medium)]
    have = listed(offered.value)
    good = bool(metals) and all(family(h) in metals for h in have)
    if asked is not None:
        found = judge_material(ctx, attribute, asked, offered)
        if found.result == "match" and metals and not good:
            return found.warn(f"in {ctx.place.medium} {' or '.join(metals)} is usual: look again")
        return found
    texts: dict[str, Any] = {"required": f"{' or '.join(metals)} in {ctx.place.medium}",
                             "offered": show(offered.value)}
    return match("serves in this water", **texts) if good else differs(
        f"not for {ctx.place.medium}: {attribute.why}", **texts)


@judge("pencil_length")
def judge_pencil_length(ctx: Context, attribute: Attribute, asked: Claim,
                        offered: Claim) -> Finding:
    """Judge the length of a pencil; a longer one may be cut while enough metal is left."""
    if reading.is_absent(offered.value):
        return differs("there is no pencil", required=show(asked.value), offered="none")
    have = reading.amount(attribute, offered)
    found = compare_amount(attribute, asked, have)
    if found.result == "match" and found.side == "less" and asked.cmp in (None, "at-most"):
        return found.warn("less metal than the place takes: shorter life")
    if found.result != "differs" or found.side != "more" or isinstance(asked.value, dict | list):
        return found
    return _cut(found, reading.amount(attribute, asked).amount, have.amount)


@judge("passage_depth")
def judge_passage_depth(ctx: Context, attribute: Attribute, asked: Claim,
                        offered: Claim | None) -> Finding:
    """Judge the passage against the length of the pencil."""
    depth, have = reading.amount(attribute, asked), ctx.offered_amount("pencil_length")
    text = f"passage {depth.text()} deep"
    if have is None:
        return unknown("the pencil was not measured", "length of the pencil: calipers",
                       required=text)
    limit = replace(asked, cmp="at-most", tol=None)
    found = compare_amount(attribute, limit, have).but(required=text)
    if found.result != "differs":
        return found
    return _cut(found, depth.amount - _CLEAR_MM, have.amount)


def _cut(found: Finding, to_mm: Fraction, have_mm: Fraction) -> Finding:
    if to_mm <= 0 or to_mm / have_mm < _LEFT:
        return found.but(barred="less than 70 % of the metal would be left")
    return found.but(detail=f"cut to {format_number(to_mm)} mm")
