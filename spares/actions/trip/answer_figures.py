"""Figures beside a plan's lines: running, energy, stops, protection in words."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import money
from spares.actions.trip.money import cost
from spares.actions.trip.request_trip import loads_kwh, loads_of, motoring_of, solar_kwh
from spares.domain.aboard import Aboard, Record
from spares.domain.trip.words import of_hundred

_WAYS = {"hours": "given for the whole trip", "legs": "from the legs and the days at anchor",
         "energy": "from the daily balance of the battery", "water": "from the crew's water",
         "counter-of": "it goes by another machine's hours", "none": "none given, taken as 0 h"}


def running_rows(aboard: Aboard, trip: Record, asked: dict[str, Any],
                 hours: dict[str, float]) -> list[dict[str, Any]]:
    """Say for each machine how long it runs in the trip, and from what that is known."""
    ways = dict.fromkeys(asked.get("hours", {}), "hours")
    ways |= {machine: "legs" for leg in asked.get("legs", []) for machine in leg["machines"]}
    ways |= dict.fromkeys(asked.get("hours_per_day", {}), "water")
    if asked.get("energy"):
        ways[asked["energy"]["machine"]] = "energy"
    rows = []
    for one in aboard.all("machine"):
        if one.no not in hours:
            continue
        way = ways.get(one.no) or (
            "counter-of" if one.counter == "of" and hours[one.no] else "none")
        rows.append({"machine": one.no, "name": one.name, "hours": hours[one.no], "by": way,
                     "why": _WAYS[way]})
    return rows


def energy_answer(aboard: Aboard, trip: Record, asked: dict[str, Any],
                  charged: dict[str, Any] | None) -> dict[str, Any] | None:
    """Give the daily charge with what it was summed up from [kWh/day]."""
    if charged is None:
        return None
    found = {**charged, "machine": asked["energy"]["machine"], "loads": [],
             "loads_kwh_per_day": charged["deficit_kwh"], "solar_kwh_per_day": 0.0,
             "motoring_kwh_per_day": 0.0}
    if "use_kwh" in asked["energy"]:
        return found
    return {**found,
            "loads": [{"name": name, "kwh_per_day": round(float(kwh), 3)}
                      for name, kwh in loads_of(trip.energy)],
            "loads_kwh_per_day": round(float(loads_kwh(trip.energy)), 3),
            "solar_kwh_per_day": round(float(solar_kwh(trip.energy)), 3),
            "motoring_kwh_per_day": round(float(motoring_of(
                aboard, trip, asked.get("legs", []))), 3)}


def protection_answer(protection: dict[str, Any]) -> dict[str, Any]:
    """Say how well she is protected so that it can be pictured."""
    now, bought = (of_hundred(protection[name]) for name in ("reached", "reached_bought"))
    text = f"Of 100 such trips, {now} need nothing against breakdown that is not aboard"
    return {**protection, "text": f"{text}." if now == bought else
            f"{text}; with the list bought, {bought}."}


def stops_answer(aboard: Aboard, trip: Record, plan: dict[str, Any],
                 names: dict[str, str]) -> list[dict[str, Any]]:
    """Name the stops and the parts on their lists."""
    told = {stop["arrives_on"]: stop for stop in trip.stops or []}
    found = []
    for stop in plan["stops"]:
        known = told.get(stop["on"], {})
        found.append({**stop, "name": known.get("name"), "bunkers": bool(known.get("bunkers")),
                      "leaves_on": known.get("leaves_on"),
                      "lines": [_stop_line(aboard, names[line["part"]], line)
                                for line in stop["lines"]]})
    return found


def _stop_line(aboard: Aboard, name: str, line: dict[str, Any]) -> dict[str, Any]:
    part = aboard.get(name)
    return {**line, "name": part.name, "number": part.number, "seller": part.seller or part.maker,
            "cost": money(cost(part, line["buy"]))}
