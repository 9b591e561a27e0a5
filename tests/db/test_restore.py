"""Putting a backup back: what is foreign is refused, what is there is kept beside."""

from __future__ import annotations

import io
import shutil
import sqlite3
import zipfile
from contextlib import closing, nullcontext
from datetime import UTC, datetime

import pytest

from spares.db.backup import make_backup
from spares.db.door import found_vessel, submit
from spares.db.engine import open_file, open_store
from spares.db.epochs import begin_epoch
from spares.db.logbook import epochs
from spares.db.upgrade import bring_up
from spares.domain.draft import setting
from spares.errors import Conflict, InvalidInput, StoreBusy, UpgradeFailed
from tests import postgresql
from tests.backups import changed, crafted, fitting, parts
from tests.db.conftest import VESSEL, WALL_MS
from tests.db.test_backup import LOCKER, said
from tests.stores import as_before, restore_to

NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)
OTHER = "33333333-3333-4333-8333-333333333333"


@pytest.fixture(scope="module")
def ours(tmp_path_factory):
    """A folder with a store of two changes and a backup of it, made once."""
    folder = tmp_path_factory.mktemp("ours")
    store = open_store(folder / "spares.sqlite")
    with store.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TST", name="Test hull"),
                                 setting(LOCKER, no="L01", name="Port shelf")], wall_ms=WALL_MS)
    make_backup(store, folder / "ours.zip", NOW)
    store.close()
    return folder


@pytest.fixture
def store(ours, tmp_path):
    """The test's own copy of the store, open."""
    opened = open_store(shutil.copy(ours / "spares.sqlite", tmp_path / "spares.sqlite"))
    yield opened
    opened.close()


@pytest.fixture
def path(store):
    """The file of the test's own store, closed."""
    store.close()
    return store.path


@pytest.fixture
def backup(ours, tmp_path):
    return shutil.copy(ours / "ours.zip", tmp_path / "ours.zip")


def refused(content, path, tmp_path, error=InvalidInput):
    """Assert that a file is refused and the store stays as it is; gives the error."""
    before, file = path.read_bytes(), tmp_path / "theirs.zip"
    file.write_bytes(content)
    unchanged = as_before(path) if postgresql.in_use() else nullcontext()
    with unchanged, pytest.raises(error) as told:
        restore_to(file, path, NOW)
    assert path.read_bytes() == before
    assert not [one for one in path.parent.iterdir() if "restore" in one.name]
    return told.value


def test_an_archive_that_does_not_belong_is_refused_before_the_store_is_touched(
        backup, path, tmp_path):
    for name, content in crafted(*parts(backup)).items():
        told = refused(content, path, tmp_path)
        assert told.facts["member"], name


def test_a_zip_of_another_program_is_no_backup(path, tmp_path):
    into = io.BytesIO()
    with zipfile.ZipFile(into, "w") as made:
        made.writestr("vessel.csv", "mark;name\nTST;Test\n")
    assert "not a backup" in refused(into.getvalue(), path, tmp_path).detail


def test_an_end_record_that_promises_a_million_entries_is_refused(backup, path, tmp_path):
    whole = bytearray(backup.read_bytes())
    at = whole.rindex(b"PK\x05\x06")
    whole[at + 8:at + 12] = b"\xff\xff\xff\xff"
    refused(bytes(whole), path, tmp_path)


@pytest.mark.parametrize("line", [
    "CREATE TRIGGER t AFTER INSERT ON log BEGIN DELETE FROM log; END",
    "CREATE VIEW v AS SELECT 1", "CREATE TABLE more (x)", "CREATE INDEX more ON log (dev)",
    "CREATE VIRTUAL TABLE more USING fts5(x)", "DROP TABLE failure",
    "ALTER TABLE locker ADD COLUMN more TEXT", "ALTER TABLE alembic_version RENAME TO x",
    "DELETE FROM alembic_version",
    "UPDATE log SET raw = replace(raw, 'Port', 'Star') WHERE seq = 2",
    "UPDATE log SET raw = 'x' WHERE seq = 2", "UPDATE log SET raw = '[]' WHERE seq = 2",
    "DELETE FROM log WHERE seq = 1", "UPDATE logbook SET head = 'x'", "DELETE FROM logbook",
    "UPDATE logbook SET last_at = 'soon'", "UPDATE logbook SET key = x'00'",
    "UPDATE locker SET name = 'Another'", "DELETE FROM locker"])
def test_a_store_with_anything_in_it_that_we_did_not_write_is_refused(
        backup, path, tmp_path, line):
    data, manifest = parts(backup)
    altered = changed(data, tmp_path, line)
    assert refused(fitting(altered, manifest), path, tmp_path).facts["member"]


@pytest.mark.parametrize("lines", [
    [f"CREATE TABLE more{n} (x)" for n in range(2000)],
    [f"CREATE TABLE more ({', '.join(f'c{n}' for n in range(1900))})"],
    ["UPDATE sqlite_master SET sql = sql || char(10) || replace(hex(zeroblob(2000000)), '0', ' ') "
     "WHERE name = 'log'"]], ids=["many tables", "many columns", "a long text"])
def test_a_store_with_a_huge_schema_is_refused(backup, path, tmp_path, lines):
    data, manifest = parts(backup)
    altered = changed(data, tmp_path, "BEGIN", *lines, "COMMIT")
    assert refused(fitting(altered, manifest), path, tmp_path).facts["member"]


def test_a_foreign_trigger_or_view_is_never_run(backup, path, tmp_path, monkeypatch):
    """What is looked at is opened for reading only, and its schema is not trusted."""
    said = []
    connect = sqlite3.connect

    def watched(address, *args, **kwargs):
        connection = connect(address, *args, **kwargs)
        connection.set_trace_callback(lambda line: said.append((str(address), line)))
        return connection

    monkeypatch.setattr("spares.db.copy_check.sqlite3.connect", watched)
    data, manifest = parts(backup)
    altered = changed(data, tmp_path, "CREATE TRIGGER t AFTER INSERT ON log BEGIN DELETE FROM "
                      "log; END", "CREATE VIEW v AS SELECT * FROM log")
    refused(fitting(altered, manifest), path, tmp_path)
    looked = [(address, line) for address, line in said if "immutable=1" in address]
    assert looked[0][1] == "PRAGMA trusted_schema=OFF"
    assert {"mode=ro" in address for address, _ in looked} == {True}
    assert not [line for _, line in looked if not line.startswith(("PRAGMA", "SELECT"))]


def test_a_backup_of_a_newer_version_asks_for_the_newer_program(backup, path, tmp_path):
    data, manifest = parts(backup)
    newer = changed(data, tmp_path, "UPDATE alembic_version SET version_num = '9999'")
    told = refused(fitting(newer, manifest, schema="9999"), path, tmp_path, UpgradeFailed)
    assert "newer program" in told.detail


def test_a_backup_of_an_older_version_is_brought_up(backup, tmp_path):
    older, new = tmp_path / "older.sqlite", tmp_path / "new.sqlite"
    data, manifest = parts(backup)
    new.write_bytes(data)
    store = open_file(older, upgrade=False)
    bring_up(store.engine, "0001")
    store.close()
    with closing(sqlite3.connect(older, isolation_level=None)) as connection:
        connection.execute("ATTACH ? AS new", (str(new),))
        for (table,) in connection.execute(
                "SELECT name FROM main.sqlite_master WHERE type = 'table'").fetchall():
            if table not in ("alembic_version", "held", "refused"):
                names = ", ".join(f'"{row[1]}"' for row in connection.execute(
                    f"PRAGMA main.table_info({table})"))
                connection.execute(f"INSERT INTO main.{table} ({names}) "
                                   f"SELECT {names} FROM new.{table}")
        connection.execute("UPDATE main.device SET dev = 'server00'")   # its only one, then
        connection.execute("PRAGMA main.journal_mode=DELETE")
    target = tmp_path / "back.sqlite"
    (tmp_path / "older.zip").write_bytes(fitting(older.read_bytes(), manifest, schema="0001"))
    restore_to(tmp_path / "older.zip", target, NOW)
    assert said(target) == said(new)


def test_what_came_after_the_backup_is_told_and_kept_beside_as_a_backup(
        backup, store, write, tmp_path):
    write(setting(LOCKER, name="Starboard shelf"))
    store.close()
    then, now = said(store.path), None
    looked = restore_to(backup, store.path, NOW, look=True)
    assert looked["lost"] == {VESSEL: 1} and looked["kept"] is None
    assert said(store.path) == then
    answer = restore_to(backup, store.path, NOW)
    assert answer["lost"] == {VESSEL: 1}
    now = said(store.path)
    assert now[0][0] == 2 and "Port shelf" in str(now[1]["locker"])
    restore_to(answer["kept"], tmp_path / "kept.sqlite", NOW)
    assert said(tmp_path / "kept.sqlite") == then


@pytest.mark.sqlite
def test_no_foreign_write_ahead_log_is_left_beside_the_new_store(backup, store, write):
    write(setting(LOCKER, name="Starboard shelf"))
    store.close()
    wal = store.path.with_name(store.path.name + "-wal")
    with closing(sqlite3.connect(store.path, isolation_level=None)) as other:
        other.execute("PRAGMA wal_autocheckpoint=0")
        other.execute("UPDATE vessel SET about = about")
        stale = wal.read_bytes()
    wal.write_bytes(stale)          # what a killed program leaves
    restore_to(backup, store.path, NOW)
    assert not wal.exists()
    assert "Port shelf" in str(said(store.path)[1]["locker"])


def test_the_log_goes_on_in_a_new_epoch_that_knows_the_old_one(backup, store, tmp_path):
    with store.reading() as session:
        ((old, _),) = epochs(session, VESSEL)
    store.close()
    for ended in ([(old, 2)], [(old, 2)]):      # the same backup twice: the same beginning
        restore_to(backup, store.path, NOW)
        again = open_store(store.path)
        with again.reading() as session:
            *past, (present, last) = epochs(session, VESSEL)
        again.close()
        assert past == ended and last is None and present != old
    reopened = open_store(store.path)
    with reopened.writing() as session:
        submit(session, VESSEL, [setting(LOCKER, name="After")], wall_ms=WALL_MS)
        begin_epoch(session, VESSEL)
    with reopened.reading() as session:
        assert [last for _, last in epochs(session, VESSEL)] == [2, 3, None]
    reopened.close()


@pytest.mark.sqlite
@pytest.mark.parametrize("content", [b"not a store", b"SQLite format 3\0" + bytes(4000)])
def test_a_damaged_store_is_set_aside_as_it_is(backup, path, content):
    path.write_bytes(content)
    answer = restore_to(backup, path, NOW)
    assert answer["damaged"] is True
    assert answer["kept"].read_bytes() == content
    assert "Port shelf" in str(said(path)[1]["locker"])


@pytest.mark.sqlite
def test_a_store_that_opens_but_does_not_hold_is_set_aside_as_it_is(backup, path):
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("PRAGMA journal_mode=DELETE")
        other.execute("UPDATE log SET raw = '{}' WHERE seq = 1")
    before = path.read_bytes()
    answer = restore_to(backup, path, NOW)
    assert answer["kept"].name.startswith(f"{path.name}.damaged-20270315-180500")
    with closing(sqlite3.connect(answer["kept"])) as kept:
        assert kept.execute("SELECT raw FROM log WHERE seq = 1").fetchone() == ("{}",)
    assert len(before) == answer["kept"].stat().st_size
    assert "Port shelf" in str(said(path)[1]["locker"])


def test_a_vessel_that_is_not_in_the_backup_is_never_lost(backup, store, tmp_path):
    with store.writing() as session:
        found_vessel(session, OTHER)
        submit(session, OTHER, [setting(f"vessel/{OTHER}", mark="OTH", name="Other")],
               wall_ms=WALL_MS)
    store.close()
    told = refused(backup.read_bytes(), store.path, tmp_path, Conflict)
    assert told.facts["vessels"] == [OTHER]


@pytest.mark.sqlite         # of a database others may have it open
def test_a_store_that_somebody_has_open_is_left_alone(backup, path, tmp_path, monkeypatch):
    monkeypatch.setattr("spares.db.restore.WAIT_S", 0.1)
    with closing(sqlite3.connect(path, isolation_level=None)) as other:
        other.execute("BEGIN")
        other.execute("SELECT count(*) FROM log").fetchone()
        before = path.read_bytes()
        with pytest.raises(StoreBusy):
            restore_to(backup, path, NOW)
        assert path.read_bytes() == before


def test_an_empty_store_is_replaced_without_more_ado(backup, tmp_path):
    target = tmp_path / "empty.sqlite"
    open_store(target).close()
    answer = restore_to(backup, target, NOW)
    assert (answer["kept"], answer["lost"]) == (None, {})
    assert "Port shelf" in str(said(target)[1]["locker"])
