"""Lent: pieces are with somebody else; they stand in a place of the borrower's name."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import day, plain, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.moved import moved
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.draft import setting
from spares.domain.identity import joined_id, ref
from spares.domain.search_text import fold
from spares.errors import InvalidInput


@in_turn
def lent(ctx: Context, part: str, locker: str, who: str, quantity: Any = 1, *,
         lot: str | None = None, note: str | None = None, back_by: str | None = None,
         change_id: str | None = None) -> dict[str, Any]:
    """Record that *quantity* pieces were lent to *who*; moving them back ends it.

    `back_by` is the day by which they are to be back.

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: nobody is named, no quantity, or a day to be back that is over.
    """
    if not isinstance(who, str) or not who.strip() or len(who) > 100:
        raise InvalidInput.at("#/who", "say to whom, in at most 100 characters")
    back_on = day(back_by, "back_by") if back_by else None
    ident = a_change_id(change_id)
    # A loan that was taken before midnight is asked for again after it and is still taken.
    if back_on and back_on < ctx.today.isoformat() and not is_known(ctx, ident, "moved"):
        raise InvalidInput.at("#/back_by", "this day is over")
    who, aboard = who.strip(), ctx.aboard([])
    place = ref("locker", joined_id("locker", ctx.vessel, "lent", fold(who)))
    first = setting(place, no=_number(aboard, place), name=f"Lent to {who}", lent_to=who,
                    aboard=False, reachable=False, gone=False)
    name = ctx.named(part, "part", "part")
    said = f"Lent {plain(thousandths(quantity, 'quantity'))} of {ctx.aboard([name]).label(name)}"
    return moved(ctx, part, locker, place, quantity, lot=lot, note=note, back_by=back_on,
                 change_id=ident, before=(first,), text=f"{said} to {who}")


def _number(aboard: Any, place: str) -> str:
    """Number borrowers' places apart from lockers, so that both stay short."""
    known = aboard.get(place)
    if known is not None and known.no:
        return known.no
    taken = {one.no for one in aboard.all("locker")}
    return next(no for i in range(1, 10_000) if (no := f"LENT{i}") not in taken)
