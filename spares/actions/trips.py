"""Trips: planned, shown, changed."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any
from uuid import uuid4

from spares.actions.amounts import day, hours, minutes
from spares.actions.context import Context, in_turn
from spares.actions.documents import new_document, next_number
from spares.actions.stock_moves import as_one_act
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.documents import fault
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput

MINUTES_PER_DAY = 24 * 60
FIELDS = ("name", "hours_before_departure", "ready_days", "note", "border", "protection", "limits")


def trips(ctx: Context) -> dict[str, Any]:
    """List the trips, the next one first, those that are over last."""
    aboard, today = ctx.aboard(), ctx.today.isoformat()
    ordered = sorted(aboard.all("trip"), key=lambda one: (
        (one.returns_on or "") < today, one.departs_on or "9999", one.no or ""))
    return {"trips": [trip_thing(ctx, name_of("trip", one)) for one in ordered]}


def trip_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a trip: days, running hours and how it is planned."""
    aboard = ctx.aboard()
    one = aboard.get(name)
    return {"type": "trip", "id": one.id, "no": one.no, "name": one.name,
            "departs_on": one.departs_on, "returns_on": one.returns_on, "days": length(one),
            "hours": {aboard.label(line.machine): hours(line.minutes)
                      for line in hours_of(aboard, name)},
            "hours_before_departure": one.hours_before_departure, "ready_days": one.ready_days,
            "border": one.border, "note": one.note, "protection": one.protection,
            "limits": one.limits}


def hours_of(aboard: Aboard, trip: str) -> list[Record]:
    """Give the running hours that were written down for a trip, by machine's number."""
    found = [one for one in aboard.all("trip-hours")
             if one.trip == trip and one.minutes is not None]
    return sorted(found, key=lambda one: aboard.label(one.machine))


def length(trip: Record) -> int | None:
    """Give how many days a trip takes, arrival minus departure."""
    if not trip.departs_on or not trip.returns_on:
        return None
    return (date.fromisoformat(trip.returns_on) - date.fromisoformat(trip.departs_on)).days


@in_turn
def new_trip(ctx: Context, name: str, departs_on: str, returns_on: str, *,
             run: dict[str, Any] | None = None, **more: Any) -> dict[str, Any]:
    """Plan a trip; hours that are not given are taken from the last trip, day for day.

    Args:
        ctx: Where it happens.
        name: What it is called [-].
        departs_on, returns_on: The days, ISO [-].
        run: Running hours of the whole trip by machine [h].
        more: Further fields, as `FIELDS`.

    Raises:
        InvalidInput: a day that does not exist, a return before leaving, unknown hours.
        NotFound: an unknown machine.
    """
    if not isinstance(name, str) or not name.strip():
        raise InvalidInput.at("#/name", "a name is needed")
    leave, back = _days(departs_on, returns_on)
    aboard = ctx.aboard()
    given = _fitting(_hours(ctx, run), ctx, (back - leave).days)
    if run is None:
        given = usual_hours(aboard, (back - leave).days)
    fields = {"no": next_number(aboard, "trip"), "name": name.strip(),
              "departs_on": leave.isoformat(), "returns_on": back.isoformat(), **_checked(more)}
    doc, draft = new_document(ctx, aboard, "trip", fields)
    ident = str(uuid4())
    ctx.write(as_one_act([replace(draft, id=ident), *_hour_drafts(doc, given)], ident))
    return trip_thing(ctx, doc)


@in_turn
def edit_trip(ctx: Context, trip: str, *, run: dict[str, Any] | None = None,
              departs_on: str | None = None, returns_on: str | None = None,
              **more: Any) -> dict[str, Any]:
    """Change a trip's days, hours or other fields; what is not named stays.

    Raises:
        As `new_trip`; NotFound if there is no such trip.
    """
    name = ctx.named(trip, "trip", "trip")
    record = ctx.aboard().get(name)
    leave, back = _days(departs_on or record.departs_on, returns_on or record.returns_on)
    fields = {key: value for key, value in
              {"departs_on": leave.isoformat(), "returns_on": back.isoformat(),
               **_checked(more)}.items() if getattr(record, key) != value}
    hour_drafts = _hour_drafts(name, _fitting(_hours(ctx, run), ctx, (back - leave).days))
    drafts: list[Draft] = [*([setting(name, **fields)] if fields else []), *hour_drafts]
    if drafts:
        ident = str(uuid4())
        ctx.write(as_one_act([replace(drafts[0], id=ident), *drafts[1:]], ident))
    return trip_thing(ctx, name)


def usual_hours(aboard: Aboard, days: int) -> dict[str, int]:
    """Give running minutes by machine, the last trip's hours a day over *days* days."""
    past = [one for one in aboard.all("trip") if length(one)]
    if not past:
        return {}
    last = max(past, key=lambda one: (one.departs_on, one.no or ""))
    return {line.machine: line.minutes * days // length(last)
            for line in hours_of(aboard, name_of("trip", last))}


def _days(departs_on: Any, returns_on: Any) -> tuple[date, date]:
    leave = date.fromisoformat(day(departs_on, "departs_on"))
    back = date.fromisoformat(day(returns_on, "returns_on"))
    if back < leave:
        raise InvalidInput.at("#/returns_on", "is before the leaving day")
    return leave, back


def _hours(ctx: Context, run: dict[str, Any] | None) -> dict[str, int]:
    if run is None:
        return {}
    if not isinstance(run, dict):
        raise InvalidInput.at("#/hours", "hours by machine are needed")
    return {ctx.named(machine, f"hours/{machine}"[:80], "machine"):
            minutes(value, f"hours/{machine}"[:80]) for machine, value in run.items()}


def _fitting(run: dict[str, int], ctx: Context, days: int) -> dict[str, int]:
    """Refuse more running than the days of the trip have hours."""
    for machine, whole in run.items():
        if whole > max(days, 1) * MINUTES_PER_DAY:
            raise InvalidInput.at(f"#/hours/{ctx.aboard().label(machine)}",
                                  f"{days} days have {days * 24} hours")
    return run


def _hour_drafts(trip: str, run: dict[str, int]) -> list[Draft]:
    return [setting(ref("trip-hours", joined_id("trip-hours", trip, machine)), trip=trip,
                    machine=machine, minutes=whole) for machine, whole in run.items()]


def _checked(more: dict[str, Any]) -> dict[str, Any]:
    for key, value in more.items():
        if key not in FIELDS:
            raise InvalidInput.at(f"#/{key}", "there is no such field")
        if wrong := fault("trip", key, value):
            raise InvalidInput.at(f"#/{key}", wrong)
    return {key: value for key, value in more.items() if value is not None}
