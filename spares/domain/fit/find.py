"""Find, attribute by attribute, how what is offered stands to what is asked."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.context import Context
from spares.domain.fit.finding import UNKNOWN, Finding, match, unknown, worst
from spares.domain.fit.judges import answers_alone, answers_by_place, judge_of
from spares.domain.fit.judges.plain import show
from spares.domain.fit.rows import OUTCOMES, weigh
from spares.domain.fit.sheets import TYPES, Attribute
from spares.domain.fit.showing import offer_text, required_text
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput

#: Types whose requirement reads better printed than as it was given.
PRINTED = ("quantity", "flow")


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
    return _worst(ctx, attribute, claims, findings)


def _worst(ctx: Context, attribute: Attribute, claims: Sequence[Claim],
           findings: Sequence[Finding]) -> Finding:
    """Give the worst of several findings by what each means for the verdict."""
    return worst(*findings, rank=lambda f: OUTCOMES.index(
        weigh(ctx, attribute, claims, f.result, f.side, finding=f).outcome))


def _find_one(ctx: Context, attribute: Attribute, asked: Claim) -> Finding:
    judge, alone = judge_of(attribute), answers_alone(attribute)
    offers = ctx.offered.get(attribute.code, ())
    offered = offers[0] if offers else None
    if asked.spelt and asked.value is None and ctx.offers_code(asked.spelt):
        return _same_code(attribute, asked, offered)
    if asked.value is None or asked.assumed:
        reason = ("what is asked was not measured" if asked.value is None
                  else "what is asked was only assumed")
        if offered is not None and not asked.assumed and not _says_nothing(offered.value) \
                and (alone or _place_asks(ctx, attribute)):
            by_place = judge(ctx, attribute, None, offered)
            if weigh(ctx, attribute, (asked,), by_place.result, by_place.side,
                     finding=by_place).outcome == "stop":
                return by_place
        return unknown(reason, f"at the fit point: {attribute.measure}", offered=offer_text(
            attribute, offered))
    if attribute.seat or (alone and (offered is None or offered.value is None)):
        found = judge(ctx, attribute, asked, None)
        said = found.required and not (found.result == UNKNOWN and attribute.type in PRINTED)
        return found if said else found.but(required=required_text(attribute, asked))
    return gap_in_offer(attribute, asked, offers) or hold(ctx, attribute, asked, offers)


def hold(ctx: Context, attribute: Attribute, asked: Claim | None,
         offers: Sequence[Claim]) -> Finding:
    """Judge every offer: of two origins that agree the one that fits worse counts.

    Args:
        ctx: The request, sorted and expanded [-].
        attribute: The line of the kind sheet [-].
        asked: What is asked, or None where only the place asks [-].
        offers: What the part has, at least one [-].

    Returns:
        The finding [-].

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    judge = judge_of(attribute)
    found = [judge(ctx, attribute, asked, offered) for offered in offers]
    return found[0] if len(found) == 1 else _worst(
        ctx, attribute, [asked] if asked else [], found)


def _place_asks(ctx: Context, attribute: Attribute) -> bool:
    """Tell whether the place asks for an attribute by itself, by a judge that knows how."""
    return answers_by_place(attribute) and any(
        rule.attr == attribute.code and ctx.holds(rule.when) for rule in ctx.sheet.implied)


def _same_code(attribute: Attribute, asked: Claim, offered: Claim | None) -> Finding:
    """Find that both sides bear the code that decides a size without giving it."""
    found = match(f"both are {asked.spelt}, which decides it", required=asked.spelt,
                  offered=asked.spelt)
    shown = offer_text(attribute, offered)
    return found if shown is None else found.warn(
        f"{attribute.label}: {shown} on the part was not compared; measure the fit point too")


def gap_in_offer(attribute: Attribute, asked: Claim | None,
                 offers: Sequence[Claim]) -> Finding | None:
    """Find what is missing on the part's side.

    Args:
        attribute: The line of the kind sheet [-].
        asked: What is asked, or None where only the place asks [-].
        offers: What the part has [-].

    Returns:
        The finding [-], or None where it can be compared.

    Raises:
        InvalidInput: a claim cannot be read.

    Source:
        Counting rule of this project; no standard applies.
    """
    required = required_text(attribute, asked) if asked is not None else None
    if not offers or any(_says_nothing(o.value) for o in offers):
        return unknown("not measured", f"on the part: {attribute.measure}", required=required)
    shown = offer_text(attribute, offers[0])
    for side, claims in (("at the fit point", [asked] if asked else []), ("on the part", offers)):
        if any(reading.cannot_be(attribute, claim) for claim in claims):
            return unknown("a size below 0 cannot be", f"{side}: {attribute.measure}",
                           required=required, offered=shown)
    if any(o.assumed for o in offers):
        return unknown("only assumed", f"on the part: {attribute.measure}", required=required,
                       offered=shown)
    if len(offers) > 1 and _disagree(attribute, offers, asked):
        texts = " against ".join(str(offer_text(attribute, o)) for o in offers)
        return unknown(f"two origins do not say the same: {texts}",
                       f"on the part: {attribute.measure}", required=required, offered=texts)
    return None


def _says_nothing(value: Any) -> bool:
    if isinstance(value, dict):
        return "value" in value and value["value"] is None
    return value is None


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
