"""Orders: from wanted to stowed. A line's last date says how far it is."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import money, plain
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.actions.trip.money import summed
from spares.domain.aboard import Aboard, Record
from spares.domain.dates import add_days
from spares.domain.stowage import counts_as_aboard

#: Later states first: the first date that is there decides.
_STATES = (("cancelled_on", "cancelled"), ("stowed_on", "stowed"), ("arrived_on", "arrived"),
           ("promised_on", "promised"), ("ordered_on", "ordered"))
DATES = ("wanted_on", "ordered_on", "promised_on", "arrived_on", "stowed_on", "cancelled_on")


def state_of(order: Record) -> str:
    """Say how far an order line is: wanted, ordered, promised, arrived, stowed, cancelled."""
    return next((state for field, state in _STATES if getattr(order, field)), "wanted")


def due_on(aboard: Aboard, order: Record) -> str | None:
    """Give the day an order line should be there: as promised, else by the lead time."""
    if order.promised_on or not order.ordered_on:
        return order.promised_on
    part = aboard.get(order.part)
    if part is None or part.lead_days is None:
        return None
    return add_days(date.fromisoformat(order.ordered_on), part.lead_days).isoformat()


def orders(ctx: Context, *, trip: str | None = None, state: str | None = None,
           ) -> dict[str, Any]:
    """List the order lines, open ones by the day they are due, with sums by seller."""
    aboard = ctx.aboard()
    of_trip = ctx.named(trip, "trip", "trip") if trip else None
    found = [one for one in aboard.all("order")
             if (of_trip is None or one.trip == of_trip)
             and (state is None or state_of(one) == state)]
    found.sort(key=lambda one: (state_of(one) in ("stowed", "cancelled"),
                                due_on(aboard, one) or "9999", one.no or ""))
    sellers: dict[str, list[Record]] = {}
    for one in found:
        if state_of(one) not in ("stowed", "cancelled"):
            sellers.setdefault(_seller(aboard, one) or "", []).append(one)
    return {"orders": [order_thing(aboard, one) for one in found],
            "sellers": [{"seller": seller or None, "orders": [one.no for one in some],
                         "costs": summed(price_of(one) for one in some)}
                        for seller, some in sorted(sellers.items())]}


def put_away(ctx: Context) -> dict[str, Any]:
    """List what arrived and is not stowed, with the locker where such a part lies already."""
    aboard = ctx.aboard()
    found = []
    for one in aboard.all("order"):
        if state_of(one) == "arrived":
            lying = in_walking_order(aboard, [
                place for place in aboard.lying_of.get(one.part, [])
                if counts_as_aboard(aboard, place)])
            locker = one.locker or (lying[0].locker if lying else None)
            found.append({"order": one.no, **_head(aboard, one),
                          "quantity": plain(one.q or 0), "arrived_on": one.arrived_on,
                          "locker": aboard.label(locker) if locker else None,
                          "where": [where(aboard, place) for place in lying]})
    return {"lines": sorted(found, key=lambda line: (line["locker"] or "~", line["order"]))}


def order_thing(aboard: Aboard, one: Record) -> dict[str, Any]:
    """Describe one order line."""
    return {"no": one.no, **_head(aboard, one), "quantity": plain(one.q or 0),
            "trip": aboard.label(one.trip) if one.trip else None,
            "seller": _seller(aboard, one), "price": money(one.price),
            "cost": money(price_of(one)), "state": state_of(one), "due_on": due_on(aboard, one),
            "locker": aboard.label(one.locker) if one.locker else None,
            **{name: getattr(one, name) for name in DATES}, "note": one.note}


def _head(aboard: Aboard, one: Record) -> dict[str, Any]:
    head = part_head(aboard, one.part)
    return {"part": head["no"], "name": head["name"], "maker": head.get("maker"),
            "number": head.get("number")}


def _seller(aboard: Aboard, one: Record) -> str | None:
    part = aboard.get(one.part)
    return one.seller or (part.seller or part.maker if part is not None else None)


def price_of(one: Record) -> dict[str, Any] | None:
    """Give what a line costs; its price is that of one piece."""
    if not one.price:
        return None
    return {"minor": (2 * one.price["minor"] * (one.q or 0) + 1000) // 2000,
            "currency": one.price["currency"]}
