"""Put-away list: what a trip's shopping brings aboard, and the locker where its like lies."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.papers.frame import (
    head,
    locker_name,
    maker_number,
    no_locker,
    titled,
)
from spares.actions.papers.shopping import trip_or_next
from spares.actions.trip.restock import restock
from spares.paper.language import ENGLISH, Words
from spares.paper.lists import LockerName, StowedLine, put_away_list_pdf


def put_away(ctx: Context, *, page: str = "A5", trip: str | None = None,
             say: Words = ENGLISH) -> bytes:
    """Print what is to be bought for a trip by locker, in walking order."""
    plan = restock(ctx, trip_or_next(ctx, trip))
    lines = [StowedLine(_home(say, line), titled(line), line["buy"], maker_number(line),
                        line["unit"]) for line in plan["lines"] if line["buy"]]
    lines.sort(key=lambda line: (line.locker == no_locker(say), line.locker.no, line.part))
    title = say("title.put_away", trip=plan["trip"]["name"])
    return put_away_list_pdf(head(ctx, say, title), lines, page=page)


def _home(say: Words, line: dict[str, Any]) -> LockerName:
    """Give the first locker aboard in which such parts lie."""
    aboard = [one for one in line["where"] if one["aboard"]]
    return locker_name(say, aboard[0]) if aboard else no_locker(say)
