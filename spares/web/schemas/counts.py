"""Counts by their age, and the pieces of a batch."""

from __future__ import annotations

from spares.web.schemas.base import Answer, VesselQuery, a_text, a_whole, many, maybe, one, yes
from spares.web.schemas.parts import Doubted, Where
from spares.web.schemas.values import PlainText


class CountLine(Answer):
    """A part to be counted; how many are expected is not said."""

    part = maybe()
    name = maybe()
    maker = maybe()
    number = maybe()
    unit = a_text()
    counted_on = maybe("day of the last count; null: never")
    doubted = one(Doubted, null=True)


class CountLocker(Answer):
    """A locker with what is to be counted in it."""

    locker = maybe()
    locker_id = a_text()
    name = maybe()
    code = maybe()
    doubtful = a_whole("lines whose count somebody doubts")
    never = a_whole("lines that nobody ever counted")
    oldest = maybe("day of the oldest count")
    lines = many(CountLine)


class CountsAnswer(Answer):
    """Lockers, what asks most to be counted first."""

    lockers = many(CountLocker)


class BatchQuery(VesselQuery):
    """Which batch is looked for."""

    mark = PlainText(longest=200, shortest=1, required=True)


class BatchLot(Answer):
    """A lot of the batch."""

    lot = a_text()
    batch = a_text()
    part = maybe()
    part_name = maybe()


class BatchWhere(Where):
    """Where pieces of the batch lie."""

    part = maybe()
    part_name = maybe()


class BatchFitted(Answer):
    """A fit point into which a piece of the batch went."""

    point = a_text()
    name = maybe()
    on = maybe()
    still = yes("whether it sits there now")
    part = maybe()
    part_name = maybe()


class BatchAnswer(Answer):
    """The pieces of a batch: where they lie, and where one was fitted."""

    mark = a_text()
    lots = many(BatchLot)
    where = many(BatchWhere)
    fitted = many(BatchFitted)
