"""The plan of a trip, from a request as `trip_shape` loads it."""

from __future__ import annotations

from typing import Any

from spares.domain.provision import Limits
from spares.domain.trip import Burn, Leg, Lot, Part, Stop, Trip, TripRequest, plan_trip
from spares.transfer.compute.built import (
    failure_of,
    fit_point_of,
    machine_of,
    question_of,
    readings_of,
    records_of,
    task_of,
)
from spares.transfer.compute.trip_answer import plan_row


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give the plan.

    Raises:
        InvalidInput: a field that makes no sense.
        OutOfRange: a figure beyond what can be worked out.
    """
    request = request_of(loaded)
    plan = plan_row(plan_trip(request))
    energy = loaded["trip"]["energy"]
    if energy and energy["days"] not in (None, request.trip.days):
        plan["remarks"].append(f"energy is worked out for the {request.trip.days} days of the trip")
    return plan


def request_of(loaded: dict[str, Any]) -> TripRequest:
    """Build the request, as the shape loaded it."""
    return TripRequest(
        loaded["today"], _trip(loaded["trip"]), tuple(map(machine_of, loaded["machines"])),
        tuple(map(fit_point_of, loaded["fit_points"])), tuple(map(task_of, loaded["tasks"])),
        records_of(loaded["records"]), readings_of(loaded["readings"]),
        tuple(map(_part, loaded["parts"])), tuple(map(_lot, loaded["lots"])),
        tuple(map(failure_of, loaded["failures"])), loaded["keep"],
        {m["id"]: _burn(m["fuel"]) for m in loaded["machines"] if m["fuel"] is not None})


def _trip(given: dict[str, Any]) -> Trip:
    limits, energy = given["limits"] or {"cost": None, "mass_kg": None}, given["energy"]
    return Trip(
        given["departs_on"], given["days"], given["hours_per_day"], given["hours"],
        tuple(Leg(leg["distance_nm"], leg["speed_kn"], tuple(leg["machines"]),
                  leg["motor_share"], leg["manoeuvring_h"], leg["day"]) for leg in given["legs"]),
        None if energy is None else question_of(energy, max(0, given["days"]), "#/trip/energy"),
        None if energy is None else energy["machine"],
        given["hours_before_departure"] == "as-usual", given["ready_days"], given["protection"],
        tuple(Stop(stop["day"], tuple(stop["sells"])) for stop in given["stops"]),
        Limits(limits["cost"], limits["mass_kg"]), frozenset(given["accepted"]))


def _burn(given: dict[str, Any]) -> Burn:
    return Burn(tuple(given["table"]), given["at_kn"], given["l_per_h"], given["idle_l_per_h"],
                given["manoeuvring_l_per_h"])


def _part(given: dict[str, Any]) -> Part:
    return Part(given["id"], given["lead_days"], given["cost"], given["mass_kg"], given["pack"],
                tuple(given["stand_ins"]), given["name"])


def _lot(given: dict[str, Any]) -> Lot:
    return Lot(given["part"], given["quantity"], given["locker"], given["condition"],
               None if given["expires"] is None else given["expires"][0], given["aboard"],
               given["reachable"], given["reserved"], given["counted"])
