"""Bodies of the verbs about orders and accepted risks, and the lists of orders."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.web.schemas.base import Answer, Asked, VesselQuery
from spares.web.schemas.do import CONDITION, Change
from spares.web.schemas.values import Day, Figure, PlainText, Yes, quantity, reference, remark

STATES = ("wanted", "ordered", "promised", "arrived", "stowed", "cancelled")


class Price(Asked):
    """What one piece costs."""

    amount = Figure(decimals=2, highest=10**7, required=True)
    currency = PlainText(longest=3, shortest=3, required=True)


class Accept(Change):
    """accept: a trip goes without enough of a part."""

    trip = reference("trip", required=True)
    part = reference("part", required=True)
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()
    taken_back = Yes(metadata={"description": "The risk is not taken any more"})


class Want(Change):
    """want: a part is to be ordered."""

    part = reference("part", required=True)
    quantity = quantity(above_zero=True)
    trip = reference("trip", allow_none=True)
    seller = PlainText(longest=200, allow_none=True)
    price = fields.Nested(Price, allow_none=True)
    note = remark()


class WantTrip(Change):
    """want-trip: all that a trip is short of is to be ordered."""

    trip = reference("trip", required=True)


class Ordered(Change):
    """ordered: lines went to their seller."""

    orders = fields.List(reference("order line"), required=True,
                         validate=validate.Length(1, 200))
    at = Day(allow_none=True)
    promised_on = Day(allow_none=True)


class Arrived(Change):
    """arrived: a line's parcel is there."""

    order = reference("order line", required=True)
    at = Day(allow_none=True)
    quantity = quantity(above_zero=True, allow_none=True)


class Stowed(Arrived):
    """stowed: what came lies in its locker and counts."""

    locker = reference("locker", required=True)
    condition = fields.String(validate=CONDITION, allow_none=True)
    expires = Day(cut=True, allow_none=True)


class CancelOrder(Change):
    """cancel-order: a line will not come."""

    order = reference("order line", required=True)
    note = remark()


class OrdersQuery(VesselQuery):
    """Which order lines."""

    trip = fields.String()
    state = fields.String(validate=validate.OneOf(STATES))


class OrdersAnswer(Answer):
    """Order lines, and sums by seller."""

    orders = fields.List(fields.Dict(), required=True)
    sellers = fields.List(fields.Dict(), required=True)


class PutAwayAnswer(Answer):
    """What arrived and is to be stowed, by locker."""

    lines = fields.List(fields.Dict(), required=True)
