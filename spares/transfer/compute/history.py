"""The request of the call `history`: phones, their clocks, and what happens.

The story itself is played by `actions.story`, for it needs a server.
"""

from __future__ import annotations

from typing import Any

from marshmallow import RAISE, Schema, ValidationError, fields, validate

from spares.transfer.compute.numbers import ByName, Exact

#: Longest story [steps], most phones, and the furthest minute (about 190 years).
MOST_STEPS = 10_000
MOST_DEVICES = 20
FURTHEST_MIN = 10**8
#: Steps that record nothing, with the fields each may have.
_OF_A_PHONE = {"sync": (), "sync_answer_lost": (), "sync_sent_three_times": (),
               "clock": ("step_min",), "phone_copy": ("as",), "phone_put_back": ("from",)}
_OF_THE_SERVER = {"backup": ("as",), "restore": ("from",), "lost_time": ("min",),
                  "revoke": ("device",), "approve": ("of",), "reject": ("of",)}
_MINUTES = ("step_min", "min")


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
        known = (_OF_THE_SERVER if who == "server" else _OF_A_PHONE).get(what)
        if known is None or len(value) == 3:
            return [minute, *value[1:]]
        strange = {name: ["Unknown field."] for name in value[3] if name not in known}
        if strange:
            raise ValidationError({"3": strange})
        return [minute, who, what, {name: _minutes(one) if name in _MINUTES else one
                                    for name, one in value[3].items()}]


def _minutes(value: Any) -> Any:
    """Read minutes that are written as text; what is no number is left for the story to refuse."""
    if not isinstance(value, str):
        return value
    try:
        number = Exact().deserialize(value)
    except ValidationError:
        return value
    return int(number) if number.denominator == 1 else float(number)


class Request(Schema):
    """Phones with the constant error of each clock [min], and the steps of the story."""

    class Meta:
        unknown = RAISE

    devices = ByName(
        Exact(validate=validate.Range(-FURTHEST_MIN, FURTHEST_MIN)),
        fields.String(validate=[validate.Length(min=1, max=64), validate.NoneOf(
            ["server"], error="No phone may be called the server.")]),
        required=True, validate=validate.Length(min=1, max=MOST_DEVICES))
    steps = fields.List(_Step(), required=True, validate=validate.Length(max=MOST_STEPS))
