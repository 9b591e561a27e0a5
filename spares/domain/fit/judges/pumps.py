"""Judge pumps: flow and speed at the derived speed, rotation, holes and bolt circle."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from math import pi, sin
from typing import Any

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount
from spares.domain.fit.context import Context, place_number
from spares.domain.fit.designations.threads import parse_thread
from spares.domain.fit.finding import Finding, caution, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import show
from spares.domain.fit.judges.rotation import read_rotation
from spares.domain.fit.judges.threads import judge_thread
from spares.domain.fit.reading import Amount
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.errors import InvalidInput, UnknownUnit
from spares.standards import table
from spares.units import Quantity, exact, format_number, format_quantity


@judge("flow", alone=True)
def judge_flow(ctx: Context, attribute: Attribute, asked: Claim | None,
               offered: Claim | None) -> Finding:
    """Judge flow at the speed at which the pump will turn; flow goes with speed."""
    if offered is None:
        return _not_stated(attribute, asked)
    have = reading.amount(attribute, offered)
    rated, speed = part_number(offered, "at_rpm"), ctx.pump_speed_rpm
    at = speed if speed is not None else part_number(asked, "at_rpm")
    shown = have.text() + (f" at {format_number(rated)} 1/min" if rated else "")
    if ctx.drive != "electric":
        gap = _speed_gap(rated, at)
        if gap and not (asked is None and speed is None):
            return unknown(gap, attribute.measure, offered=shown,
                           required=show(asked.value) if asked else None)
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
    found = _by_head(found, asked, offered, attribute)
    if found.result == "differs" and found.side == "less" and ctx.drive == "belt":
        return _other_pulley(ctx, found, reading.amount(attribute, asked), have, rated)
    return found


@judge("max_speed", alone=True)
def judge_max_speed(ctx: Context, attribute: Attribute, asked: Claim | None,
                    offered: Claim | None) -> Finding:
    """Judge the highest speed against what is asked and against the derived speed."""
    if offered is None:
        return _not_stated(attribute, asked)
    speed = ctx.pump_speed_rpm
    if reading.is_absent(offered.value):
        return unknown("no highest speed is stated", attribute.measure)
    have = reading.amount(attribute, offered)
    findings = [compare_amount(attribute, asked, have)] if asked else []
    if speed is not None:
        derived = Claim(attribute.code, speed, cmp="at-least", pointer="#/place")
        found = compare_amount(attribute, derived, have)
        findings.append(found.but(reason=f"{found.reason} (engine speed × drive / driven = "
                                         f"{format_number(speed, 0)} 1/min)"))
    order = ("differs", "unknown", "match")
    return min(findings, key=lambda f: order.index(f.result)) if findings else match(
        "nothing is asked of it", offered=have.text())


@judge("max_flow", alone=True)
def judge_max_flow(ctx: Context, attribute: Attribute, asked: Claim | None,
                   offered: Claim | None) -> Finding:
    """Judge that the flow does not go above a limit, by the flow that is stated."""
    flow = offered or ctx.offered_claim("flow")
    if asked is None or flow is None:
        return _not_stated(attribute, asked)
    have = reading.amount(attribute, flow)
    rated, speed = part_number(flow, "at_rpm"), ctx.pump_speed_rpm
    if rated and speed is not None:
        have = Amount(have.amount * speed / rated, have.u, have.unit)
    return compare_amount(attribute, asked, have)


@judge("rotation")
def judge_rotation(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the sense of rotation; without the end from which one looks nobody can tell."""
    wanted, have = read_rotation(asked.value), read_rotation(offered.value)
    texts: dict[str, Any] = {"required": show(asked.value), "offered": show(offered.value)}
    if "either" in (wanted, have):
        return match("turns either way", **texts)
    if wanted is None or have is None:
        return unknown("from where one looks is not said, or the sense is not known",
                       "say cw or ccw, and whether seen from the shaft end or the cover end",
                       **texts)
    if wanted == have:
        return match("the same way round", **texts)
    hint = "" if ctx.offered_claim("reversible") else "; would be a change if it is reversible"
    return differs(f"the other way round: {attribute.why}{hint}",
                   detail="swap inlet and outlet hoses", **texts)


@judge("bolt_thread", alone=True)
def judge_bolt_thread(ctx: Context, attribute: Attribute, asked: Claim | None,
                      offered: Claim | None) -> Finding:
    """Judge studs against the part's thread, or against its plain holes."""
    if asked is None:
        return _not_stated(attribute, asked)
    hole = ctx.offered_amount("bolt_hole")
    if offered is not None:
        if not reading.is_absent(offered.value):
            return judge_thread(ctx, attribute, asked, offered)
    if hole is None:
        return _not_stated(attribute, asked)
    least = clearance(asked.value)
    texts = {"required": show(asked.value), "offered": f"holes of {hole.text()}"}
    if least is None:
        return unknown("no clearance hole is known for this thread", attribute.measure, **texts)
    return _hole(ctx, attribute, Claim(attribute.code, least[0], cmp="at-least"), hole,
                 least).but(**texts)


@judge("bolt_hole", amounts=True)
def judge_bolt_hole(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge holes in a flange against the studs, given as a diameter or as a thread."""
    if reading.is_absent(offered.value):
        return differs("there are no holes", barred="holes would have to be laid out anew")
    value = reading.part(asked.value, "value")
    row = clearance(value)
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
        return _not_stated(attribute, asked)
    if offered is not None:
        if reading.is_absent(offered.value):
            return differs(f"there is none: {attribute.why}")
        return compare_amount(attribute, asked, reading.amount(attribute, offered))
    other = {"bolt_circle": "hole_spacing", "hole_spacing": "bolt_circle"}[attribute.code]
    size, count = ctx.offered_amount(other), ctx.offered_amount("bolt_count")
    if size is None or count is None or count.amount < 2 or count.amount.denominator != 1:
        return _not_stated(attribute, asked)
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
    if len(threads) != 1:
        return None
    name, key = (("clearance_holes", "d_mm") if threads[0].family == "M"
                 else ("clearance_holes_inch", "size"))
    wanted = threads[0].major_mm if key == "d_mm" else threads[0].size
    row = next((r for r in table(name).records()
                if (exact(r[key]) if key == "d_mm" else r[key]) == wanted), None)
    if row is None:
        return None
    return exact(row["close_mm"]), exact(row["normal_mm"]), exact(row["coarse_mm"])


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


def _hole(ctx: Context, attribute: Attribute, asked: Claim, have: Amount,
          row: tuple[Fraction, Fraction, Fraction] | None) -> Finding:
    found = compare_amount(attribute, asked, have)
    if found.result != "differs":
        return found
    pilot = ctx.offered.get("pilot_diameter", ())
    if pilot and reading.is_absent(pilot[0].value):
        return found.but(barred="no pilot: the holes locate the pump")
    limit = reading.amount(attribute, asked).amount
    row = row or next(((exact(r["close_mm"]), exact(r["normal_mm"]), exact(r["coarse_mm"]))
                       for r in table("clearance_holes").records()
                       if exact(r["close_mm"]) == limit), None)
    target = next((d for d in (row or ())[1:] if d >= limit), limit)
    size = format_quantity(Quantity(target, "mm"))
    return found.but(detail=f"drill to {size}", change="drill-holes")


def _not_stated(attribute: Attribute, asked: Claim | None) -> Finding:
    return unknown("not measured", f"on the part: {attribute.measure}",
                   required=show(asked.value) if asked else None)


def _speed_gap(rated: Fraction | None, at: Fraction | None) -> str:
    """Say which speed is missing, where one side names a speed and the other does not."""
    if rated is None and at is not None:
        return "the speed at which the flow is stated is not said"
    if rated is not None and at is None:
        return "the speed at which the flow is needed is not said"
    return ""


def _by_head(found: Finding, asked: Claim, offered: Claim, attribute: Attribute) -> Finding:
    """Look at the pressure: a flow stated at less head, or at none, proves nothing."""
    need, have = part_number(asked, "at_bar"), part_number(offered, "at_bar")
    if need is None or (have is not None and have >= need):
        return found
    if have is None:
        return unknown("the pressure at which the flow is stated is not said", attribute.measure,
                       required=found.required, offered=found.offered)
    if found.result == "match":
        return unknown(f"stated at {format_number(have)} bar, needed at {format_number(need)} bar",
                       attribute.measure, required=found.required, offered=found.offered)
    return found


def _other_pulley(ctx: Context, found: Finding, need: Amount, have: Amount,
                  rated: Fraction | None) -> Finding:
    """Work out the pulley that would give the flow, and whether the pump bears its speed."""
    if ctx.pump_speed_rpm is None or not rated or have.amount <= 0:
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
        return found.but(barred=f"it would have to turn at {format_number(speed, 0)} 1/min, more "
                                f"than the {format_number(limit.amount)} it bears")
    flow = have.amount * speed / rated
    ratio = place_number(place, "drive_pulley_mm") / driven
    unsaid = "" if limit else "; the pump's highest speed is not stated"
    return found.but(detail=f"pump pulley {driven} mm for {format_number(driven_now)} mm (ratio "
                            f"{format_number(ratio, 2)}): {format_number(flow, 1)} L/min at "
                            f"{format_number(speed, 0)} 1/min{unsaid}")
