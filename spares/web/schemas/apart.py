"""Fields of a thing that people set without knowing of each other."""

from __future__ import annotations

from marshmallow import fields

from spares.web.schemas.base import Answer, a_text, many, maybe


class ApartValue(Answer):
    """What one of them wrote; setting the field to it anew settles the field."""

    change = a_text("the change that wrote it")
    value = fields.Raw(required=True, allow_none=True, metadata={"description": "as it is stored"})
    text = maybe("the value in words; null: it was emptied")
    at = a_text("when, ISO, UTC")
    device = a_text()
    by = maybe("name of the device; null: at the server itself")


class ApartField(Answer):
    """A field with two values or more that nobody has decided between."""

    field = a_text()
    values = many(ApartValue)


def stands_apart() -> fields.List:
    """Such fields of a thing; in the answer about one thing, and in the list of services."""
    return fields.List(fields.Nested(ApartField), metadata={
        "description": "Fields that people set without knowing of each other; both values stay"})
