"""Numbers of a part: the chain of what took over from what, and the parts that it stands in for."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.lines import part_head, part_line
from spares.actions.needs import needs
from spares.db.chains import around
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.stowage import counts_as_aboard


def part_whole(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a part as its own page does: its line, its chain, what it stands in for."""
    with ctx.store.looking() as reader:
        beside = around(reader, ctx.vessel, name)
    aboard, today = ctx.aboard(sorted(beside | {name})), ctx.today.isoformat()
    return {**part_line(aboard, name, needs(ctx), today), "chain": chain(aboard, name),
            "stands_in_for": _served(aboard, name)}


def chain(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    """List the parts of a chain from the oldest to the newest; empty where nothing took over.

    Each says whether it is still made and how many are left, aboard and elsewhere.
    """
    takes = {name_of("part", one): one.taken_over_by for one in aboard.all("part")
             if one.taken_over_by}
    ordered = _before(aboard, takes, name)
    after: str | None = name
    while after and after not in ordered:
        ordered.append(after)
        after = takes.get(after)
    return [_link(aboard, one, takes.get(one)) for one in ordered] if len(ordered) > 1 else []


def _before(aboard: Aboard, takes: dict[str, str], name: str) -> list[str]:
    """Gather what came before *name*, the oldest first; a ring ends where it began."""
    found: list[str] = []
    at = [name]
    while at:
        at = sorted((old for old, new in takes.items()
                     if new in at and old != name and old not in found), key=aboard.label)
        found[:0] = at
    return found


def _link(aboard: Aboard, name: str, after: str | None) -> dict[str, Any]:
    part: Record | None = aboard.get(name)
    lying = aboard.lying_of.get(name, [])
    there = sum(one.quantity for one in lying if counts_as_aboard(aboard, one))
    return {"part": aboard.label(name),
            **{key: value for key, value in part_head(aboard, name).items()
               if key in ("name", "maker", "number")},
            "made": part.made if part else None, "dropped_on": part.dropped_on if part else None,
            "taken_over_by": aboard.label(after) if after else None, "aboard": plain(there),
            "elsewhere": plain(sum(one.quantity for one in lying) - there)}


def _served(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    return [{"part": aboard.label(one.for_part), "name": part_head(aboard, one.for_part)["name"],
             "proof": one.proof, "note": one.note}
            for one in aboard.all("stand-in") if one.part == name and one.for_part]
