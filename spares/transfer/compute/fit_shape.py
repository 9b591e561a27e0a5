"""The request of a fit check, as anybody may send it."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate

from spares.domain.fit.values import COMPARATORS, ORIGINS, PROOFS, ROLES, SEVERITIES
from spares.domain.place_fields import ATTITUDES, DRIVERS, MEDIA
from spares.transfer.compute.numbers import ByName


class OriginShape(Schema):
    """Where a value is from."""

    how = fields.String(validate=validate.OneOf(ORIGINS), allow_none=True)
    when = fields.String(allow_none=True)
    by = fields.String(allow_none=True)
    tool = fields.String(allow_none=True)


class Number(fields.Field):
    """A number, or number text with point or comma."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, int | float | str):
            raise ValidationError("a number is needed")
        return value


class RequirementShape(Schema):
    """What is asked of one attribute."""

    attr = fields.String(required=True)
    value = fields.Raw(allow_none=True, load_default=None)
    unit = fields.String(allow_none=True)
    tol = Number(allow_none=True)
    u = Number(allow_none=True)
    cmp = fields.String(validate=validate.OneOf(COMPARATORS), allow_none=True)
    severity = fields.String(validate=validate.OneOf(SEVERITIES), allow_none=True)
    origin = fields.Nested(OriginShape, allow_none=True)


class PlaceShape(Schema):
    """Where the fit point is."""

    wet = fields.Boolean(truthy={True}, falsy={False}, allow_none=True)
    medium = fields.String(validate=validate.OneOf(MEDIA), allow_none=True)
    petrol_space = fields.Boolean(truthy={True}, falsy={False}, allow_none=True)
    below_waterline = fields.Boolean(truthy={True}, falsy={False}, allow_none=True)
    above_waterline = fields.Boolean(truthy={True}, falsy={False}, allow_none=True)
    attitude = fields.String(validate=validate.OneOf(ATTITUDES), allow_none=True)
    mating_metal = fields.String(allow_none=True)
    temperature_c = Number(allow_none=True)
    wire_mm2 = Number(allow_none=True)
    wire_insulation_c = Number(allow_none=True)
    rotation = fields.Raw(allow_none=True)
    engine_speed_rpm = Number(allow_none=True)
    drive_pulley_mm = Number(allow_none=True)
    driven_pulley_mm = Number(allow_none=True)
    driven_by = fields.String(validate=validate.OneOf(DRIVERS), allow_none=True)
    slip = Number(allow_none=True)


class LinkShape(Schema):
    """A recorded tie of the part to the fit point."""

    role = fields.String(validate=validate.OneOf(ROLES), load_default="takes")
    proof = fields.String(validate=validate.OneOf(PROOFS), required=True)


class Request(Schema):
    """A fit check: what is asked, what is offered, where, and what is recorded."""

    kind = fields.String(required=True)
    place = fields.Nested(PlaceShape, allow_none=True, load_default=dict)
    requires = fields.List(fields.Nested(RequirementShape), load_default=list)
    offers = fields.Dict(keys=fields.String(), values=fields.Raw(allow_none=True),
                         load_default=dict)
    recorded_as = fields.String(allow_none=True, load_default=None)
    links = fields.List(fields.Nested(LinkShape), load_default=list)
    companions = ByName(fields.List(fields.String()), load_default=dict)
    today = fields.Date(allow_none=True)
