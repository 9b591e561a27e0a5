"""Counts by their age: locker by locker, the oldest first, without the number expected."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.late import last_counted
from spares.actions.lines import locker_head, part_head
from spares.domain.aboard import Aboard, name_of
from spares.domain.stowage import doubted, place_is_aboard


def counts(ctx: Context) -> dict[str, Any]:
    """List the lockers aboard with what is to be counted there.

    First those with a count that somebody doubts or that nobody ever made, then by the day of
    their oldest count. How many are expected is not in the answer: who counts is not to know it.
    """
    aboard, days = ctx.aboard(), last_counted(ctx)
    found = []
    for one in aboard.all("locker"):
        name = name_of("locker", one)
        lines = _lines(aboard, name, days)
        if lines and place_is_aboard(aboard, name):
            known = [line["counted_on"] for line in lines if line["counted_on"]]
            found.append({
                **locker_head(aboard, name), "lines": lines,
                "doubtful": sum(line["doubted"] is not None for line in lines),
                "never": sum(line["counted_on"] is None for line in lines),
                "oldest": min(known, default=None)})
    return {"lockers": sorted(found, key=_by_age)}


def _by_age(one: dict[str, Any]) -> tuple[Any, ...]:
    return not one["doubtful"], not one["never"], one["oldest"] or "", one["locker"] or ""


def _lines(aboard: Aboard, locker: str, days: dict[tuple[str, str], str]) -> list[dict[str, Any]]:
    parts = {one.part for one in aboard.lying_in.get(locker, [])
             if one.is_listed or doubted(aboard, one.part, locker)}
    found = []
    for part in parts:
        told, head = doubted(aboard, part, locker), part_head(aboard, part)
        found.append({
            "part": head["no"], "name": head["name"], "maker": head["maker"],
            "number": head["number"], "unit": getattr(aboard.get(part), "unit", None) or "pcs",
            "counted_on": days.get((part, locker)),
            "doubted": None if told is None else {"on": told.on, "by": told.by,
                                                  "note": told.note}})
    return sorted(found, key=lambda one: (one["doubted"] is None, one["counted_on"] or "",
                                          one["part"] or ""))
