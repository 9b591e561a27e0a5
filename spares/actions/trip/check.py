"""Check: a trip as it would be, its fields checked as a whole, before anything is written."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction
from typing import Any

from spares.actions.amounts import day, minutes
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.trip.burning import beyond_tables, leg_of
from spares.actions.trip.fields import read_fields, refuse
from spares.actions.trip.request_trip import energy_of, is_gone, legs_of, stops_outside, water_of
from spares.actions.trip.stored import hours_of, planned_days, usual_hours
from spares.domain.aboard import RECORDS, Aboard, Record, name_of
from spares.domain.identity import joined_id, ref
from spares.domain.service.hours import HOURS_PER_DAY
from spares.domain.trip.request import Leg
from spares.domain.trip.running import crowded, leg_hours, too_long_by
from spares.domain.trip.words import say_days
from spares.errors import InvalidInput

MINUTES_PER_DAY = 24 * 60
LONGEST_DAYS = 3660
#: Fields of a trip that have to go together.
_WHOLE = {"departs_on", "returns_on", "legs", "at_anchor", "energy", "water", "crew", "stops"}


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
    days = max((back - leave).days, 1)
    fewer = record is not None and days < planned_days(record)
    stored = {one.machine: one.minutes for one in hours_of(aboard, name)} if fewer else {}
    for machine, whole in {**stored, **run}.items():
        if whole is not None and whole > days * MINUTES_PER_DAY:
            raise InvalidInput.at(f"#/hours/{aboard.label(machine)}",
                                  f"there are {days * HOURS_PER_DAY} hours in {say_days(days)}")
    fields = {"departs_on": leave.isoformat(), "returns_on": back.isoformat(),
              **read_fields(ctx, asked)}
    if record is None and given is None:
        taken = machines_told(fields)
        run = {machine: whole for machine, whole in usual_hours(
            aboard, days).items() if machine not in taken}
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
    trips = {**aboard.docs["trip"], ident: blank._replace(gone=False, **draft.fields)}
    return replace(aboard, docs={**aboard.docs, "trip": trips, "trip-hours": lines}, worked_out={})


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


def check_fields(aboard: Aboard, name: str, fields: dict[str, Any]) -> None:
    """Refuse fields of a trip, written one by one, that do not go with the rest of it.

    A trip that does not go together already may be put right in any order.

    Raises:
        InvalidInput: as `check_draft`; where the fault lies in what stands already, at the
            field that was written.
    """
    there, written = aboard.get(name), sorted(fields.keys() & _WHOLE)
    leaves, returns = (fields.get(day, getattr(there, day, None))
                       for day in ("departs_on", "returns_on"))
    if not written or fields.get("gone"):
        return
    wrong = _wrong(aboard, name, leaves, returns, fields)
    if wrong and (there is None or not _wrong(aboard, name, there.departs_on, there.returns_on)):
        refuse([_as_written(one, written) for one in wrong])


def _wrong(aboard: Aboard, name: str, leaves: Any, returns: Any,
           fields: dict[str, Any] | None = None) -> list[dict[str, str]]:
    """Say what does not go together in a trip, as it stands or with these fields."""
    if not leaves or not returns:
        return []
    try:
        _days(leaves, returns)
        check_draft(aboard, name, TripDraft(fields or {}, {}))
    except InvalidInput as err:
        found: list[dict[str, str]] = err.facts["errors"]
        return found
    return []


def _as_written(fault: dict[str, str], written: list[str]) -> dict[str, str]:
    path = fault["pointer"].removeprefix("#/")
    if path.partition("/")[0] in written:
        return {**fault, "pointer": f"#/fields/{path}"}
    days = [one for one in written if one in ("returns_on", "departs_on")]
    return {"pointer": f"#/fields/{(days or written)[-1]}", "detail": f"{path}: {fault['detail']}"}


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
    days = planned_days(trip)
    errors = [*_two_ways(aboard, trip), *_outside(trip, days)] or _too_long(aboard, trip, days)
    refuse(errors)
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
              for place, leg in enumerate(trip.legs or []) if leg.get("day", 0) >= days]
    errors += [{"pointer": f"#/stops/{place}/arrives_on", "detail": words}
               for place, words in stops_outside(trip).items()]
    errors += [{"pointer": f"#/stops/{place}/leaves_on", "detail": "is after she is back"}
               for place, stop in enumerate(trip.stops or [])
               if (stop.get("leaves_on") or "") > trip.returns_on]
    if trip.at_anchor and trip.at_anchor["days"] > days:
        errors.append({"pointer": "#/at_anchor/days", "detail": f"the trip has {say_days(days)}"})
    return errors


def _too_long(aboard: Aboard, trip: Record, days: int) -> list[dict[str, str]]:
    """Find running that the days have no room for: a leg, or legs and anchoring together."""
    given, errors = trip.legs or [], []
    in_all: dict[str, tuple[Fraction, Fraction]] = {}       # all hours, those of the legs
    for place, one in enumerate(legs_of(aboard, trip)):
        leg = leg_of(one)
        left = days - (leg.day or 0)
        if leg.under_way_h > HOURS_PER_DAY * left:
            field = "at_anchor/days" if place >= len(given) else (
                f"legs/{place}/{_too_long_field(given[place], leg, left)}")
            errors.append({"pointer": f"#/{field}", "detail": f"takes {float(leg.under_way_h):g} "
                           f"h; {HOURS_PER_DAY * left} are left in the trip"})
        for machine in leg.machines:
            hours, alone = in_all.get(machine, (Fraction(0), Fraction(0)))
            more = leg_hours(leg)
            in_all[machine] = hours + more, alone + (more if place < len(given) else 0)
    most = HOURS_PER_DAY * days
    return errors or [
        {"pointer": "#/at_anchor/days" if alone <= most else "#/legs",
         "detail": f"{machine} would run {float(hours):.1f} h; there are {most} in "
                   f"{say_days(days)}"}
        for machine, (hours, alone) in in_all.items() if hours > most] or [
        {"pointer": f"#/legs/{place}/day", "detail": f"the legs that begin on this day {words}"}
        for place, words in crowded([leg_of(one) for one in legs_of(aboard, trip)], days)]


def _too_long_field(given: dict[str, Any], leg: Leg, days: int) -> str:
    """Name the field by which a leg is too long, as a person gave it."""
    if given.get("hours") is None:
        return too_long_by(leg, days)
    fits = Fraction(given["hours"]) <= HOURS_PER_DAY * days
    return "manoeuvring_h" if fits and given.get("manoeuvring_h") else "hours"


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
