"""Judge holes and the screws that go through them: clearance, bolt circle, spacing."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi, sin
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, compare_amount
from spares.domain.fit.context import Context
from spares.domain.fit.designations.threads import PIPES, parse_thread
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import is_amount, not_stated, show
from spares.domain.fit.judges.threads import judge_thread
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.standards import table
from spares.units import Quantity, exact, format_number, format_quantity

_RIM = Fraction("0.9")          # of its washer that a hole may take; proposed here
WIDER = Fraction("1.05")        # of what is asked: that much wider needs no word, by every row
_WIDE = Fraction("1.2")         # where no table tells which screw it is for; proposed here
_WASHER = Fraction("1.5")


@judge("bolt_thread", alone=True)
def judge_bolt_thread(ctx: Context, attribute: Attribute, asked: Claim | None,
                      offered: Claim | None) -> Finding:
    """Judge studs against the part's thread, or against its plain holes."""
    if asked is None:
        return not_stated(attribute, asked)
    hole = ctx.offered_amount("bolt_hole")
    if offered is not None:
        if not reading.is_absent(offered.value):
            return judge_thread(ctx, attribute, asked, offered)
    if hole is None:
        return not_stated(attribute, asked)
    least = clearance(asked.value)
    texts = {"required": show(asked.value), "offered": f"holes of {hole.text()}"}
    if least is None:
        return unknown("no clearance hole is known for this thread", attribute.measure, **texts)
    return _hole(ctx, attribute, Claim(attribute.code, least[0], cmp="at-least"), hole,
                 least).but(**texts)


@judge("bolt_hole", amounts=True, up_to=WIDER)
def judge_bolt_hole(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge holes in a flange against the studs, given as a diameter or as a thread."""
    if reading.is_absent(offered.value):
        return differs("there are no holes", barred="holes would have to be laid out anew")
    value, have = (reading.part(c.value, "value") for c in (asked, offered))
    row = clearance(value)
    if not is_amount(attribute, have) or row is None and not is_amount(attribute, asked.value):
        return _holes_in_words(attribute, asked, offered)
    if row is not None:
        shown, asked = show(value), replace(asked, value=row[0], unit=None, cmp="at-least")
        return _hole(ctx, attribute, asked, reading.amount(attribute, offered), row).but(
            required=f"{shown}: ≥ {format_number(row[0], 1, 1)} mm")
    studs = ctx.asked_claim("bolt_thread")
    row = clearance(studs.value) if studs else None
    return _hole(ctx, attribute, asked, reading.amount(attribute, offered), row)


@judge("bolt_circle", alone=True, amounts=True)
def judge_bolt_circle(ctx: Context, attribute: Attribute, asked: Claim | None,
                      offered: Claim | None) -> Finding:
    """Judge the bolt circle, or the spacing of neighbouring holes, by the one that was measured."""
    if asked is None:
        return not_stated(attribute, asked)
    if offered is not None:
        if reading.is_absent(offered.value):
            return differs(f"there is none: {attribute.why}")
        return compare_amount(attribute, asked, reading.amount(attribute, offered))
    other = {"bolt_circle": "hole_spacing", "hole_spacing": "bolt_circle"}[attribute.code]
    size, count = ctx.offered_amount(other), ctx.offered_amount("bolt_count")
    if size is None or count is None or count.amount < 2 or count.amount.denominator != 1:
        return not_stated(attribute, asked)
    share = exact(round(sin(pi / int(count.amount)), 9))
    factor = 1 / share if other == "hole_spacing" else share
    derived = Amount(size.amount * factor, size.u * factor, "mm")
    found = compare_amount(attribute, asked, derived)
    return found.but(reason=f"{found.reason} (circle = spacing / sin(180° / "
                            f"{format_number(count.amount)}))")


def clearance(thread_text: Any) -> tuple[Fraction, Fraction, Fraction] | None:
    """Give the close, normal and coarse clearance holes of a thread.

    Args:
        thread_text: Such as `M8` [-].

    Returns:
        Diameters [mm], or None where no table has them.

    Source:
        ISO 273 and ASME B18.2.8 by their tables.

    Example:
        >>> [float(d) for d in clearance("M8")]
        [8.4, 9.0, 10.0]
    """
    threads = parse_thread(thread_text) if isinstance(thread_text, str) else ()
    if len(threads) != 1 or threads[0].family in PIPES:
        return None
    name, key = (("clearance_holes", "d_mm") if threads[0].family == "M"
                 else ("clearance_holes_inch", "size"))
    wanted = threads[0].major_mm if key == "d_mm" else threads[0].size
    row = next((r for r in table(name).records()
                if (exact(r[key]) if key == "d_mm" else r[key]) == wanted), None)
    if row is None:
        return None
    return exact(row["close_mm"]), exact(row["normal_mm"]), exact(row["coarse_mm"])


def wide_hole(found: Finding, hole: Amount, coarse: Fraction, measure: str,
              washer: Amount | None = None) -> Finding:
    """Look whether a hole that lets the screw pass is one that a washer can bridge.

    Args:
        found: The finding that the screw passes [-].
        hole: The hole [mm].
        coarse: Up to here no washer is needed [mm].
        measure: How the hole is measured [-].
        washer: Outside of the washer that comes with the screw, or None [mm].

    Returns:
        The finding, with a word about the washer; a hole as wide as a washer is a stop [-].

    Source:
        Washers of ISO 7089 reach at least half as far again as the coarse hole of ISO 273.
    """
    if hole.amount <= coarse:
        return found
    texts = {"required": found.required, "offered": found.offered}
    most, u = ((coarse * _WASHER, hole.u) if washer is None
               else (washer.amount * _RIM, hole.u + washer.u * _RIM))
    whose = "a usual washer" if washer is None else "its washer"
    if hole.amount - u >= most:
        return differs(f"so wide that {whose} does not bear on it "
                       f"({format_number(most, 1)} mm or more)", side="more",
                       barred="head and washer would go through", **texts)
    if hole.amount + u > most:
        return unknown("the reading is too coarse to tell whether a washer bridges it", measure,
                       **texts)
    return found.warn(f"wider than {format_number(coarse, 1)} mm, so that a washer must bridge it")


def _holes_in_words(attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge holes that are told, not measured: slots for slots; else a diameter is needed."""
    texts = {"required": show(asked.value), "offered": show(offered.value)}
    if reading.word(texts["required"]) == reading.word(texts["offered"]):
        return match("as asked", **texts)
    return unknown("holes that are told in words cannot be compared with a diameter",
                   attribute.measure, **texts)


def _hole(ctx: Context, attribute: Attribute, asked: Claim, have: Amount,
          row: tuple[Fraction, Fraction, Fraction] | None) -> Finding:
    found = compare_amount(attribute, asked, have)
    limit, most = _ends(attribute, asked)
    if found.result == "match" and limit is not None and most is None:
        coarse = max(row[2], limit * WIDER) if row else limit * _WIDE
        return wide_hole(found, have, coarse, attribute.measure)
    if found.result != "differs" or found.side != "less" or limit is None:
        return found
    pilot = ctx.offered.get("pilot_diameter", ())
    if pilot and reading.is_absent(pilot[0].value):
        return found.but(barred="no pilot: the holes locate the pump")
    row = row or next(((exact(r["close_mm"]), exact(r["normal_mm"]), exact(r["coarse_mm"]))
                       for r in table("clearance_holes").records()
                       if exact(r["close_mm"]) == limit), None)
    least = max((close for r in table("clearance_holes").records()
                 if (close := exact(r["close_mm"])) < limit), default=limit)
    if have.amount + have.u < least:
        return found.but(barred="more than one size too small to be drilled")
    target = next((d for d in (row or ())[1:] if d >= limit), limit)
    size = format_quantity(Quantity(target, "mm"))
    return found.but(detail=f"drill to {size}", change="drill-holes")


def _ends(attribute: Attribute, asked: Claim) -> tuple[Fraction | None, Fraction | None]:
    """Give the least and the greatest hole that is asked, None where there is no such end."""
    how = comparator(attribute, asked)
    if how == "range":
        low, high, _ = reading.bounds(attribute, asked)
        return low and low.amount, high and high.amount
    if how not in ("at-least", "tol", "equal"):
        return None, None
    wanted = reading.amount(attribute, asked).amount
    return wanted, None if how == "at-least" else wanted
