"""Interval: a service comes round sooner or later than before, or is not wanted here; with why."""

from __future__ import annotations

import re
from dataclasses import replace
from typing import Any

from spares.actions.amounts import day, hours, minutes
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.aboard import Record
from spares.domain.documents import MAX_TEXT
from spares.domain.draft import setting
from spares.errors import InvalidInput

MOST_WORDS = 300
MOST_MONTHS = 1200
NOT_WANTED, NONE = "×", "–"
_FIGURES = rf"(?:{NOT_WANTED}|{NONE}|[\d.]+ h(?: / \d+ mo)?|\d+ mo)"
#: A line that was written here; those before it had words for figures.
_OWN = re.compile(rf"\d{{4}}-\d\d-\d\d: (?:{_FIGURES} -> {_FIGURES}: |"
                  r"[^,>]*(?: h|months|here|interval) -> [^,>]*(?: h|months|here|interval), )")


@in_turn
def interval(ctx: Context, service: str, because: str, *, every_hours: Any = None,
             every_months: int | None = None, not_wanted: bool | None = None,
             at: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record how often a service comes round from now on; the reason stays in its note.

    What is left out stays as it is; 0 takes an interval out. Where the note has no room
    the oldest reasons go, never a person's own words.

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
        InvalidInput: no reason, no room for it, or nothing would change.
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
        fields["every_months"] = _months(every_months) or None
    if not_wanted is not None:
        fields["not_wanted"] = bool(not_wanted)
    fields = {key: value for key, value in fields.items() if value != _was(one, key)}
    if was_new := not is_known(ctx, ident, "set", doc=name):
        if not fields:
            raise InvalidInput.at("#/every_hours", "it is so already")
        said = f"{day(at, 'at', ctx.today)}: {_told(one, {})} -> {_told(one, fields)}: {why}"
        fields["note"] = _noted(one.note, said)
        ctx.write([replace(setting(name, **fields), id=ident)])
    now = ctx.aboard().get(name)
    return {"change": ident, "kind": "interval", "was_new": was_new, "service": one.no,
            "text": f"{one.no}: {'not wanted here' if now.not_wanted else _told(now, {})}"}


def _months(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not 0 <= value <= MOST_MONTHS:
        raise InvalidInput.at("#/every_months", "whole months from 0 to 1200 are needed")
    return value


def _was(one: Record, field: str) -> Any:
    value = getattr(one, field)
    return bool(value) if field == "not_wanted" else value or None


def _told(one: Record, fields: dict[str, Any]) -> str:
    """Say an interval in figures that need no language, such as `300 h / 12 mo`."""
    now = {key: fields.get(key, _was(one, key))
           for key in ("every_minutes", "every_months", "not_wanted")}
    if now["not_wanted"]:
        return NOT_WANTED
    said = [f"{hours(now['every_minutes']):.1f}".removesuffix(".0") + " h"
            if now["every_minutes"] else "",
            f"{now['every_months']} mo" if now["every_months"] else ""]
    return " / ".join(filter(None, said)) or NONE


def _noted(note: str | None, said: str) -> str:
    """Put a reason below a note; the oldest reasons make room for it."""
    lines = [*(note.split("\n") if note else []), said]
    while len("\n".join(lines)) > MAX_TEXT:
        oldest = next((i for i, one in enumerate(lines[:-1]) if _OWN.match(one)), None)
        if oldest is None:
            raise InvalidInput.at("#/because", "the note of this service has no room for it")
        del lines[oldest]
    return "\n".join(lines)
