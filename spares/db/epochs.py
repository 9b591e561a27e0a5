"""Epochs of a vessel's log: a restore ends one and begins the next.

What was written after a backup and lost with a restore may still be on a phone; only the
epoch tells its places in the log from those that are given out anew.
"""

from __future__ import annotations

import secrets
from collections.abc import Sequence

from sqlalchemy import update
from sqlmodel import Session, col

from spares.db.logbook import epochs, past_epochs
from spares.db.tables import Device, Logbook, Setting
from spares.sync.store import more_epochs

EPOCH_BYTES = 8
DEV_LETTERS, DEV_LENGTH = "abcdefghijkmnpqrstuvwxyz23456789", 8


def begin_epoch(session: Session, vessel: str) -> str:
    """End the present epoch at the last row and begin one with a fresh name; gives the name.

    What is written at the server itself goes under fresh numbers from here on: else it would
    use those again that it gave out before a restore.
    """
    book = session.get_one(Logbook, vessel)
    _keep_past(session, vessel, [*epochs(session, vessel)[:-1], (book.epoch, book.seq)])
    book.epoch = secrets.token_hex(EPOCH_BYTES)
    own = session.get_one(Device, (vessel, book.own_dev))
    book.own_dev = fresh_dev(session, vessel)
    session.add_all([book, Device(vessel=vessel, dev=book.own_dev, name=own.name)])
    session.execute(update(Device).where(col(Device.vessel) == vessel).values(desk=""))
    session.flush()
    return book.epoch


def learn_epochs(session: Session, vessel: str, found: Sequence[tuple[str, int]]
                 ) -> dict[str, int]:
    """Note that the rows up to each end also stood so in an epoch of another store.

    Gives those about which something new was said, with the end known before (0: none).
    """
    known = epochs(session, vessel)
    now = more_epochs(known, found)
    before = dict(known)
    new = {name: before.get(name) or 0 for name, end in now if (name, end) not in known}
    if new:
        _keep_past(session, vessel, now[:-1])
    return new


def cut_epochs(session: Session, vessel: str, seq: int) -> None:
    """Take from all past epochs the rows behind *seq*."""
    _keep_past(session, vessel, [(name, min(end or 0, seq))
                                 for name, end in epochs(session, vessel)[:-1]])


def fresh_dev(session: Session, vessel: str) -> str:
    """Draw a device number that was never given before in this store."""
    while True:
        dev = "".join(secrets.choice(DEV_LETTERS) for _ in range(DEV_LENGTH))
        if session.get(Device, (vessel, dev)) is None:
            return dev


def _keep_past(session: Session, vessel: str, past: Sequence[tuple[str, int | None]]) -> None:
    setting = session.get(Setting, past_epochs(vessel)) or Setting(name=past_epochs(vessel))
    setting.value = [*map(list, past)]
    session.add(setting)
    session.flush()
