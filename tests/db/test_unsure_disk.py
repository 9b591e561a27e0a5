"""A disk that once did not confirm a sync: nothing more is written, whatever it says later."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from sqlalchemy import text

from spares.db import engine as engine_module
from spares.db.engine import Store, open_store
from spares.db.tables import Setting
from spares.errors import StoreDamaged
from tests.db import disk

pytestmark = [pytest.mark.sqlite,
              pytest.mark.skipif(bool(disk.why_not()), reason=disk.why_not())]


@pytest.fixture
def store(watched: Path) -> Iterator[Store]:
    opened = open_store(watched / "spares.sqlite")
    write(opened, "before")
    yield opened
    disk.listener = None
    opened.close()


def write(store: Store, name: str, size: int = 1) -> None:
    with store.writing() as session:
        session.add(Setting(name=name, value="x" * size))


def names(store: Store) -> list[str]:
    with store.reading() as session:
        return sorted(session.execute(text("SELECT name FROM setting")).scalars())


def failing(what: str, code: int, where: str = "") -> Callable[[disk.Act], int]:
    return lambda act: code if act.what == what and act.path.endswith(where) else 0


def test_after_a_sync_that_failed_nothing_more_is_written_until_a_new_start(store: Store) -> None:
    disk.listener = failing("sync", disk.IOERR_FSYNC)
    with pytest.raises(StoreDamaged, match="did not confirm"):
        write(store, "lost")
    disk.listener = None            # the disk says from now on that all is well
    for _ in range(2):
        with pytest.raises(StoreDamaged, match="until the program is started again"):
            write(store, "later")
    assert names(store) == ["before"]
    store.close()
    again = open_store(store.path)
    write(again, "after")
    assert {"before", "after"} <= set(names(again)) <= {"before", "lost", "after"}
    again.close()


def test_a_write_that_failed_is_said_and_the_next_one_may_do(store: Store) -> None:
    disk.listener = failing("write", disk.FULL)
    with pytest.raises(Exception, match="no room"):
        write(store, "lost")
    disk.listener = None
    write(store, "later")
    assert names(store) == ["before", "later"]


def test_log_is_brought_into_the_file_and_kept_short(store: Store) -> None:
    log = store.path.with_name(f"{store.path.name}-wal")
    syncs: list[str] = []
    disk.listener = lambda act: syncs.append(act.path) or 0 if act.what == "sync" else 0
    for n in range(30):
        write(store, f"n{n}", 500_000)
        assert log.stat().st_size < 2 * engine_module.CHECKPOINT_BYTES
    assert [one for one in syncs if one.endswith("spares.sqlite")]
    assert len(names(store)) == 31


def test_a_sync_that_fails_while_the_log_is_brought_in_costs_nothing_and_stops_writing(
        store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """SQLite's own checkpoint keeps this quiet; the next one would say that all is well."""
    monkeypatch.setattr(engine_module, "CHECKPOINT_BYTES", 1)
    disk.listener = failing("sync", disk.IOERR_FSYNC, "spares.sqlite")
    write(store, "whole")           # it is in the log, and was synced there
    with pytest.raises(StoreDamaged, match="did not confirm"):
        write(store, "later")
    disk.listener = None
    with pytest.raises(StoreDamaged, match="did not confirm"):
        write(store, "later")
    assert names(store) == ["before", "whole"]


def test_sqlite_by_itself_says_nothing_of_it(watched: Path) -> None:
    """The control: why the program brings the log in, and not SQLite."""
    connection = sqlite3.connect(watched / "plain.sqlite", isolation_level=None)
    for line in ("journal_mode=WAL", "synchronous=FULL", "wal_autocheckpoint=1"):
        connection.execute(f"PRAGMA {line}").fetchall()
    connection.execute("CREATE TABLE t (x)")
    failed: list[str] = []

    def failing_in_file(act: disk.Act) -> int:
        if act.what == "sync" and act.path.endswith("plain.sqlite"):
            failed.append(act.path)
            return disk.IOERR_FSYNC
        return 0
    disk.listener = failing_in_file
    for n in range(3):
        connection.execute("INSERT INTO t VALUES (?)", (n,))
    disk.listener = None
    connection.close()
    assert len(failed) >= 3         # and no error was raised


def test_a_file_that_proves_damaged_is_not_written_to_any_more(store: Store) -> None:
    for n in range(20):
        write(store, f"n{n}", 50_000)
    store.close()
    path = store.path
    whole = path.read_bytes()
    path.write_bytes(whole[:4096] + b"\xa5" * (len(whole) - 4096))
    again = open_store(path, upgrade=False)
    with pytest.raises(StoreDamaged, match="spares restore FILE"):
        names(again)
    spoilt = path.read_bytes()
    for _ in range(2):
        with pytest.raises(StoreDamaged, match="spares restore FILE"):
            write(again, "later")
    assert path.read_bytes() == spoilt
    again.close()
