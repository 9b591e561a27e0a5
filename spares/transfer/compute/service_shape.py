"""The request of what is due, as anybody may send it."""

from __future__ import annotations

from marshmallow import fields

from spares.transfer.compute.numbers import Day, Shape
from spares.transfer.compute.vessel_shapes import (
    FitPointShape,
    MachineShape,
    ReadingShape,
    RecordShape,
    TaskShape,
)


class Request(Shape):
    """Machines with their tasks, what was done, what the counters showed."""

    today = Day(required=True)
    machines = fields.List(fields.Nested(MachineShape), load_default=list)
    fit_points = fields.List(fields.Nested(FitPointShape), load_default=list)
    tasks = fields.List(fields.Nested(TaskShape), load_default=list)
    records = fields.List(fields.Nested(RecordShape), load_default=list)
    readings = fields.List(fields.Nested(ReadingShape), load_default=list)
    baseline_on = Day(allow_none=True, load_default=None)
