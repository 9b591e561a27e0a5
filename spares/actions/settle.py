"""Settle: somebody says whether pieces were already gone when they were counted."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, finish, known_body
from spares.db.before_writing import doubted, parts_of
from spares.db.load import kept_parts
from spares.db.projection.stock import Key
from spares.domain.draft import Draft
from spares.errors import InvalidInput, NotFound


@in_turn
def settle(ctx: Context, change: str, side: str, *, part: str | None = None,
           locker: str | None = None, lot: str | None = None,
           change_id: str | None = None) -> dict[str, Any]:
    """Answer a doubt: was the movement *change* before or after the count?

    Args:
        ctx: Where it happens.
        change, side: Id of the movement; before or after [-].
        part, locker, lot: Whose count is meant, as people call them. What was moved can be in
            doubt at both ends; without a lot the pieces without one are meant [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound: no such change is in doubt there, or nothing is called so.
        InvalidInput: *side* is neither before nor after, or it is in doubt in more than one place.
    """
    if side not in ("before", "after"):
        raise InvalidInput.at("#/side", "before or after is needed")
    ident = a_change_id(change_id)
    if (known := known_body(ctx, ident, "settle", of=change, side=side)) is not None:
        return finish(ctx, "settle", ident, [], _part_counted(ctx, known["count"]), _text(side))
    (name, _, _), count = _asked(ctx, change, part, locker, lot)
    draft = Draft("settle", {"of": change, "count": count, "side": side}, ident)
    return finish(ctx, "settle", ident, [draft], name, _text(side))


def _text(side: str) -> str:
    return f"It was {side} the count"


def _asked(ctx: Context, change: str, *place: str | None) -> tuple[Key, str]:
    """Give the cell that is meant, and the count that is asked about there."""
    with ctx.store.reading() as session:
        found = doubted(session, ctx.vessel, change)
    for at, (kind, asked) in enumerate(zip(("part", "locker", "lot"), place, strict=True)):
        if found and asked is not None:
            wanted = ctx.named(asked, kind, kind)
            found = [one for one in found if one[0][at] == wanted]
    if len(found) > 1:
        found = [one for one in found if not one[0][2]] or found
    if not found:
        raise NotFound("change: no such movement is in doubt",
                       errors=[{"pointer": "#/change", "detail": "not in doubt"}])
    if len(found) > 1:
        raise InvalidInput.at("#/locker", "it is in doubt in more than one place: "
                                          "say whose count is meant")
    return found[0]


def _part_counted(ctx: Context, count: str) -> str:
    with ctx.store.reading() as session:
        part = parts_of(session, ctx.vessel, count)[0]
    with ctx.store.looking() as reader:
        return kept_parts(reader, ctx.vessel).get(part, part)
