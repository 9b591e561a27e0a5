"""Fit and trips."""

from __future__ import annotations

from marshmallow import fields

from spares.domain.fit.values import VERDICTS
from spares.web.schemas.base import (
    Answer,
    Asked,
    a_text,
    a_whole,
    many,
    maybe,
    one,
    one_of,
    texts,
)
from spares.web.schemas.things import Caution, Thing
from spares.web.schemas.trips import CHANGE_ID
from spares.web.schemas.values import Yes, reference

OUTCOMES = ("match", "change", "stop", "advisory", "unknown")


class FitBody(Asked):
    """A fit point, and a part or what was measured."""

    point = reference("fit point", required=True)
    part = reference("part", allow_none=True)
    offers = fields.Dict(keys=fields.String(), allow_none=True, metadata={
        "description": "What was measured, by attribute, as the fit computation takes it; "
                       "empty to be told what to measure"})
    keep = Yes(metadata={"description": "Write the verdict down"})
    change_id = fields.UUID(allow_none=True, metadata={
        "description": "Of that record: " + CHANGE_ID})


class FitRow(Answer):
    """One attribute compared."""

    attr = a_text()
    label = a_text()
    outcome = one_of(OUTCOMES)
    required = maybe()
    offered = maybe()
    reason = maybe()
    drawing = fields.String(metadata={
        "description": "Which of the client's drawings shows how it is measured"})
    offered_as = fields.String(metadata={
        "description": "The part's own attribute by which a seat is met"})


class FitAnswer(Answer):
    """The verdict, row by row, and what follows from it aboard."""

    verdict = one_of(VERDICTS)
    kind = a_text("the kind sheet it was judged by")
    rows = many(FitRow)
    to_measure = texts()
    changes = fields.List(fields.Dict(), required=True)
    advisories = fields.List(fields.Raw(), required=True)
    point = one(Thing)
    part = fields.Dict(required=True, allow_none=True)
    would_strand = fields.List(fields.Dict(), required=True)
    no_longer_needed = fields.List(fields.Dict(), required=True)
    needs = fields.List(fields.Dict(), required=True)
    notes = texts()
    cautions = many(Caution)


class SheetFault(Answer):
    """What is wrong with a person's own kind sheet."""

    file = a_text()
    key = a_text("where in the file, such as attributes/length/tol")
    detail = a_text()
    kind = a_text("the kind it was meant for")


class Kind(Answer):
    """A kind of part that there is a sheet for."""

    kind = a_text()
    label = a_text()
    file = maybe("a person's own file; null for the program's own")
    lines = a_whole()


class Kinds(Answer):
    """The kinds, and what is wrong with a person's own sheets."""

    kinds = many(Kind)
    faults = many(SheetFault)
    folder = maybe("where a person's own sheets are looked for")


class FitData(Answer):
    """Kind sheets, named changes and tables, each by its name."""

    sheets = fields.Dict(keys=fields.String(), required=True)
    changes = fields.Dict(keys=fields.String(), required=True)
    tables = fields.Dict(keys=fields.String(), required=True)
    types = fields.Dict(keys=fields.String(), required=True)
    tools = fields.Dict(keys=fields.String(), required=True)
    faults = many(SheetFault)
    used_rubber_mm = a_text("uncertainty of rubber that has been used [mm]")


class FitBook(Answer):
    """A vessel's fit points and parts, for checks without a server."""

    vessel = maybe()
    as_of = a_text("the day on which it was so, ISO")
    machines = fields.List(fields.Dict(), required=True)
    points = fields.List(fields.Dict(), required=True)
    parts = fields.List(fields.Dict(), required=True)
