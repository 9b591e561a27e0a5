"""Settle: somebody says whether pieces were already gone when they were counted."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, finish, is_known
from spares.db.history import doubted
from spares.domain.draft import Draft
from spares.errors import InvalidInput, NotFound


@in_turn
def settle(ctx: Context, change: str, side: str, *,
           change_id: str | None = None) -> dict[str, Any]:
    """Answer a doubt: was the movement *change* before or after the count?

    Raises:
        NotFound: no such change is in doubt.
        InvalidInput: *side* is neither before nor after.
    """
    if side not in ("before", "after"):
        raise InvalidInput.at("#/side", "before or after is needed")
    ident = a_change_id(change_id)
    with ctx.store.reading() as session:
        found = doubted(session, ctx.vessel, change)
    if found is None:
        raise NotFound("change: no such movement is in doubt",
                       errors=[{"pointer": "#/change", "detail": "not in doubt"}])
    part, count = found
    drafts = [] if is_known(ctx, ident, "settle", of=change, side=side) else [
        Draft("settle", {"of": change, "count": count, "side": side}, ident)]
    return finish(ctx, "settle", ident, drafts, part, f"It was {side} the count")
