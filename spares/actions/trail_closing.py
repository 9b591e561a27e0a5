"""What closes a trail beside finding the pieces: the number put right, or accepted in writing."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id
from spares.actions.trailing import answer, check_count, needed, plain_text, told, write_one
from spares.actions.written import written_before
from spares.domain.aboard import Aboard, Record
from spares.domain.draft import setting
from spares.domain.trail import gap, said_of
from spares.errors import Conflict, InvalidInput


@in_turn
def trail_count(ctx: Context, trail: str, *, missing: int | None = None,
                of_pieces: int | None = None, what: str | None = None,
                change_id: str | None = None) -> dict[str, Any]:
    """Put right how many pieces are missing, or of what; only the skipper may.

    Raises:
        NotFound, Ambiguous: the trail cannot be told.
        InvalidInput: nothing is missing, or more than there were.
        NotAllowed: somebody else asks.
    """
    ctx.require_skipper()
    doc, ident = ctx.named(trail, "trail", "trail"), a_change_id(change_id)
    if written_before(ctx, ident, doc) is not None:
        return answer(ctx, ident, doc, False)
    one = ctx.aboard().get(doc)
    check_count(missing, of_pieces if of_pieces is not None else one.of_pieces)
    fields = {"missing": missing, **told({"of_pieces": of_pieces, "what": plain_text(what)})}
    return write_one(ctx, ident, doc, setting(doc, **fields))


@in_turn
def trail_accept(ctx: Context, trail: str, *, by: str | None = None, why: str | None = None,
                 at: str | None = None, taken_back: bool = False,
                 change_id: str | None = None) -> dict[str, Any]:
    """Accept in writing that pieces stay missing, or no longer; only the skipper may.

    It holds for as many pieces as are left now: if more turn out to be missing, the machine
    must not run again.

    Args:
        ctx: Where it happens.
        trail: Its number [-].
        by: Who accepts it [-].
        why: The reason, in writing [-].
        at: The day; today unless said [-].
        taken_back: Whether what was accepted is so no longer [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the trail cannot be told.
        InvalidInput: name or reason is missing, or nothing to take back.
        Conflict: no piece is missing, or more were found than were missing.
        NotAllowed: somebody else asks.
    """
    ctx.require_skipper()
    doc, ident = ctx.named(trail, "trail", "trail"), a_change_id(change_id)
    if written_before(ctx, ident, doc) is not None:
        return answer(ctx, ident, doc, False)
    aboard = ctx.aboard()
    one = aboard.get(doc)
    if taken_back:
        if not one.accepted:
            raise InvalidInput.at("#/trail", "nobody has accepted that pieces stay missing")
        return write_one(ctx, ident, doc, setting(doc, accepted=None))
    fields = told({"by": needed(by, "by"), "why": needed(why, "why"),
                    "on": day(at, "at", ctx.today), "pieces": _left(aboard, one)})
    return write_one(ctx, ident, doc, setting(doc, accepted=fields))


@in_turn
def trail_first_run(ctx: Context, trail: str, *, flow: str | None = None,
                temperature_c: str | None = None, by: str | None = None, at: str | None = None,
                change_id: str | None = None) -> dict[str, Any]:
    """Record what the first run afterwards showed.

    Args:
        ctx: Where it happens.
        trail: Its number [-].
        flow: Of the outlet water, in words or measured, such as "as before" [-].
        temperature_c: What it settled at [degrees C].
        by: Who looked [-].
        at: The day; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the trail cannot be told.
        InvalidInput: nothing is said.
    """
    doc, ident = ctx.named(trail, "trail", "trail"), a_change_id(change_id)
    if written_before(ctx, ident, doc) is not None:
        return answer(ctx, ident, doc, False)
    said = told({"flow": plain_text(flow), "temperature_c": temperature_c})
    if not said:
        raise InvalidInput.at("#/flow", "flow or temperature is needed")
    ran = {**said, **told({"by": plain_text(by)}), "on": day(at, "at", ctx.today)}
    return write_one(ctx, ident, doc, setting(doc, first_run=ran))


def _left(aboard: Aboard, one: Record) -> int | None:
    left = gap(said_of(aboard, one)).left
    if left == 0:
        raise Conflict(f"{one.no}: every piece is found; there is nothing to accept")
    if left is not None and left < 0:
        raise Conflict(f"{one.no}: more pieces are found than were missing; "
                       "put right how many are missing")
    return left
