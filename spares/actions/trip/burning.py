"""Burning: what the engines burn on which leg, and where their tables end."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from spares.domain.aboard import Aboard, Record
from spares.domain.trip.fuel import leg_fuel, table_end
from spares.domain.trip.request import Burn, Leg


def burns_of(machine: Record) -> dict[str, Any]:
    """Give what an engine burns, as it was written down."""
    return {key: value for key, value in machine.burns.items() if value is not None}


def beyond_tables(aboard: Aboard, legs: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Give each engine and leg (from 1) that is faster than the engine's table goes [kn]."""
    burns = burns_aboard(aboard)
    found = []
    for place, leg in enumerate(legs, start=1):
        for machine in leg["machines"]:
            end = table_end(burns[machine], leg_of(leg)) if machine in burns else None
            if end is not None:
                found.append({"machine": machine, "leg": place, "table_ends_kn": float(end),
                              "speed_kn": float(Fraction(leg["speed_kn"]))})
    return found


def burns_aboard(aboard: Aboard) -> dict[str, Burn]:
    """Give what is recorded of each engine's burning, by its short name."""
    return {one.no: _burn(burns_of(one)) for one in aboard.all("machine") if one.burns}


def litres_on(burn: Burn, leg: dict[str, Any]) -> float | None:
    """Give what one engine burns on one leg [L]; None if its table does not go so fast."""
    return None if table_end(burn, leg_of(leg)) is not None else float(leg_fuel(burn, leg_of(leg)))


def _burn(burns: dict[str, Any]) -> Burn:
    pairs = tuple((Fraction(a), Fraction(b)) for a, b in burns.get("table") or ())
    return Burn(pairs, *(None if burns.get(name) is None else Fraction(burns[name]) for name in
                         ("at_kn", "l_per_h", "idle_l_per_h", "manoeuvring_l_per_h")))


def leg_of(leg: dict[str, Any]) -> Leg:
    """Give a leg of the request as the computation has it."""
    return Leg(Fraction(leg["distance_nm"]), Fraction(leg["speed_kn"]), tuple(leg["machines"]),
               Fraction(leg.get("motor_share", "1")), Fraction(leg.get("manoeuvring_h", "0.5")),
               leg.get("day"))
