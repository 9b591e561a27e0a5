"""Sums beside a plan's lines: money by seller and currency, on order, accepted, not known."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import money, plain
from spares.actions.orders import due_on, state_of
from spares.actions.trip.left_out import LeftOut
from spares.actions.trip.money import Purse, cost, summed
from spares.actions.trip.request_failures import FailureRow
from spares.domain.aboard import Aboard, Record

ON_ORDER = ("ordered", "promised", "arrived")


def open_orders(aboard: Aboard) -> dict[str, list[Record]]:
    """Give the order lines that are neither stowed nor cancelled, by part."""
    found: dict[str, list[Record]] = {}
    for one in aboard.all("order"):
        if state_of(one) not in ("stowed", "cancelled"):
            found.setdefault(one.part, []).append(one)
    return found


def ordered_of(aboard: Aboard, line: dict[str, Any], orders: list[Record]) -> dict[str, Any]:
    """Say what of a line is wanted or on its way, and until when, in fields and words."""
    on_order = sum(one.q or 0 for one in orders if state_of(one) in ON_ORDER)
    remarks = list(line["remarks"])
    for one in orders:
        if state_of(one) in ON_ORDER and line["short"]:
            due = due_on(aboard, one)
            when = ("arrived, to be stowed" if state_of(one) == "arrived" else
                    f"ordered, due on {due}" if due else "ordered, nobody knows for when")
            remarks.append(f"{plain(one.q or 0)} {when} ({one.no})")
    return {"ordered": [{"order": one.no, "quantity": plain(one.q or 0), "state": state_of(one),
                         "due_on": due_on(aboard, one)} for one in orders],
            "on_order": plain(on_order), "remarks": remarks}


def accepted_of(aboard: Aboard, trip: str, part: str) -> dict[str, Any] | None:
    """Say who accepted to sail without a part, and when."""
    for one in aboard.all("trip-accept"):
        if one.trip == trip and one.part == part:
            return {"by": one.by, "on": one.on, "note": one.note}
    return None


def failure_lists(aboard: Aboard, rows: list[FailureRow],
                  lines: list[dict[str, Any]], left: LeftOut) -> dict[str, Any]:
    """Give the failure figures that count, and the parts that have none, or had one left out."""
    have = {row.row["part"] for row in rows}
    dropped = {row["part"] for row in left.failures}
    listed = [line["part"] for line in lines]
    return {"failures": [{
        "part": row.row["part"], "name": aboard.get(row.part).name,
        "machine": row.row.get("machine"),
        "point": aboard.label(row.point) if row.point else None, "figure": row.figure,
        "units": row.row.get("units"), "origin": row.origin, "assumed": row.assumed,
        "own_log": row.own_log} for row in rows],
        "no_figure": [*(part for part in listed if part not in have or part in dropped),
                      *sorted(dropped - set(listed))]}


def money_lists(aboard: Aboard, names: dict[str, str], lines: list[dict[str, Any]],
                purse: Purse) -> dict[str, Any]:
    """Give the shopping by seller; sums never mix currencies."""
    sellers: dict[str, list[dict[str, Any]]] = {}
    bought = [line for line in lines if line["buy"]]
    for line in bought:
        sellers.setdefault(line["seller"] or "", []).append(line)
    prices = {line["part"]: cost(aboard.get(names[line["part"]]), line["buy"]) for line in bought}
    brought = [purse.minor(price) for price in prices.values()]
    total = None
    if purse.currency and all(one is not None for one in brought):
        total = money({"minor": sum(one or 0 for one in brought), "currency": purse.currency})
    return {
        "sellers": [{"seller": seller or None, "lines": [
            {key: line[key] for key in ("part", "name", "number", "buy", "unit", "cost",
                                        "order_by", "state")} for line in of_seller],
            "costs": summed(prices[line["part"]] for line in of_seller)}
            for seller, of_seller in sorted(sellers.items())],
        "costs": summed(prices.values()), "total": total, "currency": purse.currency,
        "mass_kg": round(sum(line["mass_kg"] or 0 for line in bought), 3),
        "mass_not_known": [line["part"] for line in bought if line["mass_kg"] is None],
        "unpriced": [part for part, price in prices.items() if price is None]}


def sums_of(answer: dict[str, Any]) -> dict[str, Any]:
    """Give the few figures that a form shows beside what is typed."""
    lines = answer["lines"]
    return {
        "hours": answer["hours"], "short": len(answer["short"]),
        "too_late": sum(line["state"] == "too-late" for line in lines),
        "buy": sum(line["buy"] for line in lines), "costs": answer["costs"],
        "total": answer["total"], "mass_kg": answer["mass_kg"],
        "services": sum(one["uses"] for one in answer["services"]),
        "fuel_l": None if answer["fuel"] is None else answer["fuel"]["fuel_l"],
        "fuel_needed_l": None if answer["fuel"] is None else answer["fuel"].get("needed_l"),
        "protection": None if answer["protection"] is None else answer["protection"]["reached"],
        "protection_bought": None if answer["protection"] is None
        else answer["protection"]["reached_bought"]}
