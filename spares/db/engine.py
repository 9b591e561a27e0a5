"""Open a store and give transactions on it.

What follows is said of SQLite; what is other on PostgreSQL stands in `postgresql.py`.

SQLite: write-ahead log, foreign keys on, every commit on the disk before it is
answered (`synchronous=FULL`, read back), writers begin at once (`BEGIN IMMEDIATE`)
so that two of them wait for each other instead of failing half way.

A disk that once did not confirm a sync may say the next time that all is well, and what was
written is gone: Linux drops the pages whose writing failed ("Pg should PANIC on fsync() EIO
return", a thread of pgsql-hackers; read in an excerpt of its archive). So after such an error,
or once the file proved to be damaged, nothing more is written until a new start.
"""

from __future__ import annotations

import logging
import sqlite3
from collections.abc import Iterator
from contextlib import AbstractContextManager, contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import RLock
from typing import Any

import orjson
from sqlalchemy import URL, Engine, create_engine, event
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.exc import TimeoutError as PoolTimeout
from sqlmodel import Session

from spares.errors import DiskFull, SparesError, StoreBusy, StoreDamaged

BUSY_MS = 10_000
FULL = 2
OWNER_ONLY = 0o600
#: The write-ahead log is brought into the file when it is as large as SQLite would let it grow.
CHECKPOINT_BYTES = 1000 * 4096
#: What SQLite answers when a disk does not confirm a sync, and when a file is damaged.
_UNSYNCED = (sqlite3.SQLITE_IOERR_FSYNC, sqlite3.SQLITE_IOERR_DIR_FSYNC)
_DAMAGED = (sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_NOTADB)
UNSYNCED = ("the disk did not confirm that what was written is on it, so nothing more is written "
            "until the program is started again; look at the disk, run `spares check`, and if "
            "anything is wrong put a backup back (spares restore FILE)")
DAMAGED = ("the store's file is damaged or not a store: put a backup back (spares restore FILE); "
           "the file was left as it is")
_log = logging.getLogger("spares")


@dataclass(frozen=True)
class Store:
    """An open store: `reading()` and `writing()` give sessions.

    `path` is its file; of a database, the name beside which its photos and backups lie.
    `memory` keeps what was computed from a state of the store, by that state. `turn`
    lets one act after another look and then write. `stopped` holds why nothing is written
    any more, if so.
    """

    engine: Engine
    path: Path
    memory: dict[str, Any] = field(default_factory=dict, compare=False)
    turn: Any = field(default_factory=RLock, compare=False, repr=False)
    stopped: list[str] = field(default_factory=list, compare=False)

    @property
    def is_file(self) -> bool:
        """Whether the store is a file here, not a database reached by an address."""
        return self.engine.dialect.name == "sqlite"

    def turn_of(self, vessel: str) -> AbstractContextManager[Any]:
        """Let one act look and then write of this vessel before the next one looks."""
        mine: AbstractContextManager[Any] = self.turn if self.is_file else self.turn.of(vessel)
        return mine

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that sees one state of the store."""
        with self._said(), Session(self.engine, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def writing(self, vessel: str | None = None) -> Iterator[Session]:
        """Give a session in one write transaction: all of it is kept, or nothing.

        Args:
            vessel: The one that is written of; where the store is a database, others may be
                written of meanwhile. None: nobody else writes anything [-].

        Raises:
            StoreBusy: another writer held the store for ten seconds.
            DiskFull: there is no room; nothing was changed.
            StoreDamaged: the file is damaged, or the disk did not confirm what was written.
        """
        if self.stopped:
            raise StoreDamaged(self.stopped[0])
        writer = self.engine.execution_options(write=vessel or True)
        with self._said(), Session(writer, expire_on_commit=False) as session:
            try:
                yield session
                session.commit()
            except BaseException:
                session.rollback()
                raise
        self._checkpoint()

    def stop(self, why: str) -> None:
        """Write nothing more, until the program is started again."""
        if not self.stopped:
            _log.error("nothing more is written: %s", why)
            self.stopped.append(why)

    def is_damaged(self) -> bool:
        """Look through the file's pages; what stands in them is for `check_chain` to say."""
        if not self.is_file:
            return False        # the database looks after its own files
        try:
            connection = self.engine.raw_connection()
            try:
                found = connection.execute("PRAGMA quick_check(1)").fetchone()[0] != "ok"
            finally:
                connection.close()
        except sqlite3.Error as err:
            found = isinstance(plain_error(err), StoreDamaged)
        except UnicodeDecodeError:
            found = True
        if found:
            self.stop(DAMAGED)
        return found

    @contextmanager
    def _said(self) -> Iterator[None]:
        """Say plainly what the database says; what it does not know may come of damage."""
        try:
            with said_plainly():
                yield
        except StoreDamaged as err:
            self._look_at(err.__cause__)
            if "entry" in err.facts:        # the log itself does not hold
                self.stop(err.detail)
            raise
        except (DatabaseError, UnicodeDecodeError) as err:
            if self.is_damaged():
                raise StoreDamaged(DAMAGED) from err
            raise

    def _look_at(self, err: BaseException | None) -> None:
        if not self.is_file:
            if postgresql().is_lost(err):
                self.stop(UNSYNCED)
            return
        code = getattr(getattr(err, "orig", err), "sqlite_errorcode", 0)
        if code in _UNSYNCED:
            self.stop(UNSYNCED)
        elif code & 0xff in _DAMAGED:
            self.stop(DAMAGED)

    def _checkpoint(self) -> None:
        """Bring the write-ahead log into the file. SQLite by itself keeps errors of it quiet."""
        log = self.path.with_name(f"{self.path.name}-wal")
        if not self.is_file or not log.exists() or log.stat().st_size < CHECKPOINT_BYTES:
            return
        connection = self.engine.raw_connection()
        try:
            connection.execute("PRAGMA wal_checkpoint(PASSIVE)").close()
        except sqlite3.Error as err:
            self._look_at(err)      # the commit itself is whole, in the log
        finally:
            connection.close()

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()


def open_store(address: str | Path, *, beside: Path | None = None,
               upgrade: bool = True) -> Store:
    """Open the store at *address* (a file path or a database URL), making a file if need be.

    Args:
        address: Where the store is.
        beside: Of a database, the name beside which its photos and backups lie.
        upgrade: Bring it to this version.

    Raises:
        StoreDamaged: the file is not a store of ours or cannot be read.
        UpgradeFailed: it was made by a newer version, or could not be brought up.
        InvalidInput: the address is none, or the database is not as it has to be.
    """
    if "://" in str(address):
        return _brought_up(_database(str(address), beside), upgrade)
    return open_file(Path(address), upgrade=upgrade)


def open_file(path: Path, *, upgrade: bool = True) -> Store:
    """Open the store that is the file *path*, making it if need be."""
    path = path.expanduser()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=OWNER_ONLY)     # it holds the key that seals the log
    except OSError as err:
        raise StoreDamaged(f"{path.parent} cannot be made: {err.strerror}") from err
    engine = create_engine(URL.create("sqlite", database=str(path)), json_deserializer=_from_json,
                           json_serializer=lambda value: orjson.dumps(value).decode())
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return _brought_up(Store(engine, path), upgrade)


def _database(address: str, beside: Path | None) -> Store:
    engine = postgresql().engine_at(address)
    try:
        postgresql().check_database(engine)
    except BaseException:
        engine.dispose()
        raise
    return Store(engine, beside or Path(engine.url.database or ""),
                 turn=postgresql().Turn(engine))


def _brought_up(store: Store, upgrade: bool) -> Store:
    if upgrade:
        from spares.db.upgrade import bring_up
        try:
            with store._said():
                bring_up(store.engine)
        except BaseException:
            store.close()
            raise
    return store


def postgresql() -> Any:
    """Give the module of that store, late: who keeps a file never needs it."""
    from spares.db import postgresql as module
    return module


def _from_json(value: Any) -> Any:
    """Read a JSON column; SQLite gives a number that stands alone as a number."""
    return orjson.loads(value) if isinstance(value, str) else value


def _prepare(connection: sqlite3.Connection, _: Any) -> None:
    """Set each connection up and read the setting back that everything rests on."""
    connection.isolation_level = None
    for line in ("journal_mode=WAL", f"busy_timeout={BUSY_MS}", "foreign_keys=ON",
                 "synchronous=FULL", "trusted_schema=OFF", "mmap_size=0",
                 "wal_autocheckpoint=0", "journal_size_limit=0"):
        connection.execute(f"PRAGMA {line}").close()
    if connection.execute("PRAGMA synchronous").fetchone()[0] != FULL:
        raise StoreDamaged("this SQLite does not keep commits through a power cut")


def _begin(connection: Any) -> None:
    write = connection.get_execution_options().get("write", False)
    connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")


@contextmanager
def said_plainly() -> Iterator[None]:
    """Turn what the database says into errors that a person can act on."""
    try:
        yield
    except (OperationalError, DatabaseError) as err:
        raise plain_error(err) from err
    except PoolTimeout as err:
        raise StoreBusy("too many ask the store at once; try again in a moment") from err


def plain_error(err: Exception) -> SparesError | Exception:
    """Give the plain error for a database's error; what is unknown stays itself."""
    at = getattr(err, "orig", None) or err
    if type(at).__module__.startswith("psycopg"):
        return postgresql().plain_error(err)
    text, code = str(at).lower(), getattr(at, "sqlite_errorcode", 0)
    if "locked" in text or "busy" in text:
        return StoreBusy("another program is writing to the store; try again in a moment")
    if "disk is full" in text or "no space" in text:
        return DiskFull("there is no room left on the disk; nothing was changed")
    if code in _UNSYNCED:
        return StoreDamaged(UNSYNCED)
    if any(one in text for one in ("malformed", "not a database", "disk i/o error",
                                   "could not decode")):
        return StoreDamaged(DAMAGED)
    if "unable to open" in text or "readonly" in text:
        return StoreDamaged("the store's file cannot be opened for writing")
    return err
