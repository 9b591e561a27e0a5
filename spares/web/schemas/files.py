"""Files that go out and come in: labels, exports, imports."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.web.language import language_field
from spares.web.schemas.base import Answer, VesselQuery, a_text, a_whole, maybe, yes
from spares.web.schemas.bringing import progress_field
from spares.web.schemas.values import Day, PlainText


class LabelsQuery(VesselQuery):
    """How labels are printed."""

    language = language_field()
    size = fields.String(load_default="M", validate=validate.OneOf(("S", "M", "L")))
    sheet = fields.String(load_default="single", validate=validate.OneOf(
        ("single", "a4", "a5", "letter")), metadata={
        "description": "single: a page a label; else a sheet, filled unless rows are said"})
    rows = fields.Integer(validate=validate.Range(1, 100))
    columns = fields.Integer(validate=validate.Range(1, 100))
    margin_left_mm = fields.Float(validate=validate.Range(0, 300))
    margin_top_mm = fields.Float(validate=validate.Range(0, 300))
    gap_x_mm = fields.Float(validate=validate.Range(0, 300))
    gap_y_mm = fields.Float(validate=validate.Range(0, 300))
    start = fields.Integer(validate=validate.Range(1, 10_000), metadata={
        "description": "First free place of a sheet that was begun, from 1"})
    outline = fields.Boolean(metadata={"description": "Draw a thin line to cut along"})
    dpi = fields.Integer(load_default=300, validate=validate.OneOf((203, 300, 600)))
    only_these = PlainText(longest=2000, shortest=1, data_key="only", metadata={
        "description": "Only these, by number or code, parted by commas"})
    address = fields.Boolean(load_default=False, metadata={
        "description": "Put this server's address into the symbol, for any camera"})


class LabelsThere(Answer):
    """How many labels there are to print: of what has a code."""

    lockers = a_whole()
    machines = a_whole()
    bags = a_whole()
    cannot_show = a_text()


class ImportQuery(VesselQuery):
    """How a file comes in."""

    look = fields.Boolean(load_default=False, metadata={
        "description": "Only say what would happen"})
    name = PlainText(longest=200, shortest=1, metadata={
        "description": "The file's name, where one table comes as CSV: parts.csv"})
    day_zero = Day(metadata={
        "description": "The day that the files' own day zero stands for now"})
    progress = progress_field()


class ImportAnswer(Answer):
    """What came in, or would."""

    vessel = a_text()
    batch = maybe("undo this to take all of it back")
    changes = a_whole()
    known_already = a_whole()
    look = yes()
    things = fields.Dict(required=True)


class ExportQuery(VesselQuery):
    """How tables and calendars are written."""

    semicolons = fields.Boolean(load_default=False, metadata={
        "description": "CSV with semicolons and decimal commas"})
    as_events = fields.Boolean(load_default=False, metadata={
        "description": "Calendar entries as events instead of to-dos"})
