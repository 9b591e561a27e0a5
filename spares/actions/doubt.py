"""A count is called doubtful without counting: it is asked again, first of all."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.context import Context, in_turn
from spares.actions.documents import revived
from spares.actions.stock_moves import a_change_id, finish, is_known
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting
from spares.domain.stowage import doubt_name, doubted
from spares.errors import InvalidInput


@in_turn
def doubt(ctx: Context, part: str, locker: str, *, by: str | None = None,
          note: str | None = None, taken_back: bool = False,
          change_id: str | None = None) -> dict[str, Any]:
    """Say that the count of a part in a locker is doubtful; the next count there ends it.

    Args:
        ctx: Where it happens.
        part, locker: As people call them [-].
        by, note: Who doubts, and why [-].
        taken_back: Whether the doubt is taken back without counting [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the part or locker cannot be told.
        InvalidInput: there is no doubt to be taken back.
    """
    name, place = ctx.named(part, "part", "part"), ctx.named(locker, "locker", "locker")
    ident, doc = a_change_id(change_id), doubt_name(name, place)
    aboard, drafts = ctx.aboard([name]), []
    if not is_known(ctx, ident, "set", doc=doc):
        if taken_back and doubted(aboard, name, place) is None:
            raise InvalidInput.at("#/taken_back", "nobody has called this count doubtful")
        fields = {"gone": True} if taken_back else revived(aboard, doc, {
            "part": name, "locker": place, "on": ctx.today.isoformat(),
            "by": (by or "").strip() or None, "note": (note or "").strip() or None})
        drafts = [replace(setting(doc, **fields), id=ident)]
    what = f"{aboard.label(name)} in {aboard.label(place)}"
    return finish(ctx, "doubt", ident, drafts, name,
                  f"No doubt any more: {what}" if taken_back else f"Count doubtful: {what}")


def ends_doubt(aboard: Aboard, part: str, locker: str) -> list[Draft]:
    """Give the draft by which a count ends a doubt, if there is one."""
    return [setting(doubt_name(part, locker), gone=True)] if doubted(
        aboard, part, locker) else []
