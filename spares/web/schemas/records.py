"""Vessels, the state of things, changes, checks, and what a writing verb answers."""

from __future__ import annotations

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
    yes,
)
from spares.web.schemas.parts import LeftOverChoice, Where
from spares.web.schemas.values import PlainText, Yes

SERVICE_STATES = ("done", "coming", "due", "overdue", "history-unknown", "not-wanted")


class Vessel(Answer):
    """A vessel of this store."""

    id = a_text()
    mark = a_text()
    name = maybe()


class VesselsAnswer(Answer):
    """The vessels; the first is meant where none is named."""

    vessels = many(Vessel)


class Summary(Answer):
    """What is aboard, and what asks to be looked at."""

    today = a_text()
    vessel = fields.Dict(required=True)
    counts = fields.Dict(required=True)
    short = fields.Integer(required=True, allow_none=True)
    plan_fault = maybe("why the next trip cannot be planned; then nothing is called short")
    demo = yes()
    due = fields.Dict(required=True)
    stranded = a_whole()
    not_counted = a_whole()
    in_doubt = a_whole()
    unsettled = fields.Dict(required=True, metadata={
        "description": "How many things are to be settled: apart, gone, gone_but_there"})
    next_trip = fields.Dict(required=True, allow_none=True)
    backup = fields.Dict(required=True, allow_none=True, metadata={
        "description": "The last one of any kind: made, file (a phone hears its name alone, if at "
        "all), days_ago, changes_since"})
    not_writing = maybe("why nothing more is written until a new start: damage, or the disk")


class LastDone(Answer):
    """When a service was last done."""

    date = maybe()
    hours = a_number(null=True)


class DueLine(Answer):
    """A service and when it is due."""

    service = a_text()
    what = maybe()
    machine = maybe()
    machine_name = maybe()
    points = texts()
    do_not_run = texts("open trails of its machine")
    state = one_of(SERVICE_STATES)
    due_on = maybe()
    due_at_hours = a_number(null=True)
    hours_left = a_number(null=True)
    days_left = a_whole(null=True)
    estimated = yes("the day is told from the running hours")
    from_baseline = yes("counted from the baseline, not from a known service")
    last = one(LastDone, null=True)
    cautions = texts()
    remarks = texts()


class DueAnswer(Answer):
    """Services, the most urgent first."""

    today = a_text()
    until = maybe()
    baseline_on = maybe("the day from which is counted what nobody can date")
    services = many(DueLine)


class NamedPart(Answer):
    """A part by number and name."""

    part = a_text()
    name = maybe()


class StrandedLine(NamedPart):
    """A part that fits nothing as she is fitted today."""

    quantity = a_number()
    where = many(Where)
    belongs_to = maybe("the fit point that is gone")
    of = one(NamedPart, null=True)
    taken_out = maybe()
    left_over = one(LeftOverChoice, null=True)


class StrandedAnswer(Answer):
    """Stranded parts, and those whose fits nobody wrote down."""

    stranded = many(StrandedLine)
    fits_not_recorded = many(NamedPart)


class ChangeLine(Answer):
    """One change, in words."""

    id = a_text()
    seq = a_whole()
    kind = a_text()
    at = a_text("ISO, UTC")
    text = a_text()
    name = maybe("what the thing is called whose number stands in the text")
    device = a_text()
    undone = yes()
    can_undo = yes()


class ChangesAnswer(Answer):
    """Changes, newest first."""

    changes = many(ChangeLine)


class LoanLine(Answer):
    """One loan."""

    loan = a_text("UUID")
    who = maybe()
    on = maybe("ISO day")
    back_by = maybe("ISO day by which it is to be back")
    part = a_text()
    name = maybe()
    quantity = a_number()
    back = a_number("how much of it went back")


class LoansAnswer(Answer):
    """What is lent, and what is borrowed."""

    lent = many(LoanLine)
    borrowed = many(LoanLine)


class SlipAnswer(Answer):
    """A slip for the other vessel, as its `slip-in` takes it."""

    spares_slip = a_whole()
    kind = one_of(("loan", "return"))
    loan = a_text("UUID")
    seal = a_text("SHA-256 of the rest; it finds damage")


class ChangesQuery(VesselQuery):
    """Which changes."""

    limit = fields.Integer(load_default=50, validate=validate.Range(1, 500))
    before = fields.Integer(validate=validate.Range(1, 2**53 - 1), metadata={
        "description": "Only those before this `seq`"})


class CheckAnswer(Answer):
    """Whether the log is whole, and what cannot be right."""

    entries = a_whole()
    faults = fields.List(fields.Dict(), required=True)
    rebuilt = yes()
    differences = fields.List(fields.Dict(), required=True)


class CheckBody(Asked):
    """Whether the tables are to be made anew from the log."""

    rebuild = Yes(required=True)


class DoneAnswer(Answer):
    """What a verb did. Sent again with the same change_id, `was_new` is false."""

    text = a_text()
    kind = a_text()
    change = fields.String()
    was_new = fields.Boolean()


class DocumentBody(Asked):
    """Begin a document, or set fields of one that is there."""

    doc = PlainText(longest=200, shortest=1, allow_none=True, metadata={
        "description": "kind/id of the document; without it a new one is begun"})
    kind = PlainText(longest=40, shortest=1, required=True)
    to_set = fields.Dict(keys=fields.String(), required=True, data_key="fields")
    change_id = fields.UUID(allow_none=True, metadata={
        "description": "UUID made by the client: the same request sent twice changes once"})


class DocumentAnswer(Answer):
    """The document as it is now."""

    doc = a_text()
    kind = a_text()
    no = maybe()
    now = fields.Dict(required=True, data_key="fields")
