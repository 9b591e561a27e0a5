"""One vessel and one trip as a request to the trip computation.

Things go by the numbers that people use, so that the reasons read well.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from spares.actions.reading import starts_anew
from spares.actions.things import service_points
from spares.actions.trips import hours_of, length
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.stowage import condition_of, counts_as_aboard, expires_of, is_reachable
from spares.domain.tree import GOOD_PROOF, is_live, points_taking

MINUTES_PER_HOUR = 60


def trip_request(aboard: Aboard, trip: Record, today: date) -> dict[str, Any]:
    """Write the whole request: trip, machines, tasks, records, readings, parts, lots."""
    parts = wanted_parts(aboard)
    return {
        "today": today.isoformat(), "trip": _trip(aboard, trip), **service_request(aboard),
        "parts": _parts(aboard, parts),
        "lots": [lot for name in parts for lot in _lots(aboard, name)],
        "keep": {aboard.label(one.part): _quantity(one.q)
                 for one in sorted(aboard.all("keep"), key=lambda one: one.q or 0)
                 if one.part in parts and one.q},
        "failures": [{"part": aboard.label(one.part), **one.figures,
                      **({"machine": aboard.label(one.machine)} if one.machine else {})}
                     for one in aboard.all("failure") if one.part in parts and one.figures]}


def service_request(aboard: Aboard) -> dict[str, Any]:
    """Write what the service computation needs: machines, tasks, records, readings."""
    takes = _takes(aboard)
    tasks = [one for one in aboard.all("service")
             if not one.not_wanted and not _is_gone(aboard, one.point)]
    return {
        "machines": [{"id": one.no, "counter": _counter(aboard, one), "weight": one.weight or "B",
                      "name": one.name}
                     for one in aboard.all("machine")],
        "fit_points": [{"id": one.no, "machine": aboard.label(one.machine),
                        "weight": one.weight or "B", "takes": takes.get(name_of("point", one), []),
                        "retired": not is_live(aboard, one)}
                       for one in aboard.all("point")
                       if one.machine and not _is_gone(aboard, one.machine)],
        "tasks": [_task(aboard, one) for one in tasks if _machine_of(aboard, one)],
        "records": [_record(aboard, one) for one in aboard.done
                    if one.date and aboard.get(one.service) in tasks
                    and _machine_of(aboard, aboard.get(one.service))],
        "readings": [_reading(aboard, one) for one in sorted(
            aboard.readings, key=lambda one: (one.date, one.at))
            if one.minutes is not None and not _is_gone(aboard, one.machine)]}


def wanted_parts(aboard: Aboard, *, named_only: bool = False) -> dict[str, None]:
    """Give the parts that can be asked for or can serve: in kits, kept, failing, standing in.

    With *named_only* also those of which only the name is known here.
    """
    names = [line.part for line in aboard.all("kit-line")]
    names += [one.part for kind in ("keep", "failure") for one in aboard.all(kind)]
    names += [one.part for name in dict.fromkeys(names)
              for one in aboard.stand_ins_for.get(name, [])]
    return {name: None for name in dict.fromkeys(names)
            if named_only or aboard.get(name) is not None}


def _trip(aboard: Aboard, trip: Record) -> dict[str, Any]:
    given = {"departs_on": trip.departs_on, "days": length(trip), "ready_days": trip.ready_days,
             "hours_before_departure": trip.hours_before_departure,
             "hours": {aboard.label(line.machine): _hours(line.minutes)
                       for line in hours_of(aboard, name_of("trip", trip))
                       if not _is_gone(aboard, line.machine)}}
    protection = (trip.protection or {}).get("level")
    more = {"protection": protection, "limits": trip.limits,
            "accepted": [aboard.label(one.part) for one in aboard.all("trip-accept")
                         if one.trip == name_of("trip", trip)]}
    return {key: value for key, value in {**given, **more}.items() if value not in (None, [])}


def _takes(aboard: Aboard) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for part in aboard.all("part"):
        for point, proof in points_taking(aboard, name_of("part", part)).items():
            if proof in GOOD_PROOF or proof == "":
                found.setdefault(point, []).append(part.no)
    return found


def _machine_of(aboard: Aboard, service: Record | None) -> Record | None:
    if service is None:
        return None
    machine = aboard.get(service.machine)
    if machine is None and service.point:
        point = aboard.get(service.point)
        machine = aboard.get(point.machine) if point is not None else None
    return None if machine is None or machine.gone else machine


def _counter(aboard: Aboard, machine: Record) -> str:
    """Say whose hour meter counts for a machine: its own, another's, or none."""
    if machine.counter != "of":
        return machine.counter or "own"
    return "none" if _is_gone(aboard, machine.counter_of) else aboard.label(machine.counter_of)


def _is_gone(aboard: Aboard, name: str | None) -> bool:
    """Say whether what is named was taken off the books or never came."""
    record = aboard.get(name)
    return bool(name) and (record is None or record.gone)


def _task(aboard: Aboard, one: Record) -> dict[str, Any]:
    name = name_of("service", one)
    points = service_points(aboard, name)
    fields = {"every_h": _hours(one.every_minutes), "every_months": one.every_months,
              "first_h": _hours(one.first_minutes), "in_port": one.in_port,
              "fit_point": aboard.label(points[0]) if points else None, "name": one.what}
    return {"id": one.no, "machine": _machine_of(aboard, one).no,
            **{key: value for key, value in fields.items() if value not in (None, "")},
            "kit": [{"part": aboard.label(line.part), "quantity": _quantity(line.q),
                     "set_aside": bool(line.set_aside), **({"share": line.share} if line.share
                                                           else {})}
                    for line in aboard.kits_of.get(name, [])
                    if line.q and aboard.get(line.part) is not None]}


def _record(aboard: Aboard, one: Any) -> dict[str, Any]:
    return {"task": aboard.label(one.service), "on": one.date,
            **({"at_h": _hours(one.minutes)} if one.minutes is not None else {})}


def _reading(aboard: Aboard, one: Any) -> dict[str, Any]:
    return {"machine": aboard.label(one.machine), "on": one.date, "h": _hours(one.minutes),
            **({"new_counter": True} if starts_anew(one.because) else {}),
            **({"doubt": one.doubt} if one.doubt and not starts_anew(one.because) else {})}


def _parts(aboard: Aboard, known: Iterable[str]) -> list[dict[str, Any]]:
    """Write the parts, each with those of its stand-ins that are written too."""
    parts = [_part(aboard, name) for name in known]
    ids = {part["id"] for part in parts}
    return [{**part, "stand_ins": [other for other in part.get("stand_ins", ())
                                   if other != part["id"] and other in ids]} for part in parts]


def _part(aboard: Aboard, name: str) -> dict[str, Any]:
    part = aboard.get(name)
    fields = {"lead_days": part.lead_days, "mass_kg": _quantity(part.mass_g or 0) or None,
              "cost": _cents(part.price) if part.price else None,
              "pack": _quantity(part.pack) if part.pack else None, "name": part.name,
              "stand_ins": [aboard.label(one.part) for one in aboard.stand_ins_for.get(name, [])
                            if one.proof in GOOD_PROOF]}
    return {"id": part.no,
            **{key: value for key, value in fields.items() if value not in (None, [])}}


def _lots(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    """Write the lots of a part; what is below zero in one place is missing in another."""
    lying = aboard.lying_of.get(name, [])
    missing = sum(-one.low for one in lying if one.low < 0)
    lots = []
    for one in lying:
        there = max(one.low, 0)
        off = min(there, missing) if counts_as_aboard(aboard, one) else 0
        missing -= off
        lots.append(_lot(aboard, one, there - off))
    return lots


def _lot(aboard: Aboard, one: Any, there: int) -> dict[str, Any]:
    lot = aboard.get(one.lot)
    return {"part": aboard.label(one.part), "locker": aboard.label(one.locker),
            "quantity": _quantity(there), "condition": condition_of(aboard, one),
            "expires": expires_of(aboard, one), "aboard": counts_as_aboard(aboard, one),
            "reachable": is_reachable(aboard, one.locker),
            "reserved": _quantity((lot.reserved or 0) if lot is not None else 0),
            "counted": one.counted}


def _hours(minutes: int | None) -> str | None:
    """Give minutes as hours in decimal text, fine enough to give the minutes back."""
    if minutes is None:
        return None
    whole, rest = divmod(minutes, MINUTES_PER_HOUR)
    return f"{whole}.{(rest * 10_000 + MINUTES_PER_HOUR // 2) // MINUTES_PER_HOUR:04}"


def _quantity(thousandths: int) -> int | str:
    whole, rest = divmod(thousandths, 1000)
    return f"{whole}.{rest:03}" if rest else whole


def _cents(price: dict[str, Any]) -> str:
    return f"{price['minor'] // 100}.{price['minor'] % 100:02}"
