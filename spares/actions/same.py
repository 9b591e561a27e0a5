"""Same: two part records turned out to be one part."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, finish, is_known
from spares.domain.draft import Draft
from spares.errors import InvalidInput


@in_turn
def same(ctx: Context, keep: str, drop: str, *, change_id: str | None = None) -> dict[str, Any]:
    """Record that *drop* is the same part as *keep*; counts add up under *keep*.

    Raises:
        NotFound, Ambiguous: a part cannot be told.
        InvalidInput: it is one record already.
    """
    kept, dropped = ctx.named(keep, "keep", "part"), ctx.named(drop, "drop", "part")
    ident = a_change_id(change_id)
    # Once merged, both names mean the kept one: only a new request can say a thing twice.
    known = is_known(ctx, ident, "same", keep=kept)
    if kept == dropped and not known:
        raise InvalidInput.at("#/drop", "this is the same record")
    aboard = ctx.aboard([kept, dropped])
    drafts = [] if known else [Draft("same", {"keep": kept, "drop": dropped}, ident)]
    return finish(ctx, "same", ident, drafts, kept,
                  f"{aboard.label(dropped)} is the same as {aboard.label(kept)}")
