"""Several vessels of one store: on which of them somebody has rights, and which.

A person at the server itself is the skipper of all. A device is paired with one vessel, and may
be given a role aboard others; each crew decides about its own, and knows the device under a
number of its own.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.context import Context, one_called
from spares.db.find import vessels
from spares.db.logbook import vessel_head
from spares.errors import NotAllowed, NotFound


def each(ctx: Context) -> list[Context]:
    """Give a context for every vessel on which the one who asks has rights, with these rights."""
    return [one for one, _ in _known(ctx)]


def is_aboard_all(ctx: Context) -> bool:
    """Say whether the one who asks has rights on every vessel of the store."""
    with ctx.store.looking() as reader:
        return len(each(ctx)) == len(vessels(reader))


def rights(ctx: Context) -> list[dict[str, Any]]:
    """List the vessels on which the one who asks has rights, with the role aboard each."""
    known = _known(ctx)
    with ctx.store.looking() as reader:
        return [{"id": one.vessel, "mark": mark, "role": one.role,
                 "name": vessel_head(reader, one.vessel)[1]} for one, mark in known]


def aboard_of(ctx: Context, asked: str) -> Context:
    """Give the context of another vessel, by her mark or id.

    Raises:
        Ambiguous: several have this mark.
        NotAllowed: the device has no rights there; it is not told which marks there are.
        NotFound: no vessel has this mark.
    """
    known = _known(ctx)
    there = one_called([(one.vessel, mark) for one, mark in known], asked)
    for one, _ in known:
        if one.vessel == there:
            return one
    if ctx.device:
        raise NotAllowed("this device has no rights on that vessel")
    raise NotFound("vessel: no vessel has this mark",
                   errors=[{"pointer": "#/vessel", "detail": "not found"}])


def _known(ctx: Context) -> list[tuple[Context, str]]:
    with ctx.store.looking() as reader:
        known = vessels(reader)
    if not ctx.device:
        return [(replace(ctx, vessel=ident), mark) for ident, mark in known]
    from spares.db import devices  # late: a person at the server itself has no device

    with ctx.store.reading() as session:
        roles = {row.vessel: row for row, now_ms in devices.same_device(
            session, ctx.vessel, ctx.device, ctx.now_ms()) if devices.may_ask(row, now_ms)}
    return [(replace(ctx, vessel=ident, device=roles[ident].dev, role=roles[ident].role), mark)
            for ident, mark in known if ident in roles]
