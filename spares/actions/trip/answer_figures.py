"""Figures beside a plan's lines: running, energy, stops, protection in words."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import money
from spares.actions.trip.money import cost
from spares.actions.trip.request_trip import loads_kwh, loads_of, motoring_of, solar_kwh
from spares.domain.aboard import Aboard, Record
from spares.domain.dates import add_days
from spares.domain.trip.words import of_hundred, say_protected

_WAYS = {"hours": "given for the whole trip", "legs": "from the legs and the days at anchor",
         "energy": "from the daily balance of the battery", "water": "from the crew's water",
         "counter-of": "it goes by another machine's hours", "none": "none given, taken as 0 h"}


def running_rows(aboard: Aboard, asked: dict[str, Any],
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


def until_of(trip: Record, day: int | None) -> str | None:
    """Name the harbour up to which the protection goes; None if it goes to the end."""
    if day is None:
        return None
    on = add_days(date.fromisoformat(trip.departs_on), day).isoformat()
    return harbour(_stops_on(trip, on)) or "the first supply stop"


def _stops_on(trip: Record, on: str) -> list[dict[str, Any]]:
    return [stop for stop in trip.stops or [] if stop["arrives_on"] == on]


def harbour(stops: list[dict[str, Any]]) -> str | None:
    """Name the harbours of one day together; None where none has a name."""
    return " and ".join(stop["name"] for stop in stops if stop.get("name")) or None


def protection_answer(trip: Record, protection: dict[str, Any]) -> dict[str, Any]:
    """Say how well she is protected so that it can be pictured, and up to which harbour."""
    until = until_of(trip, protection["until_day"])
    now, bought = (of_hundred(protection[name]) for name in ("reached", "reached_bought"))
    text = say_protected(protection["reached"], until)
    return {**protection, "until": until, "text": f"{text}." if now == bought else
            f"{text}; with the list bought, {bought}."}


def stops_answer(aboard: Aboard, trip: Record, plan: dict[str, Any],
                 names: dict[str, str]) -> list[dict[str, Any]]:
    """Name the stops and the parts on their lists; harbours of one day have one list."""
    found = []
    for stop in plan["stops"]:
        told = _stops_on(trip, stop["on"])
        found.append({**stop, "name": harbour(told), "bunkers": any(
                          one.get("bunkers") for one in told),
                      "leaves_on": max((one["leaves_on"] for one in told if one.get("leaves_on")),
                                       default=None),
                      "lines": [_stop_line(aboard, names[line["part"]], line)
                                for line in stop["lines"]]})
    return found


def _stop_line(aboard: Aboard, name: str, line: dict[str, Any]) -> dict[str, Any]:
    part = aboard.get(name)
    return {**line, "name": part.name, "number": part.number, "seller": part.seller or part.maker,
            "cost": money(cost(part, line["buy"]))}
