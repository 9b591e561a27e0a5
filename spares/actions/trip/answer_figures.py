"""Figures beside a plan's lines: running, energy, fuel, stops, protection in words."""

from __future__ import annotations

from datetime import date
from fractions import Fraction
from typing import Any

from spares.actions.amounts import money
from spares.actions.trip.money import cost
from spares.actions.trip.request import burns_of
from spares.actions.trip.request_trip import loads_kwh, loads_of, motoring_of, solar_kwh
from spares.actions.trip.stored import length
from spares.domain.aboard import Aboard, Record
from spares.domain.cautions import hazard_words
from spares.domain.dates import add_days
from spares.domain.trip.fuel import THIRDS, leg_fuel
from spares.domain.trip.request import Burn, Leg
from spares.domain.trip.words import of_hundred

_WAYS = {"hours": "given for the whole trip", "legs": "from the legs and the days at anchor",
         "energy": "from the daily balance of the battery", "water": "from the crew's water",
         "counter-of": "it goes by another machine's hours", "none": "none given, taken as 0 h"}
HUNDRED = 100
FUELS = {"fuel", "petrol"}       # hazards by which a machine is known to burn something


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


def fuel_answer(aboard: Aboard, trip: Record, asked: dict[str, Any],
                plan: dict[str, Any]) -> dict[str, Any] | None:
    """Give the fuel of the trip with its reserve, stretch by stretch between bunkerings."""
    told, missing = trip.fuel or {}, _burn_not_known(aboard, trip, asked, plan)
    fuel = plan["fuel"]
    if fuel is None:
        return {"fuel_l": None, "state": "not-known", "missing": missing} if missing else None
    reserve = told.get("reserve") or "thirds"
    factor = THIRDS if reserve == "thirds" else 1 + float(reserve)
    stretches = _stretches(aboard, trip, asked, plan, factor)
    needed = max(one["needed_l"] for one in stretches)
    tank = float(told["tank_l"]) if told.get("tank_l") else None
    burnt = max(one["fuel_l"] for one in stretches)
    state = "not-known" if tank is None or missing and tank >= needed else (
        "enough" if tank >= needed else "short")
    rule = ("a third out, a third back, a third kept" if reserve == "thirds" else
            f"{float(reserve) * HUNDRED:g} % of the plan kept")
    between = "the longest stretch between bunkerings" if len(stretches) > 1 else "the trip"
    return {**fuel, "missing": missing, "reserve": reserve, "needed_l": needed, "tank_l": tank,
            "reserve_share": None if tank is None else round((tank - burnt) / tank, 3),
            "state": state, "stretches": stretches,
            "why": f"{between} burns {burnt:.1f} l; with {rule}, {needed:.1f} l are wanted"}


def _burn_not_known(aboard: Aboard, trip: Record, asked: dict[str, Any],
                    plan: dict[str, Any]) -> list[str]:
    """Give the machines that burn fuel in this plan, nobody knows how much.

    Hours alone tell no litres: a leg by hours needs its speed, and hours that are given for a
    machine that is known to burn something are not counted either.
    """
    if not (trip.legs or trip.energy or trip.fuel or trip.at_anchor):
        return []
    recorded = {one.no for one in aboard.all("machine") if one.burns}
    burning = recorded | {one.no for one in aboard.all("machine")
                          if FUELS & set(hazard_words(one.hazards))}
    on_legs = {machine for leg in asked.get("legs", []) for machine in leg["machines"]}
    going = {machine for leg in asked.get("legs", []) if leg["distance_nm"] not in ("0", 0)
             for machine in leg["machines"]}
    no_speed = {aboard.label(machine) for leg in trip.legs or []
                if leg.get("hours") is not None and leg.get("speed_kn") is None
                for machine in leg["machines"]}
    charges = {asked["energy"]["machine"]} if asked.get("energy") else set()
    charging = charges if (plan["energy"] or {}).get("fuel_l") is None else set()
    by_hours = {machine for machine, run in plan["hours"].items() if run and machine in burning}
    return sorted(going - recorded | no_speed & burning | on_legs & burning - recorded | charging
                  | by_hours - on_legs - charges)


def _stretches(aboard: Aboard, trip: Record, asked: dict[str, Any], plan: dict[str, Any],
               factor: float) -> list[dict[str, Any]]:
    """Cut the fuel at the stops that bunker, where every leg says its day; else not at all."""
    days, legs = length(trip) or 0, asked.get("legs", [])
    begin = date.fromisoformat(trip.departs_on)
    marks = sorted({(date.fromisoformat(stop["arrives_on"]) - begin).days
                    for stop in trip.stops or [] if stop.get("bunkers")} - {0, days})
    going = [leg for leg in legs if leg["distance_nm"] not in ("0", 0)]
    if any(leg.get("day") is None for leg in going):
        marks = []
    edges = [0, *marks, days]
    burns = {one.no: burns_of(one) for one in aboard.all("machine") if one.burns}
    energy = asked.get("energy")
    charging = (plan["energy"] or {}).get("fuel_l") or 0.0 if energy else 0.0
    found = []
    for start, end in zip(edges, edges[1:], strict=False):
        share = (end - start) / days if days else 1.0
        litres = charging * share
        for leg in legs:
            for machine in leg["machines"]:
                if machine in burns:
                    whole = leg_fuel(_burn(burns[machine]), _leg(leg))
                    inside = leg.get("day") is None and share or (
                        leg.get("day") is not None and start <= leg["day"] < max(end, start + 1))
                    litres += whole * float(inside)
        found.append({"from": add_days(begin, start).isoformat(),
                      "until": add_days(begin, end).isoformat(), "fuel_l": round(litres, 2),
                      "needed_l": round(litres * factor, 2)})
    return found


def protection_answer(protection: dict[str, Any]) -> dict[str, Any]:
    """Say how well she is protected so that it can be pictured."""
    now, bought = (of_hundred(protection[name]) for name in ("reached", "reached_bought"))
    text = f"Of 100 such trips, {now} need nothing against breakdown that is not aboard"
    return {**protection, "text": f"{text}." if now == bought else
            f"{text}; with the list bought, {bought}."}


def _burn(burns: dict[str, Any]) -> Burn:
    pairs = tuple((Fraction(a), Fraction(b)) for a, b in burns.get("table") or ())
    point = [None if burns.get(name) is None else Fraction(burns[name])
             for name in ("at_kn", "l_per_h")]
    return Burn(pairs, *point, Fraction(burns.get("idle_l_per_h", "0")),
                Fraction(burns["manoeuvring_l_per_h"]))


def _leg(leg: dict[str, Any]) -> Leg:
    return Leg(Fraction(leg["distance_nm"]), Fraction(leg["speed_kn"]), (),
               Fraction(leg.get("motor_share", "1")), Fraction(leg.get("manoeuvring_h", "0.5")))


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
