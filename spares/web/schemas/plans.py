"""Fit and trips."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.web.schemas.base import (
    Answer,
    Asked,
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
from spares.web.schemas.things import Caution, Thing
from spares.web.schemas.values import ByName, Day, PlainText, Yes, hours, reference, remark

VERDICTS = ("fits", "fits-with-changes", "does-not-fit", "not-known-yet")
OUTCOMES = ("match", "change", "stop", "advisory", "unknown")
LINE_STATES = ("enough", "order-by", "short", "too-late", "cannot-say", "accepted")


class FitBody(Asked):
    """A fit point, and a part or what was measured."""

    point = reference("fit point", required=True)
    part = reference("part", allow_none=True)
    offers = fields.Dict(keys=fields.String(), allow_none=True, metadata={
        "description": "What was measured, by attribute, as the fit computation takes it; "
                       "empty to be told what to measure"})
    keep = Yes(metadata={"description": "Write the verdict down"})


class FitRow(Answer):
    """One attribute compared."""

    attr = a_text()
    label = a_text()
    outcome = one_of(OUTCOMES)
    required = maybe()
    offered = maybe()
    reason = maybe()
    drawing = fields.String(metadata={
        "description": "Which of the client's drawings shows how it is measured"})
    offered_as = fields.String(metadata={
        "description": "The part's own attribute by which a seat is met"})


class FitAnswer(Answer):
    """The verdict, row by row, and what follows from it aboard."""

    verdict = one_of(VERDICTS)
    kind = a_text("the kind sheet it was judged by")
    rows = many(FitRow)
    to_measure = texts()
    changes = fields.List(fields.Dict(), required=True)
    advisories = fields.List(fields.Raw(), required=True)
    point = one(Thing)
    part = fields.Dict(required=True, allow_none=True)
    would_strand = fields.List(fields.Dict(), required=True)
    no_longer_needed = fields.List(fields.Dict(), required=True)
    needs = fields.List(fields.Dict(), required=True)
    notes = texts()
    cautions = many(Caution)


class SheetFault(Answer):
    """What is wrong with a person's own kind sheet."""

    file = a_text()
    key = a_text("where in the file, such as attributes/length/tol")
    detail = a_text()
    kind = a_text("the kind it was meant for")


class Kind(Answer):
    """A kind of part that there is a sheet for."""

    kind = a_text()
    label = a_text()
    file = maybe("a person's own file; null for the program's own")
    lines = a_whole()


class Kinds(Answer):
    """The kinds, and what is wrong with a person's own sheets."""

    kinds = many(Kind)
    faults = many(SheetFault)
    folder = maybe("where a person's own sheets are looked for")


class FitData(Answer):
    """Kind sheets, named changes and tables, each by its name."""

    sheets = fields.Dict(keys=fields.String(), required=True)
    changes = fields.Dict(keys=fields.String(), required=True)
    tables = fields.Dict(keys=fields.String(), required=True)
    types = fields.Dict(keys=fields.String(), required=True)
    tools = fields.Dict(keys=fields.String(), required=True)
    faults = many(SheetFault)
    used_rubber_mm = a_text("uncertainty of rubber that has been used [mm]")


class FitBook(Answer):
    """A vessel's fit points and parts, for checks without a server."""

    vessel = maybe()
    as_of = a_text("the day on which it was so, ISO")
    machines = fields.List(fields.Dict(), required=True)
    points = fields.List(fields.Dict(), required=True)
    parts = fields.List(fields.Dict(), required=True)


class TripFields(Asked):
    """What may be said of a trip."""

    hours = ByName(keys=PlainText(longest=200, shortest=1), values=hours(), metadata={
        "description": "Running hours of the whole trip by machine [h]"})
    hours_before_departure = fields.String(validate=validate.OneOf(("none", "as-usual")))
    ready_days = fields.Integer(strict=True, validate=validate.Range(0, 365))
    protection = fields.Dict(keys=fields.String())
    limits = fields.Dict(keys=fields.String())
    border = remark()
    note = remark()


class NewTrip(TripFields):
    """A trip to be planned."""

    name = PlainText(longest=200, shortest=1, required=True)
    departs_on = Day(required=True)
    returns_on = Day(required=True)


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
    earliest_departure = maybe()
    remarks = texts()


class WhyAnswer(Answer):
    """One line of the plan, with its reasons."""

    trip = one(Trip)
    line = one(RestockLine)
