"""The verbs that write: one table of shapes and actions, for the API and the command line."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from marshmallow import Schema, ValidationError

from spares.actions.accepting import accept
from spares.actions.compute import invalid_shape
from spares.actions.context import Context
from spares.actions.counted import counted
from spares.actions.daily_run import daily_run
from spares.actions.done import done
from spares.actions.doubt import doubt
from spares.actions.drained import drained
from spares.actions.exchange import exchange
from spares.actions.found import baseline, found
from spares.actions.gauged import gauge, gauged, test_run
from spares.actions.interval import interval
from spares.actions.kits import pick, put_back
from spares.actions.labels import code_lots
from spares.actions.landed import landed
from spares.actions.left_over import left_over
from spares.actions.lending import give_back, take_slip
from spares.actions.lent import lent
from spares.actions.lessons import lesson
from spares.actions.moved import moved
from spares.actions.ordering import arrived, cancel_order, ordered, stowed, want, want_trip
from spares.actions.photos import photo
from spares.actions.put import put
from spares.actions.reading import reading
from spares.actions.same import same
from spares.actions.settle import settle
from spares.actions.tightened import tightened
from spares.actions.took import took
from spares.actions.trail_closing import trail_accept, trail_count, trail_first_run
from spares.actions.trailing import trail_begin, trail_look, trail_place
from spares.actions.trip.write import edit_trip, new_trip
from spares.actions.undo import undo
from spares.errors import NotFound
from spares.web.schemas import do
from spares.web.schemas import orders as ordering
from spares.web.schemas import photos as pictures
from spares.web.schemas import readings as figures
from spares.web.schemas import trails as trailing
from spares.web.schemas import trips as plans


@dataclass(frozen=True)
class Verb:
    """A verb: the shape of its request, and what does it."""

    shape: type[Schema]
    act: Callable[..., dict[str, Any]]


VERBS = {
    "took": Verb(do.Took, took),
    "put": Verb(do.Put, put),
    "landed": Verb(do.Landed, landed),
    "counted": Verb(do.Counted, counted),
    "doubt": Verb(do.Doubt, doubt),
    "moved": Verb(do.Moved, moved),
    "lent": Verb(do.Lent, lent),
    "slip-in": Verb(do.SlipIn, take_slip),
    "give-back": Verb(do.GiveBack, give_back),
    "reading": Verb(do.Reading, reading),
    "gauge": Verb(figures.Gauge, gauge),
    "gauged": Verb(figures.Gauged, gauged),
    "daily-run": Verb(figures.DailyRun, daily_run),
    "lesson": Verb(figures.Lesson, lesson),
    "tightened": Verb(figures.Tightened, tightened),
    "test-run": Verb(figures.TestRun, test_run),
    "exchange": Verb(do.Exchange, exchange),
    "left-over": Verb(do.LeftOver, left_over),
    "done": Verb(do.Done, done),
    "interval": Verb(do.Interval, interval),
    "pick": Verb(do.Pick, pick),
    "put-back": Verb(do.PutBack, put_back),
    "found": Verb(do.Found, found),
    "baseline": Verb(do.Baseline, baseline),
    "drained": Verb(do.Drained, drained),
    "photo": Verb(pictures.Photo, photo),
    "settle": Verb(do.Settle, settle),
    "same": Verb(do.Same, same),
    "accept": Verb(ordering.Accept, accept),
    "want": Verb(ordering.Want, want),
    "want-trip": Verb(ordering.WantTrip, want_trip),
    "ordered": Verb(ordering.Ordered, ordered),
    "arrived": Verb(ordering.Arrived, arrived),
    "stowed": Verb(ordering.Stowed, stowed),
    "cancel-order": Verb(ordering.CancelOrder, cancel_order),
    "trail-begin": Verb(trailing.TrailBegin, trail_begin),
    "trail-look": Verb(trailing.TrailLook, trail_look),
    "trail-place": Verb(trailing.TrailPlace, trail_place),
    "trail-count": Verb(trailing.TrailCount, trail_count),
    "trail-accept": Verb(trailing.TrailAccept, trail_accept),
    "trail-first-run": Verb(trailing.TrailFirstRun, trail_first_run),
    "undo": Verb(do.Undo, undo),
    "code-lots": Verb(do.CodeLots, code_lots),
}


def perform(ctx: Context, verb: str, body: Any) -> dict[str, Any]:
    """Do *verb* with the request *body* (plain JSON).

    Raises:
        NotFound: there is no such verb.
        InvalidInput: the body has another shape; `errors` says where.
    """
    known = VERBS.get(verb)
    if known is None:
        raise NotFound(f"there is no verb {verb!r}", known=list(VERBS))
    try:
        asked = known.shape().load(body)
    except ValidationError as err:
        raise invalid_shape(err) from err
    return act(ctx, known, asked)


def act(ctx: Context, verb: Verb, asked: dict[str, Any]) -> dict[str, Any]:
    """Do *verb* with a request as its shape loaded it; null means left out."""
    given = {name: str(value) if isinstance(value, UUID) else value
             for name, value in asked.items() if value is not None}
    return verb.act(ctx, **given)


def write_trip(ctx: Context, trip: str | None, body: Any) -> dict[str, Any]:
    """Plan a new trip, or change the one called *trip*, by the request *body*.

    Raises:
        InvalidInput: the body has another shape; `errors` says where.
        NotFound: there is no such trip.
    """
    shape = plans.NewTrip if trip is None else plans.EditTrip
    try:
        asked = shape().load(body)
    except ValidationError as err:
        raise invalid_shape(err) from err
    if trip is None:
        return new_trip(ctx, **trip_fields(asked))
    return edit_trip(ctx, trip, **trip_fields(asked))


def trip_fields(asked: dict[str, Any]) -> dict[str, Any]:
    """Name the fields of a trip as the actions do."""
    given = {name: str(value) if isinstance(value, UUID) else value
             for name, value in asked.items()}
    if "hours" in given:
        given["run"] = given.pop("hours")
    return given
