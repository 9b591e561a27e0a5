"""What all shapes share: strict requests, open answers, problems."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from marshmallow import INCLUDE, RAISE, Schema, fields, validate

MAX_MARK = 40


class Asked(Schema):
    """A request: what is not named here is refused."""

    class Meta:
        unknown = RAISE


class Answer(Schema):
    """An answer as it is documented; actions give plain JSON, so nothing is rewritten.

    Fields may be added to an answer, hence further names are allowed.
    """

    class Meta:
        unknown = INCLUDE

    def dump(self, obj: Any, *, many: bool | None = None) -> Any:
        """Give *obj* as the action made it."""
        return obj


class VesselQuery(Asked):
    """Which vessel is meant; every address takes this."""

    vessel = fields.String(validate=validate.Length(1, MAX_MARK), metadata={
        "description": "Mark or id of the vessel; without it the only one, else the first."})


def a_text(about: str = "") -> fields.String:
    """Text that is always there."""
    return fields.String(required=True, metadata=_about(about))


def maybe(about: str = "") -> fields.String:
    """Text, or null where nobody wrote it down."""
    return fields.String(required=True, allow_none=True, metadata=_about(about))


def one_of(codes: Sequence[str], *, null: bool = False) -> fields.String:
    """One of the codes, lower-case with hyphens."""
    return fields.String(required=True, allow_none=null, validate=validate.OneOf(codes))


def a_number(about: str = "", *, null: bool = False) -> fields.Float:
    """A plain number, such as 2 or 0.5."""
    return fields.Float(required=True, allow_none=null, metadata=_about(about))


def a_whole(about: str = "", *, null: bool = False) -> fields.Integer:
    """A whole number."""
    return fields.Integer(required=True, allow_none=null, strict=True, metadata=_about(about))


def yes(about: str = "") -> fields.Boolean:
    """true or false."""
    return fields.Boolean(required=True, metadata=_about(about))


def texts(about: str = "") -> fields.List:
    """A list of texts."""
    return fields.List(fields.String(), required=True, metadata=_about(about))


def numbers(about: str = "") -> fields.List:
    """A list of whole numbers."""
    return fields.List(fields.Integer(strict=True), required=True, metadata=_about(about))


def many(shape: type[Schema], about: str = "") -> fields.List:
    """A list of *shape*."""
    return fields.List(fields.Nested(shape), required=True, metadata=_about(about))


def one(shape: type[Schema], *, null: bool = False) -> fields.Nested:
    """One *shape*, or null where there is none and *null* says so."""
    return fields.Nested(shape, required=True, allow_none=null)


def _about(about: str) -> dict[str, str]:
    return {"description": about} if about else {}


class FieldProblem(Answer):
    """One field that is wrong."""

    pointer = a_text("JSON Pointer (RFC 6901) as a fragment, such as #/rows/1/bore")
    detail = a_text()


class Problem(Answer):
    """Problem details (RFC 9457)."""

    type = a_text()
    title = a_text()
    status = a_whole()
    detail = a_text()
    errors = fields.List(fields.Nested(FieldProblem))
    stop = fields.String(metadata={"description": "The protocol's word for this refusal"})
