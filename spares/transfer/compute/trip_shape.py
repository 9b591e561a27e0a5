"""The request of a trip, as anybody may send it."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from spares.domain.trip.request import LEVELS, MANOEUVRING_H, READY_DAYS, WHOLE
from spares.transfer.compute.charge import Request as ChargeRequest
from spares.transfer.compute.failure_shapes import FailureShape
from spares.transfer.compute.numbers import (
    ByName,
    Day,
    Exact,
    Grams,
    Minor,
    PartialDay,
    Shape,
    Thousandths,
    Whole,
)
from spares.transfer.compute.vessel_shapes import (
    FitPointShape,
    MachineShape,
    ReadingShape,
    RecordShape,
    TaskShape,
)


class LegShape(Shape):
    """A stretch under way."""

    distance_nm = Exact(required=True)
    speed_kn = Exact(required=True)
    machines = fields.List(fields.String(), required=True)
    motor_share = Exact(load_default=1)
    manoeuvring_h = Exact(load_default=MANOEUVRING_H)
    day = Whole(allow_none=True, load_default=None)


class EnergyShape(ChargeRequest):
    """The daily charge; its days are those of the trip."""

    machine = fields.String(required=True)
    days = Whole(allow_none=True, load_default=None)


class StopShape(Shape):
    """A harbour and what it sells."""

    day = Whole(required=True)
    sells = fields.List(fields.String(), load_default=list)


class LimitsShape(Shape):
    """What may be spent, inclusive."""

    cost = Minor(allow_none=True, load_default=None)
    mass_kg = Grams(allow_none=True, load_default=None)


class LevelField(fields.Field):
    """One level, or one for each weight."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, dict):
            return float(Exact().deserialize(value))
        read = ByName(Exact()).deserialize(value)
        return {weight: float(level) for weight, level in read.items()}


class TripShape(Shape):
    """Days, running, levels, stops, limits."""

    departs_on = Day(required=True)
    days = Whole(required=True)
    hours_per_day = ByName(Exact(), load_default=dict)
    hours = ByName(Exact(), load_default=dict)
    legs = fields.List(fields.Nested(LegShape), load_default=list)
    energy = fields.Nested(EnergyShape, allow_none=True, load_default=None)
    ready_days = Whole(load_default=READY_DAYS)
    hours_before_departure = fields.String(
        load_default="as-usual", validate=validate.OneOf(("none", "as-usual")))
    protection = LevelField(load_default=lambda: dict(LEVELS))
    stops = fields.List(fields.Nested(StopShape), load_default=list)
    limits = fields.Nested(LimitsShape, allow_none=True, load_default=None)
    accepted = fields.List(fields.String(), load_default=list)


class PartShape(Shape):
    """What buying needs to know."""

    id = fields.String(required=True)
    lead_days = Whole(allow_none=True, load_default=None)
    cost = Minor(allow_none=True, load_default=None)
    mass_kg = Grams(allow_none=True, load_default=None)
    pack = Thousandths(load_default=WHOLE)
    stand_ins = fields.List(fields.String(), load_default=list)
    name = fields.String(allow_none=True, load_default=None)


class LotShape(Shape):
    """Pieces in one locker; the quantity may be missing where nobody counted."""

    part = fields.String(required=True)
    locker = fields.String(allow_none=True, load_default=None)
    quantity = Thousandths(allow_none=True, load_default=None)
    condition = fields.String(load_default="new")
    expires = PartialDay(allow_none=True, load_default=None)
    aboard = fields.Boolean(load_default=True)
    reachable = fields.Boolean(load_default=True)
    reserved = Thousandths(load_default=0)
    counted = fields.Boolean(load_default=True)


class Request(Shape):
    """Vessel, trip and stock."""

    today = Day(required=True)
    trip = fields.Nested(TripShape, required=True)
    machines = fields.List(fields.Nested(MachineShape), load_default=list)
    fit_points = fields.List(fields.Nested(FitPointShape), load_default=list)
    tasks = fields.List(fields.Nested(TaskShape), load_default=list)
    records = fields.List(fields.Nested(RecordShape), load_default=list)
    readings = fields.List(fields.Nested(ReadingShape), load_default=list)
    parts = fields.List(fields.Nested(PartShape), load_default=list)
    lots = fields.List(fields.Nested(LotShape), load_default=list)
    failures = fields.List(fields.Nested(FailureShape), load_default=list)
    keep = ByName(Thousandths(), load_default=dict)
