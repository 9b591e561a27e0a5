"""Restock: what a trip needs, what is short, by when it must be ordered, and why."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import money
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.actions.trails import stopped
from spares.actions.trip.answer_figures import (
    energy_answer,
    protection_answer,
    running_rows,
    stops_answer,
)
from spares.actions.trip.answer_fuel import fuel_answer
from spares.actions.trip.answer_lists import lists_of
from spares.actions.trip.answer_pictures import curves, kit_of, request_values, timeline
from spares.actions.trip.answer_sums import (
    accepted_of,
    failure_lists,
    money_lists,
    open_orders,
    ordered_of,
    sums_of,
)
from spares.actions.trip.left_out import LeftOut
from spares.actions.trip.money import cost, purse
from spares.actions.trip.needed import SHORT, ask_days, part_names, planned
from spares.actions.trip.request import (
    counts_failures,
    not_planned,
    trip_request,
)
from spares.actions.trip.request_failures import failure_rows
from spares.actions.trip.request_trip import stops_outside
from spares.actions.trip.stored import length, planned_days, thing_of
from spares.domain.aboard import Aboard, Record
from spares.domain.dates import add_days
from spares.domain.tree import GOOD_PROOF
from spares.errors import NotFound


def restock(ctx: Context, trip: str) -> dict[str, Any]:
    """Plan what a trip needs.

    Raises:
        NotFound: there is no such trip.
        InvalidInput: the trip has no days, or something recorded makes no sense.
    """
    name = ctx.named(trip, "trip", "trip")
    return ctx.remembered(f"restock {name}", lambda: plan_for(ctx, ctx.aboard(), name))


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


def plan_for(ctx: Context, aboard: Aboard, name: str) -> dict[str, Any]:
    """Plan the trip called *name* of the vessel as *aboard* has her, written or not.

    Raises:
        InvalidInput: the trip has no days, or something recorded makes no sense.
    """
    trip = aboard.get(name)
    ask_days(trip)
    plan, request, left = planned(trip_request(aboard, trip, ctx.today))
    asked = request["trip"]
    names, money = part_names(aboard), purse(aboard, trip)
    orders = open_orders(aboard)
    lines = sorted((_line(aboard, names[line["part"]], _doubted(line, left), name, orders)
                    for line in plan["lines"]), key=_by_urgency)
    wanted = {names[line["part"]] for line in plan["lines"] if line["minimum"]}
    values = request_values(request)
    rows, doubts = failure_rows(aboard) if counts_failures(trip) else ([], [])
    counted = [row for row in rows if row.row not in left.failures]
    assumed: dict[str, list[str]] = {}
    for row in counted:
        if row.assumed:
            assumed.setdefault(row.row["part"], []).append(f"assumed, not known: {row.figure}")
    for line in lines:
        line["remarks"] += assumed.get(line["part"], [])
    services = {one.no: one for one in reversed(aboard.all("service"))}
    answer = {
        "trip": thing_of(aboard, name), "lines": lines,
        "short": [line["part"] for line in lines if line["state"] in SHORT],
        "services": [_service(services.get(one["task"]), one) for one in plan["services"]],
        **_due_lists(plan), **lists_of(ctx, aboard, trip.returns_on, wanted),
        "hours": plan["hours"], "running": running_rows(aboard, asked, plan["hours"]),
        "energy": energy_answer(aboard, trip, asked, plan["energy"]),
        "fuel": fuel_answer(aboard, trip, asked, plan, values),
        "stops": stops_answer(aboard, trip, plan, names),
        # Without figures of failures the formula gives 1: nobody may read that as safe.
        "protection": protection_answer(trip, plan["protection"]) if request["failures"] else None,
        "kit": kit_of(values, money, names, aboard, trip) if request["failures"] else None,
        "timeline": timeline(aboard, trip, plan), "curves": curves(aboard, trip, values),
        **failure_lists(aboard, counted, lines, left), **money_lists(aboard, names, lines, money),
        "earliest_departure": plan["earliest_departure"],
        "do_not_run": [one for one in stopped(aboard) if float(plan["hours"].get(
            one["machine"]) or 0)],
        "remarks": [*_days_of(trip), *plan["remarks"], *left.words, *not_planned(aboard),
                    *doubts, *_figures(request, trip, left)]}
    return {**answer, "sums": sums_of(answer)}


def _days_of(trip: Record) -> list[str]:
    """Say how a day sail is planned, and which stops lie outside the trip's days."""
    until = add_days(date.fromisoformat(trip.departs_on), planned_days(trip))
    outside = [f"stop {trip.stops[place]['name']}: {words}, so not counted"
               for place, words in stops_outside(trip).items()]
    return outside if length(trip) else [
        f"out and back on one day: planned as one day of running, until {until}", *outside]


def _due_lists(plan: dict[str, Any]) -> dict[str, list[str]]:
    unknown = set(plan["history_unknown"])
    return {"due_before_leaving": [one["task"] for one in plan["services"]
                                   if one["before"] and one["task"] not in unknown],
            "history_unknown": plan["history_unknown"]}


def _doubted(line: dict[str, Any], left: LeftOut) -> dict[str, Any]:
    """Call nothing enough of which a figure was left out; the words stand on its line."""
    words = left.parts.get(line["part"])
    if not words:
        return line
    state = line["state"] if line["state"] in SHORT else "cannot-say"
    return {**line, "state": state, "remarks": [*words, *line["remarks"]]}


def _figures(request: dict[str, Any], trip: Record, left: LeftOut) -> list[str]:
    if request["failures"]:
        return []
    if left.failures:
        return ["None of the failure figures that are recorded can be counted: what may break is "
                "not counted, and nobody can say how well she is protected."]
    if not counts_failures(trip):
        return ["This trip is planned without failures: what may break is not counted, and "
                "nobody can say how well she is protected."]
    return ["No failure figures are recorded: what may break is not counted, and nobody can "
            "say how well she is protected."]


def _by_urgency(line: dict[str, Any]) -> tuple[int, str, str]:
    """Order lines: what must be bought by its order date, what nobody can say, the rest."""
    rank = 0 if line["state"] in SHORT else 1 if line["state"] == "cannot-say" else 2
    return rank, line["order_by"] or "9999", line["part"]


def _line(aboard: Aboard, name: str, line: dict[str, Any], trip: str,
          orders: dict[str, list[Record]]) -> dict[str, Any]:
    part = aboard.get(name)
    lying = [one for one in aboard.lying_of.get(name, []) if one.is_listed]
    stand_ins = [one for one in aboard.stand_ins_for.get(name, []) if one.proof in GOOD_PROOF]
    return {**line, **{key: value for key, value in part_head(aboard, name).items()
                       if key != "no"},
            "cost": money(cost(part, line["buy"])), "number": part.number,
            **ordered_of(aboard, line, orders.get(name, [])),
            "accepted": accepted_of(aboard, trip, name), "seller": part.seller or part.maker,
            "unit": part.unit or "pcs",
            "lead_days": part.lead_days,
            "where": [where(aboard, one) for one in in_walking_order(aboard, lying)],
            "stand_ins": [{"part": aboard.label(one.part),
                           "name": part_head(aboard, one.part)["name"], "proof": one.proof}
                          for one in stand_ins]}


def _service(record: Record | None, one: dict[str, Any]) -> dict[str, Any]:
    return {"service": one["task"], "what": record.what if record else None,
            "machine": one["machine"], "before": one["before"], "days": one["days"],
            "uses": one["before"] + len(one["days"]), "due_on_arrival": one["due_on_arrival"],
            "soon_after": one["soon_after"], "remarks": one["remarks"]}
