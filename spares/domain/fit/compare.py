"""Compare amounts, words and flags three ways: it is, it is not, nobody can tell.

With tolerance T and uncertainty U of the readings together: a difference of at most T - U is a
match, one of at least T + U is none, and between them a better tool must decide (guard band, the
idea of ISO 14253-1, from memory).
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.limits import (
    GRAINS,
    Decision,
    Limits,
    comparator,
    decide,
    limits_of,
    reaches,
    side_of,
    size_of,
    within,
)
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import TOOLS, Attribute
from spares.domain.fit.values import Claim
from spares.units import Quantity, format_number, format_quantity

__all__ = ["comparator", "compare_amount", "reaches", "tell", "within"]


def compare_amount(attribute: Attribute, asked: Claim, offered: Amount) -> Finding:
    """Compare an offered amount with a claim by its comparator.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].
        offered: What the part has [the attribute's unit].

    Returns:
        The finding [-].

    Raises:
        InvalidInput: the requirement cannot be read.

    Source:
        Guard band after ISO 14253-1, from memory.
    """
    limits = limits_of(attribute, asked)
    return tell(attribute, limits, offered, decide(limits, size_of(offered)))


def tell(attribute: Attribute, limits: Limits, offered: Amount, made: Decision) -> Finding:
    """Put a decision into words.

    Args:
        attribute: The line of the kind sheet [-].
        limits: What is asked [the attribute's unit].
        offered: What the part has [the attribute's unit].
        made: What was decided of the two [-].

    Returns:
        The finding [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    if limits.how == "range":
        return _told_range(attribute, limits, offered, made)
    if limits.how == "one-of":
        return _told_one_of(attribute, limits, offered, made)
    wanted, tol = limits.wanted[0], limits.tols[0]
    if wanted is None:
        raise ValueError("limits of one amount without the amount")
    text = {"at-least": f"≥ {wanted.text()}", "at-most": f"≤ {wanted.text()}"}.get(
        limits.how) or show_tolerance(wanted, tol)
    if made.inside is None and limits.doubt and made.u == limits.doubt:
        wide = format_number(Fraction(limits.tol + limits.doubt, GRAINS))
        return unknown(f"more than ± {format_number(tol)}, less than ± {wide}: which of the two "
                       "this joint needs is not recorded", attribute.measure, required=text,
                       offered=offered.text(), side=side_of(made.gap))
    return _told(attribute, made, text, offered)


def show_tolerance(wanted: Amount, tol: Fraction | None) -> str:
    """Print a nominal value with its tolerance.

    Args:
        wanted: The nominal value [its unit].
        tol: Its tolerance [the same unit].

    Returns:
        The text [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    shown = format_quantity(Quantity(wanted.amount, wanted.unit))
    shown = f"{shown} ± {format_number(tol)}" if tol else shown
    return f"{shown} (read to ± {format_number(wanted.u)})" if wanted.u else shown


def better_tool(attribute: Attribute, tol: Fraction) -> str:
    """Name the coarsest tool that would decide within a tolerance.

    Args:
        attribute: The line of the kind sheet [-].
        tol: Tolerance [the attribute's unit].

    Returns:
        What to measure with, and how [-].

    Source:
        Usual uncertainties of hand tools, common practice, no source.
    """
    if attribute.unit != "mm":
        return attribute.measure
    tools = [name for name in ("tape", "rule", "caliper", "micrometer")
             if Fraction(TOOLS[name]) * 3 <= tol]
    tool = {"caliper": "calipers", "rule": "a steel rule", "tape": "a tape"}.get(
        tools[0] if tools else "", "a micrometer or better")
    return f"measure again with {tool}: {attribute.measure}"


def _told(attribute: Attribute, made: Decision, required: str, offered: Amount) -> Finding:
    texts: dict[str, Any] = {"required": required, "offered": offered.text(),
                             "side": side_of(made.gap)}
    if made.inside is None:
        u = format_number(Fraction(made.u, GRAINS))
        return unknown(f"the readings are good to ± {u} only, too coarse to tell",
                       better_tool(attribute, Fraction(made.tol, GRAINS)), **texts)
    if made.inside:
        return match("as asked" if made.gap == 0 else "inside", **texts)
    if not made.gap:
        return differs(f"not as asked: {attribute.why}", **texts)
    by = f"{_gap_text(Fraction(abs(made.gap), GRAINS), offered.unit)} {texts['side']} than asked"
    return differs(f"{by}: {attribute.why}", detail=by, **texts)


def _gap_text(gap: Fraction, unit: str) -> str:
    least = Fraction(1, 1000)       # finer than is printed
    return f"{'under ' if gap < least else ''}{format_quantity(Quantity(max(gap, least), unit))}"


def _told_range(attribute: Attribute, limits: Limits, offered: Amount, made: Decision) -> Finding:
    text = " to ".join("?" if end is None else end.text() for end in limits.wanted)
    if made.open_end:
        reason = ("one end of the range is not known" if any(limits.wanted)
                  else "the range is not known")
        return unknown(reason, attribute.measure, required=text, offered=offered.text())
    return _told(attribute, made, text, offered)


def _told_one_of(attribute: Attribute, limits: Limits, offered: Amount,
                 made: Decision) -> Finding:
    texts: dict[str, Any] = {"required": " or ".join(w.text() for w in limits.wanted if w),
                             "offered": offered.text()}
    if made.inside:
        return match("one of those asked", **texts)
    if made.inside is None:
        return unknown("the reading is too coarse to tell", attribute.measure, **texts)
    return differs(f"none of those asked: {attribute.why}", **texts)
