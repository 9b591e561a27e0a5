"""Trips: planned, changed, and what each needs."""

from __future__ import annotations

from typing import Any

from spares.actions import show
from spares.actions.daily_run import days_of_trip
from spares.actions.trip.preview import draft_restock, kit_for
from spares.actions.trip.restock import restock, why
from spares.actions.trip.stored import trips
from spares.actions.trip.write import edit_trip, new_trip, prefill
from spares.web.api import ApiBlueprint
from spares.web.schemas import readings
from spares.web.schemas import trips as plans
from spares.web.schemas.base import VesselQuery
from spares.web.store import context
from spares.web.verbs import trip_fields

blueprint = ApiBlueprint("trips", "Trips, and what each needs")


@blueprint.route("/trips")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, plans.TripsAnswer)
def all_trips(query: dict[str, Any]) -> dict[str, Any]:
    """List the trips, the next one first."""
    return trips(context())


@blueprint.route("/trips", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(plans.NewTrip)
@blueprint.response(201, plans.Trip)
def plan(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Plan a trip; hours that are left out are taken from the last one, day for day."""
    return new_trip(context(), **trip_fields(asked))


@blueprint.route("/trips/prefill")
@blueprint.arguments(plans.PrefillQuery, location="query")
@blueprint.response(200, plans.PrefillAnswer)
def as_last_time(query: dict[str, Any]) -> dict[str, Any]:
    """Give the fields of a new trip as the last one had them, its hours day for day."""
    return prefill(context(), query.get("departs_on"), query.get("returns_on"))


@blueprint.route("/trips/draft", methods=["POST"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(plans.DraftTrip)
@blueprint.response(200, plans.DraftAnswer)
def as_it_would_be(query: dict[str, Any], asked: dict[str, Any]) -> dict[str, Any]:
    """Say what a trip would need that nobody has written down; nothing is written."""
    return draft_restock(context(), **trip_fields(asked))


@blueprint.route("/trips/<ref>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, plans.Trip)
def one_trip(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Show a trip."""
    return show.show(context(), ref, "trip")


@blueprint.route("/trips/<ref>", methods=["PATCH"])
@blueprint.arguments(VesselQuery, location="query")
@blueprint.arguments(plans.EditTrip)
@blueprint.response(200, plans.Trip)
def change(query: dict[str, Any], asked: dict[str, Any], ref: str) -> dict[str, Any]:
    """Change a trip; what is not named stays."""
    return edit_trip(context(), ref, **trip_fields(asked))


@blueprint.route("/trips/<ref>/restock")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, plans.RestockAnswer)
def needed(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Say what a trip needs, what is short, and by when it must be ordered."""
    return restock(context(), ref)


@blueprint.route("/trips/<ref>/days")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, readings.DaysAnswer)
def as_it_was(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Say what was really run, burned and put back day by day, beside the plan."""
    return days_of_trip(context(), ref)


@blueprint.route("/trips/<ref>/kit")
@blueprint.arguments(plans.KitQuery, location="query")
@blueprint.response(200, plans.KitAnswer)
def best_kit(query: dict[str, Any], ref: str) -> dict[str, Any]:
    """Say what more money or mass would buy against failures, or what a level costs."""
    return kit_for(context(), ref, level=query.get("level"), cost=query.get("cost"),
                   mass_kg=query.get("mass_kg"))


@blueprint.route("/trips/<ref>/restock/<part>")
@blueprint.arguments(VesselQuery, location="query")
@blueprint.response(200, plans.WhyAnswer)
def reasons(query: dict[str, Any], ref: str, part: str) -> dict[str, Any]:
    """Say why a trip needs so many of one part."""
    return why(context(), ref, part)
