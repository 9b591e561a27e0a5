"""A backup holds everything; one that is not as it was written is refused, bit by bit."""

from __future__ import annotations

import errno
import random
import sqlite3
import stat
import zipfile
from contextlib import closing
from datetime import UTC, datetime

import pytest
from sqlalchemy import text

from spares.db import backup as backup_module
from spares.db.backup import make_backup
from spares.db.chain import check_chain
from spares.db.dump import logical_dump
from spares.db.engine import open_store
from spares.db.find import head_of
from spares.domain.draft import setting
from spares.errors import DiskFull, InvalidInput, StoreDamaged
from tests.backups import parts
from tests.conftest import LONG
from tests.db.conftest import VESSEL
from tests.stores import as_before, restore_to

NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)
LOCKER = "locker/22222222-2222-4222-8222-222222222222"
FLIPS = 1000 if LONG else 150


def said(path):
    """All that the tables of a store say, and where its log ends."""
    store = open_store(path)
    try:
        with store.reading() as session:
            check_chain(session, VESSEL)
            return head_of(session, VESSEL), logical_dump(session, VESSEL)
    finally:
        store.close()


@pytest.fixture
def made(store, write, tmp_path):
    """A backup of a store with two changes."""
    write(setting(LOCKER, no="L01", name="Port shelf"))
    target = tmp_path / "ours.zip"
    make_backup(store, target, NOW)
    return target


def test_a_backup_restores_on_an_empty_machine_to_the_same_head_and_tables(made, store, tmp_path):
    elsewhere = tmp_path / "new" / "machine.sqlite"
    answer = restore_to(made, elsewhere, NOW)
    assert (answer["kept"], answer["damaged"]) == (None, False)
    assert said(elsewhere) == said(store.path)
    assert sorted(path.name for path in elsewhere.parent.iterdir()
                  if not path.name.endswith(("-wal", "-shm"))) == ["machine.sqlite"]


def test_a_backup_is_a_zip_and_a_sqlite_file_that_any_program_reads(made, tmp_path):
    with zipfile.ZipFile(made) as opened:
        assert opened.testzip() is None
        assert opened.namelist() == ["data.sqlite", "manifest.json"]
        opened.extract("data.sqlite", tmp_path)
    with closing(sqlite3.connect(tmp_path / "data.sqlite")) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        assert connection.execute("SELECT name FROM locker").fetchall() == [("Port shelf",)]


def test_a_backup_says_what_is_in_it_and_is_its_owners_alone(made, store):
    _, manifest = parts(made)
    (vessel,) = manifest["vessels"]
    assert (manifest["made"], vessel["mark"], vessel["seq"]) == ("2027-03-15T18:05:00Z", "TST", 2)
    with store.reading() as session:
        assert (vessel["seq"], vessel["head"]) == head_of(session, VESSEL)
    assert stat.S_IMODE(made.stat().st_mode) == 0o600


def test_a_backup_holds_one_state_while_somebody_is_writing(store, write, tmp_path):
    other = open_store(store.path)
    with pytest.raises(RuntimeError), other.writing() as session:
        session.execute(text("UPDATE vessel SET name = 'half way'"))
        make_backup(store, tmp_path / "ours.zip", NOW)
        raise RuntimeError
    other.close()
    restore_to(tmp_path / "ours.zip", tmp_path / "back.sqlite", NOW)
    assert said(tmp_path / "back.sqlite") == said(store.path)


def test_a_backup_never_overwrites_a_file(made, store):
    before = made.read_bytes()
    with pytest.raises(InvalidInput, match="there already"):
        make_backup(store, made, NOW)
    assert made.read_bytes() == before


@pytest.mark.parametrize("line", [
    "UPDATE log SET raw = replace(raw, 'Port', 'Star') WHERE seq = 2",
    "DELETE FROM log WHERE seq = 2", "UPDATE locker SET name = 'Another'",
    "UPDATE logbook SET key = :key",
    "UPDATE logbook SET epoch = 'x'"])
def test_a_store_that_does_not_hold_is_not_backed_up(store, write, tmp_path, line):
    write(setting(LOCKER, no="L01", name="Port shelf"))
    with store.writing() as session:
        session.execute(text(line), {"key": bytes(32)})
    with pytest.raises(StoreDamaged, match="earlier backup"):
        make_backup(store, tmp_path / "ours.zip", NOW)
    assert not (tmp_path / "ours.zip").exists()


def test_a_full_disk_leaves_nothing_behind(store, tmp_path, monkeypatch):
    def full(*_):
        raise OSError(errno.ENOSPC, "No space left on device")
    monkeypatch.setattr(backup_module, "sync_file", full)
    folder = tmp_path / "stick"
    folder.mkdir()
    with pytest.raises(DiskFull):
        make_backup(store, folder / "ours.zip", NOW)
    assert list(folder.iterdir()) == []


def test_a_backup_that_cannot_be_read_back_gets_no_name(store, tmp_path, monkeypatch):
    monkeypatch.setattr(backup_module, "unpack_backup", lambda *_: {"another": 1})
    folder = tmp_path / "stick"
    folder.mkdir()
    with pytest.raises(StoreDamaged, match="read back"):
        make_backup(store, folder / "ours.zip", NOW)
    assert list(folder.iterdir()) == []


def _refused(damaged, path):
    before = path.read_bytes()
    with pytest.raises(InvalidInput) as told:
        restore_to(damaged, path, NOW)
    assert told.value.facts["errors"][0]["pointer"] == "#/file"
    assert path.read_bytes() == before


def test_one_changed_bit_anywhere_is_refused(made, store, tmp_path):
    store.close()
    whole, chance = made.read_bytes(), random.Random(8)
    ends = [*range(60), *range(len(whole) - 400, len(whole))]     # headers, end record, seal
    places = [*chance.sample(ends, 120), *(chance.randrange(len(whole)) for _ in range(FLIPS))]
    damaged = tmp_path / "damaged.zip"
    with as_before(store.path):
        for place in places:
            flipped = bytearray(whole)
            flipped[place] ^= 1 << chance.randrange(8)
            damaged.write_bytes(flipped)
            _refused(damaged, store.path)


@pytest.mark.parametrize("keep", [0, 1, 21, 22, 92, 93, 0.5, -1, -93, -94, -500])
def test_a_file_that_was_cut_short_is_refused(made, store, tmp_path, keep):
    store.close()
    whole = made.read_bytes()
    end = int(len(whole) * keep) if isinstance(keep, float) else keep
    (tmp_path / "cut.zip").write_bytes(whole[:end])
    with as_before(store.path):
        _refused(tmp_path / "cut.zip", store.path)


@pytest.mark.parametrize(("before", "after"), [(b"x", b""), (b"", b"x"), (b"PK\x03\x04", b"")])
def test_a_file_with_something_added_is_refused(made, store, tmp_path, before, after):
    store.close()
    (tmp_path / "longer.zip").write_bytes(before + made.read_bytes() + after)
    with as_before(store.path):
        _refused(tmp_path / "longer.zip", store.path)
