"""Open a store and give transactions on it.

SQLite: write-ahead log, foreign keys on, every commit on the disk before it is
answered (`synchronous=FULL`, read back), writers begin at once (`BEGIN IMMEDIATE`)
so that two of them wait for each other instead of failing half way.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import RLock
from typing import Any

from sqlalchemy import URL, Engine, create_engine, event, make_url
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlmodel import Session

from spares.errors import DiskFull, SparesError, StoreBusy, StoreDamaged

BUSY_MS = 10_000
FULL = 2
OWNER_ONLY = 0o600


@dataclass(frozen=True)
class Store:
    """An open store: `reading()` and `writing()` give sessions.

    `memory` keeps what was computed from a state of the store, by that state. `turn`
    lets one act after another look and then write, within this process.
    """

    engine: Engine
    path: Path | None
    memory: dict[str, Any] = field(default_factory=dict, compare=False)
    turn: Any = field(default_factory=RLock, compare=False, repr=False)

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that sees one state of the store."""
        with said_plainly(), Session(self.engine, expire_on_commit=False) as session:
            yield session

    @contextmanager
    def writing(self) -> Iterator[Session]:
        """Give a session in one write transaction: all of it is kept, or nothing.

        Raises:
            StoreBusy: another writer held the store for ten seconds.
            DiskFull: there is no room; nothing was changed.
        """
        writer = self.engine.execution_options(write=True)
        with said_plainly(), Session(writer, expire_on_commit=False) as session:
            try:
                yield session
                session.commit()
            except BaseException:
                session.rollback()
                raise

    def close(self) -> None:
        """Let go of the file."""
        self.engine.dispose()


def open_store(address: str | Path, *, upgrade: bool = True) -> Store:
    """Open the store at *address* (a file path or a database URL), making it if need be.

    Raises:
        StoreDamaged: the file is not a store of ours or cannot be read.
        UpgradeFailed: it was made by a newer version, or could not be brought up.
    """
    url, path = _url(str(address))
    if path is not None:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            path.touch(mode=OWNER_ONLY)     # it holds the key that seals the log
        except OSError as err:
            raise StoreDamaged(f"{path.parent} cannot be made: {err.strerror}") from err
    engine = create_engine(url)
    if engine.dialect.name == "sqlite":
        event.listen(engine, "connect", _prepare)
        event.listen(engine, "begin", _begin)
    store = Store(engine, path)
    if upgrade:
        from spares.db.upgrade import bring_up
        try:
            with said_plainly():
                bring_up(engine)
        except BaseException:
            engine.dispose()
            raise
    return store


def _url(address: str) -> tuple[URL, Path | None]:
    if "://" in address:
        return make_url(address.replace("postgresql://", "postgresql+psycopg://", 1)), None
    path = Path(address).expanduser()
    return URL.create("sqlite", database=str(path)), path


def _prepare(connection: sqlite3.Connection, _: Any) -> None:
    """Set each connection up and read the setting back that everything rests on."""
    connection.isolation_level = None
    for line in ("journal_mode=WAL", f"busy_timeout={BUSY_MS}", "foreign_keys=ON",
                 "synchronous=FULL", "trusted_schema=OFF", "mmap_size=0"):
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


def plain_error(err: Exception) -> SparesError | Exception:
    """Give the plain error for a database's error; what is unknown stays itself."""
    text = str(getattr(err, "orig", None) or err).lower()
    if "locked" in text or "busy" in text:
        return StoreBusy("another program is writing to the store; try again in a moment")
    if "disk is full" in text or "no space" in text:
        return DiskFull("there is no room left on the disk; nothing was changed")
    if "malformed" in text or "not a database" in text or "disk i/o error" in text:
        return StoreDamaged("the store's file is damaged or not a store: put a backup back "
                            "(spares restore FILE); the file was left as it is")
    if "unable to open" in text or "readonly" in text:
        return StoreDamaged("the store's file cannot be opened for writing")
    return err
