"""The trip in the request: running, energy, water, levels, stops, limits.

Whatever a person may leave out is worked out here: hours at anchor become running, loads
become the daily charge, dates of stops become day indexes, kinds and sellers become parts.
"""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction
from typing import Any

from spares.actions.trip.stored import hours_of, planned_days
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.service.events import Running
from spares.domain.service.task import Machine
from spares.domain.trip.daily import Load, load_kwh, motoring_kwh, water_hours
from spares.domain.trip.request import Leg, Trip
from spares.domain.trip.running import running
from spares.errors import InvalidInput

MINUTES_PER_HOUR = 60
INVERTER, ALTERNATOR = Decimal("0.9"), Decimal("0.85")
_W_PER_KW = 1000


def trip_of(aboard: Aboard, trip: Record, parts: list[Record]) -> dict[str, Any]:
    """Write a trip for the computation; *parts* are those that a plan can ask for.

    Raises:
        InvalidInput: one machine's running is given in two ways, or a day lies outside.
    """
    legs, water = legs_of(aboard, trip), water_of(aboard, trip)
    given = {
        "departs_on": trip.departs_on, "days": planned_days(trip), "ready_days": trip.ready_days,
        "hours_before_departure": trip.hours_before_departure,
        "hours": {aboard.label(line.machine): hours_text(line.minutes)
                  for line in hours_of(aboard, name_of("trip", trip))
                  if not is_gone(aboard, line.machine)},
        "legs": legs, "hours_per_day": water,
        "energy": energy_of(aboard, trip, legs, water),
        "protection": protection_of(trip), "stops": stops_of(aboard, trip, parts),
        "limits": limits_of(trip),
        "accepted": [aboard.label(one.part) for one in aboard.all("trip-accept")
                     if one.trip == name_of("trip", trip)]}
    return {key: value for key, value in given.items() if value not in (None, [], {})}


def legs_of(aboard: Aboard, trip: Record) -> list[dict[str, Any]]:
    """Give the legs, and the running at anchor as legs that lead nowhere."""
    found = []
    for leg in trip.legs or []:
        one = {name: leg[name] for name in ("distance_nm", "speed_kn", "motor_share",
                                            "manoeuvring_h", "day") if leg.get(name) is not None}
        if leg.get("hours") is not None:
            one = _by_hours(leg, one)
        found.append({**one, "machines": _labels(aboard, leg["machines"])})
    anchor = trip.at_anchor or {"days": 0, "run": []}
    for line in anchor["run"]:
        whole = Decimal(line["hours_per_day"]) * anchor["days"]
        if whole and not is_gone(aboard, line["machine"]):
            found.append({"distance_nm": "0", "speed_kn": "0", "manoeuvring_h": str(whole),
                          "machines": [aboard.label(line["machine"])]})
    return found


def _by_hours(leg: dict[str, Any], one: dict[str, Any]) -> dict[str, Any]:
    """A leg of given hours: with its speed it has a distance, without it has none."""
    extra, day = one.get("manoeuvring_h", "0"), {k: one[k] for k in ("day",) if k in one}
    if leg.get("speed_kn") is None:
        whole = Decimal(leg["hours"]) + Decimal(extra)
        return {"distance_nm": "0", "speed_kn": "0", "manoeuvring_h": str(whole), **day}
    way = Decimal(leg["hours"]) * Decimal(leg["speed_kn"])
    return {"distance_nm": str(way), "speed_kn": leg["speed_kn"], "manoeuvring_h": extra, **day}


def water_of(aboard: Aboard, trip: Record) -> dict[str, str]:
    """Give the watermaker's hours a day from the crew."""
    water = trip.water
    if not water or is_gone(aboard, water["machine"]):
        return {}
    if trip.crew is None:
        raise InvalidInput.at("#/crew", "is needed to tell how long the watermaker runs")
    a_day = water_hours(trip.crew, Fraction(water["litres_per_person"]),
                        Fraction(water["output_l_per_h"]))
    if a_day > 24:
        raise InvalidInput.at("#/water/output_l_per_h", "a day has too few hours for so much water")
    return {aboard.label(water["machine"]): decimal_text(a_day)}


def energy_of(aboard: Aboard, trip: Record, legs: list[dict[str, Any]],
              water: dict[str, str]) -> dict[str, Any] | None:
    """Give the daily charge: loads, sun and what the engine puts back, summed up."""
    energy = trip.energy
    if not energy or is_gone(aboard, energy["machine"]):
        return None
    found = {name: energy[name] for name in
             ("use_kwh", "charger_kw", "efficiency", "solar", "bank", "charger", "generator")
             if energy.get(name) is not None}
    found["machine"] = aboard.label(energy["machine"])
    if "use_kwh" in found:
        return found
    found["loads_kwh_per_day"] = decimal_text(loads_kwh(energy))
    found["motoring_kwh_per_day"] = decimal_text(motoring_of(aboard, trip, legs))
    if trip.water and trip.water.get("needs_generator"):
        found["other_generator_hours_per_day"] = next(iter(water.values()), "0")
    return found


def loads_of(energy: dict[str, Any]) -> list[tuple[str, Fraction]]:
    """Give name and daily energy [kWh] of each load."""
    share = Fraction(energy.get("inverter_efficiency") or INVERTER)
    return [(one.get("name") or "", load_kwh(Load(
        Fraction(one["watts"]), Fraction(one["hours_per_day"]), one.get("count", 1),
        bool(one.get("ac"))), share)) for one in energy.get("loads") or []]


def loads_kwh(energy: dict[str, Any]) -> Fraction:
    """Give what all loads take in a day [kWh]."""
    return sum((kwh for _, kwh in loads_of(energy)), Fraction(0))


def solar_kwh(energy: dict[str, Any]) -> Fraction:
    """Give what the panels put back in a day [kWh]."""
    sun = energy.get("solar")
    if not sun:
        return Fraction(0)
    return Fraction(sun["peak_w"]) * Fraction(sun["sun_hours"]) * Fraction(
        sun.get("derate") or "0.75") / _W_PER_KW


def motoring_of(aboard: Aboard, trip: Record, legs: list[dict[str, Any]]) -> Fraction:
    """Give what the alternator puts back [kWh/day], limited on each day under way."""
    energy, alternator = trip.energy, trip.energy.get("alternator")
    if not alternator:
        return Fraction(0)
    run = _running_of(aboard, trip, legs, alternator["machine"])
    bank = energy["bank"]
    volts = Fraction(bank["volts"])
    kw = Fraction(alternator["net_a"]) * volts / _W_PER_KW * Fraction(
        alternator.get("efficiency") or ALTERNATOR)
    window_ah = (Fraction(bank["to"]) - Fraction(bank["from"])) * Fraction(bank["ah"])
    most = window_ah * volts / _W_PER_KW
    daily = [run.until(day + 1) - run.until(day) for day in range(run.days)]
    return motoring_kwh(daily, kw, loads_kwh(energy) - solar_kwh(energy), most)


def _running_of(aboard: Aboard, trip: Record, legs: list[dict[str, Any]],
                machine: str) -> Running:
    label, days = aboard.label(machine), planned_days(trip)
    mine = tuple(Leg(
        Fraction(leg["distance_nm"]), Fraction(leg["speed_kn"]), (label,),
        Fraction(leg.get("motor_share", "1")), Fraction(leg.get("manoeuvring_h", "0.5")),
        leg.get("day")) for leg in legs if label in leg["machines"])
    given = next((line.minutes for line in hours_of(aboard, name_of("trip", trip))
                  if line.machine == machine), None)
    hours = {} if given is None else {label: Fraction(given, MINUTES_PER_HOUR)}
    asked = Trip(date.fromisoformat(trip.departs_on), days, hours=hours, legs=mine)
    return running(asked, {label: Machine(label)}, None)[0][label]


def protection_of(trip: Record) -> Any:
    """Give one level, or one a weight; None for the usual ones."""
    levels = {key: value for key, value in (trip.protection or {}).items() if value is not None}
    return levels.get("level") or levels or None


def limits_of(trip: Record) -> dict[str, str] | None:
    """Give the limits in the plan's currency."""
    limits = {name: value for name, value in (trip.limits or {}).items()
              if name in ("cost", "mass_kg") and value is not None}
    return limits or None


def stops_of(aboard: Aboard, trip: Record, parts: list[Record]) -> list[dict[str, Any]]:
    """Give the stops by day index with the parts that are sold there; not those outside."""
    found, outside = [], stops_outside(trip)
    for place, stop in enumerate(trip.stops or []):
        if place in outside:
            continue
        day = (date.fromisoformat(stop["arrives_on"]) - date.fromisoformat(trip.departs_on)).days
        named = {aboard.kept_parts.get(one, one) for one in stop.get("parts") or []}
        sold = [one.no for one in parts
                if stop.get("all") or name_of("part", one) in named
                or (one.seller or one.maker) in (stop.get("sellers") or [])
                or one.kind and one.kind in (stop.get("kinds") or [])]
        found.append({"day": day, "sells": sold})
    return found


def stops_outside(trip: Record) -> dict[int, str]:
    """Say by its place which stop lies outside the trip's days: two phones can bring that in."""
    return {place: f"{stop['arrives_on']} is outside the trip"
            for place, stop in enumerate(trip.stops or [])
            if not trip.departs_on <= stop["arrives_on"] <= trip.returns_on}


def is_gone(aboard: Aboard, name: str | None) -> bool:
    """Say whether what is named was taken off the books or never came."""
    record = aboard.get(name)
    return bool(name) and (record is None or record.gone)


def hours_text(minutes: int | None) -> str | None:
    """Give minutes as hours in decimal text, fine enough to give the minutes back."""
    if minutes is None:
        return None
    whole, rest = divmod(minutes, MINUTES_PER_HOUR)
    return f"{whole}.{(rest * 10_000 + MINUTES_PER_HOUR // 2) // MINUTES_PER_HOUR:04}"


def decimal_text(number: Fraction) -> str:
    """Write an exact number with nine decimals."""
    return f"{float(number):.9f}"


def _labels(aboard: Aboard, machines: list[str]) -> list[str]:
    return [aboard.label(one) for one in machines if not is_gone(aboard, one)]
