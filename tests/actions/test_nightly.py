"""The server's own backups: one a day, few kept, and the age of the last one told."""

from __future__ import annotations

import os
import stat
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from spares.actions.backup import backup, last_backup
from spares.actions.nightly import age, back_up_if_due, made_in
from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.domain.draft import setting

VESSEL = "00000000-0000-4000-8000-0000000000aa"
NOW = datetime(2027, 3, 15, 2, 30).astimezone()


@pytest.fixture
def store(tmp_path: Path):
    opened = open_store(tmp_path / "store.sqlite")
    with opened.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe")],
               wall_ms=1)
    yield opened
    opened.close()


def names(store: Store) -> list[str]:
    return sorted(path.name for path in (store.path.parent / "backups").iterdir())


def test_one_is_made_a_day_and_not_more(store):
    assert back_up_if_due(store, NOW) is not None
    assert back_up_if_due(store, NOW + timedelta(hours=23)) is None
    assert back_up_if_due(store, NOW + timedelta(hours=24)) is not None
    assert names(store) == ["spares-TGL-20270315-023000.zip", "spares-TGL-20270316-023000.zip"]


def test_old_ones_go_by_the_rule_and_other_files_stay(store):
    folder = store.path.parent / "backups"
    folder.mkdir()
    for day in range(1, 60):
        made = NOW - timedelta(days=day)
        (folder / f"spares-TGL-{made:%Y%m%d-%H%M%S}.zip").write_bytes(b"old")
    (folder / "spares-kept-by-hand.zip").write_bytes(b"mine")
    back_up_if_due(store, NOW)
    assert "spares-kept-by-hand.zip" in names(store)
    assert "spares-TGL-20270315-023000.zip" in names(store)
    # 7 days, of 4 weeks one more than the days hold twice (7 March, 28 Feb.), January's last.
    assert len(made_in(folder)) == 10


def test_a_clock_that_was_ahead_stops_no_backup(store):
    folder = store.path.parent / "backups"
    folder.mkdir()
    (folder / "spares-TGL-20990101-000000.zip").write_bytes(b"of the future")
    assert back_up_if_due(store, NOW) is not None


def test_another_store_in_the_folder_takes_no_backup_from_this_one(store, tmp_path):
    other, hers = open_store(tmp_path / "other.sqlite"), VESSEL.replace("aa", "bb")
    with other.writing() as session:
        found_vessel(session, hers)
        submit(session, hers, [setting(f"vessel/{hers}", mark="HRE", name="Hestereje")], wall_ms=1)
    folder = store.path.parent / "backups"
    folder.mkdir()
    for days in range(1, 8):
        made = NOW - timedelta(days=days)
        (folder / f"spares-TGL-{made:%Y%m%d-%H%M%S}.zip").write_bytes(b"old")
    assert back_up_if_due(other, NOW + timedelta(minutes=1)) is not None
    assert len(names(store)) == 8       # by one rule for both TGL's oldest would go
    assert back_up_if_due(store, NOW + timedelta(minutes=2)) is not None
    other.close()


def test_failed_backup_leaves_the_older_ones(store, monkeypatch):
    back_up_if_due(store, NOW)
    monkeypatch.setattr("spares.actions.nightly.backup",
                        lambda *_: (_ for _ in ()).throw(OSError("no disk")))
    with pytest.raises(OSError, match="no disk"):
        back_up_if_due(store, NOW + timedelta(days=2))
    assert names(store) == ["spares-TGL-20270315-023000.zip"]


def test_age_of_the_last_backup_counts_days_and_changes_since(store, tmp_path):
    assert age(store, VESSEL, 1, NOW.date()) is None
    backup(store, tmp_path / "by-hand.zip", NOW)
    told = age(store, VESSEL, 4, (NOW + timedelta(days=5)).date())
    assert told["days_ago"] == 5 and told["changes_since"] == 3
    assert told["file"] == str(tmp_path / "by-hand.zip")


def test_damaged_note_counts_as_none(store, tmp_path):
    backup(store, tmp_path / "by-hand.zip", NOW)
    note = store.path.with_name("store.sqlite.last-backup")
    assert last_backup(store) is not None and os.path.getsize(note) < 1000
    assert stat.S_IMODE(note.stat().st_mode) == 0o600       # it says where they lie
    for text in ("", "[]", '{"made": 1}', '{"made": "x", "file": "y", "seq": []}'):
        note.write_text(text)
        assert last_backup(store) is None
