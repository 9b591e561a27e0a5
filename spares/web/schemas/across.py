"""Queries and answers of the lists across several vessels."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.web.schemas.base import Answer, VesselQuery, a_text
from spares.web.schemas.values import Day


class WhoHasQuery(VesselQuery):
    """Which part: a number of the vessel that is meant, or a maker's number."""

    part = fields.String(required=True, validate=validate.Length(1, 200))


class WhoHasAnswer(Answer):
    """Vessels that have the part."""

    asked = a_text()
    numbers = fields.List(fields.Dict(), required=True,
                          metadata={"description": "maker and number that were looked for"})
    vessels = fields.List(fields.Dict(), required=True)


class OutOfDateQuery(VesselQuery):
    """By which day; today unless said."""

    until = Day()


class OutOfDateAnswer(Answer):
    """Vessels with the lots that are out of date on a day."""

    until = a_text()
    vessels = fields.List(fields.Dict(), required=True)


class WantedAnswer(Answer):
    """What all vessels want, by seller."""

    sellers = fields.List(fields.Dict(), required=True)
