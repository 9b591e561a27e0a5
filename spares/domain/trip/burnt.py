"""What a trip burns, machine by machine, and whose burning nobody can tell: never a silent zero."""

from __future__ import annotations

from collections.abc import Mapping, Set

from spares.domain.service.events import Running
from spares.domain.service.hours import say_hours
from spares.domain.trip.answer import Fuel
from spares.domain.trip.energy import ChargeAnswer
from spares.domain.trip.fuel import THIRDS, leg_fuel
from spares.domain.trip.request import TripRequest


def fuel_of(request: TripRequest, ran: Mapping[str, Running],
            charged: ChargeAnswer | None) -> Fuel | None:
    """Add up the fuel of the trip.

    Args:
        request: Legs and what the engines burn [nm, kn, L/h].
        ran: Running by machine [min].
        charged: The daily charge, None if none was asked for [L].

    Returns:
        Litres by machine, together and with the reserve [L], and whose are not in them; None
        where no figure of fuel was given, or nothing runs.

    Raises:
        InvalidInput: a leg is faster than the engine's table goes.

    Source:
        Consumption times hours; reserve by the rule of thirds.

    Example:
        >>> from datetime import date
        >>> from spares.domain.trip.request import Trip
        >>> fuel_of(TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30)), {}, None)
    """
    trip, litres = request.trip, {}
    for machine, burn in request.burns.items():
        legs = [(place, leg) for place, leg in enumerate(trip.legs) if machine in leg.machines]
        if legs and trip.days:
            litres[machine] = sum(leg_fuel(burn, leg, f"#/trip/legs/{place}")
                                  for place, leg in legs)
    charges = charged is not None and charged.fuel_l is not None
    if charges:
        litres[trip.energy_machine] = litres.get(trip.energy_machine, 0) + charged.fuel_l
    run = {machine: one.total for machine, one in ran.items()}
    unknown = not_burnt(request, run, charges)
    if not litres and not any(run[machine] for machine in request.burns):
        return None
    total = sum(litres.values()) if litres else None
    return Fuel(litres, total, None if total is None else total * THIRDS, tuple(unknown),
                tuple(unknown.values()))


def not_burnt(request: TripRequest, ran_min: Mapping[str, int], charges: bool,
              burning: Set[str] | None = None) -> dict[str, str]:
    """Name the machines that run, whose litres nobody can tell, and say why.

    Args:
        request: Legs and what the engines burn [nm, kn, L/h].
        ran_min: Running by machine [min].
        charges: Whether the fuel of the daily charge is known [-].
        burning: Machines known to burn something, None where any might [-].

    Returns:
        Words by machine [-].

    Source:
        Counting rule of this project: hours alone tell no litres, for they tell no speed.

    Example:
        >>> from datetime import date
        >>> from fractions import Fraction
        >>> from spares.domain.trip.request import Trip
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 1, {"g": Fraction(4)}))
        >>> not_burnt(asked, {"g": 240}, False)
        {'g': 'nobody said what g burns in 4 h: not in the fuel'}
    """
    trip, found = request.trip, {}
    going = {machine for leg in trip.legs if leg.distance_nm for machine in leg.machines}
    told = list(dict.fromkeys([*(machine for leg in trip.legs for machine in leg.machines),
                               *trip.hours_per_day, *trip.hours]))
    for machine in told:
        run, burn = ran_min[machine], request.burns.get(machine)
        by_hours = machine in trip.hours_per_day or machine in trip.hours
        if not run or burn is not None and not by_hours:
            continue
        if burn is not None:
            found[machine] = (f"{machine} runs {say_hours(run)}, nobody said how fast: what it "
                              "burns then is not in the fuel")
        elif burning is None or machine in burning or machine in going:
            found[machine] = (f"nobody said what {machine} burns in {say_hours(run)}: "
                              "not in the fuel")
    if trip.energy_machine is not None and not charges and ran_min[trip.energy_machine]:
        found[trip.energy_machine] = (f"nobody said what {trip.energy_machine} burns while "
                                      "charging: not in the fuel")
    return found
