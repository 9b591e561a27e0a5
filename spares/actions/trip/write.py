"""Write a trip, or change one: only if it makes sense as a whole; what a new one starts from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.documents import new_document, next_number
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.actions.trip.check import TripDraft, check_draft, new_name, read_trip
from spares.actions.trip.restock import restock
from spares.actions.trip.stored import hours_of, last_trip, planned_days, thing_of, trip_thing
from spares.db.history import body_of, entry
from spares.domain.aboard import name_of
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, kind_of, ref
from spares.errors import Conflict, InvalidInput


@in_turn
def new_trip(ctx: Context, name: str, departs_on: str, returns_on: str, *,
             run: dict[str, Any] | None = None, change_id: str | None = None,
             **more: Any) -> dict[str, Any]:
    """Plan a trip; hours that are not given are taken from the last trip, day for day.

    Args:
        ctx: Where it happens.
        name: What it is called [-].
        departs_on, returns_on: The days, ISO [-].
        run: Running hours of the whole trip by machine [h].
        change_id: Chosen by the maker, so that a doubled request is one trip [-].
        more: Further fields of a trip.

    Raises:
        InvalidInput: with every field that makes no sense.
        NotFound: an unknown machine.
    """
    if not isinstance(name, str) or not name.strip():
        raise InvalidInput.at("#/name", "a name is needed")
    ident = a_change_id(change_id)
    known = _known_trip(ctx, ident)
    if known is not None:
        return {**trip_thing(ctx, known), "change": ident, "was_new": False}
    aboard = ctx.aboard()
    asked = {"name": name.strip(), "departs_on": departs_on, "returns_on": returns_on,
             "run": run, **{key: value for key, value in more.items() if value is not None}}
    read = read_trip(ctx, aboard, None, asked)
    check_draft(aboard, new_name(), read)
    fields = {"no": next_number(aboard, "trip"), **read.fields}
    doc, draft = new_document(ctx, aboard, "trip", fields)
    ctx.write(as_one_act([replace(draft, id=ident), *_hour_drafts(doc, read)], ident))
    return {**trip_thing(ctx, doc), "change": ident, "was_new": True}


@in_turn
def edit_trip(ctx: Context, trip: str, *, change_id: str | None = None,
              **asked: Any) -> dict[str, Any]:
    """Change a trip's days, hours or other fields; what is not named stays, None empties.

    Raises:
        As `new_trip`; NotFound if there is no such trip.
    """
    name, ident = ctx.named(trip, "trip", "trip"), a_change_id(change_id)
    if _known_trip(ctx, ident) == name:
        return {**trip_thing(ctx, name), "change": ident, "was_new": False}
    aboard = ctx.aboard()
    record = aboard.get(name)
    if "name" in asked and not str(asked["name"] or "").strip():
        raise InvalidInput.at("#/name", "a name is needed")
    read = read_trip(ctx, aboard, name, asked)
    check_draft(aboard, name, read)
    fields = {key: value for key, value in read.fields.items() if getattr(record, key) != value}
    told = {line.machine: line.minutes for line in hours_of(aboard, name)}
    run = {machine: whole for machine, whole in read.run.items() if told.get(machine) != whole}
    drafts = [*([setting(name, **fields)] if fields else []),
              *_hour_drafts(name, TripDraft({}, run))]
    if drafts:
        ctx.write(as_one_act([replace(drafts[0], id=ident), *drafts[1:]], ident))
    return {**trip_thing(ctx, name), "change": ident if drafts else None,
            "was_new": bool(drafts)}


def prefill(ctx: Context, departs_on: str | None = None,
            returns_on: str | None = None) -> dict[str, Any]:
    """Give the fields of a new trip as the last one had them.

    Hours and days at anchor go day for day if both days of the new trip are given; days of
    legs that would lie outside, and stops, which have dates, are left out.
    """
    aboard = ctx.aboard()
    last = last_trip(aboard)
    if last is None:
        return {"from": None, "fields": {}}
    told = thing_of(aboard, name_of("trip", last))
    days = told["days"]
    if departs_on and returns_on:
        read = read_trip(ctx, aboard, None, {"departs_on": departs_on, "returns_on": returns_on,
                                             "run": {}})
        asked = last._replace(**read.fields)
        days = planned_days(asked)
    left_out = ("type", "id", "no", "name", "departs_on", "returns_on", "days", "note", "border",
                "stops", "hours", "legs", "at_anchor")
    fields = {key: value for key, value in told.items()
              if key not in left_out and value is not None}
    share = days / told["days"]
    fields["hours"] = {machine: round(value * share, 1) for machine, value in
                       told["hours"].items()}
    if told["legs"]:
        fields["legs"] = [{key: value for key, value in leg.items()
                           if key != "day" or value < days} for leg in told["legs"]]
    if told["at_anchor"]:
        fields["at_anchor"] = {**told["at_anchor"],
                               "days": min(days, round(told["at_anchor"]["days"] * share))}
    return {"from": {"no": last.no, "name": last.name}, "fields": fields}


def usual_running(ctx: Context, departs_on: str, returns_on: str) -> dict[str, float]:
    """Give the last trip's hours a day over these days, however they were worked out [h].

    A machine that counts by another's hours is left out: it follows that one.
    """
    aboard = ctx.aboard()
    last = last_trip(aboard)
    read = read_trip(ctx, aboard, None, {"departs_on": departs_on, "returns_on": returns_on,
                                         "run": {}})
    if not last:
        return {}
    share = planned_days(last._replace(**read.fields)) / planned_days(last)
    follows = {aboard.label(name_of("machine", one)) for one in aboard.all("machine")
               if one.counter_of}
    return {machine: round(whole * share, 1)
            for machine, whole in restock(ctx, name_of("trip", last))["hours"].items()
            if whole and machine not in follows}


def _known_trip(ctx: Context, ident: str) -> str | None:
    """Give the trip that the change with this id wrote, None if there is no such change.

    Raises:
        Conflict: the id was used before for something else.
    """
    with ctx.store.reading() as session:
        row = entry(session, ctx.vessel, ident)
        if row is None:
            return None
        body = body_of(row.raw)
    doc = body.get("doc", "") if row.kind == "set" else ""
    if kind_of(doc or "x/x") == "trip-hours":
        doc = body["f"].get("trip", "")
    if kind_of(doc or "x/x") != "trip":
        raise Conflict("this change's id was used before for another change", stop="id_reused",
                       change=ident)
    return str(doc)


def _hour_drafts(trip: str, read: TripDraft) -> list[Draft]:
    return [setting(ref("trip-hours", joined_id("trip-hours", trip, machine)), trip=trip,
                    machine=machine, minutes=whole) for machine, whole in read.run.items()]
