"""Running of each machine on each day of the trip, in whole minutes.

A machine's running is given one way only: hours a day, hours in all, legs, or the daily
charge of the battery. The total comes first and is rounded once; then it is spread.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from math import ceil

from spares.domain.dates import add_days
from spares.domain.service.events import Running
from spares.domain.service.hours import HOURS_PER_DAY, say_hours, whole_minutes
from spares.domain.service.task import Machine, counter_owner
from spares.domain.trip.energy import ChargeAnswer
from spares.domain.trip.request import MANOEUVRING_H, Leg, Trip
from spares.domain.trip.words import say_days


def running(
    trip: Trip, machines: Mapping[str, Machine], charged: ChargeAnswer | None
) -> tuple[dict[str, Running], frozenset[str], list[str]]:
    """Work out the running of every machine.

    Args:
        trip: Days and the given running [day, h, nm, kn].
        machines: Machines by id [-].
        charged: Answer of the daily charge, for the machine named there [h].

    Returns:
        Running by machine [min], the machines for which none was given, and remarks.

    Source:
        Distance / speed, spread evenly; manoeuvring half an hour a leg is common practice,
        no source.

    Example:
        >>> from datetime import date
        >>> trip = Trip(date(2027, 4, 1), 90, {"gen": Fraction(4)})
        >>> running(trip, {"gen": Machine("gen")}, None)[0]["gen"].total
        21600
    """
    found: dict[str, Running] = {}
    for machine, hours in trip.hours_per_day.items():
        found[machine] = Running.even(whole_minutes(hours * trip.days), trip.days)
    for machine, hours in trip.hours.items():
        found[machine] = Running.even(whole_minutes(hours), trip.days)
    if charged is not None:
        found[trip.energy_machine] = Running.even(
            whole_minutes(Fraction(charged.hours)), trip.days)
    for machine in dict.fromkeys(m for leg in trip.legs for m in leg.machines):
        found[machine] = _under_way([leg for leg in trip.legs if machine in leg.machines],
                                    trip.days)
    # Not refused: hours stand for use, and counting too many of them never leaves too few pieces.
    remarks = [f"{machine}: {say_hours(run.total)} in {say_days(trip.days)} is more than 24 h a day"
               for machine, run in found.items()
               if run.total > whole_minutes(HOURS_PER_DAY * trip.days)]
    remarks += [f"legs that begin on {add_days(trip.departs_on, trip.legs[place].day)} {words}"
                for place, words in crowded(trip.legs, trip.days)]
    for machine, run in found.items():
        owner = counter_owner(machine, machines)
        if owner != machine and owner in found and found[owner].total != run.total:
            remarks.append(f"{machine} counts by the hours of {owner}, which runs "
                           f"{say_hours(found[owner].total)}; {say_hours(run.total)} are given "
                           "for it")
    if not trip.days and found:
        remarks = ["a trip of 0 days: the running given for it is not counted"]
    nothing = frozenset(machines) - found.keys()
    for machine in sorted(nothing):
        owner = counter_owner(machine, machines)
        if owner in found:
            found[machine] = found[owner]       # it counts by that machine's hours
            nothing -= {machine}
        else:
            found[machine] = Running.even(0, trip.days)
    return found, nothing, remarks


def leg_hours(leg: Leg) -> Fraction:
    """Running of one leg.

    Args:
        leg: Distance [nm], speed [kn], share under engine [1], manoeuvring [h].

    Returns:
        Running [h], exact.

    Source:
        Distance / speed.

    Example:
        >>> leg_hours(Leg(Fraction(60), Fraction(6), ("eng",)))
        Fraction(21, 2)
    """
    way = leg.distance_nm / leg.speed_kn * leg.motor_share if leg.distance_nm else Fraction(0)
    return way + leg.manoeuvring_h


def too_long_by(leg: Leg, days: int) -> str:
    """Name the field by which a leg is longer than its days: manoeuvring, where a person gave it.

    Args:
        leg: The leg [nm, kn, h].
        days: Days that are left for it [day].

    Returns:
        distance_nm or manoeuvring_h [-].

    Source:
        Counting rule of this project.

    Example:
        >>> too_long_by(Leg(Fraction(60), Fraction(6), ("eng",), manoeuvring_h=Fraction(20)), 1)
        'manoeuvring_h'
    """
    fits = leg.under_way_h - leg.manoeuvring_h <= HOURS_PER_DAY * days
    return "manoeuvring_h" if fits and leg.manoeuvring_h != MANOEUVRING_H else "distance_nm"


def crowded(legs: Sequence[Leg], days: int) -> list[tuple[int, str]]:
    """Find legs that begin on a day whose other legs leave the same machine no room for them.

    Args:
        legs: Legs, some with the day they begin on [nm, kn, h, day].
        days: Days of the trip [day].

    Returns:
        Place of the leg, once however many machines run on it, and how long is too long in words.

    Source:
        A day has 24 hours; the longest leg may come last and end after midnight, but not after
        the trip.

    Example:
        >>> leg = Leg(Fraction(60), Fraction(4), ("port", "stbd"), day=3)
        >>> crowded([leg, leg], 30)
        []
        >>> crowded([leg, leg, leg], 30)
        [(2, 'are under way 31 h without the longest of them; a day has 24')]
    """
    taken: dict[tuple[str, int], list[Fraction]] = {}
    found: dict[int, str] = {}
    for place, leg in enumerate(legs):
        for machine in leg.machines if leg.day is not None else ():
            hours = taken.setdefault((machine, leg.day), [])
            hours.append(leg.under_way_h)
            if words := _too_full(hours, HOURS_PER_DAY * (days - leg.day)):
                found.setdefault(place, words)
    return list(found.items())


def _too_full(hours: Sequence[Fraction], left_h: int) -> str | None:
    """Say why legs of one day [h] cannot all begin on it, or end within what is left [h]."""
    if len(hours) < 2:
        return None
    others = sum(hours) - max(hours)
    if others >= HOURS_PER_DAY:
        return (f"are under way {float(others):g} h without the longest of them; "
                f"a day has {HOURS_PER_DAY}")
    if sum(hours) > left_h:
        return f"are under way {float(sum(hours)):g} h; {left_h} are left in the trip"
    return None


def _under_way(legs: list[Leg], days: int) -> Running:
    """Put dated legs on their days and spread the others evenly; the sum is rounded once."""
    if days == 0:
        return Running()
    daily = [0] * days
    exact, given = Fraction(0), 0
    dated = [(leg_hours(leg), _days_of(leg, days)) for leg in legs if leg.day is not None]
    undated = sum((leg_hours(leg) for leg in legs if leg.day is None), Fraction(0))
    for hours, on in [*dated, (undated, range(days))]:
        exact += hours
        minutes, given = whole_minutes(exact) - given, whole_minutes(exact)
        each, rest = divmod(minutes, len(on))
        for place, day in enumerate(on):
            daily[day] += each + (place < rest)
    return Running.of(daily)


def _days_of(leg: Leg, days: int) -> range:
    """The days a dated leg is under way; what runs past the end stays on the last days."""
    return range(leg.day, min(days, leg.day + _length(leg)))


def _length(leg: Leg) -> int:
    """How many days a leg is spread over [day]."""
    return max(1, ceil(leg.under_way_h / HOURS_PER_DAY))
