"""JSON in, JSON out for the cooling check."""

from __future__ import annotations

from fractions import Fraction
from typing import Any

from marshmallow import Schema, ValidationError, fields, validate

from spares.domain.cooling import check_cooling, driven_speed
from spares.errors import UnknownUnit
from spares.units import exact


class Exact(fields.Field):
    """A number, or number text with point or comma, read without loss."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Fraction:
        try:
            return exact(value)
        except UnknownUnit as err:
            raise ValidationError(err.detail) from err


class PumpShape(Schema):
    """A pump: rated points of speed and flow, highest speed."""

    curve = fields.List(fields.List(Exact(), validate=validate.Length(equal=2)),
                        load_default=list)
    max_rpm = Exact(allow_none=True, load_default=None)


class Request(Schema):
    """Heat to the water, its rise, and the pump as it is driven."""

    heat_kw = Exact(required=True)
    rise_k = Exact(required=True)
    water = fields.String(validate=validate.OneOf(("sea", "fresh")), load_default="sea")
    pump = fields.Nested(PumpShape, allow_none=True, load_default=None)
    engine_rpm = Exact(allow_none=True, load_default=None)
    drive_pulley_mm = Exact(allow_none=True, load_default=None)
    driven_pulley_mm = Exact(allow_none=True, load_default=None)
    slip = Exact(load_default=Fraction(0))


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give the flow needed and given [L/min] and whether it is enough.

    Raises:
        OutOfRange: heat, rise or a diameter outside its range.
        InvalidInput: a curve that cannot be.
    """
    pump = loaded["pump"] or {"curve": [], "max_rpm": None}
    given = [loaded[name] for name in ("engine_rpm", "drive_pulley_mm", "driven_pulley_mm")]
    speed = None if None in given else driven_speed(*given, loaded["slip"])
    found = check_cooling(loaded["heat_kw"], loaded["rise_k"], loaded["water"],
                          curve=[(s, q) for s, q in pump["curve"]], max_rpm=pump["max_rpm"],
                          pump_rpm=speed)
    return {"needed_l_min": _rounded(found.needed_l_min, 2),
            "pump_rpm": _rounded(found.pump_rpm, 1),
            "given_l_min": _rounded(found.given_l_min, 2), "enough": found.enough,
            "remarks": list(found.remarks)}


def _rounded(value: Fraction | None, digits: int) -> float | None:
    return None if value is None else float(round(value, digits))
