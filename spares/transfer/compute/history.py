"""The request of the call `history`: phones, their clocks, and what happens.

The story itself is played by `actions.story`, for it needs a server.
"""

from __future__ import annotations

from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from spares.transfer.compute.numbers import Exact

#: Longest story [steps], most phones, and the furthest minute (about 190 years).
MOST_STEPS = 10_000
MOST_DEVICES = 20
FURTHEST_MIN = 10**8


class _Step(fields.Field):
    """A step: [minute, who, what] or [minute, who, what, {...}]."""

    def _deserialize(self, value: Any, attr: Any, data: Any, **kwargs: Any) -> Any:
        if type(value) is not list or len(value) not in (3, 4):
            raise ValidationError("A step is [minute, who, what] or [minute, who, what, {...}].")
        who, what = value[1:3]
        try:
            minute = Exact().deserialize(value[0])
        except ValidationError as err:
            raise ValidationError({"0": err.messages}) from err
        if not 0 <= minute <= FURTHEST_MIN:
            raise ValidationError({"0": ["The minute lies before the beginning, or too far."]})
        if type(who) is not str or type(what) is not str:
            raise ValidationError("Who and what are texts.")
        if len(value) == 4 and type(value[3]) is not dict:
            raise ValidationError({"3": ["An object is needed."]})
        return [minute, *value[1:]]


class Request(Schema):
    """Phones with the constant error of each clock [min], and the steps of the story."""

    class Meta:
        unknown = RAISE

    devices = fields.Dict(
        fields.String(validate=[validate.Length(min=1, max=64), validate.NoneOf(["server"])]),
        Exact(validate=validate.Range(-FURTHEST_MIN, FURTHEST_MIN)),
        required=True, validate=validate.Length(min=1, max=MOST_DEVICES))
    steps = fields.List(_Step(), required=True, validate=validate.Length(max=MOST_STEPS))
