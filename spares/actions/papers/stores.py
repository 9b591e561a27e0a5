"""List of stores for clearing in and out: what is aboard, how much, and where."""

from __future__ import annotations

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.lines import in_walking_order
from spares.actions.papers.frame import head, maker_number
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.search_text import fold
from spares.domain.stowage import counts_as_aboard
from spares.paper.language import ENGLISH, Words
from spares.paper.stores_list import StoresLine, Voyage, stores_list_pdf

DUTIABLE = "dutiable"


def stores(ctx: Context, *, page: str = "A4", flag: str = "", last_port: str = "",
           next_port: str = "", persons: int | None = None, say: Words = ENGLISH) -> bytes:
    """Print what lies aboard; a part whose use is `dutiable` stands on its own block.

    What the officer asks of the voyage and nobody said stays a blank to fill in.
    """
    aboard = ctx.aboard()
    lines = [line for part in sorted(aboard.all("part"), key=lambda one: fold(one.name or ""))
             if (line := _line(say, aboard, part)) is not None]
    named = {name for line in lines for name in line.place.split(", ")}
    places = [(one.no, one.name or "") for one in aboard.all("locker") if one.no in named]
    return stores_list_pdf(head(ctx, say, say("title.stores")),
                           Voyage(flag, last_port, next_port, persons), lines, places, page=page)


def _line(say: Words, aboard: Aboard, part: Record) -> StoresLine | None:
    name = name_of("part", part)
    lying = [one for one in in_walking_order(aboard, aboard.lying_of.get(name, []))
             if counts_as_aboard(aboard, one) and (one.quantity > 0 or not one.counted)]
    if not lying:
        return None
    counted = [one for one in lying if one.counted]
    places = ", ".join(dict.fromkeys(aboard.label(one.locker) for one in lying))
    article = ", ".join(filter(None, [part.name, maker_number(part)]))
    if len(counted) not in (0, len(lying)):
        article = say("stores.more", article=article)
    return StoresLine(
        article,
        plain(sum(one.quantity for one in counted)) if counted else None, places,
        part.unit or "pcs", _is_dutiable(aboard, part, name))


def _is_dutiable(aboard: Aboard, part: Record, name: str) -> bool:
    uses = [part.use, *(link.use for link in aboard.links_of.get(name, []))]
    return any(DUTIABLE in (use or "").lower().replace(",", " ").split() for use in uses)
