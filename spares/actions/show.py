"""Show one thing whole, by any name that people give it; and the lists of all."""

from __future__ import annotations

from bisect import bisect_right
from typing import Any

from spares.actions.apart import apart
from spares.actions.context import Context
from spares.actions.lines import machine_head, part_line
from spares.actions.needs import needs
from spares.actions.numbers import part_whole
from spares.actions.things import (
    document_thing,
    locker_thing,
    machine_thing,
    point_thing,
    service_thing,
)
from spares.actions.trip.stored import trip_thing
from spares.domain.aboard import name_of
from spares.domain.identity import kind_of, ref
from spares.domain.kit_bag import is_empty_bag
from spares.errors import InvalidInput

KINDS = ("part", "locker", "machine", "point", "service", "trip", "lot")
MOST = 1000


def show(ctx: Context, thing: str, *kinds: str) -> dict[str, Any]:
    """Show a part, locker, machine, fit point, service, trip or lot.

    `apart` lists its fields that people set without knowing of each other.

    Raises:
        NotFound, Ambiguous: it cannot be told what is meant.
    """
    name = ctx.named(thing, "thing", *(kinds or KINDS))
    return {**_whole(ctx, name), "apart": apart(ctx, [name]).get(name, [])}


def _whole(ctx: Context, name: str) -> dict[str, Any]:
    kind = kind_of(name)
    if kind == "part":
        return part_whole(ctx, name)
    if kind in _WHOLE:
        return _WHOLE[kind](ctx, name)
    return document_thing(ctx, name, kind)


def machines(ctx: Context) -> dict[str, Any]:
    """List the machines with their hours."""
    aboard = ctx.aboard()
    found = []
    for one in aboard.all("machine"):
        whole = machine_thing(ctx, name_of("machine", one))
        found.append({**machine_head(aboard, name_of("machine", one)), "hours": whole["hours"],
                      "read_on": whole["read_on"], "points": len(whole["points"])})
    return {"machines": found}


def lockers(ctx: Context) -> dict[str, Any]:
    """List the lockers with how many lines lie in each; a job's bag only while something does."""
    aboard = ctx.aboard()
    return {"lockers": [
        {"id": one.id, "no": one.no, "name": one.name, "code": one.code,
         "aboard": one.aboard is not False, "reachable": one.reachable is not False,
         "lent_to": one.lent_to, "climate": one.climate,
         "lies_in": aboard.label(one.parent) if one.parent else None,
         "lines": sum(1 for lying in aboard.lying_in.get(name_of("locker", one), [])
                      if lying.is_listed)}
        for one in aboard.all("locker") if not is_empty_bag(aboard, name_of("locker", one))]}


def parts(ctx: Context, after: str | None = None, limit: int = 200) -> dict[str, Any]:
    """List parts by number, a page at a time.

    Args:
        ctx: Where it happens.
        after: Number of the last part of the page before [-].
        limit: How many, 1 to 1000 [1].

    Raises:
        InvalidInput: *limit* out of range.
    """
    if not 1 <= limit <= MOST:
        raise InvalidInput.at("#/limit", f"1 to {MOST} is needed")
    aboard, today, wanted = ctx.aboard(), ctx.today.isoformat(), needs(ctx)
    every = aboard.parts
    start = 0 if after is None else bisect_right(every, after, key=lambda one: one.no or "")
    page = every[start:start + limit]
    lines = [part_line(aboard, ref("part", one.id), wanted, today) for one in page]
    return {"parts": lines, "after": page[-1].no if len(every) > start + limit else None,
            "total": len(every)}


def services(ctx: Context) -> dict[str, Any]:
    """List the services, each as its own screen shows it."""
    names = [name_of("service", one) for one in ctx.aboard().all("service")]
    standing = apart(ctx, names)
    return {"services": [{**service_thing(ctx, name), "apart": standing.get(name, [])}
                         for name in names]}


_WHOLE = {"locker": locker_thing, "machine": machine_thing, "point": point_thing,
          "service": service_thing, "trip": trip_thing}
