"""Moved: pieces went from one locker to another, or to another condition."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.late import dated
from spares.actions.stock_moves import (
    a_change_id,
    chosen_lot,
    cut_up,
    finish,
    is_known,
    lot_for,
    shares,
)
from spares.domain.draft import Draft
from spares.domain.stowage import expires_of_lot
from spares.errors import InvalidInput


@in_turn
def moved(ctx: Context, part: str, from_locker: str, to_locker: str, quantity: Any = 1, *,
          lot: str | None = None, to_condition: str | None = None, note: str | None = None,
          at: str | None = None, counted_since: str | None = None,
          change_id: str | None = None, before: tuple[Draft, ...] = (),
          text: str | None = None, back_by: str | None = None) -> dict[str, Any]:
    """Record that *quantity* pieces lie somewhere else now.

    Args:
        ctx: Where it happens.
        part, from_locker, to_locker: As people call them [-].
        quantity: Pieces [the part's unit].
        lot: Code or id of the lot they come from [-].
        to_condition: What they are from now on: new, used-good, suspect [-].
        note: Free text [-].
        at: The day, if it is typed in later; today unless said [-].
        counted_since: On which side of the counts made since it lies: before or after [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].
        before: Drafts to be written in front, such as a borrower's locker.
        text: What to answer instead of the usual sentence [-].
        back_by: The day by which a loan is to be back [-].

    Raises:
        NotFound, Ambiguous: the part or a locker cannot be told.
        InvalidInput: no quantity, or nothing would change.
        AskFirst: it was counted since that day.
    """
    name = ctx.named(part, "part", "part")
    start = ctx.named(from_locker, "from", "locker")
    end = to_locker if before else ctx.named(to_locker, "to", "locker")
    q, ident = thousandths(quantity, "quantity"), a_change_id(change_id)
    if start == end and to_condition is None:
        raise InvalidInput.at("#/to", "it lies there already")
    aboard = ctx.aboard([name])
    drafts: list[Draft] = []
    if not is_known(ctx, ident, "moved", q, part=name, **{"from": start, "to": end}):
        picked, bodies, lots = chosen_lot(ctx, aboard, name, lot), [], list(before)
        for one, share in shares(aboard, name, start, q, picked, ctx.today.isoformat()):
            body = {"part": name, "from": start, "to": end, "lot": one, "q": share,
                    **({"note": note} if note else {}),
                    **({"back_by": back_by} if back_by else {})}
            if to_condition is not None:
                new_lot, more = lot_for(aboard, name, to_condition, expires_of_lot(aboard, one))
                lots += [draft for draft in more if draft not in lots]
                body |= {"to_lot": new_lot} if new_lot != one else {}
            if (start, one) == (end, body.get("to_lot", one)):
                raise InvalidInput.at("#/to_condition", "it is that already")
            bodies.append(body)
        drafts = dated(ctx, [*lots, *cut_up("moved", ident, bodies)], at, counted_since)
    return finish(ctx, "moved", ident, drafts, name, text or (
        f"Moved {plain(q)} of {aboard.label(name)} from {aboard.label(start)} "
        f"to {aboard.label(end)}"))
