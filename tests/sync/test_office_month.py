"""A month in which an office and two vessels are away from each other, on stores of both kinds.

At each end people write at the server itself and on a phone; counts are always true. Afterwards
both ends of each vessel hold the same log, the same tables and the truth, or a doubt around it.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest
from sqlalchemy import select

from spares.actions import devices, meeting, sync
from spares.db.chain import check_chain
from spares.db.devices import by_token
from spares.db.door import found_vessel, submit
from spares.db.dump import logical_dump
from spares.db.engine import Store, open_store
from spares.db.find import head_of
from spares.db.logbook import epochs
from spares.db.rebuild import rebuild
from spares.db.tables import LogEntry
from spares.domain.draft import Draft, setting
from spares.domain.stock import Cell, fold
from spares.sync.change import read_envelope
from spares.sync.phone import Phone
from spares.sync.store import OFFICE, entries_of
from tests import postgresql
from tests.sync.world import LOCKERS, PARTS, START_MS

HOUR_MS, DAY_MS, DAYS = 3_600_000, 86_400_000, 30
MARKS = {"00000000-0000-4000-8000-0000000000aa": "TGL",
         "00000000-0000-4000-8000-0000000000bb": "HRE"}
OTHER = {"sqlite": "postgresql", "postgresql": "sqlite"}


@dataclass
class End:
    """One end of one vessel's log: a store, and a phone that is paired there."""

    store: Store
    vessel: str
    phone: Phone
    ms: int = START_MS

    def writes(self, draft: Draft) -> None:
        """Let a person write at the server itself."""
        with self.store.writing(self.vessel) as session:
            submit(session, self.vessel, [draft], wall_ms=self.ms)

    def syncs(self) -> None:
        """Let the phone sync here."""
        self.phone.sync(lambda request: sync.sync(
            self.store, self.vessel, self.phone.dev, json.dumps(request).encode(),
            wall_ms=self.ms, boot="one"), self.ms)

    def state(self) -> tuple[Any, ...]:
        """Give the head of the log and all that the tables say."""
        with self.store.reading() as session:
            return head_of(session, self.vessel), logical_dump(session, self.vessel)

    def cells(self) -> dict[Any, Cell]:
        """Fold the log anew."""
        with self.store.reading() as session:
            rows = [(seq, read_envelope(raw)) for seq, raw in session.execute(
                select(LogEntry.seq, LogEntry.raw).where(LogEntry.vessel == self.vessel))]
            return dict(fold(entries_of(rows, epochs(session, self.vessel))))


def opened(kind: str, path: Path) -> Store:
    """Open a new store of a kind."""
    if kind == "sqlite":
        return open_store(path)
    databases = postgresql.databases()
    return open_store(databases.server.address(databases.server.make(databases.new)), beside=path)


def end_of(store: Store, vessel: str, number: int) -> End:
    dev = devices.pair(store, vessel, f"token-{number}", name="a phone", role="skipper")
    return End(store, vessel, Phone(vessel, dev, lambda length: f"{number:0{length}x}"))


class Month:
    """Two vessels and the office, and what truly lies where."""

    def __init__(self, kind: str, folder: Path, seed: int) -> None:
        self.rng, self.ms = random.Random(seed), START_MS
        self.office = opened(kind, folder / "office.sqlite")
        self.aboard: dict[str, End] = {}
        self.ashore: dict[str, End] = {}
        self.truth: Counter[tuple[str, ...]] = Counter()
        self.made: dict[str, set[str]] = {vessel: set() for vessel in MARKS}
        for number, vessel in enumerate(MARKS):
            self._let_in(opened((kind, OTHER[kind])[number], folder / f"{number}.sqlite"), vessel)
            self.meet(vessel)
            self.ashore[vessel] = end_of(self.office, vessel, 10 + number)

    def _let_in(self, store: Store, vessel: str) -> None:
        with store.writing() as session:
            key = found_vessel(session, vessel).key
            submit(session, vessel, [
                setting(f"vessel/{vessel}", mark=MARKS[vessel], name=MARKS[vessel]),
                *(setting(part, no=f"P00{i}", name="a part", unit="piece")
                  for i, part in enumerate(PARTS)),
                *(setting(locker, no=f"L0{i}", name="a locker")
                  for i, locker in enumerate(LOCKERS))], wall_ms=self.ms)
        devices.pair(store, vessel, f"office-{vessel}", name="office", role="crew",
                     grants=(OFFICE,))
        meeting.follow(self.office, vessel, key)
        self.aboard[vessel] = end_of(store, vessel, len(self.aboard))

    def meet(self, vessel: str) -> dict[str, Any]:
        """Let the office meet one vessel."""
        aboard = self.aboard[vessel]
        with aboard.store.reading() as session:
            dev = by_token(session, f"office-{vessel}").dev
        return meeting.meet(self.office, vessel, lambda request: json.loads(json.dumps(sync.sync(
            aboard.store, vessel, dev, json.dumps(request).encode(), wall_ms=self.ms,
            boot="one"))), now_ms=lambda: self.ms)

    def live(self) -> None:
        """Let a month pass: at each end somebody does something on most days."""
        for day in range(DAYS):
            self.ms = START_MS + DAY_MS * (day + 1)
            for vessel in MARKS:
                for end in (self.aboard[vessel], self.ashore[vessel]):
                    self.ms += self.rng.choice([1, 2, 3]) * HOUR_MS
                    end.ms = self.ms
                    if self.rng.random() < 0.6:
                        self._act(vessel, end)
                    if self.rng.random() < 0.3:
                        end.syncs()

    def _act(self, vessel: str, end: End) -> None:
        rng, ident = self.rng, str(UUID(int=self.rng.getrandbits(128), version=4))
        part, locker = rng.choice(PARTS), rng.choice(LOCKERS)
        kind = rng.choice(["put", "put", "took", "counted", "set"])
        cell, q = (vessel, part, locker), rng.randint(1, 3) * 1000
        if kind == "took" and self.truth[cell] < q:
            kind = "counted"
        body: dict[str, Any] = {"part": part, "locker": locker, "lot": "", "q": q}
        if kind == "counted":
            body["q"] = self.truth[cell]
        elif kind == "set":
            body = {"doc": part, "f": {"note": ident[:8]}, "base": {}}
        else:
            self.truth[cell] += q if kind == "put" else -q
        self.made[vessel].add(ident)
        if rng.random() < 0.5:
            end.phone.record(ident, kind, body, end.ms)
        else:
            end.writes(Draft(kind, {name: value for name, value in body.items()
                                    if name != "base"}, ident))

    def come_together(self, vessel: str) -> None:
        """Let both phones sync and the two servers meet, until nobody lacks anything."""
        self.ms += HOUR_MS
        for _ in range(2):
            for end in (self.aboard[vessel], self.ashore[vessel]):
                end.ms = self.ms
                end.syncs()
            self.meet(vessel)


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["postgresql", pytest.param("sqlite", marks=pytest.mark.long)])
def test_after_a_month_apart_office_and_vessels_hold_the_same(kind: str, tmp_path: Path) -> None:
    """The office on one kind of store, one vessel on the same and one on the other."""
    if postgresql.programs() is None:
        pytest.skip(postgresql.MISSING)
    month = Month(kind, tmp_path, 7)
    month.live()
    for vessel in MARKS:
        aboard, ashore = month.aboard[vessel], month.ashore[vessel]
        assert aboard.state()[1] != ashore.state()[1]
        month.come_together(vessel)
        check_equal(month, vessel)
    for store in {id(one.store): one.store for one in (*month.aboard.values(),
                                                       *month.ashore.values())}.values():
        store.close()


def check_equal(month: Month, vessel: str) -> None:
    """Row by row the same, rebuilt the same, nothing missing, and counts true or in doubt."""
    aboard, ashore = month.aboard[vessel], month.ashore[vessel]
    assert aboard.state() == ashore.state()
    cells = aboard.cells()
    assert cells == ashore.cells() == dict(fold(aboard.phone.copy.entries()))
    assert cells == dict(fold(ashore.phone.copy.entries()))
    for end in (aboard, ashore):
        with end.store.writing(vessel) as session:
            rows = check_chain(session, vessel)
            assert rebuild(session, vessel) == []
            ids = set(session.execute(select(LogEntry.id).where(
                LogEntry.vessel == vessel)).scalars())
        assert month.made[vessel] <= ids and len(ids) == rows
    for (of, part, locker), true in month.truth.items():
        cell = cells.get((part, locker, ""))
        if of == vessel and (cell is None or cell.quantity != true):
            assert cell is not None and cell.doubts and cell.low <= true <= cell.high
