"""Epochs of a vessel's log: a restore ends one and begins the next.

What was written after a backup and lost with a restore may still be on a phone; only the
epoch tells its places in the log from those that are given out anew.
"""

from __future__ import annotations

import secrets

from sqlmodel import Session

from spares.db.tables import Logbook, Setting
from spares.errors import NotFound

EPOCH_BYTES = 8


def epochs(session: Session, vessel: str) -> list[tuple[str, int | None]]:
    """Give the epochs of a log, oldest first, each with its last row (None: still going on)."""
    book, ended = session.get(Logbook, vessel), session.get(Setting, _name(vessel))
    if book is None:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    past: list[tuple[str, int | None]] = [(name, last) for name, last in ended.value] \
        if ended is not None else []
    return [*past, (book.epoch, None)]


def begin_epoch(session: Session, vessel: str) -> str:
    """End the present epoch at the last row and begin one with a fresh name; gives the name."""
    past = epochs(session, vessel)[:-1]
    book = session.get_one(Logbook, vessel)
    setting = session.get(Setting, _name(vessel)) or Setting(name=_name(vessel))
    setting.value = [*map(list, past), [book.epoch, book.seq]]
    book.epoch = secrets.token_hex(EPOCH_BYTES)
    session.add(setting)
    session.add(book)
    session.flush()
    return book.epoch


def _name(vessel: str) -> str:
    return f"epochs {vessel}"
