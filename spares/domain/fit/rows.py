"""From claims to rows: one row an attribute, with its outcome, reason and what to measure."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from spares.domain.fit import compare, reading
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.finding import DIFFERS, UNKNOWN, Finding, match, unknown, worst
from spares.domain.fit.judges import answers_alone, judge_of
from spares.domain.fit.judges.plain import show
from spares.domain.fit.sheets import TYPES, Attribute, Implied, named_changes
from spares.domain.fit.values import Claim, Row
from spares.errors import InvalidInput
from spares.units import format_number

#: Types whose requirement reads better as this file prints it than as it was given.
PRINTED = ("quantity", "flow")
_OUTCOMES = {"match": "match", "caution": "advisory", "unknown": "unknown"}


def judge_rows(ctx: Context, companions: Mapping[str, Sequence[str]]) -> tuple[Row, ...]:
    """Give every row: what is asked, in its order, then what the place asks by itself.

    Args:
        ctx: The request, sorted and expanded [-].
        companions: Parts recorded for a change, by attribute [-].

    Returns:
        The rows [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    found = [_row(ctx, ctx.sheet.attributes[attr], find_asked(ctx, attr, claims), companions)
             for attr, claims in ctx.asked.items()]
    return (*found, *(_row(ctx, attribute, finding, companions)
                      for attribute, finding in _implied(ctx)))


def find_asked(ctx: Context, attr: str, claims: Sequence[Claim]) -> Finding:
    """Judge everything that is asked of one attribute.

    Args:
        ctx: The request, sorted and expanded [-].
        attr: The attribute [-].
        claims: What is asked of it, perhaps by several origins [-].

    Returns:
        The finding [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    attribute = ctx.sheet.attributes[attr]
    for claim in claims:
        if claim.cmp is not None and claim.cmp not in TYPES[attribute.type]:
            raise InvalidInput.at(f"{claim.where}/cmp", f"{attr} cannot be compared by "
                                  f"{claim.cmp}; one of {', '.join(TYPES[attribute.type])}")
    findings = [_find_one(ctx, attribute, claim) for claim in claims]
    if len(claims) == 1:
        return findings[0]
    if _disagree(attribute, claims):
        texts = " against ".join(f.required or show(c.value)
                                 for f, c in zip(findings, claims, strict=True))
        return unknown(f"two origins do not say the same: {texts}",
                       "measure again and withdraw one", required=texts,
                       offered=findings[0].offered)
    return worst(*findings)


def _find_one(ctx: Context, attribute: Attribute, asked: Claim) -> Finding:
    judge, alone = judge_of(attribute), answers_alone(attribute)
    offers = ctx.offered.get(attribute.code, ())
    offered = offers[0] if offers else None
    if asked.spelt and asked.value is None and ctx.offers_code(asked.spelt):
        return _same_code(attribute, asked, offered)
    if asked.value is None or asked.assumed:
        reason = ("what is asked was not measured" if asked.value is None
                  else "what is asked was only assumed")
        if alone and offered is not None and not asked.assumed:
            by_place = judge(ctx, attribute, None, offered)
            if by_place.result == DIFFERS:
                return by_place
        return unknown(reason, f"at the fit point: {attribute.measure}", offered=_offer_text(
            attribute, offered))
    if attribute.seat or (alone and (offered is None or offered.value is None)):
        found = judge(ctx, attribute, asked, None)
        said = found.required and not (found.result == UNKNOWN and attribute.type in PRINTED)
        return found if said else found.but(required=required_text(ctx, attribute, asked))
    gap = _gap_in_offer(ctx, attribute, asked, offers)
    return gap if gap is not None else judge(ctx, attribute, asked, offered)


def _same_code(attribute: Attribute, asked: Claim, offered: Claim | None) -> Finding:
    """Find that both sides bear the code that decides a size without giving it."""
    found = match(f"both are {asked.spelt}, which decides it", required=asked.spelt,
                  offered=asked.spelt)
    shown = _offer_text(attribute, offered)
    return found if shown is None else found.warn(
        f"{attribute.label}: {shown} on the part was not compared; measure the fit point too")


def _gap_in_offer(ctx: Context, attribute: Attribute, asked: Claim | None,
                  offers: Sequence[Claim]) -> Finding | None:
    """Find what is missing on the part's side, or None where it can be compared."""
    required = required_text(ctx, attribute, asked) if asked is not None else None
    if not offers or any(_says_nothing(o.value) for o in offers):
        return unknown("not measured", f"on the part: {attribute.measure}", required=required)
    shown = _offer_text(attribute, offers[0])
    if any(o.assumed for o in offers):
        return unknown("only assumed", f"on the part: {attribute.measure}", required=required,
                       offered=shown)
    if len(offers) > 1 and _disagree(attribute, offers, asked):
        texts = " against ".join(str(_offer_text(attribute, o)) for o in offers)
        return unknown(f"two origins do not say the same: {texts}",
                       f"on the part: {attribute.measure}", required=required, offered=texts)
    return None


def _says_nothing(value: Any) -> bool:
    if isinstance(value, dict):
        return "value" in value and value["value"] is None
    return value is None


def required_text(ctx: Context, attribute: Attribute, asked: Claim) -> str:
    """Print what is asked where no judge did.

    Args:
        ctx: The request, sorted and expanded [-].
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        The text [-].

    Raises:
        InvalidInput: the claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    value, how = asked.value, compare.comparator(attribute, asked)
    if attribute.type == "flow" and not isinstance(value, list):
        return flow_text(attribute, asked)
    if attribute.type != "quantity" or reading.is_absent(value):
        return " or ".join(map(show, value)) if isinstance(value, list) else show(value)
    if how == "range":
        low, high, _ = reading.bounds(attribute, asked)
        return " to ".join("?" if end is None else end.text() for end in (low, high))
    if how == "one-of":
        values = value if isinstance(value, list) else [value]
        return " or ".join(reading.amount(attribute, asked, v).text() for v in values)
    wanted = reading.amount(attribute, asked)
    if how in ("at-least", "at-most"):
        return f"{'≥' if how == 'at-least' else '≤'} {wanted.text()}"
    return compare.show_tolerance(wanted, reading.tolerance(attribute, asked, wanted.amount))


def flow_text(attribute: Attribute, asked: Claim) -> str:
    """Print a flow that is asked with the speed and the pressure at which it is asked.

    Args:
        attribute: The line of the kind sheet [-].
        asked: The requirement [-].

    Returns:
        The text [-].

    Raises:
        InvalidInput: the claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    if compare.comparator(attribute, asked) == "range":
        return show(asked.value)
    beside = [f"at {show(n)} {unit}" for name, unit in (("at_rpm", "1/min"), ("at_bar", "bar"))
              if (n := reading.part(asked.value, name)) is not None]
    return " ".join([f"≥ {reading.amount(attribute, asked).text()}", *beside])


def _disagree(attribute: Attribute, claims: Sequence[Claim], asked: Claim | None = None) -> bool:
    """Tell whether claims of the same comparator do not say the same."""
    first = claims[0]
    for other in claims[1:]:
        if other.cmp != first.cmp or other.value == first.value and other.unit == first.unit:
            continue
        if attribute.type != "quantity" or isinstance(first.value, list | dict | type(None)) \
                or isinstance(other.value, list | dict | type(None)) \
                or reading.is_absent(first.value) or reading.is_absent(other.value):
            return True
        a, b = reading.amount(attribute, first), reading.amount(attribute, other)
        slack = reading.tolerance(attribute, asked or first, a.amount) or 0
        if abs(a.amount - b.amount) > max(slack, a.u + b.u):
            return True
    return False


def _implied(ctx: Context) -> Iterator[tuple[Attribute, Finding]]:
    done = set(ctx.asked)
    for rule in ctx.sheet.implied:
        if rule.attr in done or not ctx.holds(rule.when):
            continue
        attribute = ctx.sheet.attributes[rule.attr]
        offers = ctx.offered.get(rule.attr, ())
        if not offers:
            if rule.unstated != "silent":
                done.add(rule.attr)
                yield attribute, unknown(
                    f"not stated, and the place asks for it: {attribute.why}",
                    f"on the part: {attribute.measure}", required=_place_text(ctx, rule),
                    weight="advisory" if rule.unstated == "advise" else "")
            continue
        done.add(rule.attr)
        asked = _claim_of(ctx, attribute, rule)
        gap = _gap_in_offer(ctx, attribute, asked, offers)
        yield attribute, gap if gap is not None else judge_of(attribute)(
            ctx, attribute, asked, offers[0])


def _place_text(ctx: Context, rule: Implied) -> str:
    """Say what in the place asks for a row."""
    if rule.value is not None:
        return show(rule.value)
    names = rule.when.get("place", {})
    return ", ".join(show(getattr(ctx.place, name)) for name in names)


def _claim_of(ctx: Context, attribute: Attribute, rule: Implied) -> Claim | None:
    if rule.value_of:
        value: Any = format_number(place_number(ctx.place, rule.value_of))
    else:
        value = rule.value
    if value is None:
        return None
    return Claim(attribute.code, value, cmp=rule.cmp, pointer="#/place")


def _offer_text(attribute: Attribute, offered: Claim | None) -> str | None:
    if offered is None or offered.value is None:
        return None
    plain = reading.part(offered.value, "value")
    if attribute.type == "quantity" and not isinstance(plain, list | dict | bool | type(None)) \
            and not reading.is_absent(plain):
        return reading.amount(attribute, offered).text()
    return show(offered.value)


def _row(ctx: Context, attribute: Attribute, finding: Finding,
         companions: Mapping[str, Sequence[str]]) -> Row:
    claims = ctx.asked.get(attribute.code, ())
    severity = finding.weight or gravest(c.severity for c in claims) or (
        "advisory" if any(ctx.holds(w) for w in attribute.advisory_when) else attribute.severity)
    outcome, change, reason = _OUTCOMES.get(finding.result, ""), "", finding.reason
    if finding.result == DIFFERS:
        change = "" if severity == "advisory" else _change(ctx, attribute, finding)
        outcome = "advisory" if severity == "advisory" else "change" if change else "stop"
    detail = finding.detail
    if change:
        named = named_changes()[change]
        parts = companions.get(attribute.code, ())
        tail = f"needs {', '.join(parts)}" if parts else "no part recorded" if named.part else ""
        reason = f"{reason}. Only where: {named.conditions}"
        detail = "; ".join(filter(None, [detail, tail]))
    elif finding.barred and outcome == "stop":
        reason = f"{reason}. No change: {finding.barred}"
    rests_on = _rests_on(ctx, attribute, finding)
    if rests_on:
        reason = f"{reason} (rests on values from memory, not looked up: {', '.join(rests_on)})"
    return Row(attribute.code, attribute.label, outcome, severity, finding.required,
               finding.offered, reason,
               measure=(finding.measure or attribute.measure)
               if finding.result == UNKNOWN else None,
               change=named_changes()[change].name if change else None,
               detail=detail if change and detail else None, cautions=finding.cautions,
               rests_on=rests_on)


def gravest(severities: Iterable[str | None]) -> str | None:
    """Give the gravest of what several origins say, None where none says anything."""
    said = set(severities)
    return next((one for one in ("stop", "change", "advisory") if one in said), None)


def _rests_on(ctx: Context, attribute: Attribute, finding: Finding) -> tuple[str, ...]:
    claims = (*ctx.asked.get(attribute.code, ()), *ctx.offered.get(attribute.code, ()))
    return tuple(dict.fromkeys((*finding.rests_on, *(t for c in claims for t in c.rests_on))))


def _change(ctx: Context, attribute: Attribute, finding: Finding) -> str:
    """Name the change that meets a difference, or nothing: then it is a stop."""
    if finding.barred:
        return ""
    if finding.change:
        return finding.change
    return next((c.name for c in attribute.changes
                 if c.side in ("", finding.side) and ctx.holds(c.when)), "")
