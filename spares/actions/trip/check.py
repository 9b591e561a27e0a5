"""Check: a trip as it would be, its fields checked as a whole, before anything is written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

from spares.actions.amounts import day, minutes
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.trip.burning import beyond_tables
from spares.actions.trip.fields import read_fields, refuse
from spares.actions.trip.request_trip import energy_of, is_gone, legs_of, stops_of, water_of
from spares.actions.trip.stored import hours_of, length, usual_hours
from spares.domain.aboard import RECORDS, Aboard, Record, name_of
from spares.domain.identity import joined_id, ref
from spares.domain.service.hours import HOURS_PER_DAY
from spares.domain.trip.request import Leg
from spares.domain.trip.running import leg_hours
from spares.errors import InvalidInput

MINUTES_PER_DAY = 24 * 60
LONGEST_DAYS = 3660


@dataclass(frozen=True)
class TripDraft:
    """What a trip's fields and hours would be, as they are stored; None empties."""

    fields: dict[str, Any]
    run: dict[str, int | None]


def read_trip(ctx: Context, aboard: Aboard, name: str | None,
              asked: dict[str, Any]) -> TripDraft:
    """Read what a person asked of a trip; *name* is the stored one that it changes.

    Raises:
        InvalidInput: with every field that is wrong, as JSON Pointers.
        NotFound, Ambiguous: a machine or part that is named cannot be told.
    """
    asked = dict(asked)
    record = aboard.get(name)
    leaves = asked.pop("departs_on", None) or (record.departs_on if record else None)
    returns = asked.pop("returns_on", None) or (record.returns_on if record else None)
    leave, back = _days(leaves, returns)
    given = asked.pop("run", None)
    run = _hours(ctx, given)
    for machine, whole in run.items():
        if whole is not None and whole > max((back - leave).days, 1) * MINUTES_PER_DAY:
            raise InvalidInput.at(f"#/hours/{aboard.label(machine)}",
                                  f"{(back - leave).days} days have "
                                  f"{(back - leave).days * 24} hours")
    fields = {"departs_on": leave.isoformat(), "returns_on": back.isoformat(),
              **read_fields(ctx, asked)}
    if record is None and given is None:
        taken = machines_told(fields)
        run = {machine: whole for machine, whole in usual_hours(
            aboard, (back - leave).days).items() if machine not in taken}
    return TripDraft(fields, run)


def machines_told(fields: dict[str, Any]) -> set[str]:
    """Give the machines whose running the trip's own lists give."""
    told = {one for leg in fields.get("legs") or [] for one in leg["machines"]}
    told |= {one["machine"] for one in (fields.get("at_anchor") or {}).get("run", [])}
    return told | {fields[name]["machine"] for name in ("energy", "water") if fields.get(name)}


def with_draft(aboard: Aboard, name: str, draft: TripDraft) -> Aboard:
    """Give the vessel as she would be with the draft written under this name."""
    ident = name.partition("/")[2]
    there = aboard.get(name)
    blank = there or RECORDS["trip"](ident, aboard.vessel.id, False)
    lines = dict(aboard.docs["trip-hours"])
    for machine, whole in draft.run.items():
        key = joined_id("trip-hours", name, machine)
        lines[key] = RECORDS["trip-hours"](key, aboard.vessel.id, False, trip=name,
                                           machine=machine, minutes=whole)
    trips = {**aboard.docs["trip"], ident: replace(blank, gone=False, **draft.fields)}
    return replace(aboard, docs={**aboard.docs, "trip": trips, "trip-hours": lines})


def check_draft(aboard: Aboard, name: str, draft: TripDraft) -> Aboard:
    """Give the vessel with the draft written under this name, if it makes sense as a whole.

    Raises:
        InvalidInput: as `_check_whole`, or a new leg is faster than an engine's fuel table.
    """
    drafted = with_draft(aboard, name, draft)
    _check_whole(drafted, name)
    there = aboard.get(name)
    if draft.fields.get("legs") and (there is None or there.legs != draft.fields["legs"]):
        refuse(_too_fast(drafted, name))
    return drafted


def _too_fast(aboard: Aboard, name: str) -> list[dict[str, str]]:
    """A leg stays if it was taken before the table was: a plan then names it."""
    return [{"pointer": f"#/legs/{one['leg'] - 1}/speed_kn",
             "detail": f"{one['speed_kn']:g} kn is above the fuel table of {one['machine']}, "
                       f"which ends at {one['table_ends_kn']:g} kn"}
            for one in beyond_tables(aboard, legs_of(aboard, aboard.get(name)))]


def _check_whole(aboard: Aboard, name: str) -> None:
    """Refuse a trip whose parts do not go together.

    Raises:
        InvalidInput: a running given in two ways, a day outside the trip, a battery that
            cannot be charged so; each is named.
    """
    trip = aboard.get(name)
    days = length(trip) or 0
    errors = [*_two_ways(aboard, trip), *_outside(trip, days)] or _too_long(aboard, trip, days)
    refuse(errors)
    stops_of(aboard, trip, [])
    charge = energy_of(aboard, trip, legs_of(aboard, trip), water_of(aboard, trip))
    if charge is None:
        return
    try:
        compute("charge", {**{k: v for k, v in charge.items() if k != "machine"}, "days": days})
    except InvalidInput as err:
        at = {"loads_kwh_per_day": "loads"}
        found = [{**one, "pointer": "#/energy/" + at.get(
            one["pointer"].removeprefix("#/"), one["pointer"].removeprefix("#/"))}
            for one in err.facts.get("errors", [])]
        raise InvalidInput(err.detail, errors=found) from err


def _two_ways(aboard: Aboard, trip: Record) -> list[dict[str, str]]:
    """A machine's running stands in one place: hours, legs and anchoring, energy, or water."""
    ways = {line.machine: "hours" for line in hours_of(aboard, name_of("trip", trip))}
    errors = []
    told = [(f"#/legs/{i}/machines", one, "legs") for i, leg in enumerate(trip.legs or [])
            for one in leg["machines"]]
    told += [(f"#/at_anchor/run/{i}/machine", one["machine"], "legs")
             for i, one in enumerate((trip.at_anchor or {}).get("run", []))]
    told += [(f"#/{name}/machine", getattr(trip, name)["machine"], name)
             for name in ("energy", "water") if getattr(trip, name)]
    for pointer, machine, way in told:
        if is_gone(aboard, machine):
            continue
        before = ways.setdefault(machine, way)
        if before != way:
            errors.append({"pointer": pointer, "detail":
                           f"the running of {aboard.label(machine)} is given by {before} already"})
    return errors


def _outside(trip: Record, days: int) -> list[dict[str, str]]:
    errors = [{"pointer": f"#/legs/{place}/day", "detail": f"day {leg['day']} is outside the trip"}
              for place, leg in enumerate(trip.legs or []) if leg.get("day", 0) >= max(days, 1)]
    if trip.at_anchor and trip.at_anchor["days"] > days:
        errors.append({"pointer": "#/at_anchor/days", "detail": f"the trip has {days} days"})
    return errors


def _too_long(aboard: Aboard, trip: Record, days: int) -> list[dict[str, str]]:
    """Find running that the days have no room for: a leg, or legs and anchoring together."""
    given, errors = trip.legs or [], []
    days = max(days, 1)     # back on the day of leaving: that day
    in_all: dict[str, Fraction] = {}
    for place, one in enumerate(legs_of(aboard, trip)):
        leg = Leg(Fraction(one["distance_nm"]), Fraction(one["speed_kn"]), tuple(one["machines"]),
                  Fraction(one.get("motor_share", 1)),
                  Fraction(one.get("manoeuvring_h", Leg.manoeuvring_h)), one.get("day"))
        field = "at_anchor/days" if place >= len(given) else (
            f"legs/{place}/{'distance_nm' if given[place].get('hours') is None else 'hours'}")
        left = HOURS_PER_DAY * (days - (leg.day or 0))
        under_way = leg_hours(replace(leg, motor_share=Fraction(1)))
        if under_way > left:
            errors.append({"pointer": f"#/{field}", "detail":
                           f"takes {float(under_way):g} h; {left} are left in the trip"})
        for machine in leg.machines:
            in_all[machine] = in_all.get(machine, Fraction(0)) + leg_hours(leg)
    most = HOURS_PER_DAY * days
    anchored = {one for leg in legs_of(aboard, trip)[len(given):] for one in leg["machines"]}
    return errors or [
        {"pointer": "#/at_anchor/days" if machine in anchored else "#/legs",
         "detail": f"{machine} would run {float(hours):.1f} h; {days} days have {most}"}
        for machine, hours in in_all.items() if hours > most]


def _days(departs_on: Any, returns_on: Any) -> tuple[date, date]:
    leave = date.fromisoformat(day(departs_on, "departs_on"))
    back = date.fromisoformat(day(returns_on, "returns_on"))
    if back < leave:
        raise InvalidInput.at("#/returns_on", "is before the leaving day")
    if (back - leave).days > LONGEST_DAYS:
        raise InvalidInput.at("#/returns_on", "a trip of more than ten years cannot be planned")
    return leave, back


def _hours(ctx: Context, run: Any) -> dict[str, int | None]:
    if run is None:
        return {}
    if not isinstance(run, dict):
        raise InvalidInput.at("#/hours", "hours by machine are needed")
    return {ctx.named(machine, f"hours/{machine}"[:80], "machine"):
            None if value is None else minutes(value, f"hours/{machine}"[:80])
            for machine, value in run.items()}


def new_name() -> str:
    """Name a trip that is nowhere yet."""
    return ref("trip", "00000000-0000-4000-8000-000000000000")
