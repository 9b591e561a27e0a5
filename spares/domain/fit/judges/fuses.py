"""Judge fuses: rating against the one asked and against the wire, colour against rating."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, compare_amount
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.finding import Finding, caution, differs, match, unknown, worst
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import judge_word, listed
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table
from spares.units import exact, format_number

_HEATS = (60, 70, 105)      # columns of the table of wires [°C]
_WIRE = ("current that a wire bears",)


@judge("rating", by_place=True)
def judge_rating(ctx: Context, attribute: Attribute, asked: Claim | None,
                 offered: Claim) -> Finding:
    """Judge the rating: never higher, a lower one for a while; never above the wire."""
    if reading.is_absent(offered.value):
        return unknown("no rating is marked", attribute.measure)
    have = reading.amount(attribute, offered)
    findings = [_by_rating(attribute, asked, have)] if asked is not None else []
    if ctx.place.wire_mm2 is not None:
        findings.append(_by_wire(ctx, have))
    return worst(*findings) if findings else match("nothing is asked of it", offered=have.text())


def _by_rating(attribute: Attribute, asked: Claim, have: Amount) -> Finding:
    found = compare_amount(attribute, asked, have)
    if found.result != "differs":
        return found
    if found.side == "less" and comparator(attribute, asked) in ("equal", "tol", "at-least"):
        return found.but(change="lower-fuse", detail=f"{have.text()} for a while, load under "
                         f"75 % of it: {format_number(have.amount * 3 / 4, 1)} A")
    return found.but(barred="never a higher rating") if found.side == "more" else found


@judge("fuse_colour", by_place=True)
def judge_colour(ctx: Context, attribute: Attribute, asked: Claim | None,
                 offered: Claim) -> Finding:
    """Judge the colour: against the one asked, and against the rating that is stated."""
    said = reading.word(listed(offered.value)[0])
    colour = attribute.aliases.get(said, said)
    form = ctx.offered_word("form")
    rating = ctx.offered_amount("rating_a") or ctx.asked_amount("rating_a")
    form = ctx.sheet.attributes["form"].aliases.get(form or "", form or "")
    rows = [r for r in table("fuses_blade").records() if r["form"] == form]
    findings = [judge_word(ctx, attribute, asked, offered)] if asked is not None else []
    if rating is not None and rows:
        usual = next((r["colour"] for r in rows if exact(r["rating_a"]) == rating.amount), None)
        if usual is not None and usual != colour:
            findings.append(caution(f"{rating.text()} of this form is {usual}, this is {colour}: "
                                    "read the number on it", offered=colour))
    return worst(*findings) if findings else match("nothing speaks against it", offered=colour)


def _by_wire(ctx: Context, have: Amount) -> Finding:
    """Judge by the wire: what its insulation bears, else what usual insulation does."""
    area = place_number(ctx.place, "wire_mm2")
    wires = list(table("wire_ampacity").records())
    rows = [r for r in wires if exact(r["area_mm2"]) <= area]
    texts: dict[str, Any] = {"required": f"wire of {format_number(area)} mm²",
                             "offered": have.text(), "rests_on": _WIRE}
    if not rows:
        return unknown("no table has such a thin wire", "ask what the wire bears", **texts)
    sure, most = _bears(ctx, rows[-1])
    if have.amount > sure and area > exact(wires[-1]["area_mm2"]):
        return unknown("no table has such a thick wire", "ask what the wire bears", **texts)
    if have.amount > most:
        return differs("above what the wire bears: fire", side="more",
                       barred="never above what the wire bears", **texts)
    if have.amount > sure:
        # a rating that is recorded says what was meant, not what the wire is
        return unknown("the wire bears it only with insulation for more heat than is known of it",
                       "print on the wire: heat that its insulation bears; record it with the "
                       "place", **texts)
    found = match("the wire bears it", **texts)
    if ctx.place.wire_insulation_c is None and have.amount > exact(rows[-1]["i60_a"]):
        return found.warn("that holds for insulation of 70 °C or more: look at the print on the "
                          "wire")
    return found


def _bears(ctx: Context, row: dict[str, Any]) -> tuple[Fraction, Fraction]:
    """Give what the wire bears for sure, and the most that it may bear [A]."""
    if ctx.place.wire_insulation_c is None:
        return exact(row["i70_a"]), exact(row["i105_a"])
    heat = place_number(ctx.place, "wire_insulation_c")
    below = [c for c in _HEATS if c <= heat]
    above = [c for c in _HEATS if c >= heat] or [_HEATS[-1]]
    return exact(row[f"i{below[-1]}_a"]) if below else Fraction(0), exact(row[f"i{above[0]}_a"])
