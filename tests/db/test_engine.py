"""The store as a file: what survives, what waits, what is refused."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from sqlalchemy import text

from spares.db import engine as engine_module
from spares.db import postgresql
from spares.db.chain import check_chain
from spares.db.engine import Store, open_store
from spares.db.tables import Setting
from spares.errors import DiskFull, StoreBusy, StoreDamaged, UpgradeFailed
from tests.db.conftest import VESSEL


@pytest.mark.sqlite
@pytest.mark.parametrize(("pragma", "value"), [
    ("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1), ("trusted_schema", 0)])
def test_every_connection_is_set_up_and_reads_back(store: Store, pragma: str,
                                                   value: object) -> None:
    with store.reading() as session:
        assert session.execute(text(f"PRAGMA {pragma}")).scalar() == value


def test_a_writer_takes_the_lock_at_once(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    """A second writer waits at the door instead of failing when it commits."""
    monkeypatch.setattr(engine_module, "BUSY_MS", 50)
    monkeypatch.setattr(postgresql, "_SETTINGS", (("lock_timeout", "50ms"),))
    other = open_store(store.path)
    with store.writing() as session:
        session.execute(text("SELECT 1"))
        with pytest.raises(StoreBusy), other.writing() as second:
            second.execute(text("SELECT 1"))
    other.close()


def test_nothing_of_a_failed_transaction_stays(store: Store) -> None:
    with pytest.raises(RuntimeError), store.writing() as session:
        session.add(Setting(name="a", value=1))
        session.flush()
        raise RuntimeError("power cut")
    with store.reading() as session:
        assert session.get(Setting, "a") is None


@pytest.mark.sqlite
@pytest.mark.parametrize("content", [b"this is not a store " * 400, b"\0" * 8192])
def test_a_foreign_file_is_refused_and_left_alone(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "foreign.sqlite"
    path.write_bytes(content)
    with pytest.raises(StoreDamaged):
        open_store(path)
    assert path.read_bytes() == content


@pytest.mark.sqlite
def test_a_database_of_another_program_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "other.sqlite"
    with sqlite3.connect(path) as connection:
        connection.execute("CREATE TABLE songs (title TEXT)")
    connection.close()
    with pytest.raises(StoreDamaged, match="something else"):
        open_store(path)


def test_a_store_of_a_newer_program_is_refused(store: Store) -> None:
    with store.writing() as session:
        session.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    with pytest.raises(UpgradeFailed, match="9999"):
        open_store(store.path)


@pytest.mark.sqlite
def test_a_full_disk_is_said_and_nothing_is_kept(store: Store) -> None:
    with store.reading() as session:
        pages = session.execute(text("PRAGMA page_count")).scalar()
    with pytest.raises(DiskFull), store.writing() as session:
        session.execute(text(f"PRAGMA max_page_count = {pages}"))
        session.add(Setting(name="a", value="x" * 2_000_000))
        session.flush()
    with store.reading() as session:
        assert session.get(Setting, "a") is None


@pytest.mark.sqlite
@pytest.mark.parametrize("column", ["epoch", "own_dev", "last_at", "last_ms", "adj_ms"])
def test_what_a_log_says_of_itself_is_read_whole(store: Store, column: str) -> None:
    """Bytes that are no text are damage, though only the next write would come upon them."""
    with store.writing() as session:
        session.execute(text(f"UPDATE logbook SET {column} = CAST(x'ff' AS TEXT)"))
    with pytest.raises(StoreDamaged), store.looking() as reader:
        check_chain(reader, VESSEL)
