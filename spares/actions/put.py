"""Put: pieces were stowed in a locker (bought, brought back, found)."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.late import dated
from spares.actions.stock_moves import a_change_id, chosen_lot, finish, is_known, lot_for
from spares.domain.draft import Draft


@in_turn
def put(ctx: Context, part: str, locker: str, quantity: Any = 1, *, lot: str | None = None,
        condition: str | None = None, expires: str | None = None, batch: str | None = None,
        note: str | None = None, at: str | None = None, counted_since: str | None = None,
        change_id: str | None = None) -> dict[str, Any]:
    """Record that *quantity* pieces were stowed, new and without a date unless said.

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: the quantity is none, or there is no such condition or day.
        AskFirst: it was counted since that day.
    """
    part_name, locker_name = ctx.named(part, "part", "part"), ctx.named(locker, "locker", "locker")
    q, ident = thousandths(quantity, "quantity"), a_change_id(change_id)
    aboard = ctx.aboard([part_name])
    picked, before = chosen_lot(ctx, aboard, part_name, lot), []
    if picked is None:
        picked, before = lot_for(aboard, part_name, condition, expires, batch)
    known = is_known(ctx, ident, "put", q, part=part_name, locker=locker_name)
    drafts = [] if known else dated(ctx, [
        *before, Draft("put", {"part": part_name, "locker": locker_name, "lot": picked, "q": q,
                               **({"note": note} if note else {})}, ident)], at, counted_since)
    return finish(ctx, "put", ident, drafts, part_name,
                  f"Put {plain(q)} of {aboard.label(part_name)} into {aboard.label(locker_name)}")
