"""Landed: pieces are out of the count for good (worn out, given away, sold)."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.stock_moves import one_way


def landed(ctx: Context, part: str, locker: str, quantity: Any = 1, *, lot: str | None = None,
           note: str | None = None, at: str | None = None, counted_since: str | None = None,
           change_id: str | None = None) -> dict[str, Any]:
    """Record that *quantity* pieces went ashore for good.

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: the quantity is none, or a day to come.
        AskFirst: it was counted since that day.
    """
    return one_way(ctx, "landed", part, locker, quantity, lot=lot, note=note, at=at,
                   counted_since=counted_since, change_id=change_id)
