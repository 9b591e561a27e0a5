"""A part with its places, as it stands in every answer."""

from __future__ import annotations

from marshmallow import fields, validate

from spares.domain.document_kinds import CONDITIONS
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
from spares.web.schemas.values import PlainText

COUNT_STATES = ("enough", "low", "none", "not-counted")


class Money(Answer):
    """An amount, two decimals."""

    amount = a_text("such as 18.50")
    currency = a_text("such as EUR")


class Doubted(Answer):
    """Who called a count doubtful, and why."""

    on = maybe()
    by = maybe()
    note = maybe()


class Where(Answer):
    """Pieces in a place."""

    locker = maybe("the locker's number")
    locker_id = a_text()
    name = maybe()
    code = maybe("the code on its label")
    quantity = a_number()
    low = a_number("not fewer than this, whatever is in doubt")
    high = a_number("not more than this")
    flags = texts()
    lot = maybe()
    condition = one_of(CONDITIONS, null=True)
    expires = maybe("ISO text cut to what is known")
    aboard = yes()
    reachable = yes("under way")
    counted = yes("false: it is known to lie there, nobody counted")
    batch = maybe("mark of the batch")
    doubted = one(Doubted, null=True)


class Link(Answer):
    """What a part fits, and how that is known."""

    point = maybe()
    name = maybe()
    machine = maybe()
    machine_name = maybe()
    live = yes()
    role = a_text("takes: it sits there; goes-with: a companion")
    proof = maybe("makers-list, measured, fitted-before, hearsay, candidate, tried-no")
    use = maybe()


class StandIn(Answer):
    """A part that counts for another."""

    part = a_text()
    name = maybe()
    proof = maybe()
    usable = a_number()


class LeftOverChoice(Answer):
    """What shall become of a part that fits nothing any more."""

    choice = one_of(("keep", "give", "sell"))
    note = maybe()


class OtherNumber(Answer):
    """A further number by which a part is known."""

    maker = maybe()
    number = a_text()
    what = a_text("cross, superseded, barcode")


class ChainLink(Answer):
    """A part in a chain of parts that took each other over, and how many of it are left."""

    part = a_text()
    name = maybe()
    maker = maybe()
    number = maybe()
    made = maybe("made, dropped, not-known")
    dropped_on = maybe("ISO text cut to what is known")
    taken_over_by = maybe("number of the part that took over")
    aboard = a_number()
    elsewhere = a_number("ashore or lent")


class Served(Answer):
    """A part that this one stands in for."""

    part = a_text()
    name = maybe()
    proof = maybe()
    note = maybe()


class PartLine(Answer):
    """A part: what it is, how many, where, and what it fits."""

    id = a_text()
    no = maybe()
    name = maybe()
    maker = maybe()
    number = maybe("the maker's number")
    kind = maybe()
    unit = a_text()
    made = maybe("made, dropped, not-known")
    dropped_on = maybe("ISO text cut to what is known")
    taken_over_by = maybe("number of the part that took over")
    numbers = many(OtherNumber)
    state = one_of(COUNT_STATES, null=True)
    aboard = a_number()
    usable = a_number()
    need = a_number("by the next trip, else the keep level", null=True)
    tags = texts("stranded, out-of-date, suspect, lent ...")
    fits = many(Link)
    where = many(Where)
    stand_ins = many(StandIn)
    price = one(Money, null=True)
    lead_days = a_whole(null=True)
    left_over = one(LeftOverChoice, null=True)


class PartWhole(PartLine):
    """A part as its own page shows it."""

    chain = many(ChainLink)
    stands_in_for = many(Served)
    apart = stands_apart()


class PartsAnswer(Answer):
    """A page of parts."""

    parts = many(PartLine)
    after = maybe("give this as `after` for the next page; null at the end")
    total = a_whole()


class PartsQuery(VesselQuery):
    """Which page of the parts."""

    after = PlainText(longest=200, shortest=1, metadata={
        "description": "Number of the last part of the page before"})
    limit = fields.Integer(load_default=200, validate=validate.Range(1, 1000))
