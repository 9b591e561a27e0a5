"""The plan of a trip as plain JSON."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from spares.domain.trip.answer import (
    PartLine,
    Pieces,
    ServicePlan,
    StopLine,
    StopPlan,
    TripPlan,
)
from spares.domain.trip.energy import ChargeAnswer
from spares.transfer.compute.figures import hours, iso, kilograms, money, quantity, rounded


def charge_row(found: ChargeAnswer) -> dict[str, Any]:
    """Write an answer."""
    numbers = {name: rounded(value) for name, value in found._asdict().items() if name != "remarks"}
    return {**numbers, "remarks": list(found.remarks)}


def plan_row(plan: TripPlan) -> dict[str, Any]:
    """Write a plan."""
    protection, asked = plan.protection, plan.protection.asked
    return {
        "hours": {machine: hours(minutes) for machine, minutes in plan.hours.items()},
        "energy": None if plan.energy is None else charge_row(plan.energy),
        "fuel": None if plan.fuel is None else {
            "machines": {name: rounded(litres) for name, litres in plan.fuel.machines.items()},
            "fuel_l": rounded(plan.fuel.fuel_l),
            "fuel_with_thirds_l": rounded(plan.fuel.fuel_with_thirds_l),
            "missing": list(plan.fuel.missing), "remarks": list(plan.fuel.remarks)},
        "services": [_service(service) for service in plan.services],
        "lines": [_line(line) for line in plan.lines],
        "stops": [_stop(stop) for stop in plan.stops],
        "protection": {
            "asked": dict(asked) if isinstance(asked, Mapping) else asked,
            "reached": protection.reached, "reached_a": protection.reached_a,
            "reached_bought": protection.reached_bought, "until_day": protection.until_day},
        "stranded": [_pieces(pieces) for pieces in plan.stranded],
        "out_of_date": [{**_pieces(pieces), "expires": iso(pieces.expires)}
                        for pieces in plan.out_of_date],
        "not_reachable": [_pieces(pieces) for pieces in plan.not_reachable],
        "history_unknown": list(plan.history_unknown),
        "earliest_departure": iso(plan.earliest_departure), "remarks": list(plan.remarks)}


def _service(service: ServicePlan) -> dict[str, Any]:
    return {"task": service.task, "machine": service.machine, "before": service.before,
            "days": list(service.days), "due_on_arrival": service.due_on_arrival,
            "soon_after": service.soon_after, "remarks": list(service.remarks)}


def _line(line: PartLine) -> dict[str, Any]:
    amounts = ("for_service", "for_failure", "set_aside", "keep", "minimum", "usable", "short",
               "buy")
    return {
        "part": line.part, "state": line.state, "weight": line.weight,
        **{name: quantity(getattr(line, name)) for name in amounts},
        "order_by": iso(line.order_by), "late_days": line.late_days, "cost": money(line.cost),
        "mass_kg": kilograms(line.mass_g), "protection": line.protection,
        "protection_bought": line.protection_bought, "why": list(line.why),
        "remarks": list(line.remarks)}


def _stop(stop: StopPlan) -> dict[str, Any]:
    return {"day": stop.day, "on": iso(stop.on), "lines": [_stop_line(x) for x in stop.lines]}


def _stop_line(line: StopLine) -> dict[str, Any]:
    amounts = ("for_service", "for_failure", "minimum", "left_over", "buy")
    return {"part": line.part, **{name: quantity(getattr(line, name)) for name in amounts},
            "cost": money(line.cost), "mass_kg": kilograms(line.mass_g),
            "protection": line.protection, "why": list(line.why)}


def _pieces(pieces: Pieces) -> dict[str, Any]:
    return {"part": pieces.part, "quantity": quantity(pieces.quantity)}
