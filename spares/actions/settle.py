"""Settle: somebody says whether pieces were already gone when they were counted."""

from __future__ import annotations

from typing import Any

from sqlmodel import col, select

from spares.actions.context import Context
from spares.actions.stock_moves import a_change_id, finish, is_known
from spares.db.tables import CellRow, Effect, LogEntry
from spares.domain.draft import Draft
from spares.errors import InvalidInput, NotFound


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
    part, count = _in_doubt(ctx, change)
    drafts = [] if is_known(ctx, ident) else [
        Draft("settle", {"of": change, "count": count, "side": side}, ident)]
    return finish(ctx, "settle", ident, drafts, part, f"It was {side} the count")


def _in_doubt(ctx: Context, change: str) -> tuple[str, str]:
    """Give the part and the count against which a movement is in doubt."""
    with ctx.store.reading() as session:
        keys = session.exec(select(Effect).where(
            col(Effect.vessel) == ctx.vessel, col(Effect.change_id) == change)).all()
        for key in keys:
            cell = session.get(CellRow, (ctx.vessel, key.part, key.locker, key.lot))
            if cell is None or change not in cell.doubts:
                continue
            count = session.exec(
                select(LogEntry.id).join(Effect, (col(Effect.change_id) == LogEntry.id)
                                         & (col(Effect.vessel) == LogEntry.vessel))
                .where(col(LogEntry.vessel) == ctx.vessel, col(LogEntry.kind) == "counted",
                       col(Effect.part) == key.part, col(Effect.locker) == key.locker,
                       col(Effect.lot) == key.lot).order_by(col(LogEntry.at).desc())).first()
            if count is not None:
                return key.part, count
    raise NotFound("change: no such movement is in doubt",
                   errors=[{"pointer": "#/change", "detail": "not in doubt"}])
