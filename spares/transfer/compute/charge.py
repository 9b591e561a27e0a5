"""JSON in, JSON out for the generator's daily running."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from typing import Any

from marshmallow import ValidationError, fields, validate, validates_schema

from spares.domain.trip.energy import EFFICIENCY, KNEE, charge
from spares.domain.trip.fuel import FuelTable
from spares.transfer.compute.built import question_of
from spares.transfer.compute.numbers import Exact, Shape, Whole
from spares.transfer.compute.trip_answer import charge_row

_AT_LEAST_0 = validate.Range(min=0)
_ABOVE_0 = validate.Range(min=0, min_inclusive=False)
_SHARE = validate.Range(min=0, max=1, min_inclusive=False)
_FORMS = ("loads_kwh_per_day", "use_kwh")
_FULL = ("solar", "bank", "charger", "motoring_kwh_per_day", "other_generator_hours_per_day")


class SolarShape(Shape):
    """Panels: peak watts, full-sun hours a day, what is lost."""

    peak_w = Exact(required=True, validate=_AT_LEAST_0)
    sun_hours = Exact(required=True, validate=validate.Range(min=0, max=24))
    derate = Exact(load_default=Fraction(3, 4), validate=_SHARE)


class BankShape(Shape):
    """A battery and the window it is charged in; lead-acid where nothing else is said."""

    volts = Exact(required=True, validate=_ABOVE_0)
    ah = Exact(required=True, validate=_ABOVE_0)
    low = Exact(required=True, data_key="from", validate=validate.Range(min=0, max=1))
    high = Exact(required=True, data_key="to")
    knee = Exact(load_default=KNEE, validate=validate.Range(
        min=0, max=1, min_inclusive=False, max_inclusive=False))
    efficiency = Exact(load_default=EFFICIENCY, validate=_SHARE)


class ChargerShape(Shape):
    """Direct current into the battery."""

    net_a = Exact(required=True)


class ConsumptionField(fields.Field):
    """Rows of load share and litres an hour, or one figure for any load."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> FuelTable:
        litres = Exact(validate=_AT_LEAST_0)
        if not isinstance(value, list):
            return FuelTable(((Fraction(1), litres.deserialize(value)),))
        pair = fields.Tuple((Exact(), litres))
        read = fields.List(pair, validate=validate.Length(min=1)).deserialize(value)
        if any(b[0] <= a[0] for a, b in pairwise(read)):
            raise ValidationError("load shares must rise")
        return FuelTable(tuple(read))


class GeneratorShape(Shape):
    """Rated power, share of it that is drawn, fuel table."""

    rated_kw = Exact(allow_none=True, load_default=None, validate=_ABOVE_0)
    load = Exact(allow_none=True, load_default=None, validate=_SHARE)
    fuel_l_per_h = ConsumptionField(allow_none=True, load_default=None)


class Request(Shape):
    """Either the whole balance, or daily use over the charger's output."""

    days = Whole(required=True, validate=_AT_LEAST_0)
    loads_kwh_per_day = Exact(validate=_AT_LEAST_0)
    solar = fields.Nested(SolarShape, allow_none=True)
    bank = fields.Nested(BankShape)
    charger = fields.Nested(ChargerShape)
    motoring_kwh_per_day = Exact(validate=_AT_LEAST_0)
    other_generator_hours_per_day = Exact(validate=validate.Range(min=0, max=24))
    use_kwh = Exact(validate=_AT_LEAST_0)
    charger_kw = Exact(validate=_ABOVE_0)
    efficiency = Exact(validate=_SHARE)
    generator = fields.Nested(GeneratorShape, allow_none=True, load_default=None)

    @validates_schema(skip_on_field_errors=False, pass_original=True)
    def one_form(self, data: dict[str, Any], original: dict[str, Any], **kwargs: Any) -> None:
        """Let exactly one of the two forms stand, and that one whole."""
        if not isinstance(original, dict):
            return      # the charge of a trip that is no object: said already
        given = {name for name, value in original.items() if value is not None}
        full, short = (name in given for name in _FORMS)
        if full and short:
            raise ValidationError("the balance or the short form, not both", "use_kwh")
        needed = ("use_kwh", "charger_kw") if short else (_FORMS[0], "bank", "charger")
        for name in needed:
            if name not in given:
                raise ValidationError("is needed", name)
        others = _FULL if short else ("charger_kw", "efficiency")
        for name in others:
            if name in given:
                raise ValidationError("belongs to the other form", name)


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give hours, deficit and fuel.

    Raises:
        InvalidInput: the battery cannot be charged so, or a day has too few hours.
    """
    return charge_row(charge(question_of(loaded, loaded["days"])))
