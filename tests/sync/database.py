"""The store of the exchange in the database, used as the one in memory is in tests."""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Callable
from contextlib import closing
from pathlib import Path
from typing import Any
from uuid import UUID

from sqlalchemy import select
from sqlmodel import Session

from spares.db import devices, tables
from spares.db.carry_over import carry_over, devices_now, devices_of
from spares.db.chain import check_chain
from spares.db.door import found_vessel
from spares.db.engine import open_store
from spares.db.logbook import epochs
from spares.db.number_faults import number_faults
from spares.db.rebuild import rebuild
from spares.db.sync_store import SyncStore
from spares.domain.stock import fold
from spares.sync.change import Envelope, read_envelope
from spares.sync.exchange import answer_sync, approve, reject
from spares.sync.memory_server import MemoryServer
from spares.sync.store import Device, entries_of
from spares.sync.turn import Around


class DatabaseStore:
    """One vessel in a store; each call is a transaction, `answer` one for all of it."""

    empty: bytes | None = None      # a file that was brought up once, for all stores

    def __init__(self, vessel: str, key: bytes, folder: Path) -> None:
        self.vessel, self.key, self.folder = vessel, key, folder
        self.path, self.copies = folder / "store.sqlite", 0
        if DatabaseStore.empty is not None:
            self.path.write_bytes(DatabaseStore.empty)
        self.store = open_store(self.path)
        if DatabaseStore.empty is None:
            DatabaseStore.empty = self.backup().read_bytes()
        with self.store.writing() as session:
            found_vessel(session, vessel).key = key

    def answer(self, device: Device, request: Any, around: Around) -> dict[str, Any]:
        """Answer one request in one transaction."""
        return self.within(lambda store: answer_sync(store, device, request, around))

    def within(self, do: Callable[[SyncStore], Any]) -> Any:
        """Do something with the store in one transaction."""
        with self.store.writing() as session:
            store = SyncStore(session, self.vessel)
            done = do(store)
            store.close()
        return done

    def __getattr__(self, name: str) -> Any:
        if name == "own_dev":
            return self.within(lambda store: store.own_dev)
        return lambda *given: self.within(lambda store: getattr(store, name)(*given))

    def pair(self, token: str, role: str) -> Device:
        """Pair a device under a token."""
        with self.store.writing() as session:
            return devices.device_of(devices.pair(session, self.vessel, token, name=token,
                                                  role=role, now_ms=0))

    def device_of(self, token: str) -> Device:
        """Find the device that a token stands for; KeyError if none."""
        with self.store.reading() as session:
            row = devices.by_token(session, token)
            if row is None:
                raise KeyError(token)
            return devices.device_of(row)

    @property
    def devices(self) -> dict[str, Device]:
        """All devices by number."""
        with self.store.reading() as session:
            return {row.dev: devices.device_of(row)
                    for row in session.execute(select(tables.Device)).scalars()}

    @property
    def own_devs(self) -> list[str]:
        """The numbers that the server itself had: neither a token nor a leaver's."""
        with self.store.reading() as session:
            return [row.dev for row in session.execute(select(tables.Device)).scalars()
                    if not row.token_hash and not row.revoked]

    def lost_numbers(self) -> dict[str, list[tuple[int, int]]]:
        """Ranges of numbers that devices lost."""
        found: dict[str, list[tuple[int, int]]] = {}
        with self.store.reading() as session:
            known = session.execute(select(tables.LostRange.dev).distinct()).scalars().all()
            for dev, first, last in devices.lost_numbers(session, self.vessel, known):
                found.setdefault(dev, []).append((first, last))
        return found

    def check_tables(self) -> None:
        """See that the chain holds, and that all tables are what the log makes of them."""
        with self.store.writing() as session:
            check_chain(session, self.vessel)
            assert rebuild(session, self.vessel) == []
            assert number_faults(session, self.vessel) == []
            whole = fold(entries_of(self.rows_of(session), epochs(session, self.vessel)))
            kept = {(row.part, row.locker, row.lot): (row.quantity, row.low, row.high)
                    for row in session.execute(select(tables.CellRow)).scalars()}
            assert kept == {key: (cell.quantity, cell.low, cell.high)
                            for key, cell in whole.items()}

    def rows_of(self, session: Session) -> list[tuple[int, Envelope]]:
        """All rows, within a session."""
        return [(row.seq, read_envelope(row.raw)) for row in session.execute(
            select(tables.LogEntry).order_by(tables.LogEntry.seq)).scalars()]

    def backup(self) -> Path:
        """Copy the file as it is now."""
        self.copies += 1
        copy = self.folder / f"copy-{self.copies}.sqlite"
        if not self.store.is_file:
            self.store.engine.dispose()
            shutil.copyfile(self.path, copy)
            open_store(copy).close()
            return copy
        with closing(sqlite3.connect(self.path)) as connection:
            connection.execute("VACUUM INTO ?", (str(copy),))
        return copy

    def put_back(self, backup: Path, *, by_hand: bool = False) -> None:
        """Put an older file in place of the present one, as `restore` does or by hand."""
        of_file = self.store.is_file
        known = [] if by_hand or of_file else devices_of(self.store)
        self.store.close()
        if of_file and not by_hand:
            known = devices_now(self.path)
        for beside in ("-wal", "-shm"):
            self.path.with_name(self.path.name + beside).unlink(missing_ok=True)
        shutil.copyfile(backup, self.path)
        self.store = open_store(self.path)
        if not by_hand:
            with self.store.writing() as session:
                carry_over(session, known)
            self.within(lambda store: store.begin_epoch())

    def rows(self, after: int, most: int) -> list[tuple[int, Envelope]]:
        """Rows of the log."""
        return self.within(lambda store: store.rows(after, most))


class DatabaseServer(MemoryServer):
    """A server whose store is in the database."""

    store: Any

    def __init__(self, vessel: str, key: bytes, fresh: Callable[[int], str],
                 folder: Path) -> None:
        super().__init__(vessel, key, fresh)
        self.store = DatabaseStore(vessel, key, folder)

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a sync request at true time [ms]."""
        around = Around(true_ms - self._behind_ms, self._boot,
                        lambda: str(UUID(self._fresh(32), version=4)))
        return self.store.answer(self.store.device_of(token), request, around)

    def approve(self, ident: str) -> None:
        """Put a held change into the log."""
        self.store.within(lambda store: approve(store, ident))

    def reject(self, ident: str) -> None:
        """Refuse a held change."""
        self.store.within(lambda store: reject(store, ident))
