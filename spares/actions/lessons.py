"""A child learns a job: what it saw, and which adult confirms it."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.aboard import Aboard
from spares.domain.draft import setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput


@in_turn
def lesson(ctx: Context, service: str, learner: str, *, seen: str | None = None,
           confirmed_by: str | None = None, at: str | None = None, note: str | None = None,
           change_id: str | None = None) -> dict[str, Any]:
    """Record what somebody learned of a job; the same day again stands in its place.

    Args:
        ctx: Where it happens.
        service: The job that was looked at [-].
        learner: Who learned [-].
        seen: What was seen, in the learner's words [-].
        confirmed_by: The adult who was there; without one it is not confirmed [-].
        at: The day; today unless said [-].
        note, change_id: Free text; chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: nobody is named, a day to come, or the learner confirms it.
    """
    who, adult = (learner or "").strip(), (confirmed_by or "").strip() or None
    if not who:
        raise InvalidInput.at("#/learner", "say who learned")
    if adult is not None and adult.casefold() == who.casefold():
        raise InvalidInput.at("#/confirmed_by", "somebody else confirms it")
    on = day(at, "at", ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    from spares.actions.documents import revived  # late: only who writes needs it

    ident, aboard = a_change_id(change_id), ctx.aboard()
    name = ctx.named(service, "service", "service")
    doc = ref("lesson", joined_id("lesson", name, who, on))
    fields = {"service": name, "learner": who, "on": on, "seen": (seen or "").strip() or None,
              "confirmed_by": adult, "note": (note or "").strip() or None}
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        ctx.write([replace(setting(doc, **revived(aboard, doc, fields)), id=ident)])
    return {"change": ident, "kind": "lesson", "was_new": was_new,
            "text": f"{who} looked at {aboard.label(name)}"}


def lessons_of(aboard: Aboard, service: str) -> list[dict[str, Any]]:
    """Give who learned a job, newest first."""
    found = sorted((one for one in aboard.all("lesson") if one.service == service),
                   key=lambda one: (one.on, one.id), reverse=True)
    return [{"learner": one.learner, "on": one.on, "seen": one.seen,
             "confirmed_by": one.confirmed_by, "note": one.note} for one in found]
