"""Preview: what a trip would need that is not written down; what more money would buy."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from spares.actions.context import Context
from spares.actions.trip.answer_pictures import kit_of, request_values
from spares.actions.trip.check import check_draft, new_name, read_trip
from spares.actions.trip.money import purse
from spares.actions.trip.needed import ask_days, part_names, planned
from spares.actions.trip.request import trip_request
from spares.actions.trip.restock import plan_for, restock
from spares.domain.provision import Limits
from spares.errors import InvalidInput, OutOfRange

DRAFT = "Not saved"


def draft_restock(ctx: Context, *, trip: str | None = None, change_id: str | None = None,
                  **asked: Any) -> dict[str, Any]:
    """Plan a trip as it would be; nothing is written.

    Args:
        ctx: Where it happens.
        trip: The stored trip that would change, None for a new one [-].
        change_id: Taken for the sake of forms that always send one; without effect [-].
        asked: Fields of a trip.

    Raises:
        InvalidInput: with every field that makes no sense.
        NotFound: no such trip, machine or part.
    """
    name = ctx.named(trip, "trip", "trip") if trip else None
    aboard = ctx.aboard()
    if name is None:
        asked = {key: value for key, value in asked.items() if value is not None}
    read = read_trip(ctx, aboard, name, asked)
    place = name or new_name()
    found = plan_for(ctx, check_draft(aboard, place, read), place)
    if name is None:
        found["trip"] |= {"no": None, "id": None, "name": found["trip"]["name"] or DRAFT}
    return {**found, "was": restock(ctx, name)["sums"] if name else None}


def kit_for(ctx: Context, trip: str, *, level: float | None = None, cost: float | None = None,
            mass_kg: float | None = None) -> dict[str, Any]:
    """Say which spares against failures protect a trip best for the money or the mass.

    Args:
        ctx: Where it happens.
        trip: As people call it [-].
        level: Protection of the whole trip to reach [1]; instead of limits.
        cost: What may be spent, in the plan's currency [-].
        mass_kg: What it may weigh [kg].

    Raises:
        InvalidInput: level and limits together, or the trip counts no failures.
        OutOfRange: no kit reaches the level.
    """
    if level is not None and (cost is not None or mass_kg is not None):
        raise InvalidInput.at("#/level", "a level or limits, not both")
    name, aboard = ctx.named(trip, "trip", "trip"), ctx.aboard()
    record = aboard.get(name)
    ask_days(record)
    _, request, left = planned(trip_request(aboard, record, ctx.today))
    values = request_values(request)
    limits = None
    if level is not None or cost is not None or mass_kg is not None:
        limits = Limits(None if cost is None else int(Decimal(str(cost)) * 100),
                        None if mass_kg is None else int(Decimal(str(mass_kg)) * 1000))
    try:
        found = kit_of(values, purse(aboard, record), part_names(aboard), aboard, record,
                       limits=limits, level=level)
    except OutOfRange as err:
        raise err.at("#/level") from err
    if found is None:
        raise InvalidInput.at("#/trip", "no failure figures count in this trip's plan: nobody can "
                                        "say what protects it")
    return {**found, "remarks": [*left.words, *found["remarks"]]} if left.words else found
