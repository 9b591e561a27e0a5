"""Backup and restore as verbs: names, what is told, what is refused before anything happens."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import pytest

from spares.actions.backup import backup, restore
from spares.actions.context import open_context
from spares.actions.took import took
from spares.config import read_settings
from spares.db.engine import open_store
from spares.errors import InvalidInput, NotFound, StoreBusy

NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)


def settings_of(path):
    return read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": "2027-03-15"})


@pytest.mark.sqlite         # of a database tests/db/test_moved_store.py tells the same
def test_what_was_taken_after_the_backup_is_back_in_the_locker(ctx, tmp_path):
    before = backup(ctx.store, tmp_path / "ours.zip", NOW)
    took(ctx, "P05", "L01")
    ctx.store.close()
    answer = restore(settings_of(ctx.store.path), tmp_path / "ours.zip", now=NOW)
    (vessel,) = answer["vessels"]
    assert (vessel["mark"], vessel["only_here"]) == ("TST", 1)
    assert vessel["changes"] == before["vessels"][0]["changes"]
    again = open_context(settings_of(ctx.store.path))
    lying = again.aboard().lying_of[again.named("P05", "part", "part")]
    assert [one.quantity for one in lying] == [4000]        # as stock.csv says
    again.store.close()
    assert Path(answer["kept"]).exists()


def test_changes_go_on_after_a_restore_and_it_can_be_backed_up_again(ctx, tmp_path):
    backup(ctx.store, tmp_path / "one.zip", NOW)
    ctx.store.close()
    restore(settings_of(ctx.store.path), tmp_path / "one.zip", now=NOW)
    again = open_context(settings_of(ctx.store.path))
    took(again, "P05", "L01")
    backup(again.store, tmp_path / "two.zip", NOW)
    again.store.close()
    answer = restore(settings_of(tmp_path / "elsewhere.sqlite"), tmp_path / "two.zip", now=NOW)
    assert answer["kept"] is None


def test_in_a_folder_the_backup_is_named_by_vessel_and_day(ctx, tmp_path):
    answer = backup(ctx.store, tmp_path, NOW)
    assert Path(answer["file"]).name == "spares-TST-20270315-180500.zip"
    assert answer["size"] == Path(answer["file"]).stat().st_size


def test_an_empty_store_has_nothing_to_back_up(tmp_path):
    store = open_store(tmp_path / "empty.sqlite")
    with pytest.raises(NotFound):
        backup(store, tmp_path / "ours.zip", NOW)
    store.close()
    assert not (tmp_path / "ours.zip").exists()


@pytest.mark.parametrize("name", ["nowhere/ours.zip", "a\0b.zip", "x" * 300])
def test_a_name_that_cannot_be_is_told_as_such(ctx, tmp_path, name):
    before = sorted(tmp_path.iterdir())
    with pytest.raises(InvalidInput) as told:
        backup(ctx.store, tmp_path / name, NOW)
    assert told.value.facts["errors"][0]["pointer"] == "#/file"
    assert sorted(tmp_path.iterdir()) == before


def test_a_database_that_nobody_serves_is_said_to_be_away(ctx, tmp_path):
    backup(ctx.store, tmp_path / "ours.zip", NOW)
    away = settings_of("postgresql://127.0.0.1:1/spares")       # port 1: nobody listens
    with pytest.raises(StoreBusy, match="does not answer"):
        restore(away, tmp_path / "ours.zip", now=NOW)
