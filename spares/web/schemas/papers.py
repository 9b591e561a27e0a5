"""Papers to print, job cards and the lay-up list."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.domain.drains import STATES, TURNS, WAYS
from spares.domain.kit_bag import STATES as BAG_STATES
from spares.web.language import language_field
from spares.web.schemas.base import (
    Answer,
    VesselQuery,
    a_number,
    a_text,
    a_whole,
    many,
    maybe,
    numbers,
    one,
    one_of,
    texts,
    yes,
)
from spares.web.schemas.parts import Where
from spares.web.schemas.records import DueLine
from spares.web.schemas.things import Caution
from spares.web.schemas.upkeep import Joint
from spares.web.schemas.values import PlainText

LONGEST_NAME = 200
MOST_PERSONS = 999


def _maybe_said(about: str) -> PlainText:
    return PlainText(longest=LONGEST_NAME, shortest=1, metadata={"description": about})


class PaperQuery(VesselQuery):
    """How a paper is printed; each takes only what it is made for."""

    page = fields.String(validate=validate.OneOf(("a4", "a5", "letter")), metadata={
        "description": "Without it the size that is usual for this paper"})
    language = language_field()
    trip = _maybe_said("shopping, put-away: the trip; the next one unless said")
    locker = _maybe_said("lid: the locker")
    service = _maybe_said("card: the service")
    point = _maybe_said("measuring: the fit point")
    trail = _maybe_said("trail: the trail")
    machine = _maybe_said("trail: the machine, for a sheet to fill in")
    flag = _maybe_said("stores: the vessel's flag")
    last_port = _maybe_said("stores: where she came from")
    next_port = _maybe_said("stores: where she goes")
    persons = fields.Integer(validate=validate.Range(0, MOST_PERSONS), metadata={
        "description": "stores: persons aboard"})
    spring = fields.Boolean(metadata={"description": "lay-up: backwards, for fitting out"})


class CardPoint(Answer):
    """A fit point that the job is done at."""

    point = a_text()
    name = maybe()
    live = yes()
    fitted = maybe("number of the part that sits there")


class CardPlace(Answer):
    """Pieces to take from a locker."""

    locker = maybe("the locker's number")
    name = maybe()
    code = maybe("the code on its label")
    quantity = a_number()
    reachable = yes("under way")


class CardStandIn(Answer):
    """A proven stand-in that lies aboard."""

    part = maybe()
    name = maybe()
    proof = maybe()
    usable = a_number()
    locker = a_text("where the first of them lies")


class CardLine(Answer):
    """A part of the kit."""

    part = maybe()
    name = maybe()
    maker = maybe()
    number = maybe()
    unit = a_text()
    needed = a_number()
    usable = a_number()
    short = a_number("what is missing")
    take = many(CardPlace, "how many from which locker, in walking order")
    stand_ins = many(CardStandIn)
    remarks = texts("of pieces that do not count, why")


class CardTestRun(Answer):
    """The run after the job: what is read at which minute."""

    minutes = fields.List(fields.Integer(), required=True)
    readings = texts()
    limits = a_text()
    stop = a_text("at what to stop at once")


class CardTrail(Answer):
    """An open trail of the job's machine."""

    trail = a_text()
    what = maybe()
    missing = a_whole("null: nobody knows", null=True)
    found = a_whole()
    places = texts("where nobody looked yet, in flow order")


class BagLine(Answer):
    """What lies in the bag of a job."""

    part = maybe()
    name = maybe()
    quantity = a_number()


class Bag(Answer):
    """The bag of a job's kit; it is a locker, which is begun when it is first filled."""

    locker = maybe()
    locker_id = maybe()
    name = maybe()
    code = maybe()
    state = one_of(BAG_STATES)
    lines = many(BagLine)


class Card(Answer):
    """The job card of a service."""

    service = maybe()
    what = maybe()
    machine = maybe()
    machine_name = maybe()
    place = maybe()
    points = many(CardPoint)
    due = one(DueLine)
    cautions = many(Caution)
    machine_hazards = texts("what else is dangerous about the machine")
    hazards_without_words = texts("hazards recorded for which no caution is written")
    shut_off = texts()
    after = texts("before it runs again")
    bag = one(Bag, null=True)
    kit = many(CardLine)
    missing = texts("numbers of the parts of which some are missing")
    joints = many(Joint, "joint sheets of the service and of its fit points")
    steps = texts()
    note = maybe()
    test_run = one(CardTestRun, null=True)
    do_not_run = many(CardTrail, "while there is one, the machine must not run")


class LayUpQuery(VesselQuery):
    """In which order the points come."""

    spring = fields.Boolean(load_default=False, metadata={
        "description": "Backwards, for fitting out"})


class DrainRecord(Answer):
    """What was recorded at a drain point."""

    on = a_text("day")
    done = one_of(WAYS, null=True)
    cock = one_of(("open", "shut"), null=True)
    by = maybe()
    note = maybe()
    protects_to_c = a_number("down to which what stays in was tested [°C]", null=True)
    seen_to_run = yes()
    plug_in = yes()
    seal_renewed = yes()
    no_leak = yes()


class LayUpPoint(Answer):
    """A place where water is let out or treated."""

    no = maybe("number of the drain point; null for one that only a note names")
    point = a_text()
    named = a_text("its name by itself, perhaps empty")
    plug = maybe("size of the plug")
    cock = one_of(("open", "shut"), null=True)
    walk = a_whole("place in the walk", null=True)
    state = one_of(STATES)
    left_open = texts("codes of what is left open")
    record = one(DrainRecord, null=True)
    autumn = one(DrainRecord, null=True)
    treated = yes("it is not drained")
    how = maybe()
    machine = maybe()
    machine_name = maybe()
    place = maybe()


class SilentMachine(Answer):
    """A machine whose note says nothing of lay-up."""

    machine = maybe()
    name = maybe()
    place = maybe()


class LayUpPart(Answer):
    """A part whose use is lay-up."""

    part = maybe()
    name = maybe()
    unit = a_text()
    usable = a_number()
    where = many(Where)


class LayUpProgress(Answer):
    """How many points there are, and how many are in each state."""

    points = a_whole()
    open = a_whole()
    doubtful = a_whole("recorded, and something left open")
    done = a_whole()


class FirstRunReading(Answer):
    """What to look at; its limits are the maker's."""

    what = a_text()
    unit = a_text()
    low = a_number("of the maker's book", null=True)
    high = a_number("of the maker's book", null=True)


class FirstRunCard(Answer):
    """How a machine first runs again."""

    machine = a_text()
    name = maybe()
    place = maybe()
    minutes = numbers("marks at which it is looked at [min]")
    readings = many(FirstRunReading)
    leaks = texts("places to look for leaks")
    hazards = texts()
    stop = a_text("when to stop at once")
    last = maybe()
    cautions = many(Caution)


class LayUp(Answer):
    """What is drained or treated before frost; in spring what is closed again."""

    spring = yes()
    turn = one_of(TURNS)
    today = a_text()
    progress = one(LayUpProgress)
    first_runs = many(FirstRunCard, "in spring")
    points = many(LayUpPoint)
    says_nothing = many(SilentMachine)
    parts = many(LayUpPart)
    cautions = many(Caution)
