"""Shapes of failure figures."""

from __future__ import annotations

from typing import Any

from marshmallow import fields

from spares.domain.provision.failure import ONE_PIECE
from spares.transfer.compute.numbers import Exact, Shape, Thousandths, Whole


class OwnLogShape(Shape):
    """Failures seen in so many unit hours."""

    failures = Whole(required=True)
    hours = Exact(required=True)


class WeibullShape(Shape):
    """Wear-out: shape, scale, one age for each unit; an age nobody knows is null."""

    beta = Exact(required=True)
    eta_h = Exact(required=True)
    ages_h = fields.List(Exact(allow_none=True), allow_none=True, load_default=None)


class PiecesField(fields.Field):
    """Pieces taken by one failure: a number, or pairs of pieces and probability."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list):
            return ((Thousandths().deserialize(value), 1.0),)
        pairs = fields.List(fields.Tuple((Thousandths(), Exact()))).deserialize(value)
        return tuple((pieces, float(chance)) for pieces, chance in pairs)


class FailureShape(Shape):
    """One failure figure of a part."""

    part = fields.String(required=True)
    machine = fields.String(allow_none=True, load_default=None)
    units = Whole(allow_none=True, load_default=None)
    mtbf_h = Exact(allow_none=True, load_default=None)
    mtbf_days = Exact(allow_none=True, load_default=None)
    own_log = fields.Nested(OwnLogShape, allow_none=True, load_default=None)
    weibull = fields.Nested(WeibullShape, allow_none=True, load_default=None)
    pieces = PiecesField(load_default=ONE_PIECE)
    spread = Exact(allow_none=True, load_default=None)
    renewed_by = fields.String(allow_none=True, load_default=None)
