"""Open a store and give transactions on it.

What follows is said of SQLite; what is other on PostgreSQL stands in `postgresql.py`.
SQLAlchemy and SQLModel are imported late: a command that only looks at a file does without.

SQLite: write-ahead log, foreign keys on, every commit on the disk before it is
answered (`synchronous=FULL`, read back), writers begin at once (`BEGIN IMMEDIATE`)
so that two of them wait for each other instead of failing half way.

A disk that once did not confirm a sync may say the next time that all is well, and what was
written is gone: Linux drops the pages whose writing failed ("Pg should PANIC on fsync() EIO
return", a thread of pgsql-hackers; read in an excerpt of its archive). So after such an error,
or once the file proved to be damaged, nothing more is written until a new start.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import AbstractContextManager, closing, contextmanager
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from threading import RLock
from typing import TYPE_CHECKING, Any

import orjson

from spares.db.lookers import Lookers
from spares.db.plain_errors import (
    BROKEN,
    DAMAGED,
    NOT_SYNCED,
    UNSYNCED,
    database_errors,
    plain_error,
    said_plainly,
)
from spares.db.turn import WAIT_S, Turn
from spares.errors import StoreDamaged

if TYPE_CHECKING:
    from sqlalchemy import Engine
    from sqlmodel import Session

    from spares.db.asking import Reader

BUSY_MS = WAIT_S * 1000
FULL = 2
OWNER_ONLY = 0o600
#: The write-ahead log is brought into the file when it is as large as SQLite would let it grow.
CHECKPOINT_BYTES = 1000 * 4096


@dataclass(frozen=True)
class Store:
    """An open store: `reading()` and `writing()` give sessions, `looking()` a reader for `ask`.

    `path` is its file; of a database, the name beside which its photos and backups lie.
    `memory` keeps what was computed from a state of the store, by that state. `turn`
    lets one act after another look and then write. `stopped` holds why nothing is written
    any more, if so.
    """

    path: Path
    database: Engine | None = None
    memory: dict[str, Any] = field(default_factory=dict, compare=False)
    turn: Any = field(default_factory=Turn, compare=False, repr=False)
    stopped: list[str] = field(default_factory=list, compare=False)
    _making: Any = field(default_factory=RLock, compare=False, repr=False)

    @property
    def is_file(self) -> bool:
        """Whether the store is a file here, not a database reached by an address."""
        return self.database is None

    @property
    def engine(self) -> Engine:
        """What SQLAlchemy reaches the store by, made when it is first asked for."""
        with self._making:
            return self.database or self._engine_of_file

    @cached_property
    def _engine_of_file(self) -> Engine:
        self._lookers.close()       # from now on all connections are in one pool
        return _engine_at(self.path)

    @cached_property
    def _lookers(self) -> Lookers:
        return Lookers(lambda: _connect(self.path))

    @property
    def _has_engine(self) -> bool:
        return self.database is not None or "_engine_of_file" in self.__dict__

    def boot(self, own: str) -> str:
        """Name the run of what keeps the time: *own* of a file's one server.

        Several servers have a database in common. A phone that is answered now by one and now
        by another must not think that time was lost in between.
        """
        if self.is_file:
            return own
        with self._said():
            return str(postgresql().began(self.engine))

    def turn_of(self, vessel: str) -> AbstractContextManager[Any]:
        """Let one act look and then write of this vessel before the next one looks.

        Entering it raises StoreBusy when another one has it for ten seconds.
        """
        mine: AbstractContextManager[Any] = self.turn.of(vessel)
        return mine

    @contextmanager
    def looking(self) -> Iterator[Reader]:
        """Give what `ask` asks: it sees one state of the store, and is ready at once."""
        if not self.is_file:
            with self.reading() as session:
                yield session
            return
        with self._said(), self._lent() as connection:
            connection.execute("BEGIN")
            yield connection

    @contextmanager
    def _lent(self) -> Iterator[sqlite3.Connection]:
        if not self._has_engine:
            with self._lookers.lend() as connection:
                yield connection
            return
        pooled: Any = self.engine.raw_connection()      # the pool ends what was begun
        with closing(pooled):
            yield pooled.driver_connection

    @contextmanager
    def reading(self) -> Iterator[Session]:
        """Give a session that sees one state of the store."""
        from sqlmodel import Session
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
        from sqlmodel import Session
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
            import logging  # late: nobody who only looks comes here

            logging.getLogger("spares").error("nothing more is written: %s", why)
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
        except (*database_errors(), UnicodeDecodeError) as err:
            if self.is_damaged():
                raise StoreDamaged(DAMAGED) from err
            raise

    def _look_at(self, err: BaseException | None) -> None:
        if not self.is_file:
            if postgresql().is_lost(err):
                self.stop(UNSYNCED)
            return
        code = getattr(getattr(err, "orig", err), "sqlite_errorcode", 0)
        if code in NOT_SYNCED:
            self.stop(UNSYNCED)
        elif code & 0xff in BROKEN:
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
        self._lookers.close()
        if self._has_engine:
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
        DiskFull: there is no room for the copy that is kept before a file is brought up.
        InvalidInput: the address is none, or the database is not as it has to be.
    """
    if "://" in str(address):
        return _brought_up(_database(str(address), beside), upgrade)
    return open_file(Path(address), upgrade=upgrade, keep=True)


def open_file(path: Path, *, upgrade: bool = True, keep: bool = False) -> Store:
    """Open the store that is the file *path*, making it if need be.

    With *keep* a copy of it is kept before it is brought to this version.
    """
    path = path.expanduser()
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch(mode=OWNER_ONLY)     # it holds the key that seals the log
    except OSError as err:
        raise StoreDamaged(f"{path.parent} cannot be made: {err.strerror}") from err
    return _brought_up(Store(path), upgrade, keep)


def _engine_at(path: Path) -> Engine:
    from sqlalchemy import URL, create_engine, event

    engine = create_engine(URL.create("sqlite", database=str(path)), json_deserializer=_from_json,
                           json_serializer=lambda value: orjson.dumps(value).decode())
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def _database(address: str, beside: Path | None) -> Store:
    engine = postgresql().engine_at(address)
    try:
        postgresql().check_database(engine)
    except BaseException:
        engine.dispose()
        raise
    return Store(beside or Path(engine.url.database or ""), engine,
                 turn=postgresql().Turn(engine))


def _brought_up(store: Store, upgrade: bool, keep: bool = False) -> Store:
    if upgrade:
        from spares.db.upgrade import LATEST, bring_up

        try:
            with store._said():
                if not store.is_file or step_of(store) != LATEST:
                    if keep:
                        from spares.db.before_upgrade import keep_copy

                        keep_copy(store)
                    bring_up(store.engine)
        except BaseException:
            store.close()
            raise
    return store


def is_behind(store: Store) -> bool:
    """Say whether the store is a file of an earlier version; what is newer or damaged is not."""
    from spares.db.upgrade import LATEST

    return store.is_file and (step_of(store) or LATEST) < LATEST


def step_of(store: Store) -> str | None:
    """Give the step at which a file stands; None of what is no store yet, or cannot be read."""
    try:
        with store._lent() as connection:
            steps = connection.execute("SELECT version_num FROM alembic_version").fetchall()
    except sqlite3.Error:
        return None
    return str(steps[0][0]) if len(steps) == 1 else None


def postgresql() -> Any:
    """Give the module of that store, late: who keeps a file never needs it."""
    from spares.db import postgresql as module
    return module


def _from_json(value: Any) -> Any:
    """Read a JSON column; SQLite gives a number that stands alone as a number."""
    return orjson.loads(value) if isinstance(value, str) else value


def _connect(path: Path) -> sqlite3.Connection:
    """Open a file as the engine does, for any thread that takes the connection up."""
    connection = sqlite3.connect(path, check_same_thread=False)
    try:
        _prepare(connection, None)
    except BaseException:
        connection.close()
        raise
    return connection


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
