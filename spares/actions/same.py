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
    if kept == dropped:
        raise InvalidInput.at("#/drop", "this is the same record")
    ident, aboard = a_change_id(change_id), ctx.aboard([kept, dropped])
    known = is_known(ctx, ident, "same", keep=kept, drop=dropped)
    drafts = [] if known else [Draft("same", {"keep": kept, "drop": dropped}, ident)]
    return finish(ctx, "same", ident, drafts, kept,
                  f"{aboard.label(dropped)} is the same as {aboard.label(kept)}")
