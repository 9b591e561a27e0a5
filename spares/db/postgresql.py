"""PostgreSQL as the store: an office that keeps several vessels, with several servers on it.

What a file gives by itself is asked for here: one writer at a time for a vessel (advisory
locks that end with the transaction), a reader that sees one state (REPEATABLE READ), commits
that are on the disk before they are answered. Writers read what is committed at each statement:
a snapshot taken before the lock was granted would be too old to write by.
"""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Iterator
from typing import Any

from sqlalchemy import (
    URL,
    Column,
    Connection,
    Engine,
    Integer,
    create_engine,
    event,
    make_url,
    text,
)
from sqlalchemy.exc import ArgumentError, DBAPIError
from sqlalchemy.ext.compiler import compiles

from spares.db import turn
from spares.db.turn import WAIT_S
from spares.errors import DiskFull, InvalidInput, SparesError, StoreBusy, StoreDamaged

#: A server that stopped within a transaction holds its lock no longer than this.
IDLE_S = 300
_SETTINGS = (("lock_timeout", f"{WAIT_S}s"), ("timezone", "UTC"), ("search_path", "public"),
             ("idle_in_transaction_session_timeout", f"{IDLE_S}s"),
             # A writer's first statement waits for its turn: what it reads then must be of then.
             ("default_transaction_isolation", "read committed"))
_KEPT_BY_THE_SERVER = ("C", "POSIX", "C.UTF-8", "C.utf8")
HOW_TO_MAKE = "createdb --template=template0 --encoding=UTF8 --locale=C.UTF-8 NAME"
NO_ICU = " --locale-provider=libc NAME"
#: Who sorts text: the system's library, or that of the languages. A third sorts by code points.
LIBC, ICU = "c", "i"
#: What the words of a refused connection look like when asking again may help.
_PASSING = ("too many", "starting up", "shutting down", "recovery", "remaining connection")
DISK_FULL, DAMAGED, DISK_FAILED = "53100", ("XX001", "XX002"), "58030"
_BUSY = ("08", "40", "53", "55", "57", "25P03")
_NOT_HELD = ("22", "54")


def engine_at(address: str) -> Engine:
    """Make the engine for a database address; nothing is asked of the server yet.

    Raises:
        InvalidInput: it is no address of a PostgreSQL database, or its driver is not here.
    """
    try:
        engine = create_engine(_url(address), pool_pre_ping=True, pool_size=5, max_overflow=25,
                               pool_timeout=WAIT_S, connect_args={"connect_timeout": WAIT_S,
                                                                 "client_encoding": "utf8"})
    except ModuleNotFoundError as err:
        raise _not_so("a database needs its driver: .venv/bin/pip install -e '.[fleet]'") from err
    event.listen(engine, "connect", _prepare)
    event.listen(engine, "begin", _begin)
    return engine


def check_database(engine: Engine) -> None:
    """Look whether the database is there and keeps text as the log needs it.

    Raises:
        InvalidInput: it is not there, does not let us in, or sorts text by a language.
        StoreBusy: the server does not answer.
    """
    try:
        with engine.connect() as connection:
            encoding, order, by = connection.execute(text(
                "SELECT pg_encoding_to_char(encoding), datcollate, "
                "coalesce(to_json(one) ->> 'datlocprovider', 'c') FROM pg_database one "
                "WHERE datname = current_database()")).one()
    except DBAPIError as err:
        said = str(err.orig)
        if "FATAL" not in said or any(one in said for one in _PASSING):
            raise plain_error(err) from err
        raise _not_so(f"the database does not let us in ({_last_line(said)})") from err
    if by == ICU:       # whatever else it names, and what is made beside it would be so as well
        raise _not_so("the database sorts text by a language, and the log needs the order of its "
                      f"bytes; make one with: {HOW_TO_MAKE.replace(' NAME', NO_ICU)}")
    if encoding != "UTF8" or by == LIBC and order not in _KEPT_BY_THE_SERVER:
        raise _not_so(f"the database keeps text as {encoding}, {order}, and the log needs the "
                      f"order of its bytes; make one with: {HOW_TO_MAKE}")


def plain_error(err: Exception) -> SparesError | Exception:
    """Give the plain error for what PostgreSQL says; what is unknown stays itself."""
    at = getattr(err, "orig", None) or err
    state = getattr(at, "sqlstate", None) or ""
    if state == DISK_FULL:
        return DiskFull("there is no room left on the disk of the database; nothing was changed")
    if state == DISK_FAILED or state in DAMAGED:
        return StoreDamaged("the database says that its files are damaged or its disk fails: look "
                            "at its log, and put a backup back (spares restore FILE)")
    if state == "55P03":
        return StoreBusy("another program is writing to the store; try again in a moment")
    if state.startswith(_BUSY) or (not state and type(at).__name__ == "OperationalError"):
        return StoreBusy("the database does not answer, or the connection to it was lost; try "
                         "again in a moment (what was sent twice counts once)")
    if state.startswith(_NOT_HELD) or type(at).__name__ == "DataError":
        return InvalidInput.at("#", "a text or number in it is one that the store cannot hold")
    return err


def is_lost(err: BaseException | None) -> bool:
    """Say whether nothing more should be written: the server's files or disk failed."""
    state = getattr(getattr(err, "orig", err), "sqlstate", None) or ""
    return state == DISK_FAILED or state in DAMAGED


def began(engine: Engine) -> str:
    """Name the start of the database, which all servers on it have in common."""
    with engine.connect() as connection:
        return str(connection.execute(text(
            "SELECT extract(epoch FROM pg_postmaster_start_time())")).scalar())


@compiles(Integer, "postgresql")
def whole_number(*_: Any, type_expression: Any = None, **__: Any) -> str:
    """Give each column of whole numbers, of any step, the room that it has in a file."""
    return "BIGINT" if isinstance(type_expression, Column) else "INTEGER"


class Turn(turn.Turn):
    """Lets one act look and then write before the next one looks, across all processes."""

    def __init__(self, engine: Engine, name: str = "turn") -> None:
        super().__init__()
        self._engine, self._name = engine, name
        self._depth, self._held = 0, contextlib.ExitStack()
        self._of: dict[str, Turn] = {}

    def of(self, vessel: str) -> Turn:
        """Give the turn of one vessel; others have theirs meanwhile."""
        return self._of.setdefault(vessel, Turn(self._engine, f"turn {vessel}"))

    def __enter__(self) -> None:
        super().__enter__()
        try:
            if not self._depth:
                self._held.enter_context(_alone(self._engine, _key(self._name)))
            self._depth += 1
        except BaseException:
            super().__exit__()
            raise

    def __exit__(self, *_: object) -> None:
        try:
            self._depth -= 1
            if not self._depth:
                self._held.close()
        finally:
            super().__exit__()


@contextlib.contextmanager
def upgrading(engine: Engine) -> Iterator[None]:
    """Let one process at a time bring the store up."""
    with _alone(engine, _key("upgrade")):
        yield


@contextlib.contextmanager
def _alone(engine: Engine, key: int) -> Iterator[None]:
    """Hold an advisory lock on a connection of its own, which ends with its transaction."""
    try:
        connection = engine.raw_connection()
        try:
            # It rests in its transaction for as long as the work beside it takes.
            connection.execute("SET LOCAL idle_in_transaction_session_timeout = 0")
            connection.execute("SELECT pg_advisory_xact_lock(%s)", (key,))
        except BaseException:
            connection.close()
            raise
    except Exception as err:
        raise plain_error(err) from err
    try:
        yield
    finally:
        connection.close()      # the pool rolls back what it takes back


def _prepare(connection: Any, _: Any) -> None:
    with connection.cursor() as cursor:
        for name, value in _SETTINGS:
            cursor.execute("SELECT set_config(%s, %s, false)", (name, value))
        # What was answered as taken survives a power cut, unless the server promises more.
        cursor.execute("SELECT set_config('synchronous_commit', 'on', false) "
                       "WHERE current_setting('synchronous_commit') IN ('off', 'local')")
    connection.commit()


def _begin(connection: Connection) -> None:
    """Begin as a reader of one state, or as the one writer of a vessel, or of all of them."""
    write = connection.get_execution_options().get("write", False)
    if not write:
        connection.exec_driver_sql("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
    elif isinstance(write, str):
        connection.exec_driver_sql("SELECT pg_advisory_xact_lock_shared(%s)", (_key("store"),))
        connection.exec_driver_sql("SELECT pg_advisory_xact_lock(%s)", (_key(write),))
    else:
        connection.exec_driver_sql("SELECT pg_advisory_xact_lock(%s)", (_key("store"),))


def _key(name: str) -> int:
    """Give the number that a lock has in this database; two that are equal only wait longer."""
    digest = hashlib.sha256(f"spares {name}".encode()).digest()
    return int.from_bytes(digest[:8], signed=True)


def _url(address: str) -> URL:
    try:
        url = make_url(address)
    except (ArgumentError, ValueError) as err:
        raise _not_so("this is no address of a database") from err
    if url.drivername not in ("postgresql", "postgresql+psycopg") or not url.database:
        raise _not_so("a file path, or postgresql://user@host/database, is needed")
    return url.set(drivername="postgresql+psycopg")


def _not_so(detail: str) -> InvalidInput:
    return InvalidInput.at("#/SPARES_STORE", detail)


def _last_line(said: str) -> str:
    return said.strip().splitlines()[-1].rpartition("FATAL:")[2].strip()
