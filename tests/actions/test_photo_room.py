"""Bytes of photos stay as long as anything may show them, and then they go."""

from __future__ import annotations

import hashlib
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from spares.actions.backup import backup, restore
from spares.actions.nightly import back_up_if_due
from spares.actions.photo_room import make_room
from spares.actions.photos import photo, photo_bytes, photos, take_piece
from spares.actions.undo import undo
from spares.config import read_settings
from spares.db.backup import make_backup
from spares.db.engine import open_store
from spares.db.photo_files import photo_files
from tests.actions.test_photo_faults import named, picture

DAY_MS = 86_400_000
DATA = picture(30)
SHA = hashlib.sha256(DATA).hexdigest()


def now_ms() -> int:
    return time.time_ns() // 1_000_000


def there(ctx) -> list[str]:
    return photo_files(ctx.store).names()


@pytest.fixture
def removed(ctx):
    """A vessel of which one photo was taken and removed, and another stands."""
    change = photo(ctx, "P03", SHA, len(DATA), "image/png")["change"]
    take_piece(ctx, SHA, 0, len(DATA), DATA)
    named(ctx, "ENG", picture(31))
    undo(ctx, change)
    return ctx


def test_bytes_that_nothing_names_for_ninety_days_are_deleted_and_no_others(ctx):
    kept, orphan = named(ctx, "P03", picture(5)), named(ctx, "", picture(6))
    came_ms = int((photo_files(ctx.store).folder / orphan).stat().st_mtime * 1000)
    assert make_room(ctx.store, came_ms + 90 * DAY_MS - 60_000) == 0
    assert make_room(ctx.store, came_ms + 90 * DAY_MS + 60_000) == 1
    assert there(ctx) == [kept]


def test_bytes_of_a_removed_photo_go_ninety_days_later(removed):
    assert make_room(removed.store, now_ms() + 89 * DAY_MS) == 0 and SHA in there(removed)
    assert make_room(removed.store, now_ms() + 91 * DAY_MS) == 1 and SHA not in there(removed)
    assert len(there(removed)) == 1 and photos(removed, "ENG")["photos"][0]["here"]


def test_bytes_that_another_photo_names_stay(removed):
    photo(removed, "L01", SHA, len(DATA), "image/png")
    assert make_room(removed.store, now_ms() + 900 * DAY_MS) == 0 and SHA in there(removed)


def test_a_photo_named_again_after_its_bytes_went_is_sent_again(removed):
    make_room(removed.store, now_ms() + 91 * DAY_MS)
    photo(removed, "L01", SHA, len(DATA), "image/png")
    assert not photos(removed, "L01")["photos"][0]["here"]
    take_piece(removed, SHA, 0, len(DATA), DATA)
    assert photo_bytes(removed, SHA)[0] == DATA


def test_a_backup_that_has_the_bytes_brings_them_back_with_the_photo(ctx, tmp_path):
    change = photo(ctx, "P03", SHA, len(DATA), "image/png")["change"]
    take_piece(ctx, SHA, 0, len(DATA), DATA)
    file = Path(backup(ctx.store, tmp_path / "ours.zip")["file"])
    undo(ctx, change)
    assert make_room(ctx.store, now_ms() + 91 * DAY_MS) == 1 and there(ctx) == []
    ctx.store.close()
    restore(read_settings({"SPARES_STORE": str(ctx.store.path)}), file)
    again = open_store(ctx.store.path)
    assert photo_files(again).read(SHA) == DATA
    again.close()


def test_the_copy_before_an_upgrade_keeps_the_bytes_that_it_shows(ctx):
    """It is a backup without photos: put back, it would show one whose bytes are nowhere."""
    path = ctx.store.path
    copy = path.with_name(f"{path.name}.before-upgrade-20200101-120000.zip")
    change = photo(ctx, "P03", SHA, len(DATA), "image/png")["change"]
    take_piece(ctx, SHA, 0, len(DATA), DATA)
    make_backup(ctx.store, copy, datetime.now(UTC), with_photos=False)
    undo(ctx, change)
    assert make_room(ctx.store, now_ms() + 91 * DAY_MS) == 0 and there(ctx) == [SHA]
    copy.unlink()
    assert make_room(ctx.store, now_ms() + 91 * DAY_MS) == 1


def test_a_backup_that_shows_the_photo_without_its_bytes_keeps_them(ctx):
    """The backup is older than the bytes: they came from a phone afterwards."""
    change = photo(ctx, "P03", SHA, len(DATA), "image/png")["change"]
    back_up_if_due(ctx.store, datetime.now().astimezone())
    take_piece(ctx, SHA, 0, len(DATA), DATA)
    undo(ctx, change)
    assert make_room(ctx.store, now_ms() + 400 * DAY_MS) == 0 and SHA in there(ctx)
    for one in (ctx.store.path.parent / "backups").iterdir():
        one.unlink()
    assert make_room(ctx.store, now_ms() + 400 * DAY_MS) == 1 and there(ctx) == []


def test_a_backup_made_after_the_removal_needs_nothing(removed):
    backup(removed.store, removed.store.path.parent, datetime.now(UTC) + timedelta(days=1))
    assert make_room(removed.store, now_ms() + 91 * DAY_MS) == 1


def test_a_backup_that_cannot_be_read_counts_as_one_that_has_no_bytes(removed):
    folder = removed.store.path.parent / "backups"
    folder.mkdir()
    (folder / "spares-TST-20200101-120000.zip").write_bytes(b"no archive")
    assert make_room(removed.store, now_ms() + 91 * DAY_MS) == 0 and SHA in there(removed)
