"""Who belongs to the crew: devices, their rights, and what of theirs waits for the skipper."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import UTC, datetime
from typing import Any

from spares.actions.amounts import moment
from spares.actions.changes import say
from spares.actions.context import Context, clock_ms
from spares.actions.several import each
from spares.actions.sync import GUEST_FOR_MS, PAIRED_FOR_MS
from spares.db import devices as db
from spares.db.engine import Store
from spares.db.logbook import vessel_head
from spares.db.sync_store import SyncStore
from spares.db.tables import Device
from spares.errors import InvalidInput
from spares.paper.qr_screen import qr_svg, qr_text
from spares.sync import exchange
from spares.sync.store import OFFICE

ROLES = ("skipper", "crew", "guest")
GRANTS = ("take",)
LONGEST_NAME = 60


def pair(store: Store, vessel: str, token: str, *, name: str, role: str,
         grants: tuple[str, ...] = ()) -> str:
    """Take a device into the crew; *token* stands for it from now on. Gives its number."""
    with store.writing(vessel) as session:
        now_ms = db.time_ms(session, vessel, clock_ms())
        lasts_ms = GUEST_FOR_MS if role == "guest" else PAIRED_FOR_MS
        row = db.pair(session, vessel, token, name=name.strip()[:LONGEST_NAME], role=role,
                      grants=grants, now_ms=now_ms, until_ms=now_ms + lasts_ms)
        return row.dev


def listed(ctx: Context) -> dict[str, Any]:
    """List the devices: those that have, or had, a token."""
    with ctx.store.reading() as session:
        return {"devices": [line_of(ctx, session, row)
                            for row in db.paired(session, ctx.vessel)
                            if ctx.is_skipper or row.dev == ctx.device]}


def change(ctx: Context, dev: str, *, name: str | None = None, role: str | None = None,
           grants: list[str] | None = None) -> dict[str, Any]:
    """Give a device another name, role or grant.

    Raises:
        NotFound: there is no such device.
        NotAllowed: only the skipper does this.
    """
    ctx.require_skipper()
    with ctx.store.writing(ctx.vessel) as session:
        row = db.find_paired(session, ctx.vessel, dev)
        device = db.device_of(row)
        if role is not None and role != device.role:
            device = replace(device, role=role, roles_before=tuple(dict.fromkeys(
                (*device.roles_before, device.role))))
            lasts_ms = GUEST_FOR_MS if role == "guest" else PAIRED_FOR_MS
            row.until_ms = db.time_ms(session, ctx.vessel, ctx.now_ms()) + lasts_ms
        if grants is not None:
            kept = tuple(one for one in device.grants if one == OFFICE)     # it stays what it is
            device = replace(device, grants=(*grants, *kept))
        row.name = row.name if name is None else name.strip()[:LONGEST_NAME]
        db.save(session, ctx.vessel, device)
        return line_of(ctx, session, row)


def revoke(ctx: Context, dev: str, how: str) -> dict[str, Any]:
    """Take a device out of the crew: `retired` may still hand in, `lost` may do nothing.

    Raises:
        NotFound: there is no such device.
        NotAllowed: only the skipper does this.
    """
    ctx.require_skipper()
    if how not in ("retired", "lost"):
        raise InvalidInput.at("#/how", "retired or lost is needed")
    with ctx.store.writing(ctx.vessel) as session:
        row = db.find_paired(session, ctx.vessel, dev)
        # Who reported it lost does not take that back by a wrong tap.
        if row.revoked != "lost":
            since_ms = row.revoked_ms or db.time_ms(session, ctx.vessel, ctx.now_ms())
            db.save(session, ctx.vessel,
                    replace(db.device_of(row), revoked=how, revoked_ms=since_ms))
        return line_of(ctx, session, row)


def held(ctx: Context) -> dict[str, Any]:
    """List the changes that wait for the skipper, the one that came first in front."""
    ctx.require_skipper()
    aboard = ctx.aboard()
    with ctx.store.reading() as session:
        found = [(json.loads(row.raw), row, name)
                 for row, name in db.waiting(session, ctx.vessel)]
    return {"held": [{
        "id": row.id, "kind": raw["kind"], "dev": row.dev, "name": name, "at": moment(row.at),
        "text": say(aboard, raw["kind"], raw["body"]), "why": row.why}
        for raw, row, name in found]}


def decide(ctx: Context, ident: str, decision: str, why: str = "") -> dict[str, Any]:
    """Put a held change into the log, or refuse it.

    Raises:
        NotFound: nothing is held under this id.
        Conflict: it is in the log already.
        NotAllowed: only the skipper does this.
    """
    ctx.require_skipper()
    with ctx.store.turn_of(ctx.vessel), ctx.store.writing(ctx.vessel) as session:
        store = SyncStore(session, ctx.vessel)
        if decision == "approve":
            answer = {"id": ident, "outcome": "ok", "seq": exchange.approve(store, ident)}
        elif decision == "reject":
            exchange.reject(store, ident, why)
            answer = {"id": ident, "outcome": "refused", "seq": None}
        else:
            raise InvalidInput.at("#/decide", "approve or reject is needed")
        store.close()
    return answer


def picture_code(text: str) -> str:
    """Draw a text as a code for cameras (SVG)."""
    return qr_svg(text)


def picture_for_terminal(text: str) -> str:
    """Draw a text as a code for cameras, in block letters."""
    return qr_text(text)


def line_of(ctx: Context, session: Any, row: Device) -> dict[str, Any]:
    """Tell of a device: its rights, what it made, and its roles aboard other vessels.

    Of those only what is aboard vessels on which the one who asks is skipper too, or its own.
    """
    known = [one for one, _ in db.same_device(session, ctx.vessel, row.dev, 0)]
    is_lost = any(one.revoked == "lost" for one in known)
    may_see = {one.vessel for one in each(ctx) if one.is_skipper or row.dev == ctx.device} \
        if len(known) > 1 else set()
    return {"dev": row.dev, "name": row.name, "role": row.role, "grants": list(row.grants or ()),
            "state": "lost" if is_lost else row.revoked or "paired",
            "paired_at": _when(row.paired_ms),
            "seen_at": _when(row.seen_ms), "last": row.last, "next_n": row.next_n,
            "held": db.waiting_of(session, row), "lost_numbers": db.lost_of(session, row),
            "also": [{"vessel": vessel_head(session, one.vessel)[0], "role": one.role}
                     for one in known if one.vessel != ctx.vessel and one.vessel in may_see
                     and not one.revoked]}


def _when(ms: int) -> str | None:
    return datetime.fromtimestamp(ms / 1000, UTC).strftime("%Y-%m-%dT%H:%M:%SZ") if ms else None
