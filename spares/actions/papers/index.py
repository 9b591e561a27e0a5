"""Index: every part from A to Z with its lockers, the fallback for everything."""

from __future__ import annotations

from collections.abc import Iterator

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.lines import in_walking_order
from spares.actions.papers.frame import head, locker_of, maker_number
from spares.domain.aboard import Aboard, name_of
from spares.paper.language import ENGLISH, Words
from spares.paper.lists import LockerName, StowedLine, parts_index_pdf

NOWHERE = LockerName("", "")


def index(ctx: Context, *, page: str = "A4", say: Words = ENGLISH) -> bytes:
    """Print every part by name, with the lockers it lies in and how many."""
    lines = list(index_lines(say, ctx.aboard()))
    return parts_index_pdf(head(ctx, say, say("title.index")), lines, page=page)


def index_lines(say: Words, aboard: Aboard) -> Iterator[StowedLine]:
    """Give every part with the lockers it lies in, one line each."""
    for part in aboard.all("part"):
        name, called = name_of("part", part), f"{part.name} ({part.no})"
        lying = [one for one in aboard.lying_of.get(name, []) if one.quantity or not one.counted]
        found: dict[LockerName, int | None] = {}
        for one in in_walking_order(aboard, lying):
            locker = locker_of(say, aboard, one)
            before = found.get(locker, 0)
            found[locker] = None if not one.counted or before is None else before + one.quantity
        for locker, quantity in (found or {NOWHERE: 0}).items():
            yield StowedLine(locker, called, None if quantity is None else plain(quantity),
                             maker_number(part), part.unit or "pcs")
