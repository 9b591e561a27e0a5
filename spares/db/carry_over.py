"""Who belongs to the crew is a fact of today, not of the day of a backup.

When a backup is put back, devices keep the rights they have now: one that was reported
lost since then must not come back with the old file, and one paired since then need not be
paired again. What each device wrote comes from the log, as ever.
"""

from __future__ import annotations

from pathlib import Path
from typing import Any

from sqlalchemy import select
from sqlmodel import Session

from spares.db.engine import Store, open_file
from spares.db.tables import Device, Logbook
from spares.db.upgrade import LATEST, version_of
from spares.errors import SparesError

#: Of the log that is put back, not of today.
OF_THE_LOG = ("vessel", "dev", "next_n", "desk")


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
        for name, value in one.items():
            if name not in OF_THE_LOG:
                setattr(row, name, value)
        session.add(row)
    session.flush()


def devices_of(store: Store) -> list[dict[str, Any]]:
    """Read the devices of an open store of this version; of another one, none."""
    if version_of(store.engine) != LATEST:
        return []
    with store.reading() as session:
        return [row.model_dump() for row in session.execute(select(Device)).scalars()]
