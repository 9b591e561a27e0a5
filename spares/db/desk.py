"""What a paired device writes at the server itself, by the verbs of the API.

It goes under a second number of the device, so that its outbox keeps counting alone.
The rights are those of the exchange.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from sqlmodel import Session

from spares.db import devices
from spares.db.before_writing import is_new
from spares.db.history import entry
from spares.db.tables import Device
from spares.domain.draft import Draft
from spares.errors import NotAllowed, Refused
from spares.sync.rights import begins_lot, check_void, may_write
from spares.sync.store import Kept


def desk_for(session: Session, vessel: str, dev: str, drafts: Iterable[Draft]) -> str:
    """Check a device's right to each change; give the number to write them under.

    Raises:
        NotAllowed: it has no right to one of them.
    """
    row = session.get_one(Device, (vessel, dev))
    device = devices.device_of(row)
    if device.revoked:
        raise NotAllowed("this device has left the crew")
    for draft in drafts:
        if not may_write(device.role, device.grants, _standing(session, vessel, draft)) and not (
                begins_lot(device.role, draft) and is_new(session, vessel, draft.body["doc"])):
            raise NotAllowed(f"as {device.role} one may not record this; ask the skipper",
                             kind=draft.kind)
        if draft.kind == "void":
            _check_void(session, row, draft)
    return devices.desk_of(session, row)


def _standing(session: Session, vessel: str, draft: Draft) -> Draft:
    """Let a draft stand on what is there, as the door will: rights ask whether it begins."""
    if draft.kind != "set" or is_new(session, vessel, draft.body["doc"]):
        return draft
    return replace(draft, body={**draft.body, "base": dict.fromkeys(draft.body["f"], ["there"])})


def _check_void(session: Session, row: Device, draft: Draft) -> None:
    target = entry(session, row.vessel, draft.body["of"])
    kept = None if target is None else Kept(target.id, target.dev, target.n, "ok", target.kind)
    try:
        if check_void(devices.device_of(row), kept) != "ok":
            raise NotAllowed("only the skipper may undo a change that is not here")
    except Refused as err:
        raise NotAllowed(err.detail) from err
