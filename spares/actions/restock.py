"""Restock: what a trip needs, what is short, by when it must be ordered, and why."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from typing import Any

from spares.actions.amounts import plain, thousandths
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.actions.stranded import stranded
from spares.actions.trip_request import trip_request, wanted_parts
from spares.actions.trips import trip_thing
from spares.domain.aboard import Aboard, Lying, Record
from spares.domain.identity import ref
from spares.domain.stowage import (
    condition_of,
    counts_as_aboard,
    earliest_expiry,
    expires_of,
    is_lent,
    is_reachable,
)
from spares.domain.tree import GOOD_PROOF, live_points, points_taking
from spares.errors import InvalidInput, NotFound

SHORT = ("short", "order-by", "too-late")


def restock(ctx: Context, trip: str) -> dict[str, Any]:
    """Plan what a trip needs.

    Raises:
        NotFound: there is no such trip.
        InvalidInput: the trip has no days, or something recorded makes no sense.
    """
    name = ctx.named(trip, "trip", "trip")
    return ctx.remembered(f"restock {name}", lambda: _restock(ctx, name))


def why(ctx: Context, trip: str, part: str) -> dict[str, Any]:
    """Give the one line of a trip's plan that is about *part*, with its reasons.

    Raises:
        NotFound: no such trip or part, or the trip asks for none of it.
    """
    name = ctx.named(part, "part", "part")
    label, plan = ctx.aboard([name]).label(name), restock(ctx, trip)
    for line in plan["lines"]:
        if line["part"] == label:
            return {"trip": plan["trip"], "line": line}
    raise NotFound(f"part: {plan['trip']['name']} asks for no {label}",
                   errors=[{"pointer": "#/part", "detail": "not asked for"}])


def trip_needs(ctx: Context, aboard: Aboard, trip: Record) -> Iterator[tuple[str, int, int]]:
    """Give (part's name, need, usable) of a trip's lines [thousandths]."""
    if not trip.departs_on or not trip.returns_on:
        return
    plan, names = compute("trip", trip_request(aboard, trip, ctx.today)), _part_names(aboard)
    for line in plan["lines"]:
        if line["minimum"]:
            yield (names[line["part"]], thousandths(line["minimum"], "minimum"),
                   thousandths(line["usable"], "usable", least=0))


def wanted_aboard(ctx: Context) -> Aboard:
    """Read the vessel with only those parts that a plan can ask for: few among thousands."""
    named = wanted_parts(ctx.aboard([]), named_only=True)
    return ctx.aboard(list(wanted_parts(ctx.aboard(list(named)), named_only=True)))


def _restock(ctx: Context, name: str) -> dict[str, Any]:
    aboard = ctx.aboard()
    trip = aboard.get(name)
    if not trip.departs_on or not trip.returns_on:
        raise InvalidInput.at("#/trip", f"{trip.no} has no leaving or return day yet")
    request = trip_request(aboard, trip, ctx.today)
    plan = compute("trip", request)
    names = _part_names(aboard)
    lines = sorted((_line(aboard, names[line["part"]], line) for line in plan["lines"]),
                   key=_by_urgency)
    wanted = {names[line["part"]] for line in plan["lines"] if line["minimum"]}
    today = ctx.today.isoformat()
    due = [one["task"] for one in plan["services"] if one["before"]]
    unknown = set(plan["history_unknown"])
    return {
        "trip": trip_thing(ctx, name), "lines": lines,
        "short": [line["part"] for line in lines if line["state"] in SHORT],
        "services": [_service(aboard, one) for one in plan["services"]],
        "due_before_leaving": [one for one in due if one not in unknown],
        "history_unknown": plan["history_unknown"], "stranded": _stranded(ctx),
        "out_of_date": _out_of_date(aboard, today, trip.returns_on),
        "not_reachable": [_place(aboard, one) for one in aboard.lying
                          if _not_reachable(aboard, one, wanted)],
        "ashore": [_place(aboard, one) for one in aboard.lying
                   if one.quantity and not counts_as_aboard(aboard, one)
                   and not is_lent(aboard, one)],
        "lent": [_place(aboard, one) for one in aboard.lying
                 if one.quantity and is_lent(aboard, one)],
        "hours": plan["hours"], "energy": plan["energy"], "fuel": plan["fuel"],
        "stops": plan["stops"],
        # Without figures of failures the formula gives 1: nobody may read that as safe.
        "protection": plan["protection"] if request["failures"] else None,
        "earliest_departure": plan["earliest_departure"], "remarks": [*plan["remarks"],
                                                              *_figures(request)]}


def _figures(request: dict[str, Any]) -> list[str]:
    if request["failures"]:
        return []
    return ["No failure figures are recorded: what may break is not counted, and nobody can "
            "say how well she is protected."]


def _by_urgency(line: dict[str, Any]) -> tuple[int, str, str]:
    """Order lines: what must be bought by its order date, what nobody can say, the rest."""
    rank = 0 if line["state"] in SHORT else 1 if line["state"] == "cannot-say" else 2
    return rank, line["order_by"] or "9999", line["part"]


def _line(aboard: Aboard, name: str, line: dict[str, Any]) -> dict[str, Any]:
    part = aboard.get(name)
    lying = [one for one in aboard.lying_of.get(name, []) if one.quantity or not one.counted]
    stand_ins = [one for one in aboard.stand_ins_for.get(name, []) if one.proof in GOOD_PROOF]
    return {**line, **{key: value for key, value in part_head(aboard, name).items()
                       if key != "no"},
            "cost": _cost(part, line), "seller": part.seller or part.maker,
            "unit": part.unit or "pcs",
            "lead_days": part.lead_days,
            "where": [where(aboard, one) for one in in_walking_order(aboard, lying)],
            "stand_ins": [{"part": aboard.label(one.part),
                           "name": part_head(aboard, one.part)["name"], "proof": one.proof}
                          for one in stand_ins]}


def _cost(part: Record, line: dict[str, Any]) -> dict[str, str] | None:
    """Give what the pieces to buy cost, with the currency; None where no price is known."""
    if not part.price:
        return None
    return {"amount": f"{Decimal(str(line['cost'])):.2f}", "currency": part.price["currency"]}


def _service(aboard: Aboard, one: dict[str, Any]) -> dict[str, Any]:
    record = next((s for s in aboard.all("service") if s.no == one["task"]), None)
    return {"service": one["task"], "what": record.what if record else None,
            "machine": one["machine"], "before": one["before"], "days": one["days"],
            "uses": one["before"] + len(one["days"]), "due_on_arrival": one["due_on_arrival"],
            "soon_after": one["soon_after"], "remarks": one["remarks"]}


def _stranded(ctx: Context) -> list[dict[str, Any]]:
    return [{"part": one["part"], "name": one["name"], "quantity": one["quantity"]}
            for one in stranded(ctx)["stranded"]]


def _out_of_date(aboard: Aboard, today: str, back: str) -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {"today": [], "before_return": []}
    for one in aboard.lying:
        expires = expires_of(aboard, one)
        if not one.quantity or not expires or not counts_as_aboard(aboard, one):
            continue
        day = earliest_expiry(expires)
        if day < back:
            found["today" if day < today else "before_return"].append(
                {**_place(aboard, one), "expires": expires})
    return found


def _not_reachable(aboard: Aboard, one: Lying, wanted: set[str]) -> bool:
    """Say whether pieces that may be wanted lie where nobody gets at them under way."""
    if not one.quantity or is_reachable(aboard, one.locker) or not counts_as_aboard(aboard, one):
        return False
    sits = [point for point, proof in points_taking(aboard, one.part).items()
            if proof in GOOD_PROOF]
    return one.part in wanted or bool(set(sits) & live_points(aboard))


def _place(aboard: Aboard, one: Lying) -> dict[str, Any]:
    return {"part": aboard.label(one.part), "name": part_head(aboard, one.part)["name"],
            "quantity": plain(one.quantity), "locker": aboard.label(one.locker),
            "condition": condition_of(aboard, one)}


def _part_names(aboard: Aboard) -> dict[str, str]:
    every = sorted(aboard.docs["part"].values(), key=lambda one: not one.gone)
    return {one.no or one.id: ref("part", one.id) for one in every}
