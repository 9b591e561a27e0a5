"""Pictures beside a plan's lines, as tables: time line, hours curves, protection for money."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import hours
from spares.actions.compute import compute_request
from spares.actions.trip.answer_figures import until_of
from spares.actions.trip.money import Purse
from spares.actions.trip.request_trip import stops_outside
from spares.actions.trip.stored import planned_days
from spares.domain.aboard import Aboard, Record
from spares.domain.dates import add_days
from spares.domain.provision import Limits
from spares.domain.service.events import Course
from spares.domain.trip.pictures import Curve, hour_curves
from spares.domain.trip.plan import shortages
from spares.domain.trip.request import Part, TripRequest
from spares.domain.trip.supply import protected_until
from spares.domain.trip.trip_kit import TripKit, trip_kit
from spares.transfer.compute.figures import quantity
from spares.transfer.compute.trip import request_of

GRAMS = 1000


def request_values(request: dict[str, Any]) -> TripRequest:
    """Give a request to the trip computation as its values."""
    return request_of(compute_request("trip", request))


def timeline(aboard: Aboard, trip: Record, plan: dict[str, Any]) -> dict[str, Any]:
    """Put the services of a trip on its days, machine by machine."""
    services = {one.no: one for one in aboard.all("service")}
    begin, days = date.fromisoformat(trip.departs_on), planned_days(trip)
    events: dict[str, list[dict[str, Any]]] = {}
    for one in plan["services"]:
        record = services[one["task"]]
        told = events.setdefault(one["machine"], [])
        on_days = [("before", 0)] * one["before"] + [("under-way", day) for day in one["days"]]
        if one["due_on_arrival"] and one["days"]:
            on_days[-1] = ("on-arrival", one["days"][-1])
        told += [{"service": one["task"], "what": record.what, "day": day,
                  "on": add_days(begin, day).isoformat(), "when": when,
                  "in_port": bool(record.in_port)} for when, day in on_days]
    return {"departs_on": trip.departs_on, "returns_on": trip.returns_on, "days": days,
            "stops": [{"day": (date.fromisoformat(stop["arrives_on"]) - begin).days,
                       "on": stop["arrives_on"], "name": stop["name"]}
                      for place, stop in enumerate(trip.stops or [])
                      if place not in stops_outside(trip)],
            "machines": [{"machine": one.no, "name": one.name,
                          "events": sorted(events[one.no], key=lambda e: (e["day"], e["service"]))}
                         for one in aboard.all("machine") if events.get(one.no)]}


def curves(aboard: Aboard, trip: Record, asked: TripRequest) -> list[dict[str, Any]]:
    """Draw the hours of each machine, and the marks at which its services fall due."""
    found, followed = hour_curves(asked)
    machines = {one.no: one for one in aboard.all("machine")}
    begin = date.fromisoformat(trip.departs_on)
    return [{"machine": one.machine, "name": machines[one.machine].name,
             "counter": one.start_min is not None,
             "points": [{"day": day, "on": add_days(begin, day).isoformat(),
                         "hours": hours((one.start_min or 0) + run)} for day, run in one.points],
             "services": [_due_marks(one, course) for course in followed.values()
                          if course.clock.task.machine == one.machine
                          and course.clock.task.every_min is not None]} for one in found]


def _due_marks(curve: Curve, course: Course) -> dict[str, Any]:
    task, start = course.clock.task, curve.start_min or 0
    return {"service": task.id, "what": task.name, "every_h": hours(task.every_min),
            "before": course.before, "days": [event.day for event in course.events],
            "at_h": [hours(start + event.run_min) for event in course.events]}


def kit_of(asked: TripRequest, purse: Purse, names: dict[str, str], aboard: Aboard,
           trip: Record, *, limits: Limits | None = None,
           level: float | None = None) -> dict[str, Any] | None:
    """Say what more money or mass would buy against failures; None without any figure.

    Masses are None where nobody has weighed any of its parts, and say what they leave out.

    Raises:
        OutOfRange: no kit reaches the level.
    """
    lines = [one for one in shortages(asked) if one.part.id not in asked.trip.accepted]
    if all(one.demand.is_none for one in lines):
        return None
    limits = asked.trip.limits if limits is None else limits
    row = {**_kit_row(trip_kit(lines, limits, level), purse, names, aboard, limits, level),
           "until": until_of(trip, protected_until(asked))}
    return _with_known_masses(row, [one.part for one in lines
                                    if one.for_service or one.carried or not one.demand.is_none])


def _kit_row(found: TripKit, purse: Purse, names: dict[str, str], aboard: Aboard,
             limits: Limits, level: float | None) -> dict[str, Any]:
    kit = found.kit
    by_mass = limits.mass_g is not None and limits.cost is None and level is None
    lacking = "mass" if by_mass else f"price in {purse.currency or 'the currency of the plan'}"
    remarks = [f"{part}: no {lacking} is known, so the curve leaves it as it is"
               for part in found.unpriced]
    if limits.cost is not None and found.sure_cost > limits.cost:
        remarks.insert(0, "The money does not reach for the services: nothing is left for what "
                          "may break")
    return {
        "buy": [{"part": part, "name": aboard.get(names[part]).name,
                 "quantity": quantity(units * pack)}
                for part, units, pack in zip(found.parts, kit.buy, found.packs, strict=True)
                if units],
        "sure": {"cost": _money(found.sure_cost), "mass_kg": found.sure_mass_g / GRAMS},
        "spent": {"cost": _money(found.sure_cost + kit.cost), "currency": purse.currency,
                  "mass_kg": (found.sure_mass_g + kit.mass_g) / GRAMS},
        "start": kit.start, "reached": kit.reached, "upper_bound": kit.upper_bound,
        "level": level,
        "limits": {"cost": None if limits.cost is None else _money(limits.cost),
                   "mass_kg": None if limits.mass_g is None else limits.mass_g / GRAMS},
        "curve": [{"cost": _money(found.sure_cost + point.cost),
                   "mass_kg": (found.sure_mass_g + point.mass_g) / GRAMS,
                   "protection": point.protection} for point in kit.curve],
        "remarks": remarks}


def _with_known_masses(row: dict[str, Any], parts: list[Part]) -> dict[str, Any]:
    unknown = [part.id for part in parts if part.mass_g is None]
    if not unknown:
        return row
    if len(unknown) == len(parts):
        for sums in (row["sure"], row["spent"], *row["curve"]):
            sums["mass_kg"] = None
        if row["limits"]["mass_kg"] is not None:
            row["remarks"].append("no mass is known: nothing is counted against the limit of mass")
        return row
    row["remarks"].append(f"mass not known and not in the kilograms: {', '.join(unknown)}")
    return row


def _money(minor: int) -> float:
    return minor / 100
