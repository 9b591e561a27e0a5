"""Bring one device together with the log: one request, one transaction, one answer."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import uuid4

from spares.actions.context import Context
from spares.db import devices
from spares.db.engine import Store
from spares.db.sync_store import SyncStore
from spares.db.tables import Device
from spares.errors import InvalidInput, NotAllowed, Stopped, StoreBusy
from spares.sync.checks import UUID
from spares.sync.exchange import answer_sync
from spares.sync.handing import Handing
from spares.sync.stamp import DAY_MS, stamp_text, tick
from spares.sync.store import Device as SyncDevice
from spares.sync.strict_json import parse_json_strict
from spares.sync.turn import Around

#: Changes that one device may make in a day before the skipper is asked about the rest.
MOST_A_DAY = 20_000
#: How long a token is good, renewed at each sync; a guest's is not renewed.
PAIRED_FOR_MS, GUEST_FOR_MS = 400 * DAY_MS, 7 * DAY_MS


def sync(store: Store, vessel: str, dev: str, raw: bytes, *, wall_ms: int, boot: str
         ) -> dict[str, Any]:
    """Answer a device whose token was good; all of it is kept, or nothing.

    Args:
        store: The open store.
        vessel: Id of the vessel that the token belongs to [-].
        dev: The device's number now [-].
        raw: The request, JSON [bytes].
        wall_ms: The computer's clock [ms since 1970].
        boot: Name of this run of the server, never stored [-].

    Returns:
        The answer as told in sync/PROTOCOL.md; with `stop` fork the device has a new number.

    Raises:
        Stopped: nothing was taken.
        StoreBusy: a request of the same device, answered meanwhile, gave it a new number.
    """
    request = _read(raw)
    around = Around(wall_ms, boot, lambda: str(uuid4()))
    with store.turn_of(vessel), store.writing(vessel) as session:
        kept = SyncStore(session, vessel)
        kept.look_up(_ids(request))
        row = session.get_one(Device, (vessel, dev))
        if not row.token_hash:
            raise StoreBusy("this device has just been given a new number; ask again")
        device = devices.device_of(row)
        if row.next_n > MOST_A_DAY and _made_today(kept, dev) >= MOST_A_DAY:
            device = replace(device, holds="more changes than one makes in a day")
        answer = answer_sync(kept, device, request, around)
        now_ms = kept.clock().last_ms
        devices.touch(session, vessel, answer["dev"], seen_ms=now_ms,
                      until_ms=None if row.role == "guest" else now_ms + PAIRED_FOR_MS)
        kept.close()
    return answer


def hand_over(ctx: Context, dev: str, said_ms: int, ops: list[Any]) -> dict[str, Any]:
    """Take the unsent changes of the device *dev*, brought as a file by the one who asks.

    Args:
        ctx: Where it happens, and who brings it.
        dev: The number of the device that made them [-].
        said_ms: That device's clock when the file was written [ms since 1970].
        ops: Its changes.

    Returns:
        What became of each: ok, dup, held or refused.

    Raises:
        NotAllowed: a guest brings nothing.
    """
    if ctx.role == "guest":
        raise NotAllowed("a guest brings no changes of others")
    with ctx.store.turn_of(ctx.vessel), ctx.store.writing(ctx.vessel) as session:
        kept = SyncStore(session, ctx.vessel)
        kept.look_up(_ids({"ops": ops}))
        row = session.get(Device, (ctx.vessel, dev))
        author = devices.device_of(row) if row is not None else SyncDevice(dev)
        now_ms, clock = tick(kept.clock(), ctx.now_ms())
        kept.set_clock(clock)
        results = Handing(kept, SyncDevice(ctx.device, ctx.role), author,
                          is_known=row is not None, now_ms=now_ms, said_ms=said_ms).take_all(ops)
        kept.close()
    return {"results": results}


def _read(raw: bytes) -> Any:
    try:
        return parse_json_strict(raw)
    except InvalidInput as err:
        raise Stopped(err.detail, stop="malformed", pointer="#") from err


def _ids(request: Any) -> list[str]:
    """Give the ids in a request that is not checked yet, to read their rows in one go."""
    if type(request) is not dict:
        return []
    found = [one.get("id") for name in ("ops", "relay") if type(request.get(name)) is list
             for one in request[name] if type(one) is dict]
    return [ident for ident in found if type(ident) is str and UUID.fullmatch(ident)]


def _made_today(kept: SyncStore, dev: str) -> int:
    since_ms = max(kept.clock().last_ms - DAY_MS, 0)
    return devices.made_since(kept.session, kept.vessel, dev, stamp_text(since_ms, 0, dev))
