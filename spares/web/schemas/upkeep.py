"""The walk-round."""

from __future__ import annotations

from spares.domain.walk_round import ORIGINS, QUESTIONS, STATES, STEPS
from spares.web.schemas.base import (
    Answer,
    VesselQuery,
    a_text,
    a_whole,
    many,
    maybe,
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
