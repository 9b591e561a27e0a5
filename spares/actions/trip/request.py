"""Request: one vessel and one trip as the trip computation takes them.

Things go by the numbers that people use, so that the reasons read well.
"""

from __future__ import annotations

from collections.abc import Set
from datetime import date
from typing import Any

from spares.actions.hour_meters import (
    corrects_last,
    meter_machine,
    service_machine,
    starts_anew,
    too_high_noted,
)
from spares.actions.jobs import service_points
from spares.actions.trip.burning import beyond_tables, burns_of
from spares.actions.trip.money import Purse, purse
from spares.actions.trip.request_failures import failure_rows
from spares.actions.trip.request_trip import hours_text, is_gone, trip_of
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.own_log import failures_aboard
from spares.domain.stowage import condition_of, counts_as_aboard, expires_of, is_reachable
from spares.domain.tree import GOOD_PROOF, is_live, linked_parts, points_taking
from spares.domain.walk_round import GUESSED, TOLD, origin_of
from spares.errors import InvalidInput


def trip_request(aboard: Aboard, trip: Record, today: date) -> dict[str, Any]:
    """Write the whole request: trip, machines, tasks, records, readings, parts, lots."""
    parts = wanted_parts(aboard)
    money = purse(aboard, trip)
    records = [aboard.get(name) for name in parts]
    rows, _ = failure_rows(aboard) if counts_failures(trip) else ([], [])
    asked = trip_of(aboard, trip, records)
    too_fast = {one["machine"] for one in beyond_tables(aboard, asked.get("legs", []))}
    return {
        "today": today.isoformat(), "trip": asked,
        **service_request(aboard, today, no_fuel=too_fast),
        "parts": [_part(aboard, name, parts, money) for name in parts],
        "lots": [lot for name in parts for lot in _lots(aboard, name)],
        "keep": {aboard.label(one.part): _quantity(one.q)
                 for one in sorted(aboard.all("keep"), key=lambda one: one.q or 0)
                 if one.part in parts and one.q},
        "failures": [one.row for one in rows if one.part in parts]}


def counts_failures(trip: Record) -> bool:
    """Say whether a trip's plan counts what may break; it does unless told otherwise."""
    return trip.count_failures is not False


def service_request(aboard: Aboard, today: date, *,
                    no_fuel: Set[str] = frozenset()) -> dict[str, Any]:
    """Write what the service computation needs: machines, tasks, records, readings.

    Machines of *no_fuel* go without what they burn: the computation refuses a leg that is
    faster than the engine's table, and the rest of the plan is wanted all the same.
    """
    takes, doubts = _takes(aboard), too_high_noted(aboard, today)
    tasks = [one for one in _wanted_services(aboard) if not lacks(aboard, one)]
    planned = {name_of("service", one) for one in tasks}
    return {
        "machines": [_machine(aboard, one, one.no not in no_fuel) for one in aboard.all("machine")],
        "fit_points": [{"id": one.no, "machine": aboard.label(one.machine),
                        "weight": one.weight or "B", "takes": takes.get(name_of("point", one), []),
                        "retired": not is_live(aboard, one)}
                       for one in aboard.all("point")
                       if one.machine and not is_gone(aboard, one.machine)],
        "tasks": [_task(aboard, one) for one in tasks],
        "records": [_record(aboard, one, doubts.get(one.change)) for one in aboard.done
                    if one.date and one.service in planned],
        "readings": [_reading(aboard, one) for one in sorted(
            aboard.readings, key=lambda one: (one.date, one.at))
            if one.minutes is not None and not is_gone(aboard, one.machine)]}


def not_planned(aboard: Aboard) -> list[str]:
    """Name the services that no plan can count, and why: none is passed over unsaid."""
    return [f"{one.no} {one.what}: {lacks(aboard, one)}, so not counted here"
            for one in _wanted_services(aboard) if lacks(aboard, one)]


def _wanted_services(aboard: Aboard) -> list[Record]:
    return [one for one in aboard.all("service")
            if not one.not_wanted and not is_gone(aboard, one.point) and not on_gone(aboard, one)]


def on_gone(aboard: Aboard, service: Record) -> bool:
    """Tell whether the machine that a service is done on was taken off the books."""
    machine = aboard.get(service.machine)
    return machine is not None and bool(machine.gone) and service_machine(aboard, service) is None


def lacks(aboard: Aboard, service: Record) -> str | None:
    """Say what nobody recorded of a service that can fall due; an interval of 0 is none."""
    if service_machine(aboard, service) is None:
        return "no machine recorded"
    return None if service.every_minutes or service.every_months else "no interval recorded"


def _machine(aboard: Aboard, one: Record, with_fuel: bool) -> dict[str, Any]:
    return {"id": one.no, "counter": _counter(aboard, one), "weight": one.weight or "B",
            "name": one.name, **({"fuel": burns_of(one)} if one.burns and with_fuel else {})}


def wanted_parts(aboard: Aboard, *, named_only: bool = False) -> dict[str, None]:
    """Give the parts that can be asked for or can serve: in kits, kept, failing, standing in.

    With *named_only* also those of which only the name is known here.
    """
    names = [line.part for line in aboard.all("kit-line")]
    names += [one.part for kind in ("keep", "failure") for one in aboard.all(kind)]
    names += [one.part for one in failures_aboard(aboard)]
    names += [one.part for name in dict.fromkeys(names)
              for one in aboard.stand_ins_for.get(name, [])]
    return {name: None for name in dict.fromkeys(names)
            if named_only or aboard.get(name) is not None}


def _takes(aboard: Aboard) -> dict[str, list[str]]:
    found: dict[str, list[str]] = {}
    for part in linked_parts(aboard):
        for point, proof in points_taking(aboard, name_of("part", part)).items():
            if proof in GOOD_PROOF or proof == "":
                found.setdefault(point, []).append(part.no)
    return found


def _counter(aboard: Aboard, machine: Record) -> str:
    """Say whose hour meter counts for a machine: its own, another's, or none.

    None too where machines count by one another in a ring, or nobody said by whose.
    """
    if machine.counter != "of":
        return machine.counter or "own"
    try:
        meter_machine(aboard, name_of("machine", machine))
    except InvalidInput:
        return "none"
    return "none" if is_gone(aboard, machine.counter_of) else aboard.label(machine.counter_of)


def _task(aboard: Aboard, one: Record) -> dict[str, Any]:
    name = name_of("service", one)
    points = service_points(aboard, name)
    # an interval of 0, which another device's version may have taken, is none
    fields = {"every_h": hours_text(one.every_minutes or None),
              "every_months": one.every_months or None,
              "first_h": hours_text(one.first_minutes or None), "in_port": one.in_port,
              "fit_point": aboard.label(points[0]) if points else None, "name": one.what}
    return {"id": one.no, "machine": service_machine(aboard, one).no,
            **{key: value for key, value in fields.items() if value not in (None, "")},
            "kit": [{"part": aboard.label(line.part), "quantity": _quantity(line.q),
                     "set_aside": bool(line.set_aside), **({"share": line.share} if line.share
                                                           else {})}
                    for line in aboard.kits_of.get(name, [])
                    if line.q and aboard.get(line.part) is not None]}


def _record(aboard: Aboard, one: Any, doubt: str | None) -> dict[str, Any]:
    return {"task": aboard.label(one.service), "on": one.date,
            **({"at_h": hours_text(one.minutes)} if one.minutes is not None else {}),
            **({"estimated": True} if origin_of(one) in (TOLD, GUESSED) else {}),
            **({"doubt": doubt} if doubt else {})}


def _reading(aboard: Aboard, one: Any) -> dict[str, Any]:
    return {"machine": aboard.label(one.machine), "on": one.date, "h": hours_text(one.minutes),
            **({"new_counter": True} if starts_anew(one.because) else {}),
            **({"corrects": True} if corrects_last(one.because) else {}),
            **({"doubt": one.doubt} if one.doubt and not starts_anew(one.because) else {})}


def _part(aboard: Aboard, name: str, parts: dict[str, None], money: Purse) -> dict[str, Any]:
    part = aboard.get(name)
    fields = {"lead_days": part.lead_days, "mass_kg": _quantity(part.mass_g or 0) or None,
              "cost": money.text(part.price),
              "pack": _quantity(part.pack) if part.pack else None, "name": part.name,
              "stand_ins": list(dict.fromkeys(
                  aboard.label(one.part) for one in aboard.stand_ins_for.get(name, [])
                  if one.proof in GOOD_PROOF and one.part != name
                  and one.part in parts))}
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


def _quantity(thousandths: int) -> int | str:
    whole, rest = divmod(thousandths, 1000)
    return f"{whole}.{rest:03}" if rest else whole
