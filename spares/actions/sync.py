"""Bring one device together with the log: one request, one transaction, one answer."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from uuid import uuid4

from sqlalchemy import func, select
from sqlmodel import Session, col

from spares.db import devices
from spares.db.engine import Store
from spares.db.sync_store import SyncStore
from spares.db.tables import Device, LogEntry
from spares.sync.exchange import answer_sync
from spares.sync.stamp import DAY_MS, stamp_text
from spares.sync.turn import Around

#: Changes that one device may make in a day before the skipper is asked about the rest.
MOST_A_DAY = 20_000
#: How long a token is good, renewed at each sync; a guest's is not renewed.
PAIRED_FOR_MS, GUEST_FOR_MS = 400 * DAY_MS, 7 * DAY_MS


def sync(store: Store, vessel: str, dev: str, request: Any, *, wall_ms: int,
         boot: str) -> dict[str, Any]:
    """Answer a device whose token was good; all of it is kept, or nothing.

    Args:
        store: The open store.
        vessel: Id of the vessel that the token belongs to [-].
        dev: The device's number now [-].
        request: The request as it was read.
        wall_ms: The computer's clock [ms since 1970].
        boot: Name of this run of the server, never stored [-].

    Returns:
        The answer as told in sync/PROTOCOL.md; with `stop` fork the device has a new number.

    Raises:
        Stopped: nothing was taken.
    """
    around = Around(wall_ms, boot, lambda: str(uuid4()))
    with store.turn, store.writing() as session:
        kept = SyncStore(session, vessel)
        kept.look_up(_ids(request))
        device = devices.device_of(session.get_one(Device, (vessel, dev)))
        if _made_today(session, vessel, device.dev, kept.clock().last_ms) >= MOST_A_DAY:
            device = replace(device, holds="more changes than one makes in a day")
        answer = answer_sync(kept, device, request, around)
        _seen(session, vessel, answer["dev"], kept.clock().last_ms)
        kept.close()
    return answer


def _ids(request: Any) -> list[str]:
    """Give the ids in a request that is not checked yet, to read their rows in one go."""
    if type(request) is not dict:
        return []
    found = [one.get("id") for name in ("ops", "relay") if type(request.get(name)) is list
             for one in request[name] if type(one) is dict]
    return [ident for ident in found if type(ident) is str]


def _made_today(session: Session, vessel: str, dev: str, now_ms: int) -> int:
    row = session.get_one(Device, (vessel, dev))
    if row.next_n <= MOST_A_DAY:
        return 0
    return session.execute(select(func.count()).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.dev) == dev,
        col(LogEntry.at) > stamp_text(max(now_ms - DAY_MS, 0), 0, dev))).scalar() or 0


def _seen(session: Session, vessel: str, dev: str, now_ms: int) -> None:
    row = session.get_one(Device, (vessel, dev))
    row.seen_ms = now_ms
    if row.role != "guest":
        row.until_ms = now_ms + PAIRED_FOR_MS
    session.add(row)
    session.flush()
