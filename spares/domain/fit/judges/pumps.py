"""Judge pumps: flow and speed at the derived speed, rotation, holes and bolt circle."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import comparator, compare_amount
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.finding import Finding, caution, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import not_stated, show
from spares.domain.fit.judges.rotation import read_rotation
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.units import exact, format_number


@judge("flow", alone=True)
def judge_flow(ctx: Context, attribute: Attribute, asked: Claim | None,
               offered: Claim | None) -> Finding:
    """Judge flow at the speed at which the pump will turn; flow goes with speed."""
    if offered is None:
        return not_stated(attribute, asked)
    if reading.is_absent(reading.part(offered.value, "value")):
        return unknown("no flow is stated", attribute.measure, required=show(asked.value)) \
            if asked else caution("neither need nor flow is recorded", offered="none")
    have = reading.amount(attribute, offered)
    rated, speed = part_number(offered, "at_rpm"), ctx.pump_speed_rpm
    at = speed if speed is not None else part_number(asked, "at_rpm")
    head = part_number(offered, "at_bar")
    shown = have.text() + (f" at {format_number(rated)} r/min" if rated else "") + (
        "" if head is None else f" at {format_number(head)} bar")
    if ctx.drive != "electric":
        gap = _speed_gap(rated, at, ctx.drive)
        if gap and asked is None and speed is not None:
            return caution(f"the need is not recorded, and {gap}", offered=shown)
        if gap and asked is not None:
            return unknown(gap, attribute.measure, offered=shown, required=show(asked.value))
    given, sum_text = have, ""
    if rated and at is not None and ctx.drive != "electric":
        given = Amount(have.amount * at / rated, have.u * at / rated, have.unit)
        sum_text = (f"{format_number(have.amount)} × {format_number(at, 0)} / "
                    f"{format_number(rated)} = {format_number(given.amount, 1)} L/min")
    if asked is None:
        return caution(f"the need is not recorded; it gives {sum_text or shown}", offered=shown)
    found = compare_amount(attribute, asked, given).but(offered=shown)
    if sum_text:
        found = found.but(reason=f"{found.reason} ({sum_text})")
    if rated is None and ctx.drive is None and found.result == "match":
        found = found.warn("at which speed is not said: that holds for a pump with its own motor")
    found = _by_head(found, asked, offered, attribute)
    if found.result == "differs" and found.side == "less" and ctx.drive == "belt":
        need, head = part_number(asked, "at_bar"), part_number(offered, "at_bar")
        if need is not None and head is not None and head < need:
            return found.but(barred="stated at less head than is needed: no pulley follows from it")
        return _other_pulley(ctx, found, reading.amount(attribute, asked), have, rated)
    return found


@judge("max_speed", alone=True)
def judge_max_speed(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim | None) -> Finding:
    """Judge the highest speed against what is asked and against the derived speed."""
    if offered is None:
        return not_stated(attribute, asked)
    speed = ctx.pump_speed_rpm
    if reading.is_absent(offered.value):
        return unknown("no highest speed is stated", attribute.measure)
    have = reading.amount(attribute, offered)
    findings = [compare_amount(attribute, asked, have)] if asked else []
    if speed is not None:
        derived = Claim(attribute.code, speed, cmp="at-least", pointer="#/place")
        found = compare_amount(attribute, derived, have)
        findings.append(found.but(reason=f"{found.reason} (engine speed × drive / driven = "
                                         f"{format_number(speed, 0)} r/min)"))
    order = ("differs", "unknown", "match")
    return min(findings, key=lambda f: order.index(f.result)) if findings else match(
        "nothing is asked of it", offered=have.text())


@judge("max_flow", alone=True)
def judge_max_flow(ctx: Context, attribute: Attribute, asked: Claim | None,
                   offered: Claim | None) -> Finding:
    """Judge that the flow does not go above a limit, by the flow that is stated."""
    flow = offered or ctx.offered_claim("flow")
    if asked is None or flow is None or reading.is_absent(reading.part(flow.value, "value")):
        return not_stated(attribute, asked)
    have = reading.amount(attribute, flow)
    rated, speed = part_number(flow, "at_rpm"), ctx.pump_speed_rpm
    if rated and speed is not None:
        have = Amount(have.amount * speed / rated, have.u * speed / rated, have.unit)
    return compare_amount(attribute, asked, have)


@judge("rotation")
def judge_rotation(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the sense of rotation; without the end from which one looks nobody can tell."""
    wanted, have = read_rotation(asked.value), read_rotation(offered.value)
    texts: dict[str, Any] = {"required": show(asked.value), "offered": show(offered.value)}
    if have == "either":
        return match("turns either way", **texts)
    if wanted == "either":
        if reading.flag(_reversible(ctx)):
            return match("reversible", **texts).warn("inlet and outlet change over with rotation")
        return unknown("stated for one way of turning, and it must turn either way",
                       "maker's data, or look at cam and lip: reversible or not", **texts)
    if wanted is None or have is None:
        return unknown("from where one looks is not said, or the sense is not known",
                       "say clockwise or anticlockwise, and whether seen from the shaft end or "
                       "the cover end",
                       **texts)
    if wanted == have:
        return match("the same way round", **texts)
    hint = "" if ctx.offered_claim("reversible") else "; would be a change if it is reversible"
    barred = ("a centrifugal pump moves water one way only"
              if ctx.offered_word("principle") == "centrifugal" else "")
    return differs(f"the other way round: {attribute.why}{hint}", barred=barred,
                   detail="swap inlet and outlet hoses", **texts)


def part_number(claim: Claim | None, name: str) -> Fraction | None:
    """Give a number that stands beside a value, such as `at_rpm`; None where it is not said.

    Args:
        claim: The claim [-].
        name: Name of the part, with its unit [-].

    Returns:
        The number [unit in the name].

    Raises:
        InvalidInput: it is no number, or not above 0.

    Source:
        Counting rule of this project; no standard applies.
    """
    raw = reading.part(claim.value, name) if claim else None
    if raw is None:
        return None
    try:
        number = exact(raw)
    except UnknownUnit as err:
        raise InvalidInput.at(f"{claim.where}/{name}" if claim else name, err.detail) from err
    if number < 0 or number == 0 and name == "at_rpm":
        raise InvalidInput.at(f"{claim.where}/{name}" if claim else name, "must be above 0")
    return number


def _reversible(ctx: Context) -> Any:
    claim = ctx.offered_claim("reversible")
    return None if claim is None else claim.value


def _speed_gap(rated: Fraction | None, at: Fraction | None, drive: str | None) -> str:
    """Say which speed is missing: of one side, or of both where a machine drives the pump."""
    if rated is None and at is None and drive is not None:
        return "at which speed it gives that, and at which it is needed, is not said"
    if rated is None and at is not None:
        return "the speed at which the flow is stated is not said"
    if rated is not None and at is None:
        return "the speed at which the flow is needed is not said"
    return ""


def _by_head(found: Finding, asked: Claim, offered: Claim, attribute: Attribute) -> Finding:
    """Look at the pressure: a pump gives more at less head, and how much more nobody says."""
    need, have = part_number(asked, "at_bar"), part_number(offered, "at_bar")
    if need is None or have == need:
        return found
    texts = {"required": found.required, "offered": found.offered}
    if have is None:
        return unknown("the pressure at which the flow is stated is not said", attribute.measure,
                       **texts)
    bound = {"at-least": "more", "at-most": "less"}.get(comparator(attribute, asked))
    moves = "more" if have > need else "less"       # than is stated, at the head that is needed
    if found.result == "match" and bound == moves or found.result == "differs" and (
            found.side == moves):
        return found
    return unknown(f"stated at {format_number(have)} bar, needed at {format_number(need)} bar",
                   attribute.measure, **texts)


def _other_pulley(ctx: Context, found: Finding, need: Amount, have: Amount,
                  rated: Fraction | None) -> Finding:
    """Work out the pulley that would give the flow, and whether the pump bears its speed."""
    if have.amount <= 0:
        return found.but(barred="it gives no flow, at whatever speed")
    if ctx.pump_speed_rpm is None or not rated:
        return found
    place = ctx.place
    driven_now = place_number(place, "driven_pulley_mm")
    needed_rpm = need.amount / have.amount * rated
    driven = int(driven_now * ctx.pump_speed_rpm / needed_rpm)
    if driven <= 0:
        return found.but(barred="no pulley would be small enough")
    speed = ctx.pump_speed_rpm * driven_now / driven
    limit = ctx.offered_amount("max_speed_rpm")
    if limit is not None and speed > limit.amount:
        return found.but(barred=f"it would have to turn at {format_number(speed, 0)} r/min, more "
                                f"than the {format_number(limit.amount)} it bears")
    flow = have.amount * speed / rated
    ratio = place_number(place, "drive_pulley_mm") / driven
    unsaid = "" if limit else "; the pump's highest speed is not stated"
    return found.but(detail=f"pump pulley {driven} mm for {format_number(driven_now)} mm (ratio "
                            f"{format_number(ratio, 2)}): {format_number(flow, 1)} L/min at "
                            f"{format_number(speed, 0)} r/min{unsaid}")
