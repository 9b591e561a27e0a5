"""Compare amounts, words and flags three ways: it is, it is not, nobody can tell.

With tolerance T and uncertainty U of the readings together: a difference of at most T - U is a
match, one of at least T + U is none, and between them a better tool must decide (guard band, the
idea of ISO 14253-1, from memory).
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import TOOLS, Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput
from spares.units import Quantity, format_number, format_quantity


def within(gap: Fraction, tol: Fraction, u: Fraction) -> bool | None:
    """Tell whether a difference is inside a tolerance; None where the uncertainty hides it.

    Args:
        gap: Difference of the two readings [mm], or the unit of both.
        tol: Tolerance [mm], the same unit.
        u: Uncertainty of both readings together [mm], the same unit.

    Returns:
        True, False or None [-].

    Source:
        Guard band after ISO 14253-1, from memory.

    Example:
        >>> [within(Fraction(g), Fraction("0.10"), Fraction("0.05")) for g in ("0.04", "0.09")]
        [True, None]
    """
    if abs(gap) <= tol - u:
        return True
    return False if abs(gap) >= tol + u else None


def reaches(value: Fraction, limit: Fraction, u: Fraction) -> bool | None:
    """Tell whether a value is at least a limit; None where the uncertainty hides it.

    Args:
        value: Reading [mm], or the unit of both.
        limit: What it must reach [mm], the same unit.
        u: Uncertainty of both together [mm], the same unit.

    Returns:
        True, False or None [-].

    Source:
        Guard band after ISO 14253-1, from memory.

    Example:
        >>> reaches(Fraction(9), Fraction(8), Fraction(0))
        True
    """
    if value - u >= limit:
        return True
    return False if value + u < limit or (u and value + u <= limit) else None


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
    how = comparator(attribute, asked)
    if how == "range":
        return _range(attribute, asked, offered)
    if how == "one-of":
        return _one_of(attribute, asked, offered)
    wanted = reading.amount(attribute, asked)
    u, gap = wanted.u + offered.u, offered.amount - wanted.amount
    if how in ("at-least", "at-most"):
        slack = Fraction(0) if asked.tol is None else reading.tolerance(
            attribute, asked, wanted.amount) or Fraction(0)
        sign, limit = (1, "≥") if how == "at-least" else (-1, "≤")
        inside = reaches(sign * offered.amount, sign * wanted.amount - slack, u)
        text = f"{limit} {wanted.text()}"
        return _told(attribute, inside, gap, text, offered, u, slack)
    tol = reading.tolerance(attribute, asked, min(abs(wanted.amount), abs(offered.amount)))
    if how == "tol" and tol is None:
        raise InvalidInput.at(f"{asked.where}/tol", "a tolerance is needed")
    if attribute.tol_wide is not None and asked.tol is None and tol is not None:
        # between the narrow and the wide tolerance nobody can tell without knowing the joint
        u, tol = u + (attribute.tol_wide - tol) / 2, (attribute.tol_wide + tol) / 2
    return _told(attribute, within(gap, tol or Fraction(0), u), gap,
                 show_tolerance(wanted, reading.tolerance(attribute, asked, wanted.amount)),
                 offered, u, tol or Fraction(0))


def comparator(attribute: Attribute, asked: Claim) -> str:
    """Give the comparator of a claim: its own, else that which its value's shape or the sheet asks.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        One of the comparators [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    if asked.cmp is not None:
        return asked.cmp
    if isinstance(asked.value, list | tuple):
        return "one-of"
    if isinstance(asked.value, Mapping) and {"min", "max"} & set(asked.value):
        return "range"
    if attribute.cmp == "one-of":
        return "equal"
    return "tol" if asked.tol is not None and attribute.cmp == "equal" else attribute.cmp


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


def _told(attribute: Attribute, inside: bool | None, gap: Fraction, required: str,
          offered: Amount, u: Fraction, tol: Fraction) -> Finding:
    side = "more" if gap > 0 else "less" if gap < 0 else ""
    texts: dict[str, Any] = {"required": required, "offered": offered.text(), "side": side}
    size = format_quantity(Quantity(abs(gap), offered.unit))
    if inside is None:
        return unknown(f"the readings are good to ± {format_number(u)} only, too coarse to tell",
                       better_tool(attribute, tol), **texts)
    if inside:
        return match("as asked" if gap == 0 else "inside", **texts)
    if not gap:
        return differs(f"not as asked: {attribute.why}", **texts)
    by = f"{size} {'more' if gap > 0 else 'less'} than asked"
    return differs(f"{by}: {attribute.why}", detail=by, **texts)


def _range(attribute: Attribute, asked: Claim, offered: Amount) -> Finding:
    low, high, gappy = reading.bounds(attribute, asked)
    results = []
    for bound, sign in ((low, 1), (high, -1)):
        if bound is not None:
            u = bound.u + offered.u
            results.append((reaches(sign * offered.amount, sign * bound.amount, u),
                            offered.amount - bound.amount, u))
    text = " to ".join("?" if bound is None else bound.text() for bound in (low, high))
    if not results:
        return unknown("the range is not known", attribute.measure, required=text,
                       offered=offered.text())
    order = [False, None, True]
    inside, gap, u = min(results, key=lambda r: order.index(r[0]))
    if inside and gappy:
        return unknown("one end of the range is not known", attribute.measure, required=text,
                       offered=offered.text())
    spread = high.amount - low.amount if low and high else Fraction(0)
    return _told(attribute, inside, gap if not inside else Fraction(0), text, offered, u, spread)


def _one_of(attribute: Attribute, asked: Claim, offered: Amount) -> Finding:
    values = asked.value if isinstance(asked.value, list | tuple) else [asked.value]
    wanted = [reading.amount(attribute, asked, value) for value in values]
    text = " or ".join(w.text() for w in wanted)
    results = [within(offered.amount - w.amount,
                      reading.tolerance(attribute, asked, w.amount) or Fraction(0),
                      w.u + offered.u) for w in wanted]
    texts: dict[str, Any] = {"required": text, "offered": offered.text()}
    if True in results:
        return match("one of those asked", **texts)
    if None in results:
        return unknown("the reading is too coarse to tell", attribute.measure, **texts)
    return differs(f"none of those asked: {attribute.why}", **texts)
