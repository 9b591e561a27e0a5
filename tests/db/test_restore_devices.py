"""Who belongs to the crew stays as it is when a backup is put back."""

from __future__ import annotations

import sqlite3
from contextlib import closing
from dataclasses import replace
from datetime import UTC, datetime

import pytest

from spares.db import devices
from spares.db.backup import make_backup
from spares.db.engine import open_store
from spares.db.tables import Device, Logbook
from spares.domain.draft import setting
from tests.db.conftest import VESSEL
from tests.stores import restore_to

NOW = datetime(2027, 3, 15, 12, tzinfo=UTC)
LOCKER = "locker/00000000-0000-4000-8000-000000000002"


@pytest.fixture
def put_back(store, write, tmp_path):
    """Back up with one paired phone, let the caller change things, put the backup back."""
    write(setting(LOCKER, name="Port shelf"))
    with store.writing() as session:
        phone = devices.pair(session, VESSEL, "a-token", name="A", role="crew", now_ms=1)
    make_backup(store, tmp_path / "backup.zip", NOW)

    def restored(meanwhile):
        with store.writing() as session:
            meanwhile(session, phone.dev)
        path = store.path
        store.close()
        restore_to(tmp_path / "backup.zip", path, NOW)
        return open_store(path)
    return restored


def test_phone_reported_lost_since_stays_lost(put_back):
    def report(session, dev):
        devices.save(session, VESSEL, replace(
            devices.device_of(session.get(Device, (VESSEL, dev))), revoked="lost", revoked_ms=9))
    back = put_back(report)
    with back.reading() as session:
        assert devices.by_token(session, "a-token").revoked == "lost"
    back.close()


@pytest.mark.sqlite
def test_phone_reported_lost_stays_lost_though_the_store_is_damaged(put_back):
    """Of a file that cannot be read whole this much is still believed."""
    def report_and_damage(session, dev):
        devices.save(session, VESSEL, replace(
            devices.device_of(session.get(Device, (VESSEL, dev))), revoked="lost", revoked_ms=9))
        session.commit()
        path = session.get_bind().url.database
        with closing(sqlite3.connect(path)) as connection:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            roots = connection.execute("SELECT rootpage FROM sqlite_master WHERE tbl_name = 'log'")
            pages, (size,) = roots.fetchall(), connection.execute("PRAGMA page_size").fetchone()
        with open(path, "r+b") as file:
            for root, in pages:
                file.seek((root - 1) * size)
                file.write(b"\xff" * size)
    back = put_back(report_and_damage)
    with back.reading() as session:
        row = devices.by_token(session, "a-token")
        assert (row.revoked, row.revoked_ms) == ("lost", 9)
    back.close()


def test_phone_paired_since_need_not_be_paired_again(put_back):
    found = []
    back = put_back(lambda session, _: found.append(devices.pair(
        session, VESSEL, "b-token", name="B", role="guest", now_ms=2).dev))
    with back.reading() as session:
        row = devices.by_token(session, "b-token")
        assert (row.dev, row.role, row.next_n) == (found[0], "guest", 1)
        book = session.get(Logbook, VESSEL)
        assert session.get(Device, (VESSEL, book.own_dev)).token_hash == ""
    back.close()


def test_rights_taken_away_since_do_not_come_back(put_back):
    def lower(session, dev):
        devices.save(session, VESSEL, replace(
            devices.device_of(session.get(Device, (VESSEL, dev))), role="guest",
            roles_before=("crew",)))
    back = put_back(lower)
    with back.reading() as session:
        row = devices.by_token(session, "a-token")
        assert (row.role, row.roles_before) == ("guest", ["crew"])
    back.close()


def test_token_stands_for_one_number_also_where_the_backup_is_the_newer_one(
        store, write, tmp_path):
    """An older state was put back first; the phone went on under another number since that."""
    write(setting(LOCKER, name="Port shelf"))
    with store.writing() as session:
        phone = devices.pair(session, VESSEL, "a-token", name="A", role="crew", now_ms=1)
    make_backup(store, tmp_path / "older.zip", NOW)
    with store.writing() as session:
        later = devices.renew(session, VESSEL, devices.device_of(
            session.get_one(Device, (VESSEL, phone.dev))))
        last = devices.renew(session, VESSEL, later)
    make_backup(store, tmp_path / "newer.zip", NOW)
    store.close()
    path = tmp_path / "copied.sqlite"       # the older file alone, as somebody copies it by hand
    for name in ("older.zip", "newer.zip"):
        restore_to(tmp_path / name, path, NOW)
    back = open_store(path)
    with back.writing() as session:
        (row, _), = devices.by_token_in_time(session, "a-token", 9)
        assert (row.dev, row.was) == (phone.dev, [later.dev, last.dev])
        assert [one.dev for one in devices.paired(session, VESSEL)] == [phone.dev]
    back.close()


def test_token_that_stands_for_two_numbers_already_is_left_to_one_of_them(put_back):
    def twice(session, dev):
        devices.renew(session, VESSEL, devices.device_of(session.get_one(Device, (VESSEL, dev))))
        session.get_one(Device, (VESSEL, dev)).token_hash = devices.hash_of("a-token")
    back = put_back(twice)
    with back.reading() as session:
        assert len(devices.by_token_in_time(session, "a-token", 9)) == 1
    back.close()
