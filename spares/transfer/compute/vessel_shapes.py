"""Shapes that `service` and `trip` share: machines, places, tasks, records, readings."""

from __future__ import annotations

from marshmallow import fields

from spares.transfer.compute.numbers import Exact, Minutes, PartialDay, Shape, Thousandths, Whole


class FuelShape(Shape):
    """What an engine burns: rows of knots and litres an hour, or one point of the cube law."""

    table = fields.List(fields.Tuple((Exact(), Exact())), load_default=list)
    at_kn = Exact(allow_none=True, load_default=None)
    l_per_h = Exact(allow_none=True, load_default=None)
    idle_l_per_h = Exact(allow_none=True, load_default=None)
    manoeuvring_l_per_h = Exact(allow_none=True, load_default=None)


class MachineShape(Shape):
    """An installed unit."""

    id = fields.String(required=True)
    counter = fields.String(allow_none=True, load_default="own")
    weight = fields.String(allow_none=True, load_default="B")
    name = fields.String(allow_none=True, load_default=None)
    fuel = fields.Nested(FuelShape, allow_none=True, load_default=None)


class FitPointShape(Shape):
    """A place that takes parts."""

    id = fields.String(required=True)
    machine = fields.String(required=True)
    weight = fields.String(allow_none=True, load_default=None)
    takes = fields.List(fields.String(), load_default=list)
    retired = fields.Boolean(load_default=False)
    name = fields.String(allow_none=True, load_default=None)


class KitLineShape(Shape):
    """One part of a service."""

    part = fields.String(required=True)
    quantity = Thousandths(load_default=1000)
    set_aside = fields.Boolean(load_default=False)
    share = Exact(load_default=1)


class TaskShape(Shape):
    """A service with its interval and kit."""

    id = fields.String(required=True)
    machine = fields.String(required=True)
    fit_point = fields.String(allow_none=True, load_default=None)
    every_h = Minutes(allow_none=True, load_default=None)
    every_months = Whole(allow_none=True, load_default=None)
    first_h = Minutes(allow_none=True, load_default=None)
    used_h = Minutes(allow_none=True, load_default=None)
    in_port = fields.Boolean(load_default=False)
    kit = fields.List(fields.Nested(KitLineShape), load_default=list)
    name = fields.String(allow_none=True, load_default=None)


class RecordShape(Shape):
    """A carrying-out; without a date it says nothing."""

    task = fields.String(required=True)
    on = PartialDay(allow_none=True, load_default=None)
    at_h = Minutes(allow_none=True, load_default=None)
    estimated = fields.Boolean(load_default=False)
    doubt = fields.String(allow_none=True, load_default=None)   # why at_h is not used


class ReadingShape(Shape):
    """What an hour counter showed."""

    machine = fields.String(required=True)
    on = PartialDay(required=True)
    h = Minutes(required=True)
    new_counter = fields.Boolean(load_default=False)
    doubt = fields.String(allow_none=True, load_default=None)
    corrects = fields.Boolean(load_default=False)       # the one before it was a slip
