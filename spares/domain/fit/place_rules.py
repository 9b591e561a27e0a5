"""What the place asks for by itself, and how it stands to what the fit point asks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from spares.domain.fit.context import Context, place_number
from spares.domain.fit.find import find_asked, gap_in_offer, hold
from spares.domain.fit.finding import DIFFERS, MATCH, UNKNOWN, Finding, unknown
from spares.domain.fit.judges.plain import show
from spares.domain.fit.prepared import AskedLine, OpenRule
from spares.domain.fit.rows import OUTCOMES, Weight, weigh
from spares.domain.fit.sheets import Attribute, Implied
from spares.domain.fit.values import Claim
from spares.units import format_number

_UNITS = {"_mm2": "mm²", "_c": "°C"}


def find_line(ctx: Context, line: AskedLine) -> Finding:
    """Judge a line of what is asked; a row never asks less than the place does.

    Args:
        ctx: The request, sorted and expanded [-].
        line: The line, with the rules of the place for it [-].

    Returns:
        The finding; that of the place where it is worse, and either the rule always holds or the
        row is advice only [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    found = find_asked(ctx, line.code, line.claims)
    if not line.yields or (by_place := _by_place(ctx, line)) is None:
        return found
    asked = weigh(ctx, line.attribute, line.claims, found.result, found.side, finding=found)
    needed = weigh(ctx, line.attribute, (), by_place.result, by_place.side, finding=by_place)
    if _grave(needed) <= _grave(asked):
        return found
    return by_place.but(weight=needed.severity)


def _grave(weight: Weight) -> int:
    """Rank by what blocks: an advisory never does, be it ever so unknown."""
    return OUTCOMES.index("advisory" if weight.severity == "advisory" else weight.outcome)


def with_doubt(ctx: Context, line: AskedLine, found: Finding) -> Finding:
    """Say so where what is asked is met, and the place asks otherwise.

    Args:
        ctx: The request, sorted and expanded [-].
        line: The line, with the rules of the place for it [-].
        found: What was found of it [-].

    Returns:
        The finding, with a caution where the two do not agree [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    # a judge that knows the place has said it itself
    if found.result != MATCH or found.cautions or line.code not in ctx.offered:
        return found
    by_place = _by_place(ctx, line)
    if by_place is None or by_place.result != DIFFERS:
        return found
    needed = f": {by_place.required}" if by_place.required else ""
    return found.warn(f"as asked, yet the place needs another{needed}: look again")


def _by_place(ctx: Context, line: AskedLine) -> Finding | None:
    """Judge by the first rule of the place that holds; None where it has nothing to say."""
    rule = next((rule for rule, when in line.rules if not when or ctx.holds(when)), None)
    if rule is None or line.code not in ctx.offered and rule.unstated == "silent":
        return None
    return find_implied(ctx, line.attribute, rule)


def implied(ctx: Context, rules: Sequence[OpenRule]) -> Iterator[tuple[Attribute, Implied]]:
    """Give what the place asks for, whether or not the fit point records it.

    Args:
        ctx: The request, sorted and expanded [-].
        rules: Rules of the sheet that may hold here, each with what is left to be seen [-].

    Returns:
        Lines with the rule that asks for them; none where neither side has to say a word [-].

    Source:
        Counting rule of this project; no standard applies.
    """
    done = set()
    for rule, when in rules:
        if rule.attr in done or when and not ctx.holds(when):
            continue
        done.add(rule.attr)
        if rule.attr in ctx.offered or rule.unstated != "silent":
            yield ctx.sheet.attributes[rule.attr], rule


def find_implied(ctx: Context, attribute: Attribute, rule: Implied, *,
                 proven: bool = False) -> Finding:
    """Judge what the place asks of one attribute.

    Args:
        ctx: The request, sorted and expanded [-].
        attribute: The line of the kind sheet [-].
        rule: The rule that asks for it [-].
        proven: A recorded proof decides alone: what nobody can tell is advice then, unless the
            rule always holds [-].

    Returns:
        The finding [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    offers, weight = ctx.offered.get(rule.attr, ()), rule.severity
    if offers:
        asked = _claim_of(ctx, attribute, rule)
        found = gap_in_offer(attribute, asked, offers) or hold(ctx, attribute, asked, offers)
    else:
        weight = weight or ("advisory" if rule.unstated == "advise" else "")
        found = unknown(f"not stated, and the place asks for it: {attribute.why}",
                        f"on the part: {attribute.measure}", required=_place_text(ctx, rule))
    if proven and not rule.always and found.result == UNKNOWN:
        weight = "advisory"
    return found.but(weight=weight) if weight else found


def _place_text(ctx: Context, rule: Implied) -> str:
    """Say what in the place asks for a row."""
    if rule.value is not None:
        return show(rule.value)
    if "driven_pulley_mm" in rule.when.get("place", {}) and ctx.pump_speed_rpm is not None:
        return f"turns at {format_number(ctx.pump_speed_rpm, 0)} r/min"
    said = [_said(name, getattr(ctx.place, name)) for name in rule.when.get("place", {})]
    asked = [claim.value for name in rule.when.get("asked", {})
             if (claim := ctx.asked_claim(name)) is not None]
    return ", ".join(map(show, [*said, *asked]))


def _said(name: str, value: Any) -> Any:
    """Say a field of the place with its unit; what is yes by its name."""
    unit = next((u for tail, u in _UNITS.items() if name.endswith(tail)), "")
    return name.replace("_", " ") if value is True else f"{show(value)} {unit}" if unit else value


def _claim_of(ctx: Context, attribute: Attribute, rule: Implied) -> Claim | None:
    if rule.value_of:
        value: Any = format_number(place_number(ctx.place, rule.value_of))
    else:
        value = rule.value
    if value is None:
        return None
    return Claim(attribute.code, value, cmp=rule.cmp, pointer="#/place")
