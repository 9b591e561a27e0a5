"""What a database says, turned into errors that a person can act on."""

from __future__ import annotations

import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager

from spares.errors import DiskFull, SparesError, StoreBusy, StoreDamaged

#: What SQLite answers when a disk does not confirm a sync, and when a file is damaged.
NOT_SYNCED = (sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC)
BROKEN = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
UNSYNCED = ("the disk did not confirm that what was written is on it, so nothing more is written "
            "until the program is started again; look at the disk, run `spares check`, and if "
            "anything is wrong put a backup back (spares restore FILE)")
DAMAGED = ("the store's file is damaged or not a store: put a backup back (spares restore FILE); "
           "the file was left as it is")


def database_errors() -> tuple[type[Exception], ...]:
    """Give what a database raises; SQLAlchemy's own errors only where it was imported."""
    alchemy = sys.modules.get("sqlalchemy.exc")
    return (sqlite3.DatabaseError, *([alchemy.DatabaseError] if alchemy else []))


@contextmanager
def said_plainly() -> Iterator[None]:
    """Turn what the database says into errors that a person can act on."""
    try:
        yield
    except database_errors() as err:
        raise plain_error(err) from err
    except _pool_timeout() as err:
        raise StoreBusy("too many ask the store at once; try again in a moment") from err


def _pool_timeout() -> tuple[type[Exception], ...]:
    alchemy = sys.modules.get("sqlalchemy.exc")
    return (alchemy.TimeoutError,) if alchemy else ()


def plain_error(err: Exception) -> SparesError | Exception:
    """Give the plain error for a database's error; what is unknown stays itself."""
    at = getattr(err, "orig", None) or err
    if type(at).__module__.startswith("psycopg"):
        from spares.db import postgresql
        return postgresql.plain_error(err)
    text, code = str(at).lower(), getattr(at, "sqlite_errorcode", 0)
    if "locked" in text or "busy" in text:
        return StoreBusy("another program is writing to the store; try again in a moment")
    if "disk is full" in text or "no space" in text:
        return DiskFull("there is no room left on the disk; nothing was changed")
    if code in NOT_SYNCED:
        return StoreDamaged(UNSYNCED)
    if any(one in text for one in ("malformed", "not a database", "disk i/o error",
                                   "could not decode")):
        return StoreDamaged(DAMAGED)
    if "unable to open" in text or "readonly" in text:
        return StoreDamaged("the store's file cannot be opened for writing")
    return err
