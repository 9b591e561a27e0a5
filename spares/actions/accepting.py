"""Accept: somebody sails without a part that is short, with name, day and reason."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.documents import revived
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.draft import setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput


@in_turn
def accept(ctx: Context, trip: str, part: str, *, by: str | None = None,
           note: str | None = None, at: str | None = None, taken_back: bool = False,
           change_id: str | None = None) -> dict[str, Any]:
    """Record that the trip is made without *part*, or that this holds no longer.

    Args:
        ctx: Where it happens.
        trip, part: As people call them [-].
        by: Who takes the risk [-].
        note: Why, and what then [-].
        at: The day it was accepted; today unless said [-].
        taken_back: Whether a risk that was accepted is so no longer [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the trip or the part cannot be told.
        InvalidInput: there is no such day, or nothing to take back.
    """
    trip_name = ctx.named(trip, "trip", "trip")
    part_name = ctx.named(part, "part", "part")
    name, ident = ref("trip-accept", joined_id("trip-accept", trip_name, part_name)), \
        a_change_id(change_id)
    fields = {"trip": trip_name, "part": part_name, "by": (by or "").strip() or None,
              "on": day(at, "at", ctx.today), "note": (note or "").strip() or None}
    aboard = ctx.aboard()
    if was_new := not is_known(ctx, ident, "set", doc=name):
        if taken_back and (aboard.get(name) is None or aboard.get(name).gone):
            raise InvalidInput.at("#/part", "nobody has accepted to go without it")
        draft = setting(name, gone=True) if taken_back \
            else setting(name, **revived(aboard, name, fields))
        ctx.write([replace(draft, id=ident)])
    who = f" ({fields['by']})" if fields["by"] and not taken_back else ""
    says = "no longer goes without" if taken_back else "goes without"
    return {"change": ident, "kind": "accept", "was_new": was_new,
            "text": f"{aboard.label(trip_name)} {says} {aboard.label(part_name)}{who}"}
