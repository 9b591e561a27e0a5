"""How many of each part a trip needs: what lines and lists say, without the answer to a trip."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from spares.actions.amounts import thousandths
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.trip.left_out import LeftOut, answered
from spares.actions.trip.request import trip_request, wanted_parts
from spares.domain.aboard import Aboard, Record
from spares.domain.identity import ref
from spares.errors import InvalidInput

#: States of a line whose parts are not enough.
SHORT = ("short", "order-by", "too-late")


def planned(request: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any], LeftOut]:
    """Plan a trip without the rows that no plan can count, and say which those are.

    Raises:
        As the trip computation, for what is wrong in the trip itself.
    """
    return answered(request, lambda one: compute("trip", one))


def ask_days(trip: Record) -> None:
    """Refuse to plan a trip without its days.

    Raises:
        InvalidInput: it has no leaving or return day, or returns before it leaves.
    """
    if not trip.departs_on or not trip.returns_on:
        raise InvalidInput.at("#/trip", f"{trip.no} has no leaving or return day yet")
    if trip.returns_on < trip.departs_on:
        raise InvalidInput.at("#/trip", f"{trip.no} returns before it leaves")


def trip_needs(ctx: Context, aboard: Aboard,
               trip: Record) -> Iterator[tuple[str, int | None, int]]:
    """Give (part's name, need, usable) of a trip's lines [thousandths]; need None: nobody knows."""
    if not trip.departs_on or not trip.returns_on:
        return
    ask_days(trip)
    (plan, _, left), names = planned(trip_request(aboard, trip, ctx.today)), part_names(aboard)
    yield from ((names[part], None, 0) for part in left.parts if part in names)
    for line in plan["lines"]:
        if line["part"] in left.parts and line["state"] not in SHORT:
            continue
        if line["minimum"]:
            yield (names[line["part"]], thousandths(line["minimum"], "minimum"),
                   thousandths(line["usable"], "usable", least=0))


def wanted_aboard(ctx: Context) -> Aboard:
    """Read the vessel with only those parts that a plan can ask for: few among thousands."""
    named = wanted_parts(ctx.aboard([]), named_only=True)
    return ctx.aboard(list(wanted_parts(ctx.aboard(list(named)), named_only=True)))


def part_names(aboard: Aboard) -> dict[str, str]:
    """Give the document of each part by its number; one that is gone gives way."""
    every = sorted(aboard.docs["part"].values(), key=lambda one: not one.gone)
    return {one.no or one.id: ref("part", one.id) for one in every}
