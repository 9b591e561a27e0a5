"""Counted: somebody looked and counted what lies in a locker."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.doubt import ends_doubt
from spares.actions.stock_moves import a_change_id, chosen_lot, cut_up, finish, is_known, use_first
from spares.domain.aboard import Aboard, Lying


@in_turn
def counted(ctx: Context, part: str, locker: str, quantity: Any, *, lot: str | None = None,
            note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record a count of all pieces of a part in a locker, or of one lot of them.

    A count of all is written one change a lot: what is missing is taken off the
    lots that are used first, what is more is put to the last of them.

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: the quantity is none.
    """
    name, place = ctx.named(part, "part", "part"), ctx.named(locker, "locker", "locker")
    q, ident = thousandths(quantity, "quantity", least=0), a_change_id(change_id)
    aboard, drafts = ctx.aboard([name]), []
    if not is_known(ctx, ident, "counted", q, part=name, locker=place):
        there = [one for one in aboard.lying_of.get(name, []) if one.locker == place]
        picked = chosen_lot(ctx, aboard, name, lot)
        by_lot = {picked: q} if picked is not None else _by_lot(aboard, there, q,
                                                                ctx.today.isoformat())
        shown = {one.lot: one.quantity for one in there}
        drafts = cut_up("counted", ident, [
            {"part": name, "locker": place, "lot": one, "q": share, "shown": shown.get(one, 0),
             **({"note": note} if note else {})} for one, share in by_lot.items()])
        drafts += ends_doubt(aboard, name, place)
    return finish(ctx, "counted", ident, drafts, name,
                  f"Counted {plain(q)} of {aboard.label(name)} in {aboard.label(place)}")


def _by_lot(aboard: Aboard, there: list[Lying], q: int, today: str) -> dict[str, int]:
    lots = use_first(aboard, there, today)
    if not lots:
        return {"": q}
    missing = sum(max(one.quantity, 0) for one in lots) - q
    found = {}
    for one in lots:
        gone = min(max(missing, 0), max(one.quantity, 0))
        found[one.lot] = max(one.quantity, 0) - gone
        missing -= gone
    if missing < 0:
        found[lots[-1].lot] -= missing
    return found
