"""A store is moved from one kind to the other, both ways, by a backup that is put back."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import select

from spares.actions.backup import backup, restore
from spares.actions.check import check
from spares.actions.context import open_context
from spares.config import Settings, read_settings
from spares.db.devices import pair
from spares.db.door import found_vessel, submit
from spares.db.dump import logical_dump
from spares.db.engine import Store, open_store
from spares.db.find import head_of, parts_by_words, vessels
from spares.db.logbook import epochs
from spares.db.photo_files import photo_files
from spares.db.tables import Device, LogEntry
from spares.domain.draft import setting
from spares.domain.stock import fold
from spares.errors import Conflict
from spares.sync.change import read_envelope
from spares.sync.store import entries_of
from tests import postgresql
from tests.db.conftest import VESSEL
from tests.stores import make_demo

NOW = datetime(2027, 3, 15, 12, tzinfo=UTC)
PHOTO = b"not a picture, and bytes all the same"
pytestmark = pytest.mark.skipif(postgresql.programs() is None, reason=postgresql.MISSING)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Settings]:
    """An empty store in a database, with a folder beside it."""
    databases = postgresql.databases()
    server, name = databases.server, databases.server.make(databases.new)
    yield read_settings({"SPARES_STORE": server.address(name),
                         "SPARES_FOLDER": str(tmp_path / "office")})
    server.drop(name)


@pytest.fixture
def aboard(tmp_path: Path) -> Settings:
    """The demo in a file, with a phone and a photo."""
    (tmp_path / "aboard").mkdir()
    settings = read_settings({"SPARES_STORE": str(make_demo(tmp_path / "aboard"))})
    store = open_store(settings.store)
    with store.writing() as session:
        pair(session, vessels(session)[0][0], "a-token", name="phone", role="crew", now_ms=7)
    files = photo_files(store)
    files.folder.mkdir()
    (files.folder / hashlib.sha256(PHOTO).hexdigest()).write_bytes(PHOTO)
    store.close()
    return settings


@pytest.fixture
def made(store: Store, tmp_path: Path) -> Path:
    """A backup of a small vessel."""
    backup(store, tmp_path / "one.zip", NOW)
    return tmp_path / "one.zip"


def all_of(settings: Settings) -> dict[str, Any]:
    """Give what a store holds: heads, documents, devices, photos, and the fold of each log."""
    store = open_store(settings.store, beside=settings.beside)
    try:
        with store.reading() as session:
            told = {mark: {"head": head_of(session, vessel), "folded": _folded(session, vessel),
                           "tables": logical_dump(session, vessel),
                           "found": parts_by_words(session, vessel, "impel", 9)}
                    for vessel, mark in vessels(session)}
            phones = sorted((row.name, row.token_hash, row.role, row.paired_ms) for row in
                            session.execute(select(Device)).scalars() if row.token_hash)
        return {**told, "phones": phones, "photos": photo_files(store).names()}
    finally:
        store.close()


def _folded(session: Any, vessel: str) -> dict[Any, Any]:
    rows = [(row.seq, read_envelope(row.raw)) for row in session.execute(select(LogEntry).where(
        LogEntry.vessel == vessel).order_by(LogEntry.seq)).scalars()]
    assert len(rows) == head_of(session, vessel)[0]
    return fold(entries_of(rows, epochs(session, vessel)))


@pytest.mark.slow
def test_a_store_is_moved_into_a_database_and_back_without_loss(
        aboard: Settings, office: Settings, tmp_path: Path) -> None:
    before = all_of(aboard)
    assert before["TGL"]["folded"] and before["phones"] and before["photos"]
    put = open_store(aboard.store)
    backup(put, tmp_path / "to office.zip", NOW)
    put.close()
    told = restore(office, tmp_path / "to office.zip", now=NOW)
    assert [one["changes"] for one in told["vessels"]]
    assert all_of(office) == before
    context = open_context(office, "TGL")
    assert check(context, rebuild=True)["differences"] == []
    file = backup(context.store, tmp_path, NOW)["file"]
    context.store.close()
    back = read_settings({"SPARES_STORE": str(tmp_path / "back" / "spares.sqlite")})
    restore(back, Path(file), now=NOW)
    assert all_of(back) == before
    again = open_context(back, "TGL")
    assert check(again, rebuild=True)["differences"] == []
    again.store.close()


@pytest.mark.slow
def test_what_a_database_holds_is_kept_beside_it_before_it_is_replaced(
        made: Path, office: Settings, tmp_path: Path) -> None:
    restore(office, made, now=NOW)
    store = open_store(office.store, beside=office.beside)
    with store.writing() as session:
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", about="written since")], wall_ms=0)
    now = all_of(office)
    looked = restore(office, made, look=True, now=NOW)
    assert [one["only_here"] for one in looked["vessels"]] == [1]
    assert all_of(office) == now
    told = restore(office, made, now=NOW)
    assert all_of(office) != now
    kept = read_settings({"SPARES_STORE": str(tmp_path / "kept.sqlite")})
    restore(kept, Path(told["kept"]), now=NOW)
    assert all_of(kept) == now
    store.close()


def test_a_vessel_that_is_not_in_the_backup_is_not_lost(made: Path, office: Settings) -> None:
    store = open_store(office.store, beside=office.beside)
    with store.writing() as session:
        found_vessel(session, "33333333-3333-4333-8333-333333333333")
    store.close()
    with pytest.raises(Conflict, match="not in this backup"):
        restore(office, made, now=NOW)
