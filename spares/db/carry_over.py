"""Who belongs to the crew is a fact of today, not of the day of a backup.

When a backup is put back, devices keep the rights they have now: one that was reported
lost since then must not come back with the old file, and one paired since then need not be
paired again. What each device wrote comes from the log, as ever.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterable
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.engine import Store, open_file
from spares.db.tables import Device, Logbook
from spares.db.upgrade import LATEST, version_of
from spares.errors import SparesError

#: Of the log that is put back, not of today.
OF_THE_LOG = ("vessel", "dev", "next_n", "desk")
#: Vessel, token's hash, retired or lost, since when [ms].
ShutOut = tuple[str, str, str, int]


def devices_now(path: Path) -> list[dict[str, Any]]:
    """Read the devices of the store that is there; none where it cannot be read."""
    if not path.exists() or path.stat().st_size == 0:
        return []
    try:
        store = open_file(path, upgrade=False)
        try:
            return devices_of(store)
        finally:
            store.close()
    except SparesError:
        return []


def carry_over(session: Session, devices: list[dict[str, Any]]) -> None:
    """Give the devices of the store that is put back the rights that they have now."""
    for one in devices:
        if session.get(Logbook, one["vessel"]) is None:
            continue
        row = session.get(Device, (one["vessel"], one["dev"]))
        if row is None and not one["token_hash"]:
            continue
        row = row or Device(vessel=one["vessel"], dev=one["dev"])
        # What it was before is in either of them; a store in a database comes here a second time.
        was = dict.fromkeys([*(one["was"] or ()), *(row.was or ())])
        for name, value in {**one, "was": list(was)}.items():
            if name not in OF_THE_LOG:
                setattr(row, name, value)
        session.add(row)
    session.flush()
    for one in devices:
        _stand_for_one(session, one["vessel"], one["dev"], one["token_hash"])


def _stand_for_one(session: Session, vessel: str, dev: str, token_hash: str) -> None:
    """Take a token of today from another number that it stands for in the store put back.

    That store can be the newer one. Standing for both, it would keep the rights of the one
    when the skipper takes those of the other.
    """
    of_today = session.get(Device, (vessel, dev))
    if of_today is None or not token_hash or of_today.token_hash != token_hash:
        return          # the last: today it stood for two already, and the first of them has it
    for row in session.execute(select(Device).where(
            col(Device.vessel) == vessel, col(Device.token_hash) == token_hash,
            col(Device.dev) != dev)).scalars().all():
        row.token_hash, row.desk, row.revoked = "", "", "retired"
        # Also what that number was before: the device wrote under all of them.
        was = dict.fromkeys([*(of_today.was or ()), *(row.was or ()), row.dev])
        of_today.was = [one for one in was if one != dev]
        session.add_all([row, of_today])
    session.flush()


def shut_out_now(path: Path) -> list[ShutOut]:
    """Read whose rights were taken, of a store that is damaged or of another version.

    Of such a file nothing else is believed; as many are given as can be read.
    """
    found = []
    try:
        with closing(sqlite3.connect(path)) as connection:
            for row in connection.execute(
                    "SELECT vessel, token_hash, revoked, CAST(revoked_ms AS INTEGER) FROM device "
                    "WHERE token_hash != '' AND revoked IN ('retired', 'lost')"):
                found.append(row)
    except (sqlite3.Error, UnicodeDecodeError):
        return found
    return found


def shut_out(session: Session, gone: Iterable[ShutOut]) -> None:
    """Take the rights of those who have none now from the devices that are put back."""
    for vessel, token_hash, revoked, revoked_ms in gone:
        for row in session.execute(select(Device).where(
                col(Device.vessel) == vessel, col(Device.token_hash) == token_hash,
                col(Device.revoked) != "lost")).scalars():
            row.revoked, row.revoked_ms = revoked, revoked_ms
            session.add(row)
    session.flush()


def devices_of(store: Store) -> list[dict[str, Any]]:
    """Read the devices of an open store of this version; of another one, none."""
    if version_of(store.engine) != LATEST:
        return []
    with store.reading() as session:
        return [row.model_dump() for row in session.execute(select(Device)).scalars()]
