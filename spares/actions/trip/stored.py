"""Stored trips: found and shown, and what their days and hours are."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import hours
from spares.actions.context import Context
from spares.domain.aboard import Aboard, Record, name_of


def trips(ctx: Context) -> dict[str, Any]:
    """List the trips, the next one first, those that are over last."""
    aboard, today = ctx.aboard(), ctx.today.isoformat()
    ordered = sorted(aboard.all("trip"), key=lambda one: (
        (one.returns_on or "") < today, one.departs_on or "9999", one.no or ""))
    return {"trips": [thing_of(aboard, name_of("trip", one)) for one in ordered]}


def trip_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a trip: days, running hours and how it is planned."""
    return thing_of(ctx.aboard(), name)


def thing_of(aboard: Aboard, name: str) -> dict[str, Any]:
    """Describe the trip called *name*, as `trip_thing`."""
    from spares.actions.trip.fields import shown_fields  # late: every plan comes by here

    one = aboard.get(name)
    return {"type": "trip", "id": one.id, "no": one.no, "name": one.name,
            "departs_on": one.departs_on, "returns_on": one.returns_on, "days": length(one),
            "hours": {aboard.label(line.machine): hours(line.minutes)
                      for line in hours_of(aboard, name)},
            "hours_before_departure": one.hours_before_departure, "ready_days": one.ready_days,
            "border": one.border, "note": one.note, "crew": one.crew,
            "count_failures": one.count_failures, **shown_fields(aboard, one)}


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


def planned_days(trip: Record) -> int:
    """Give how many days are planned: out and back on one day is a day of running too."""
    return max(length(trip) or 0, 1)


def last_trip(aboard: Aboard) -> Record | None:
    """Give the latest trip that has its days, None if there is none."""
    past = [one for one in aboard.all("trip") if length(one)]
    return max(past, key=lambda one: (one.departs_on, one.no or ""), default=None)


def usual_hours(aboard: Aboard, days: int) -> dict[str, int]:
    """Give running minutes by machine, the last trip's hours a day over *days* days."""
    last = last_trip(aboard)
    if last is None:
        return {}
    return {line.machine: line.minutes * days // (length(last) or 1)
            for line in hours_of(aboard, name_of("trip", last))}
