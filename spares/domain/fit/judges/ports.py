"""Judge ports of pumps: the thread or tail on the pump against what comes to it."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

from spares.domain.fit import reading
from spares.domain.fit.compare import compare_amount, within
from spares.domain.fit.context import Context
from spares.domain.fit.designations.threads import Thread
from spares.domain.fit.finding import Finding, differs, match, unknown
from spares.domain.fit.judges import judge
from spares.domain.fit.judges.plain import is_amount, judge_absent, judge_any, show
from spares.domain.fit.judges.thread_readings import Candidates, read_thread
from spares.domain.fit.judges.threads import mate_claims
from spares.domain.fit.sheets import Attribute
from spares.domain.fit.values import Claim
from spares.units import format_number

_COOLING = ("sea-water", "fresh-water", "brackish", "coolant", "oily-bilge")
_LESS_BORE_MM = Fraction("0.5")
_FITTINGS = {"Rp": "R", "Rc": "R"}


@judge("port")
def judge_port(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a port: what is asked is the male fitting that comes to it, or the port as it was."""
    absent = judge_absent(attribute, asked, offered)
    if absent:
        return absent.but(barred="an adapter needs a port on both sides")
    wanted = asked.value if isinstance(asked.value, list) else [asked.value]
    have = _internal(read_thread(offered.value, offered))
    found = [_one(ctx, attribute, read_thread(w, asked), have) for w in wanted]
    order = ("match", "caution", "unknown", "differs")      # one nobody can tell may be the one
    return min(found, key=lambda f: order.index(f.result))


def _one(ctx: Context, attribute: Attribute, place: Candidates, have: Candidates) -> Finding:
    texts = {"required": place.shown, "offered": have.shown}
    if _same_port(place, have):
        return match("the same port", **texts)
    fitting = replace(place, threads=tuple(_fitting(t) for t in place.threads))
    found = mate_claims(attribute, fitting, have, "internal")
    if found.result != "differs" or found.change:
        return found
    bore = [max(t.major_mm for t in side.threads) if side.threads else None
            for side in (place, have)]
    if bore[0] is not None and bore[1] is not None and bore[1] < bore[0] - _smaller(place, have):
        return found.but(barred="a smaller bore than the machine has had")
    joint = "; more joints in a fuel line only as the rules allow" if ctx.place.medium in (
        "diesel", "petrol") else ""
    return found.but(detail=f"{place.shown} to {have.shown}{joint}")


def _same_port(place: Candidates, have: Candidates) -> bool:
    """Tell whether the place describes the port itself and the part has the same."""
    return (len(place.threads) == len(have.threads) == 1
            and place.threads[0].side == "internal"
            and place.threads[0].text == have.threads[0].text)


def _fitting(thread: Thread) -> Thread:
    """Give the male fitting that goes into a port which is described by its own thread."""
    if thread.side != "internal":
        return replace(thread, side="external")
    return replace(thread, family=_FITTINGS.get(thread.family, thread.family), side="external")


def _internal(have: Candidates) -> Candidates:
    """Take the pump's port as internal where nothing else is said."""
    return replace(have, threads=tuple(replace(t, side="internal") if not t.side else t
                                       for t in have.threads))


def _smaller(place: Candidates, have: Candidates) -> Fraction:
    """Give the difference of major diameters below which the bore counts as the same."""
    same = {t.size for t in place.threads} & {t.size for t in have.threads}
    return Fraction(3) if same else _LESS_BORE_MM


@judge("barb", amounts=True)
def judge_barb(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge a hose tail against the hose that is there."""
    if reading.is_absent(offered.value):
        return differs("there is no tail: the hose has nothing to sit on",
                       required=show(asked.value), offered=show(offered.value))
    have = reading.amount(attribute, offered)
    found = compare_amount(attribute, asked, have)
    if found.result != "differs":
        return found
    if found.side == "less" and (ctx.place.medium is None or ctx.place.medium in _COOLING):
        return found.but(barred="less bore than the machine's own, in cooling or bilge")
    return found.but(detail=f"reducer {found.offered} to {found.required}, or a new hose "
                            "with clamps")


@judge("direction")
def judge_direction(ctx: Context, attribute: Attribute, asked: Claim, offered: Claim) -> Finding:
    """Judge the direction of ports, in degrees or as on a clock."""
    angles = [_degrees(attribute, claim) for claim in (asked, offered)]
    texts = {"required": show(asked.value), "offered": show(offered.value)}
    if None in angles:
        return judge_any(ctx, attribute, asked, offered)
    gap = abs(angles[0] - angles[1]) % 360      # type: ignore[operator]
    gap = min(gap, 360 - gap)
    tol = reading.tolerance(attribute, asked, gap) or Fraction(0)
    u = reading.uncertainty(attribute, asked) + reading.uncertainty(attribute, offered)
    inside = within(gap, tol, u)
    if inside is None:
        return unknown("read too coarsely to tell", attribute.measure, **texts)
    return match("inside", **texts) if inside else differs(
        f"{format_number(gap, 1)} degrees round: {attribute.why}", **texts)


def _degrees(attribute: Attribute, claim: Claim) -> Fraction | None:
    value = reading.part(claim.value, "value")
    clock = re.fullmatch(r"\s*(\d{1,2})(?::(\d\d))?\s*o.?clock\s*", str(value).casefold())
    if clock:
        return Fraction(int(clock[1]) % 12 * 30) + Fraction(int(clock[2] or 0), 2)
    if isinstance(value, dict | list) or not is_amount(attribute, value):
        return None
    return reading.amount(attribute, claim, value).amount
