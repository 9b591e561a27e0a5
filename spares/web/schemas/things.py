"""Lockers, machines, fit points and services, whole and in lists."""

from __future__ import annotations

from marshmallow import fields

from spares.web.schemas.apart import stands_apart
from spares.web.schemas.base import (
    Answer,
    VesselQuery,
    a_number,
    a_text,
    a_whole,
    many,
    maybe,
    one,
    one_of,
    texts,
    yes,
)
from spares.web.schemas.parts import PartLine, Where
from spares.web.schemas.readings import GaugeLine, TestRunLine
from spares.web.schemas.values import Day, PlainText

FOUND_BY = ("code", "number", "batch", "words", "near", "nothing")


class LockerLine(Answer):
    """A locker in a list."""

    id = a_text()
    no = maybe()
    name = maybe()
    code = maybe()
    aboard = yes()
    reachable = yes("under way")
    lent_to = maybe()
    lines = a_whole("how many different lines lie there")


class LockersAnswer(Answer):
    """All lockers."""

    lockers = many(LockerLine)


class Thing(Answer):
    """A part, locker, machine, fit point, service or trip; `type` says which."""

    type = one_of(("part", "locker", "machine", "point", "service", "trip", "lot"))
    id = a_text()
    apart = stands_apart()


class Caution(Answer):
    """A caution that stands on top of the work."""

    sign = a_text()
    mark = a_text()
    text = a_text()


class Locker(Thing):
    """A locker and what lies in it."""

    no = maybe()
    name = maybe()
    code = maybe()
    aboard = yes()
    reachable = yes()
    lent_to = maybe()
    lines = many(PartLine)


class Fitted(Answer):
    """What sits at a fit point."""

    part = a_text()
    name = maybe()
    since = maybe()


class Requires(Answer):
    """What a fit point asks."""

    attribute = a_text()
    label = a_text()
    value = a_text("with unit and tolerance, in words")
    origin = fields.Dict(allow_none=True, metadata={"description": "how, when, by whom"})
    claim = fields.Dict(allow_none=True, metadata={"description": "as it is recorded"})
    doc = a_text("the document that holds it")
    own = yes("of this fit point; else of what sits in every part of that model")


class PointSpare(Answer):
    """A part that may sit at a fit point."""

    id = a_text()
    no = maybe()
    name = maybe()
    state = maybe()
    usable = a_number()
    where = many(Where)
    proof = maybe()


class Tried(Answer):
    """A part that was tried at a fit point and did not fit."""

    part = a_text()
    name = maybe()
    note = maybe()


class PointLine(Thing):
    """A fit point: what sits there, what it asks, its spares."""

    no = maybe()
    name = maybe()
    machine = maybe()
    machine_name = maybe()
    pieces = a_whole()
    weight = maybe("A, B or C")
    kind = maybe()
    live = yes()
    retired_on = maybe()
    parent = maybe()
    fitted = one(Fitted, null=True)
    spares = many(PointSpare)
    tried = many(Tried)
    requires = many(Requires)
    place = fields.Dict(metadata={"description": "what is recorded of the place: wet, medium ..."})
    services = texts()


class MachineLine(Thing):
    """A machine in a list."""

    no = maybe()
    name = maybe()
    model = maybe()
    serial = maybe()
    place = maybe()
    code = maybe()
    counter = maybe("own, of (another machine's) or none")
    hours = a_number(null=True)
    do_not_run = texts("open trails: the machine must not run")


class MachinesAnswer(Answer):
    """All machines."""

    machines = many(MachineLine)


class Machine(MachineLine):
    """A machine with its fit points."""

    points = many(PointLine)
    services = texts()
    cautions = many(Caution)
    gauges = many(GaugeLine)
    test_runs = many(TestRunLine)
    burns = fields.Dict(allow_none=True, metadata={"description": (
        "Fuel: table of [kn, L/h], or at_kn with l_per_h; idle_l_per_h, manoeuvring_l_per_h")})


class KitLine(Answer):
    """A part of a service's kit."""

    part = a_text()
    name = maybe()
    quantity = a_number()
    set_aside = yes()
    where = many(Where)


class Service(Thing):
    """A service with its kit and cautions."""

    no = maybe()
    what = maybe()
    machine = maybe()
    points = texts()
    every_hours = a_number(null=True)
    every_months = a_whole(null=True)
    cautions = many(Caution)
    kit = many(KitLine)


class ServicesAnswer(Answer):
    """All services."""

    services = many(Service)


class FindAnswer(Answer):
    """What was found, best first."""

    query = a_text()
    by = one_of(FOUND_BY)
    message = maybe("for the person, when nothing or something near was found")
    hits = many(Thing)


class FindQuery(VesselQuery):
    """What somebody typed or scanned."""

    q = PlainText(longest=200, shortest=1, required=True, metadata={
        "description": "A label's code, a number, or the beginnings of words"})


class DueQuery(VesselQuery):
    """Which services are asked about."""

    until = Day(metadata={"description": "Only what comes due by this day"})
