"""Epochs of a vessel's log: a restore ends one and begins the next.

What was written after a backup and lost with a restore may still be on a phone; only the
epoch tells its places in the log from those that are given out anew.
"""

from __future__ import annotations

import secrets

from sqlalchemy import update
from sqlmodel import Session, col

from spares.db.tables import Device, Logbook, Setting
from spares.errors import NotFound

EPOCH_BYTES = 8
DEV_LETTERS, DEV_LENGTH = "abcdefghijkmnpqrstuvwxyz23456789", 8


def epochs(session: Session, vessel: str) -> list[tuple[str, int | None]]:
    """Give the epochs of a log, oldest first, each with its last row (None: still going on)."""
    book, ended = session.get(Logbook, vessel), session.get(Setting, _name(vessel))
    if book is None:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    past: list[tuple[str, int | None]] = [(name, last) for name, last in ended.value] \
        if ended is not None else []
    return [*past, (book.epoch, None)]


def begin_epoch(session: Session, vessel: str) -> str:
    """End the present epoch at the last row and begin one with a fresh name; gives the name.

    What is written at the server itself goes under fresh numbers from here on: else it would
    use those again that it gave out before a restore.
    """
    past = epochs(session, vessel)[:-1]
    book = session.get_one(Logbook, vessel)
    setting = session.get(Setting, _name(vessel)) or Setting(name=_name(vessel))
    setting.value = [*map(list, past), [book.epoch, book.seq]]
    book.epoch = secrets.token_hex(EPOCH_BYTES)
    own = session.get_one(Device, (vessel, book.own_dev))
    book.own_dev = fresh_dev(session, vessel)
    session.add_all([setting, book, Device(vessel=vessel, dev=book.own_dev, name=own.name)])
    session.execute(update(Device).where(col(Device.vessel) == vessel).values(desk=""))
    session.flush()
    return book.epoch


def fresh_dev(session: Session, vessel: str) -> str:
    """Draw a device number that was never given before in this store."""
    while True:
        dev = "".join(secrets.choice(DEV_LETTERS) for _ in range(DEV_LENGTH))
        if session.get(Device, (vessel, dev)) is None:
            return dev


def _name(vessel: str) -> str:
    return f"epochs {vessel}"
