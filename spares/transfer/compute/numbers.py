"""Fields: numbers as programs and people write them, turned into what the domain counts in.

A number, or number text with point or comma, is read without loss. Hours become whole
minutes, quantities whole thousandths, money minor units, mass grams; halves go up.
"""

from __future__ import annotations

from datetime import date
from functools import cached_property
from typing import Any

from marshmallow import Schema, ValidationError, fields, pre_load

from spares.domain.dates import earliest_day, latest_day, whole_day
from spares.domain.service.hours import whole_minutes
from spares.domain.trip.request import WHOLE
from spares.errors import InvalidInput, UnknownUnit
from spares.transfer.compute.figures import G_PER_KG, LARGEST, MINOR_PER_MONEY, half_up
from spares.units import exact


class Shape(Schema):
    """Base of the shapes: null stands for a field left out, where one may be left out.

    A flag is yes or no: one that is null is refused, so that it never passes for good.
    """

    @pre_load
    def _leave_out_null(self, data: Any, **kwargs: Any) -> Any:
        if not isinstance(data, dict) or None not in data.values():
            return data
        return {key: value for key, value in data.items()
                if value is not None or key not in self._optional}

    @cached_property
    def _optional(self) -> frozenset[str]:
        return frozenset(field.data_key or name for name, field in self.load_fields.items()
                         if not field.required and not isinstance(field, fields.Boolean))


class ByName(fields.Dict):
    """Values by name; one that cannot be read is pointed at by its name."""

    def __init__(self, values: fields.Field, keys: fields.Field | None = None,
                 **kwargs: Any) -> None:
        super().__init__(keys=keys or fields.String(), values=values, **kwargs)

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        try:
            return super()._deserialize(value, attr, data, **kwargs)
        except ValidationError as err:
            if not isinstance(err.messages, dict):
                raise
            raise ValidationError({name: found.get("value") or found["key"]
                                   for name, found in err.messages.items()}) from err


class Exact(fields.Field):
    """A number, or number text with point or comma."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, dict | list | bool):
            raise ValidationError("a number is needed")
        try:
            number = exact(value)
        except UnknownUnit as err:
            raise ValidationError(err.detail) from err
        if abs(number) > LARGEST:
            raise ValidationError("the number is too large")
        return number


class Whole(Exact):
    """A whole number."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:
        number = super()._deserialize(value, attr, data, **kwargs)
        if number.denominator != 1:
            raise ValidationError("a whole number is needed")
        return int(number)


class Minutes(Exact):
    """Hours, as whole minutes."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:
        return whole_minutes(super()._deserialize(value, attr, data, **kwargs))


class Thousandths(Exact):
    """A quantity, as whole thousandths."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:
        return half_up(super()._deserialize(value, attr, data, **kwargs) * WHOLE)


class Minor(Exact):
    """Money, as minor units."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:
        return half_up(super()._deserialize(value, attr, data, **kwargs) * MINOR_PER_MONEY)


class Grams(Exact):
    """A mass in kilograms, as whole grams."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> int:
        return half_up(super()._deserialize(value, attr, data, **kwargs) * G_PER_KG)


class Day(fields.Field):
    """An ISO date that names its day."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> date:
        return _read_day(value, whole_day)


class PartialDay(fields.Field):
    """An ISO date cut to what is known: its earliest day, whether it was whole, its latest day."""

    def _deserialize(
        self, value: Any, attr: Any, data: Any, **kwargs: Any
    ) -> tuple[date, bool, date]:
        first = _read_day(value, earliest_day)
        return first, len(value) == len("2027-03-15"), latest_day(value)


def _read_day(value: Any, read: Any) -> date:
    if not isinstance(value, str):
        raise ValidationError("a date as text is needed")
    try:
        return read(value)
    except InvalidInput as err:
        raise ValidationError(err.facts["errors"][0]["detail"]) from err
