"""The walk-round, and joint sheets."""

from __future__ import annotations

from spares.domain.joint import PATTERNS
from spares.domain.walk_round import ORIGINS, QUESTIONS, STATES, STEPS
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
)
from spares.web.schemas.things import Caution
from spares.web.schemas.values import PlainText


class WalkRoundQuery(VesselQuery):
    """Of which machine; all without."""

    machine = PlainText(longest=200, shortest=1, metadata={
        "description": "Number, label code or id of one machine"})


class Progress(Answer):
    """How many questions there are, and how many are in each state."""

    asked = a_whole()
    answered = a_whole("by anybody, in any way")
    seen = a_whole()
    on_record = a_whole("recorded without a word on how it is known")
    told = a_whole()
    guessed = a_whole()
    open = a_whole()


class Finding(Answer):
    """One answer; there may be one seen, one told and one guessed."""

    origin = one_of(ORIGINS)
    answer = maybe()
    by = maybe("who saw or said it")
    on = maybe("day")
    note = maybe()


class Question(Answer):
    """One thing to find out."""

    question = one_of(QUESTIONS)
    about = a_text("number of the machine, fit point or service")
    what = maybe("its name")
    state = one_of(STATES)
    next_step = one_of(tuple(STEPS.values()), null=True)
    look = maybe("kind of the part to look at first")
    recorded = texts("states by what is on record besides the answers")
    known = maybe("what is on record, in words")
    answers = many(Finding)


class RoundOfMachine(Answer):
    """The questions about one machine, with the cautions of opening it."""

    machine = a_text()
    id = a_text()
    name = maybe()
    place = maybe()
    progress = one(Progress)
    cautions = many(Caution)
    questions = many(Question)


class WalkRound(Answer):
    """The walk-round of the vessel."""

    today = a_text()
    baseline_on = maybe("the day from which is counted what nobody can date")
    progress = one(Progress)
    machines = many(RoundOfMachine)


class JointPiece(Answer):
    """One piece of a joint."""

    count = a_whole(null=True)
    part = maybe()
    name = maybe("the part's name")
    words = a_text("what is said besides, perhaps empty")


class JointTorque(Answer):
    """The torque: from the maker's book, an estimate as a range, or not known."""

    kind = one_of(("book", "estimate", "not-known"))
    text = a_text()
    page = maybe("of the maker's book")
    low_nm = a_number(null=True)
    high_nm = a_number(null=True)
    remarks = texts()


class JointRecord(Answer):
    """How a joint was tightened, and when again."""

    on = a_text()
    torque_used = a_text()
    again_on = maybe()
    again_at_hours = a_number("hours on the counter [h]", null=True)
    by = maybe()
    note = maybe()


class JointToTighten(JointRecord):
    """A joint that waits to be tightened again."""

    joint = a_text()
    name = maybe()


class Joint(Answer):
    """A joint sheet."""

    joint = a_text()
    id = a_text()
    name = maybe()
    point = maybe("fit point")
    point_name = maybe()
    service = maybe()
    pieces = many(JointPiece, "from the face outwards")
    fasteners = a_whole(null=True)
    rows = a_whole(null=True)
    pattern = one_of(PATTERNS, null=True)
    order = numbers("of the fasteners, in which they are tightened")
    order_fault = maybe("why there is no order")
    passes = numbers("shares of the full torque [%]")
    torque = one(JointTorque)
    thread = maybe()
    strength = maybe("property class")
    surface = maybe()
    warnings = many(Caution)
    cautions = many(Caution)
    note = maybe()
    tightened = many(JointRecord, "newest first")
    pieces_text = maybe("the pieces as they were written, one a line")


class Joints(Answer):
    """All joint sheets, and what waits to be tightened again."""

    joints = many(Joint)
    to_tighten = many(JointToTighten, "by day")
