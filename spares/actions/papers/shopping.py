"""Shopping list of a trip: what to buy, by when, in which size, and what would do instead."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from spares.actions.claims import attribute_label, claim_text
from spares.actions.context import Context
from spares.actions.kind_sheets import sheets_here
from spares.actions.needs import next_trip
from spares.actions.papers.frame import head, maker_number, titled
from spares.actions.trip.restock import restock
from spares.domain.aboard import Aboard, name_of
from spares.domain.fit import KindSheet
from spares.domain.tree import points_of_link, points_taking
from spares.errors import InvalidInput, UnknownUnit
from spares.paper.language import ENGLISH, Words
from spares.paper.shopping_list import ShoppingLine, shopping_list_pdf
from spares.units import parse_quantity

# What is no help at a counter: how often a thing fails, and in which locker some of it lies.
UNSAID = ("no failure figure",)
_IN_LOCKER = re.compile(r"^-?[\d.]+ .*\bin \S+ |^not counted")


def shopping(ctx: Context, *, page: str = "A4", trip: str | None = None,
             say: Words = ENGLISH) -> bytes:
    """Print what is to be bought for a trip; the next one where none is named."""
    aboard, plan = ctx.aboard(), restock(ctx, trip_or_next(ctx, trip))
    names = {one.no or one.id: name_of("part", one) for one in aboard.all("part")}
    sheets = sheets_here(ctx)
    lines = [_line(say, aboard, sheets, names[line["part"]], line)
             for line in plan["lines"] if line["buy"]]
    unsure = [titled(line) for line in plan["lines"] if line["state"] == "cannot-say"]
    return shopping_list_pdf(head(ctx, say, say("title.shopping"), trip_words(say, plan["trip"])),
                             lines, page=page, cannot_say=unsure)


def trip_or_next(ctx: Context, trip: str | None) -> str:
    """Give the trip that is named, else the next one.

    Raises:
        InvalidInput: none is named and none is planned.
    """
    if trip is not None:
        return trip
    found = next_trip(ctx.aboard(), ctx.today.isoformat())
    if found is None:
        raise InvalidInput.at("#/trip", "say which trip: none is planned")
    return name_of("trip", found)


def trip_words(say: Words, trip: dict[str, Any]) -> str:
    """Say which trip a paper is for."""
    return say("shopping.for_trip", no=trip["no"], name=trip["name"],
               leave=say.day(trip["departs_on"]), back=say.day(trip["returns_on"]))


def _line(say: Words, aboard: Aboard, sheets: Mapping[str, KindSheet], name: str,
          line: dict[str, Any]) -> ShoppingLine:
    part = aboard.get(name)
    remarks = [one for one in line["remarks"] if one not in UNSAID and not _IN_LOCKER.search(one)]
    if part.made == "dropped":
        remarks.insert(0, say("shopping.taken_over", name=_called(say, aboard, part.taken_over_by))
                       if part.taken_over_by else say("shopping.not_made"))
    return ShoppingLine(
        line["part"], titled(line), line["maker"] or "", line["number"] or "", line["buy"],
        line["unit"], line["seller"] or "", line["order_by"], line["state"] == "too-late",
        _sizes(say, aboard, sheets, name),
        tuple(f"{_called(say, aboard, one.part)} ({say.word('proof', one.proof)})"
              for one in aboard.stand_ins_for.get(name, [])
              if one.proof in ("makers-list", "measured", "fitted-before")),
        tuple(_never(say, aboard, name)), tuple(map(say.sentence, remarks)))


def _called(say: Words, aboard: Aboard, name: str) -> str:
    part = aboard.get(name)
    return maker_number(part) or aboard.label(name) if part is not None \
        else say("shopping.not_recorded")


def _sizes(say: Words, aboard: Aboard, sheets: Mapping[str, KindSheet], name: str) -> str:
    """Give what is known of a part's measures, lengths in millimetres and inches."""
    kind = aboard.get(name).kind
    return "; ".join(f"{say.told(attribute_label(sheets, kind, one.attribute)).lower()} "
                     f"{_measure(say, one.claim)}" for one in aboard.specs_of.get(name, [])
                     if (one.claim or {}).get("value") is not None)


def _measure(say: Words, claim: dict[str, Any]) -> str:
    text, value = say.told(claim_text(claim)), claim.get("value")
    if claim.get("unit"):       # without one it may be a designation: steel 1.4401 has no comma
        text = say.figures(text)
    if claim.get("unit") != "mm" or isinstance(value, bool | dict | list):
        return text
    try:
        inches = parse_quantity(str(value), "mm").to("in").amount
    except UnknownUnit:     # a size that is a name, such as a thread
        return text
    return say("shopping.inches", text=text, inches=say.number(inches))


def _never(say: Words, aboard: Aboard, name: str) -> list[str]:
    """Name the parts that were tried where this one sits, and did not fit."""
    points, found = points_taking(aboard, name), {}
    for link in aboard.all("link"):
        if link.proof == "tried-no" and link.part != name \
                and points.keys() & set(points_of_link(aboard, link)):
            found[link.part] = say("shopping.tried_note" if link.note else "shopping.tried",
                                   name=_called(say, aboard, link.part), note=link.note)
    return [found[part] for part in sorted(found, key=aboard.label)]
