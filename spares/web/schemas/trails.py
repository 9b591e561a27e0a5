"""Bodies of the verbs about trails of broken pieces, and the answers that show them."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.web.schemas.base import (
    Answer,
    Asked,
    a_number,
    a_text,
    a_whole,
    many,
    maybe,
    one_of,
    texts,
    yes,
)
from spares.web.schemas.do import Change
from spares.web.schemas.parts import Where
from spares.web.schemas.things import Caution
from spares.web.schemas.values import Day, Figure, PlainText, Yes, reference, remark

MOST_PIECES, MOST_PLACES = 1000, 50
STATES = ("open", "found", "accepted")
PLACE_STATES = ("not-looked", "nothing", "found", "in-doubt")


def _pieces(least: int) -> fields.Integer:
    return fields.Integer(strict=True, allow_none=True,
                          validate=validate.Range(least, MOST_PIECES))


def _words(longest: int = 200, *, needed: bool = False) -> PlainText:
    return PlainText(longest=longest, shortest=1 if needed else 0, required=needed,
                     allow_none=not needed)


class TrailPlaceAsked(Asked):
    """A place downstream, as it is to be looked at."""

    name = _words(needed=True)
    opens = _words()
    seal = _words()
    point = reference("fit point", allow_none=True)
    part = reference("part that seals it", allow_none=True)


class TrailBegin(Change):
    """trail-begin: a piece broke off; the machine must not run until it is accounted for."""

    machine = reference("machine", required=True)
    what = _words(needed=True)
    missing = _pieces(1)
    of_pieces = _pieces(1)
    point = reference("fit point where it came out", allow_none=True)
    by = _words(100)
    at = Day(allow_none=True)
    flow = _words(40)
    places = fields.List(fields.Nested(TrailPlaceAsked), allow_none=True,
                         validate=validate.Length(0, MOST_PLACES))
    note = remark()


class TrailLook(Change):
    """trail-look: somebody looked at a place of the trail."""

    trail = reference("trail", required=True)
    place = reference("place: its number in flow order, or its id", required=True)
    found = fields.Integer(strict=True, allow_none=True, validate=validate.Range(0, MOST_PIECES),
                           metadata={"description": "pieces found there in all [pieces]"})
    by = _words(100)
    at = Day(allow_none=True)
    taken_back = Yes(allow_none=True)


class TrailPlace(Change):
    """trail-place: a place is added, changed, moved or taken off."""

    trail = reference("trail", required=True)
    place = reference("place; without it a new one", allow_none=True)
    name = _words()
    opens = _words()
    seal = _words()
    point = reference("fit point", allow_none=True)
    part = reference("part that seals it", allow_none=True)
    before = reference("place that it comes before", allow_none=True)
    gone = Yes(allow_none=True)


class TrailCount(Change):
    """trail-count: how many pieces are missing is put right."""

    trail = reference("trail", required=True)
    missing = _pieces(1)
    of_pieces = _pieces(1)
    what = _words()


class TrailAccept(Change):
    """trail-accept: that pieces stay missing is accepted in writing, or no longer."""

    trail = reference("trail", required=True)
    by = _words(100)
    why = PlainText(longest=2000, lines=True, allow_none=True)
    at = Day(allow_none=True)
    taken_back = Yes(allow_none=True)


class TrailFirstRun(Change):
    """trail-first-run: what the first run afterwards showed."""

    trail = reference("trail", required=True)
    flow = _words()
    temperature_c = Figure(decimals=1, highest=1000, allow_none=True)
    by = _words(100)
    at = Day(allow_none=True)


class FirstRun(Answer):
    """What the first run afterwards showed."""

    flow = fields.String()
    temperature_c = fields.Float()
    by = fields.String()
    on = a_text()


class Accepted(Answer):
    """Who accepts that pieces stay missing, why, and for how many."""

    by = a_text()
    why = a_text()
    on = a_text()
    pieces = fields.Integer(allow_none=True, metadata={"description": "null: nobody knew"})


class TrailLine(Answer):
    """A trail in a list."""

    type = a_text()
    id = a_text()
    no = maybe()
    machine = maybe()
    machine_name = maybe()
    place = maybe("where the machine stands")
    point = maybe("where the piece came out")
    point_name = maybe()
    what = maybe()
    of_pieces = a_whole(null=True)
    missing = a_whole("null: nobody knows", null=True)
    found = a_whole()
    left = a_whole("below 0: more found than missing", null=True)
    state = one_of(STATES)
    do_not_run = yes()
    not_looked = a_whole("places where nobody looked")
    began_on = maybe()
    by = maybe()
    accepted = fields.Nested(Accepted, required=True, allow_none=True)
    first_run = fields.Nested(FirstRun, required=True, allow_none=True)
    note = maybe()
    disputed = texts("fields in which two devices differ")


class Stopped(Answer):
    """A machine that must not run."""

    machine = a_text()
    name = maybe()
    trails = texts()
    what = fields.List(fields.String(allow_none=True), required=True)


class TrailsAnswer(Answer):
    """All trails, and the machines that must not run."""

    trails = many(TrailLine)
    do_not_run = many(Stopped)


class SealPart(Answer):
    """A part that closes a place again."""

    part = maybe()
    name = maybe()
    maker = maybe()
    number = maybe()
    unit = a_text()
    needed = a_number()
    usable = a_number()
    where = many(Where)


class Look(Answer):
    """One look at a place."""

    found = a_whole()
    by = fields.String()
    on = a_text()


class PlaceLine(Answer):
    """A place of a trail."""

    place = a_text("its id")
    number = a_whole("in flow order")
    name = maybe()
    opens = maybe()
    seal = maybe()
    point = maybe()
    point_name = maybe()
    state = one_of(PLACE_STATES)
    found = a_whole("the lowest number, where devices differ")
    look = fields.Nested(Look, required=True, allow_none=True)
    looks = fields.List(fields.Nested(Look, allow_none=True), required=True)
    parts = many(SealPart)
    note = maybe()


class Trail(TrailLine):
    """A trail with its places, and the cautions of opening them."""

    places = many(PlaceLine)
    next = maybe("the place to look at next")
    cautions = many(Caution)
    shut_off = texts()
    after = texts("before it runs again")


class FlowPlace(Answer):
    """A place of a flow order; `upstream` ones lie before the pump."""

    name = a_text()
    opens = a_text()
    seal = a_text()
    point = maybe()
    upstream = yes()


class Flow(Answer):
    """A flow order to begin a trail with."""

    flow = a_text()
    name = a_text()
    source = a_text()
    places = many(FlowPlace)


class TrailStart(Answer):
    """What is needed to begin a trail on a machine."""

    machine = maybe()
    machine_name = maybe()
    place = maybe()
    no = a_text("the number that the trail will bear")
    points = fields.List(fields.Dict(), required=True)
    flows = many(Flow)
    cautions = many(Caution)
    shut_off = texts()
    after = texts()
