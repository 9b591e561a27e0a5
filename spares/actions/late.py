"""A movement that is typed in later: it bears the day on which it happened.

Its stamp stays that of the typing, above all that its author had seen: nobody can say by
the clock that something came before a count that was known. Where the place was counted on
that day or later, the person is asked, and the answer settles it as any other doubt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, datetime

from spares.actions.amounts import day
from spares.actions.context import Context
from spares.db.history import all_counts, counts_of
from spares.domain.draft import Draft
from spares.domain.identity import joined_id
from spares.domain.movements import Entry, effects
from spares.errors import AskFirst, InvalidInput

MOVES = ("took", "put", "landed", "moved")
SIDES = ("before", "after")
ASKS = "counted-since"


def dated(ctx: Context, drafts: Sequence[Draft], at: str | None,
          counted_since: str | None = None) -> list[Draft]:
    """Give movements the day on which they happened, and what settles them against counts.

    Args:
        ctx: Where it is typed in.
        drafts: The movements of one act, with what begins their lots [-].
        at: The day; None, or today, leaves them as they are [-].
        counted_since: Whether the movement was before or after the counts made since [-].

    Raises:
        InvalidInput: a day to come, or no such side.
        AskFirst: a place was counted since, and nobody said on which side it lies.
    """
    if counted_since is not None and counted_since not in SIDES:
        raise InvalidInput.at("#/counted_since", "before or after is needed")
    on = day(at, "at", ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    if on == ctx.today.isoformat():
        return list(drafts)
    late = [replace(one, body={**one.body, "date": on}) if one.kind in MOVES else one
            for one in drafts]
    since = _counts_since(ctx, late, on)
    if since and counted_since is None:
        counted = max(at for _, _, at in since)
        raise AskFirst(f"at: it was counted on {counted}, after that day: was it before the count?",
                       asks=ASKS, counted_on=counted,
                       errors=[{"pointer": "#/counted_since", "detail": "before or after?"}])
    if counted_since == "before":
        late += [Draft("settle", {"of": move, "count": count, "side": "before"},
                       joined_id("settle", move, count)) for move, count, _ in since]
    return late


def day_of(stamp: str) -> str:
    """Give the day of a stamp, UTC."""
    return datetime.fromtimestamp(int(stamp[:12], 16) / 1000, UTC).date().isoformat()


def _counts_since(ctx: Context, drafts: Sequence[Draft], on: str) -> list[tuple[str, str, str]]:
    """Give (movement, count, day of the count) where a place was counted on that day or later."""
    found = []
    with ctx.store.looking() as reader:
        for draft in drafts:
            if draft.kind not in MOVES:
                continue
            entry = Entry(draft.id or "", "", 0, draft.kind, "", 0, None, {}, draft.body)
            for effect in effects(entry):
                held = counts_of(reader, ctx.vessel, effect.part, effect.locker, effect.lot)
                if held and (counted := day_of(held[0].at)) >= on:
                    found.append((draft.id or "", held[0].id, counted))
    return found


def last_counted(ctx: Context) -> dict[tuple[str, str], str]:
    """Give the day of the last count by (part, locker); what was never counted is not in it."""
    def ask() -> dict[tuple[str, str], str]:
        with ctx.store.looking() as reader:
            found: dict[tuple[str, str], str] = {}
            for at, part, locker in all_counts(reader, ctx.vessel):
                found[part, locker] = max(found.get((part, locker), ""), day_of(at))
            return found
    known: dict[tuple[str, str], str] = ctx.remembered("last-counted", ask)
    return known
