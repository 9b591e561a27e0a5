"""A backup holds the photos, and putting one back brings them and takes none away."""

from __future__ import annotations

import hashlib
import shutil
import zipfile
from datetime import UTC, datetime

import pytest

from spares.db.backup import make_backup
from spares.db.door import found_vessel, submit
from spares.db.engine import open_store
from spares.db.photo_files import photo_files
from spares.domain.draft import Draft, setting
from spares.errors import DiskFull, InvalidInput
from tests import postgresql
from tests.db.test_backup import LOCKER
from tests.stores import heads_of, restore_to

VESSEL = "00000000-0000-4000-8000-0000000000aa"
NOW = datetime(2027, 3, 15, 12, tzinfo=UTC)
HERE, ROTTEN = b"one picture", b"another picture"
AWAY = "c" * 64


def sha(data: bytes) -> str:
    return hashlib.sha256(data).hexdigest()


def came(store, data: bytes) -> None:
    files = photo_files(store)
    files.add(sha(data), "here", 0, data)
    files.taken(sha(data), "here")
    files.keep(sha(data), "here")


@pytest.fixture
def store(tmp_path):
    """A store that names three photos: one is here, one rotted, one never came."""
    opened = open_store(tmp_path / "spares.sqlite")
    with opened.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [
            setting(f"vessel/{VESSEL}", mark="TST", name="Test hull"),
            setting(LOCKER, no="L01", name="Port shelf"),
            *(Draft("photo", {"doc": LOCKER, "sha256": one, "bytes": 9, "mime": "image/png"})
              for one in (sha(HERE), sha(ROTTEN), AWAY))], wall_ms=1_800_000_000_000)
    came(opened, HERE)
    came(opened, ROTTEN)
    (photo_files(opened).folder / sha(ROTTEN)).write_bytes(b"something else")
    yield opened
    opened.close()


@pytest.fixture
def made(store, tmp_path):
    make_backup(store, tmp_path / "ours.zip", NOW)
    return tmp_path / "ours.zip"


def test_the_file_holds_whole_photos_and_says_how_many_are_not_inside(store, tmp_path):
    manifest = make_backup(store, tmp_path / "ours.zip", NOW)
    with zipfile.ZipFile(tmp_path / "ours.zip") as archive:
        assert archive.namelist() == ["data.sqlite", f"photos/{sha(HERE)}", "manifest.json"]
        assert archive.read(f"photos/{sha(HERE)}") == HERE
    assert manifest["photos_not_inside"] == 2


def test_an_empty_place_gets_the_photos_back(made, tmp_path):
    target = tmp_path / "elsewhere.sqlite"
    restore_to(made, target, NOW)
    opened = open_store(target)
    try:
        assert photo_files(opened).read(sha(HERE)) == HERE
        assert photo_files(opened).names() == [sha(HERE)]
    finally:
        opened.close()


def test_photos_that_came_after_the_backup_stay_and_rotten_ones_are_mended(made, store):
    folder, late = photo_files(store).folder, b"taken later"
    came(store, late)
    (folder / sha(HERE)).write_bytes(b"rotten by now")
    store.close()
    restore_to(made, store.path, NOW)
    assert (folder / sha(HERE)).read_bytes() == HERE
    assert (folder / sha(late)).read_bytes() == late


def test_only_looking_brings_no_photos(made, tmp_path):
    restore_to(made, tmp_path / "elsewhere.sqlite", NOW, look=True)
    assert not (tmp_path / "elsewhere.sqlite.photos").exists()


def test_a_bit_changed_in_a_photo_is_noticed(made, tmp_path):
    content = bytearray(made.read_bytes())
    content[content.index(HERE) + 3] ^= 1
    made.write_bytes(content)
    with pytest.raises(InvalidInput) as told:
        restore_to(made, tmp_path / "elsewhere.sqlite", NOW)
    assert told.value.facts["member"] == f"photos/{sha(HERE)}"
    if postgresql.in_use():         # there is a database before anything is put into it
        assert heads_of(tmp_path / "elsewhere.sqlite") == {}
    else:
        assert not (tmp_path / "elsewhere.sqlite").exists()


def test_a_disk_that_fills_while_a_photo_is_kept_leaves_no_photo(store, monkeypatch):
    files, data = photo_files(store), b"half a picture"
    files.add(sha(data), "here", 0, data)

    def full(descriptor: int) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("spares.db.photo_files.os.fsync", full)
    with pytest.raises(DiskFull):
        files.keep(sha(data), "here")
    assert not files.has(sha(data))


def test_pieces_that_nobody_went_on_with_are_thrown_away(store, monkeypatch):
    files = photo_files(store)
    files.add(sha(b"left"), "here", 0, b"le")
    assert files.came(sha(b"left"), "here") == 2
    week = 8 * 86_400
    from time import time
    later = time() + week
    monkeypatch.setattr("spares.db.photo_files.time.time", lambda: later)
    files.add(sha(b"next"), "here", 0, b"ne")
    assert files.came(sha(b"left"), "here") == 0


def test_a_copied_store_without_its_photos_still_opens(store, tmp_path):
    copy = open_store(shutil.copy(store.path, tmp_path / "copy.sqlite"))
    try:
        assert photo_files(copy).names() == []
    finally:
        copy.close()
