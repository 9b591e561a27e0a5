"""also aboard: a device of one vessel gets a role aboard another one of the store, too."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.devices import GUEST_FOR_MS, PAIRED_FOR_MS, change, line_of
from spares.actions.several import aboard_of
from spares.db import devices as db
from spares.errors import Conflict, InvalidInput
from spares.sync.store import OFFICE


def also_aboard(ctx: Context, dev: str, mark: str, role: str, grants: list[str] | None = None
                ) -> dict[str, Any]:
    """Give a device of this vessel a role aboard another one of the store, too.

    Who gives it is skipper aboard both. Given again it is changed; one that has left that crew
    comes in anew. It ends by `revoke`, among the devices of that vessel.

    Raises:
        NotAllowed: somebody else asks, or has no rights on the other vessel.
        NotFound: there is no such device, or vessel.
        InvalidInput: it is this vessel, or the device is an office.
        Conflict: the device is lost, or has left this crew.
    """
    ctx.require_skipper()
    there = aboard_of(ctx, mark)
    there.require_skipper()
    if there.vessel == ctx.vessel:
        raise InvalidInput.at("#/vessel", "the device has its role aboard this vessel already")
    with ctx.store.reading() as session:
        row = db.find_paired(session, ctx.vessel, dev)
        known = [one for one, _ in db.same_device(session, ctx.vessel, dev, ctx.now_ms())]
    if OFFICE in (row.grants or ()):
        raise InvalidInput.at("#/vessel", "an office is let in by a paper of each vessel")
    if row.revoked or any(one.revoked == "lost" for one in known):
        raise Conflict("this device is lost, or has left the crew")
    with ctx.store.turn_of(there.vessel):
        now = next((one for one in known if one.vessel == there.vessel and not one.revoked), None)
        if now is not None:
            change(there, now.dev, role=role, grants=grants)
        else:
            _take_in(there, row, role, tuple(grants or ()))
    with ctx.store.reading() as session:
        return line_of(ctx, session, db.find_paired(session, ctx.vessel, dev))


def _take_in(there: Context, row: Any, role: str, grants: tuple[str, ...]) -> None:
    with there.store.writing(there.vessel) as session:
        now_ms = db.time_ms(session, there.vessel, there.now_ms())
        lasts_ms = GUEST_FOR_MS if role == "guest" else PAIRED_FOR_MS
        db.pair_also(session, there.vessel, row, role=role, grants=grants, now_ms=now_ms,
                     until_ms=now_ms + lasts_ms)
