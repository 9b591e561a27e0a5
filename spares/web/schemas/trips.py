"""Trips, what each needs, and what it would cost."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from spares.web.schemas.base import (
    Answer,
    Asked,
    VesselQuery,
    a_number,
    a_text,
    a_whole,
    many,
    maybe,
    one,
    one_of,
    texts,
)
from spares.web.schemas.parts import Where
from spares.web.schemas.things import Thing
from spares.web.schemas.trails import Stopped
from spares.web.schemas.values import ByName, Day, PlainText, Yes, hours, reference, remark

LINE_STATES = ("enough", "order-by", "short", "too-late", "cannot-say", "accepted")
CHANGE_ID = "Chosen by the maker; the same one again changes nothing"


def _listed(description: str) -> Any:
    """A field whose shape the trip itself knows: what is wrong in it is named there."""
    return fields.Raw(allow_none=True, metadata={"description": description})


class TripFields(Asked):
    """What may be said of a trip."""

    change_id = fields.UUID(metadata={"description": CHANGE_ID})
    hours = ByName(keys=PlainText(longest=200, shortest=1), values=hours(allow_none=True),
                   allow_none=True, metadata={
        "description": "Running hours of the whole trip by machine [h]; null takes one away"})
    hours_before_departure = fields.String(
        allow_none=True, validate=validate.OneOf(("none", "as-usual")))
    ready_days = fields.Integer(strict=True, allow_none=True, validate=validate.Range(0, 365))
    crew = fields.Integer(strict=True, allow_none=True, validate=validate.Range(0, 1000))
    count_failures = Yes(allow_none=True, metadata={
        "description": "False plans services alone; what may break is not counted"})
    legs = _listed("Stretches under way: distance_nm with speed_kn, or hours; machines")
    at_anchor = _listed("Days at anchor and hours a day of machines there: days, run")
    energy = _listed("Daily balance of the battery: machine, loads, solar, bank, charger")
    water = _listed("Watermaker: machine, litres_per_person, output_l_per_h")
    fuel = _listed("Tank and reserve: tank_l, reserve (thirds, or a share of the plan)")
    stops = _listed("Supply stops: name, arrives_on, leaves_on, and what is sold there")
    protection = _listed("Protection wanted: level, or A, B and C")
    limits = _listed("What may be spent: cost, mass_kg, currency")
    prices = _listed("Currency of the sums and rates of others: currency, rates")
    border = remark()
    note = remark()


class NewTrip(TripFields):
    """A trip to be planned."""

    name = PlainText(longest=200, shortest=1, required=True)
    departs_on = Day(required=True)
    returns_on = Day(required=True)


class DraftTrip(TripFields):
    """A trip that nobody has written down, or what would change in one that somebody has."""

    trip = reference("trip that it would change", allow_none=True)
    name = PlainText(longest=200)
    departs_on = Day()
    returns_on = Day()


class PrefillQuery(VesselQuery):
    """The days of the new trip, as far as known."""

    departs_on = Day()
    returns_on = Day()


class PrefillAnswer(Answer):
    """The last trip's fields, and which trip that was."""

    origin = fields.Dict(required=True, allow_none=True, data_key="from", attribute="from")
    fields_ = fields.Dict(required=True, data_key="fields", attribute="fields")


class KitQuery(VesselQuery):
    """A level of the whole trip, or limits; none of them shows the trip's own."""

    level = fields.Float(validate=validate.Range(0, 1, min_inclusive=False, max_inclusive=False))
    cost = fields.Float(validate=validate.Range(0, 1e9))
    mass_kg = fields.Float(validate=validate.Range(0, 1e6))


class EditTrip(TripFields):
    """What is to be changed of a trip."""

    name = PlainText(longest=200, shortest=1)
    departs_on = Day()
    returns_on = Day()


class Trip(Thing):
    """A trip."""

    no = maybe()
    name = maybe()
    departs_on = maybe()
    returns_on = maybe()
    days = a_whole(null=True)
    hours = fields.Dict(required=True)
    crew = a_whole(null=True)
    legs = fields.Raw(required=True, allow_none=True)
    stops = fields.Raw(required=True, allow_none=True)
    was_new = fields.Boolean()
    change = fields.String(allow_none=True)


class TripsAnswer(Answer):
    """The trips, the next one first."""

    trips = many(Trip)


class NamedStandIn(Answer):
    """A part that may serve instead, with the proof for it."""

    part = a_text()
    name = maybe()
    proof = maybe()


class RestockLine(Answer):
    """What a trip needs of one part."""

    part = a_text()
    name = maybe()
    state = one_of(LINE_STATES)
    for_service = a_number()
    for_failure = a_number()
    set_aside = a_number()
    keep = a_number()
    minimum = a_number()
    usable = a_number()
    short = a_number()
    buy = a_number()
    order_by = maybe()
    late_days = a_whole(null=True)
    why = texts()
    remarks = texts()
    where = many(Where)
    stand_ins = many(NamedStandIn)


class RestockAnswer(Answer):
    """What a trip needs, what is short, what is due."""

    trip = one(Trip)
    lines = many(RestockLine)
    short = texts()
    services = fields.List(fields.Dict(), required=True)
    due_before_leaving = texts()
    history_unknown = texts()
    stranded = fields.List(fields.Dict(), required=True)
    out_of_date = fields.Dict(required=True)
    not_reachable = fields.List(fields.Dict(), required=True)
    ashore = fields.List(fields.Dict(), required=True)
    lent = fields.List(fields.Dict(), required=True)
    protection = fields.Dict(required=True, allow_none=True)
    running = fields.List(fields.Dict(), required=True)
    energy = fields.Dict(required=True, allow_none=True)
    fuel = fields.Dict(required=True, allow_none=True)
    stops = fields.List(fields.Dict(), required=True)
    kit = fields.Dict(required=True, allow_none=True)
    sellers = fields.List(fields.Dict(), required=True)
    costs = fields.List(fields.Dict(), required=True)
    timeline = fields.Dict(required=True)
    curves = fields.List(fields.Dict(), required=True)
    failures = fields.List(fields.Dict(), required=True)
    no_figure = texts()
    sums = fields.Dict(required=True)
    earliest_departure = maybe()
    do_not_run = many(Stopped, "machines that this trip needs and that must not run")
    remarks = texts()


class DraftAnswer(RestockAnswer):
    """The same for a trip that nobody has written down, beside the stored one's sums."""

    was = fields.Dict(required=True, allow_none=True)


class KitAnswer(Answer):
    """The best kit, its bound, and the curve that leads to it."""

    buy = fields.List(fields.Dict(), required=True)
    spent = fields.Dict(required=True)
    start = a_number()
    reached = a_number()
    upper_bound = a_number()
    curve = fields.List(fields.Dict(), required=True)
    remarks = texts()


class WhyAnswer(Answer):
    """One line of the plan, with its reasons."""

    trip = one(Trip)
    line = one(RestockLine)
