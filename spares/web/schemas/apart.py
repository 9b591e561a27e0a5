"""Fields of a thing that people set without knowing of each other."""

from __future__ import annotations

from marshmallow import fields

from spares.web.schemas.base import Answer, a_number, a_text, many, maybe, one, yes


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


class Called(Answer):
    """A thing of any kind, as people call it."""

    doc = a_text()
    kind = a_text()
    no = maybe("its number")
    name = maybe()
    about = maybe("the number of what it is about, where it has none of its own")


class ThingApart(Called):
    """A thing with fields that stand apart."""

    apart = many(ApartField)


class Hand(Answer):
    """Who made a change, and when."""

    change = a_text()
    at = a_text("when, ISO, UTC")
    device = a_text()
    by = maybe("name of the device; null: at the server itself")


class Wrote(ApartValue):
    """What somebody wrote into a field."""

    field = a_text("gone, false: the thing was brought back beside its deletion")


class WhileGone(Called):
    """A thing off the books that was changed by who did not know; setting `gone` settles it."""

    gone = one(Hand)
    wrote = many(Wrote, "the oldest first")


class LineUnder(Answer):
    """Pieces under a thing that is gone or not known here."""

    part = maybe()
    name = maybe()
    locker = maybe()
    quantity = a_number("in the part's unit")


class GoneButThere(Called):
    """A thing that is gone or not known here, and pieces lie under it."""

    is_known = yes("false: nobody recorded it here yet")
    lying = many(LineUnder)


class UnsettledAnswer(Answer):
    """What people wrote without knowing of each other, until somebody settles it."""

    apart = many(ThingApart)
    gone = many(WhileGone)
    gone_but_there = many(GoneButThere)


def stands_apart() -> fields.List:
    """Such fields of a thing; in the answer about one thing, and in the list of services."""
    return fields.List(fields.Nested(ApartField), metadata={
        "description": "Fields that people set without knowing of each other; both values stay"})
