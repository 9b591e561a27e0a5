"""Moving in from a person's own spreadsheet: what is asked and answered."""

from __future__ import annotations

from marshmallow import fields

from spares.web.schemas.base import Answer, VesselQuery, a_text, a_whole, maybe, yes
from spares.web.schemas.bringing import progress_field
from spares.web.schemas.values import PlainText


class SheetQuery(VesselQuery):
    """How a spreadsheet is read."""

    name = PlainText(longest=200, shortest=1, metadata={"description": "The file's name"})
    columns = PlainText(longest=20_000, shortest=1, metadata={"description": (
        "JSON: for each column {field, mark, order, currency}; what is not said is guessed, "
        "field null leaves the column out")})
    suggestions = fields.Boolean(load_default=False, metadata={
        "description": "Take the rows to look at as well, as they are suggested"})
    progress = progress_field()


class LookedAnswer(Answer):
    """What a spreadsheet would bring."""

    columns = fields.List(fields.Dict(), required=True)
    fields_ = fields.List(fields.String(), required=True, data_key="fields", attribute="fields")
    notes = fields.List(fields.String(), required=True)
    rows, good, look_at, skip, coming = (a_whole() for _ in range(5))
    new_parts, counts, not_shown = a_whole(), a_whole(), a_whole()
    new_lockers = fields.List(fields.String(), required=True)
    lines = fields.List(fields.Dict(), required=True)


class BroughtAnswer(Answer):
    """What came in."""

    vessel = a_text()
    batch = maybe("undo this to take all of it back")
    changes, known_already, rows, left_out = (a_whole() for _ in range(4))
    look = yes()
    things = fields.Dict(required=True)
