"""Fuel beside a plan: litres by machine, the reserve, what is not known, the tank."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.trip.burning import beyond_tables, burns_aboard, litres_on
from spares.actions.trip.stored import planned_days
from spares.domain.aboard import Aboard, Record
from spares.domain.cautions import hazard_words
from spares.domain.dates import add_days
from spares.domain.service.hours import MINUTES_PER_HOUR
from spares.domain.trip.burnt import not_burnt
from spares.domain.trip.fuel import THIRDS
from spares.domain.trip.request import TripRequest
from spares.transfer.compute.figures import rounded

HUNDRED = 100
FUELS = {"fuel", "petrol"}       # hazards by which a machine is known to burn something


def fuel_answer(aboard: Aboard, trip: Record, asked: dict[str, Any], plan: dict[str, Any],
                values: TripRequest) -> dict[str, Any] | None:
    """Give the fuel of the trip with its reserve, stretch by stretch between bunkerings."""
    told, legs = trip.fuel or {}, asked.get("legs", [])
    too_fast = beyond_tables(aboard, legs)
    missing = sorted({*_burn_not_known(aboard, trip, plan, values),
                      *(one["machine"] for one in too_fast)})
    litres = _by_machine(aboard, legs, plan, {one["machine"] for one in too_fast})
    if not litres:
        return {"fuel_l": None, "state": "not-known", "missing": missing,
                "too_fast": too_fast} if missing else None
    whole = sum(litres.values())
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
    return {"machines": litres, "fuel_l": rounded(whole),
            "fuel_with_thirds_l": rounded(whole * float(THIRDS)), "missing": missing,
            "too_fast": too_fast, "reserve": reserve, "needed_l": needed, "tank_l": tank,
            "reserve_share": None if tank is None else round((tank - burnt) / tank, 3),
            "state": state, "stretches": stretches,
            "why": f"{between} burns {burnt:.1f} L; with {rule}, {needed:.1f} L are wanted"}


def _by_machine(aboard: Aboard, legs: list[dict[str, Any]], plan: dict[str, Any],
                too_fast: set[str]) -> dict[str, float]:
    """Give the litres of each machine as the plan has them [L].

    A machine that is too fast for its table has those of its other legs.
    """
    found, burns = dict((plan["fuel"] or {}).get("machines", {})), burns_aboard(aboard)
    for machine in sorted(too_fast):
        known = [litres_on(burns[machine], leg) for leg in legs if machine in leg["machines"]]
        litres = [one for one in known if one is not None]
        if litres:
            found[machine] = rounded(found.get(machine, 0) + sum(litres))
    return found


def _burn_not_known(aboard: Aboard, trip: Record, plan: dict[str, Any],
                    values: TripRequest) -> set[str]:
    """Give the machines that burn fuel in this plan, nobody knows how much.

    A leg by hours needs its speed too: without, it counts as idling only. Whoever names one
    names all: a machine that is not named would be taken as counted.
    """
    burning = {one.no for one in aboard.all("machine")
               if one.burns or FUELS & set(hazard_words(one.hazards))}
    no_speed = {aboard.label(machine) for leg in trip.legs or []
                if leg.get("hours") is not None and leg.get("speed_kn") is None
                for machine in leg["machines"]}
    run = {machine: round(hours * MINUTES_PER_HOUR) for machine, hours in plan["hours"].items()}
    charges = (plan["energy"] or {}).get("fuel_l") is not None
    return no_speed & burning | not_burnt(values, run, charges, burning).keys()


def _stretches(aboard: Aboard, trip: Record, asked: dict[str, Any], plan: dict[str, Any],
               factor: float) -> list[dict[str, Any]]:
    """Cut the fuel at the stops that bunker, where every leg says its day; else not at all."""
    days, legs = planned_days(trip), asked.get("legs", [])
    begin = date.fromisoformat(trip.departs_on)
    marks = sorted({(date.fromisoformat(stop["arrives_on"]) - begin).days
                    for stop in trip.stops or [] if stop.get("bunkers")})
    marks = [day for day in marks if 0 < day < days]
    going = [leg for leg in legs if leg["distance_nm"] not in ("0", 0)]
    if any(leg.get("day") is None for leg in going):
        marks = []
    edges = [0, *marks, days]
    burns = burns_aboard(aboard)
    energy = asked.get("energy")
    charging = (plan["energy"] or {}).get("fuel_l") or 0.0 if energy else 0.0
    found = []
    for start, end in zip(edges, edges[1:], strict=False):
        share = (end - start) / days
        litres = charging * share
        for leg in legs:
            for machine in leg["machines"]:
                whole = litres_on(burns[machine], leg) if machine in burns else None
                if whole is not None:
                    inside = leg.get("day") is None and share or (
                        leg.get("day") is not None and start <= leg["day"] < max(end, start + 1))
                    litres += whole * float(inside)
        found.append({"from": add_days(begin, start).isoformat(),
                      "until": add_days(begin, end).isoformat(), "fuel_l": round(litres, 2),
                      "needed_l": round(litres * factor, 2)})
    return found
