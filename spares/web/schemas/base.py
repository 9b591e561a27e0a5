"""What all shapes share: strict requests, open answers, problems."""

from __future__ import annotations

from typing import Any

from marshmallow import INCLUDE, RAISE, Schema, fields, validate

MAX_TEXT = 2000


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

    vessel = fields.String(validate=validate.Length(1, 40), metadata={
        "description": "Mark of the vessel; without it the only one, else the first."})


class FieldProblem(Answer):
    """One field that is wrong."""

    pointer = fields.String(required=True, metadata={
        "description": "JSON Pointer (RFC 6901) as a fragment, such as #/rows/1/bore"})
    detail = fields.String(required=True)


class Problem(Answer):
    """Problem details (RFC 9457)."""

    type = fields.String(required=True)
    title = fields.String(required=True)
    status = fields.Integer(required=True)
    detail = fields.String(required=True)
    errors = fields.List(fields.Nested(FieldProblem))
    stop = fields.String(metadata={"description": "The protocol's word for this refusal"})
