"""Interval: a service comes round sooner or later than before, or is not wanted here; with why."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day, minutes
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.aboard import Record
from spares.domain.draft import setting
from spares.errors import InvalidInput

MOST_WORDS = 300


@in_turn
def interval(ctx: Context, service: str, because: str, *, every_hours: Any = None,
             every_months: int | None = None, not_wanted: bool | None = None,
             at: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record how often a service comes round from now on; the reason stays in its note.

    What is left out stays as it is; 0 takes an interval out.

    Args:
        ctx: Where it happens.
        service: As people call it [-].
        because: Why, in at most 300 characters [-].
        every_hours, every_months: The interval from now on [h], [month].
        not_wanted: The service is not wanted on this vessel [-].
        at: The day on which it was decided; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: no reason, or nothing would change.
    """
    name, ident = ctx.named(service, "service", "service"), a_change_id(change_id)
    why = because.strip() if isinstance(because, str) else ""
    if not why or len(why) > MOST_WORDS:
        raise InvalidInput.at("#/because", "say why, in at most 300 characters")
    one = ctx.aboard().get(name)
    fields: dict[str, Any] = {}
    if every_hours is not None:
        fields["every_minutes"] = minutes(every_hours, "every_hours") or None
    if every_months is not None:
        fields["every_months"] = every_months or None
    if not_wanted is not None:
        fields["not_wanted"] = bool(not_wanted)
    fields = {key: value for key, value in fields.items() if value != _was(one, key)}
    if was_new := not is_known(ctx, ident, "set", doc=name):
        if not fields:
            raise InvalidInput.at("#/every_hours", "it is so already")
        said = f"{day(at, 'at', ctx.today)}: {_told(one, {})} -> {_told(one, fields)}, {why}"
        fields["note"] = "\n".join(filter(None, [one.note, said]))
        ctx.write([replace(setting(name, **fields), id=ident)])
    aboard = ctx.aboard()
    return {"change": ident, "kind": "interval", "was_new": was_new, "service": one.no,
            "text": f"{one.no}: {_told(aboard.get(name), {})}"}


def _was(one: Record, field: str) -> Any:
    value = getattr(one, field)
    return bool(value) if field == "not_wanted" else value or None


def _told(one: Record, fields: dict[str, Any]) -> str:
    """Say an interval, such as `300 h or 12 months`, with these fields in place of its own."""
    now = {key: fields.get(key, _was(one, key))
           for key in ("every_minutes", "every_months", "not_wanted")}
    if now["not_wanted"]:
        return "not wanted here"
    said = [f"{now['every_minutes'] / 60:g} h" if now["every_minutes"] else "",
            f"{now['every_months']} months" if now["every_months"] else ""]
    return " or ".join(filter(None, said)) or "no interval"
