"""Shopping list of a trip: what to buy, by when, in which size, and what would do instead."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from spares.actions.claims import attribute_label, claim_text
from spares.actions.context import Context
from spares.actions.kind_sheets import sheets_here
from spares.actions.needs import next_trip
from spares.actions.papers.frame import head, maker_number, proof_words, titled
from spares.actions.trip.restock import restock
from spares.domain.aboard import Aboard, name_of
from spares.domain.fit import KindSheet
from spares.domain.tree import points_of_link, points_taking
from spares.errors import InvalidInput, UnknownUnit
from spares.paper.dates import date_text, dated_text
from spares.paper.shopping_list import ShoppingLine, shopping_list_pdf
from spares.units import format_number, parse_quantity

# What is no help at a counter: how often a thing fails, and in which locker some of it lies.
UNSAID = ("no failure figure",)
_IN_LOCKER = re.compile(r"^-?[\d.]+ .*\bin \S+ |^not counted")


def shopping(ctx: Context, *, page: str = "A4", trip: str | None = None) -> bytes:
    """Print what is to be bought for a trip; the next one where none is named."""
    aboard, plan = ctx.aboard(), restock(ctx, trip_or_next(ctx, trip))
    names = {one.no or one.id: name_of("part", one) for one in aboard.all("part")}
    sheets = sheets_here(ctx)
    lines = [_line(aboard, sheets, names[line["part"]], line)
             for line in plan["lines"] if line["buy"]]
    unsure = [titled(line) for line in plan["lines"] if line["state"] == "cannot-say"]
    return shopping_list_pdf(head(ctx, "Shopping list", trip_words(plan["trip"])), lines,
                             page=page, cannot_say=unsure)


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


def trip_words(trip: dict[str, Any]) -> str:
    """Say which trip a paper is for."""
    return (f"For {trip['no']} {trip['name']}, {date_text(trip['departs_on'])} to "
            f"{date_text(trip['returns_on'])}.")


def _line(aboard: Aboard, sheets: Mapping[str, KindSheet], name: str,
          line: dict[str, Any]) -> ShoppingLine:
    part = aboard.get(name)
    remarks = [one for one in line["remarks"] if one not in UNSAID and not _IN_LOCKER.search(one)]
    if part.made == "dropped":
        after = f"; taken over by {_called(aboard, part.taken_over_by)}" \
            if part.taken_over_by else ""
        remarks.insert(0, f"No longer made{after}")
    return ShoppingLine(
        line["part"], titled(line), line["maker"] or "", line["number"] or "", line["buy"],
        line["unit"], line["seller"] or "", line["order_by"], line["state"] == "too-late",
        _sizes(aboard, sheets, name),
        tuple(f"{_called(aboard, one.part)} ({proof_words(one.proof)})"
              for one in aboard.stand_ins_for.get(name, [])
              if one.proof in ("makers-list", "measured", "fitted-before")),
        tuple(_never(aboard, name)), tuple(map(dated_text, remarks)))


def _called(aboard: Aboard, name: str) -> str:
    part = aboard.get(name)
    return maker_number(part) or aboard.label(name) if part is not None else "not recorded"


def _sizes(aboard: Aboard, sheets: Mapping[str, KindSheet], name: str) -> str:
    """Give what is known of a part's measures, lengths in millimetres and inches."""
    kind = aboard.get(name).kind
    return "; ".join(f"{attribute_label(sheets, kind, one.attribute).lower()} {_measure(one.claim)}"
                     for one in aboard.specs_of.get(name, [])
                     if (one.claim or {}).get("value") is not None)


def _measure(claim: dict[str, Any]) -> str:
    text, value = claim_text(claim), claim.get("value")
    if claim.get("unit") != "mm" or isinstance(value, bool | dict | list):
        return text
    try:
        inches = parse_quantity(str(value), "mm").to("in").amount
    except UnknownUnit:     # a size that is a name, such as a thread
        return text
    return f"{text} ({format_number(inches)} in)"


def _never(aboard: Aboard, name: str) -> list[str]:
    """Name the parts that were tried where this one sits, and did not fit."""
    points, found = points_taking(aboard, name), {}
    for link in aboard.all("link"):
        if link.proof == "tried-no" and link.part != name \
                and points.keys() & set(points_of_link(aboard, link)):
            note = f": {link.note}" if link.note else ""
            found[link.part] = f"{_called(aboard, link.part)} (tried, no{note})"
    return [found[part] for part in sorted(found, key=aboard.label)]
