"""Took: pieces left a locker to be used."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.stock_moves import one_way


def took(ctx: Context, part: str, locker: str, quantity: Any = 1, *, lot: str | None = None,
         machine: str | None = None, note: str | None = None,
         at: str | None = None,
         counted_since: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record that *quantity* pieces were taken from a locker.

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: the quantity is none, or a day to come.
        AskFirst: it was counted since that day.
    """
    return one_way(ctx, "took", part, locker, quantity, lot=lot, machine=machine, note=note,
                   at=at, counted_since=counted_since, change_id=change_id)
