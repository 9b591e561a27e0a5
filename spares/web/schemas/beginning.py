"""The first hour: a vessel, lockers and machines begun."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.actions.papers.paper import LANGUAGES
from spares.web.schemas.base import Answer, Asked, a_text, a_whole, many, maybe, yes
from spares.web.schemas.do import Change
from spares.web.schemas.values import PlainText


class StarterPoint(Answer):
    """A place that takes a part."""

    name = a_text()
    kind = a_text("a kind of part that has a sheet")
    weight = a_text("A stops the trip, B hampers, C comfort")


class StarterService(Answer):
    """Work that comes round."""

    what = a_text()
    at = a_whole("fit point by its place in the list, from 1", null=True)
    every_h = a_whole("h", null=True)
    every_months = a_whole("months", null=True)
    cautions = a_text("marks")


class StarterSet(Answer):
    """What a machine of one type usually has."""

    id = a_text()
    name = a_text()
    no = a_text("letters of its number")
    counter = a_text("own or none")
    hazards = a_text("marks of the cautions")
    source = a_text()
    note = a_text("of the machine")
    points = many(StarterPoint)
    services = many(StarterService)


class StarterSets(Answer):
    """All starter sets."""

    sets = many(StarterSet)


class VesselAsked(Asked):
    """A vessel to begin."""

    mark = PlainText(longest=3, required=True, metadata={"description": "1 to 3 letters or digits"})
    name = PlainText(longest=200, required=True)


class VesselBegun(Answer):
    """A vessel that was begun."""

    vessel = a_text("her mark")
    name = a_text()


class LockersAsked(Change):
    """Lockers to begin, in the order of their numbers."""

    names = fields.List(PlainText(longest=200), required=True, validate=validate.Length(1, 60))


class LockerBegun(Answer):
    """A locker with the code of its label."""

    no = a_text()
    name = a_text()
    code = a_text()
    aboard = yes()
    reachable = yes()


class LockersBegun(Answer):
    """Lockers that were begun; none for a request that came before."""

    change = a_text()
    was_new = yes()
    lockers = many(LockerBegun)


class MachineAsked(Change):
    """A machine to begin from a starter set."""

    starter = PlainText(longest=60, required=True)
    name = PlainText(longest=200, allow_none=True)
    place = PlainText(longest=200, allow_none=True)
    points = fields.List(fields.Integer(strict=True), allow_none=True,
                         validate=validate.Length(max=100))
    language = fields.String(validate=validate.OneOf(LANGUAGES), metadata={
        "description": "In which the set's names are written down; English unless said"})


class MachineBegun(Answer):
    """A machine that was begun; None for a request that came before."""

    change = a_text()
    was_new = yes()
    machine = maybe("its number")
