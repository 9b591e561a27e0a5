"""Bodies of the verbs that write. Fields that may be left out may be null as well."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.domain.document_kinds import CONDITIONS
from spares.domain.drains import TURNS, WAYS
from spares.domain.walk_round import ORIGINS, QUESTIONS
from spares.web.schemas.base import Asked
from spares.web.schemas.values import Day, PlainText, Yes, hours, quantity, reference, remark

CONDITION = validate.OneOf(CONDITIONS)


def _happened() -> Day:
    return Day(allow_none=True, metadata={
        "description": "the day on which it happened, if it is typed in later"})


def _side() -> fields.String:
    return fields.String(allow_none=True, validate=validate.OneOf(("before", "after")), metadata={
        "description": "on which side of the counts made since then it lies"})


class Change(Asked):
    """What most verbs take: an id made by the client, so that sending twice is once."""

    change_id = fields.UUID(allow_none=True, metadata={
        "description": "UUID made by the client: the same request sent twice changes once"})


class Landed(Change):
    """landed: out of the count for good."""

    part = reference("part", required=True)
    locker = reference("locker", required=True)
    quantity = quantity(above_zero=True)
    lot = reference("lot", allow_none=True)
    note = remark()
    at = _happened()
    counted_since = _side()


class Took(Landed):
    """took: out of a locker, to be used."""

    machine = reference("machine it was for", allow_none=True)


class Put(Landed):
    """put: bought, brought back or found, and stowed."""

    condition = fields.String(validate=CONDITION, allow_none=True)
    expires = Day(cut=True, allow_none=True)
    batch = PlainText(longest=100, allow_none=True)


class Counted(Change):
    """counted: what is there, whatever was written before."""

    part = reference("part", required=True)
    locker = reference("locker", required=True)
    quantity = quantity(required=True)
    lot = reference("lot", allow_none=True)
    note = remark()


class Doubt(Change):
    """doubt: the count of a part in a locker is called doubtful, without counting."""

    part = reference("part", required=True)
    locker = reference("locker", required=True)
    by = PlainText(longest=100, allow_none=True)
    note = remark()
    taken_back = Yes(allow_none=True)


class Moved(Change):
    """moved: from one locker to another."""

    part = reference("part", required=True)
    from_locker = reference("locker it was in", required=True, data_key="from")
    to_locker = reference("locker it is in now", required=True, data_key="to")
    quantity = quantity(above_zero=True)
    lot = reference("lot", allow_none=True)
    to_condition = fields.String(validate=CONDITION, allow_none=True)
    note = remark()
    at = _happened()
    counted_since = _side()


class Lent(Change):
    """lent: to somebody, by name, until it is moved back."""

    part = reference("part", required=True)
    locker = reference("locker", required=True)
    quantity = quantity(above_zero=True)
    lot = reference("lot", allow_none=True)
    note = remark()
    who = PlainText(longest=100, shortest=1, required=True)
    back_by = Day(allow_none=True)


class SlipIn(Change):
    """slip-in: another vessel's slip, of a loan or of what went back; twice is once.

    The slip names the change, so that taking it in on two phones does it once.
    """

    slip = fields.Dict(required=True, metadata={
        "description": "As GET /loans/{loan}/slip of the other vessel gave it"})
    locker = reference("locker", allow_none=True)


class GiveBack(Change):
    """give-back: borrowed pieces go back, all that are left or so many."""

    loan = fields.UUID(required=True)
    quantity = quantity(above_zero=True, allow_none=True)


class Reading(Change):
    """reading: what an hour counter shows."""

    machine = reference("machine", required=True)
    value = hours(required=True, data_key="hours")
    at = Day(allow_none=True)
    because = remark()


class LeftOver(Change):
    """left-over: what shall become of a part that fits nothing any more."""

    part = reference("part", required=True)
    choice = fields.String(required=True, validate=validate.OneOf(("keep", "give", "sell", "open")),
                           metadata={"description": "open: not decided any more"})
    note = remark()


class Exchange(Change):
    """exchange: a new part at a fit point, and where the old one went."""

    point = reference("fit point", required=True)
    part = reference("part", required=True)
    from_locker = reference("locker it came from", data_key="from", allow_none=True)
    old_to = reference("locker of the old one, or the word landed", allow_none=True)
    old_condition = fields.String(validate=CONDITION)
    why = fields.String(allow_none=True, validate=validate.OneOf(
        ("failed", "worn", "planned", "other")), metadata={
        "description": "Why the old part came out; failures feed the vessel's own rates"})
    lot = reference("lot", allow_none=True)
    at = Day(allow_none=True)
    note = remark()


class Done(Change):
    """done: a service was carried out."""

    service = reference("service", required=True)
    at = Day(cut=True, allow_none=True)
    run = hours(data_key="hours", allow_none=True)
    kit = Yes(metadata={"description": "Take the kit out of the lockers (usually true)"})
    by = PlainText(longest=100, allow_none=True)
    proof = PlainText(longest=100, allow_none=True)
    failed = fields.List(reference("part that had failed"), allow_none=True)
    note = remark()


class Interval(Change):
    """interval: a service comes round sooner or later than before, or is not wanted here."""

    service = reference("service", required=True)
    because = PlainText(longest=300, shortest=1, required=True)
    every_hours = hours(allow_none=True)
    every_months = fields.Integer(strict=True, validate=validate.Range(0, 1200), allow_none=True)
    not_wanted = Yes(allow_none=True)
    at = Day(allow_none=True)


class Pick(Change):
    """pick: the kit of a service is gathered into its bag."""

    service = reference("service", required=True)


class PutBack(Change):
    """put-back: what lies in the bag of a service goes back to where it came from."""

    service = reference("service, or its bag", required=True)


class Settle(Change):
    """settle: say on which side of a count a movement lies."""

    change = fields.UUID(required=True)
    side = fields.String(required=True, validate=validate.OneOf(("before", "after")))
    part = reference("part that was counted", allow_none=True)
    locker = reference("locker in which it was counted", allow_none=True)
    lot = reference("lot that was counted", allow_none=True)


class Same(Change):
    """same: two records are one part."""

    keep = reference("part to keep", required=True)
    drop = reference("part to drop", required=True)


class Undo(Change):
    """undo: take a change back; without a name the last one."""

    change = fields.UUID(allow_none=True)


class CodeLots(Change):
    """code-lots: give a label's code to each lot and each job's bag that has none."""


class Found(Change):
    """found: an answer of the walk-round, and how it is known."""

    question = fields.String(required=True, validate=validate.OneOf(QUESTIONS))
    about = reference("machine, fit point or service", required=True)
    origin = fields.String(required=True, validate=validate.OneOf(ORIGINS))
    answer = remark()
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    done_on = Day(cut=True, allow_none=True, metadata={
        "description": "history: when the service was last done"})
    run = hours(data_key="hours", allow_none=True)
    maker = PlainText(longest=100, allow_none=True)
    model = PlainText(longest=100, allow_none=True)
    serial = PlainText(longest=100, allow_none=True)
    note = remark()


class Baseline(Change):
    """baseline: the day from which is counted what nobody can date."""

    at = Day(allow_none=True)
    taken_back = Yes()


class Drained(Change):
    """drained: what was done at a drain point at lay-up, or closed at fitting-out."""

    turn = fields.String(required=True, validate=validate.OneOf(TURNS))
    point = reference("drain point", allow_none=True)
    machine = reference("machine whose note names the point", allow_none=True)
    name = PlainText(longest=200, allow_none=True, metadata={
        "description": "as the note has it; empty for the whole machine"})
    done = fields.String(allow_none=True, validate=validate.OneOf(WAYS))
    seen_to_run = Yes(allow_none=True)
    protects_to_c = fields.Raw(allow_none=True, metadata={
        "type": ["number", "string"], "description": "[°C], such as -25"})
    cock = fields.String(allow_none=True, validate=validate.OneOf(("open", "shut")))
    plug_in = Yes(allow_none=True)
    seal_renewed = Yes(allow_none=True)
    no_leak = Yes(allow_none=True)
    by = PlainText(longest=100, allow_none=True)
    at = Day(allow_none=True)
    note = remark()
