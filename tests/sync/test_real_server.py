"""Two phones and a server that is a process of its own, killed in the middle of its work."""

from __future__ import annotations

import http.client
import os
import random
import threading
import time
from contextlib import contextmanager
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from spares.actions.check import check
from spares.actions.context import open_context
from spares.config import read_settings
from spares.db.door import found_vessel, submit
from spares.db.engine import open_store
from spares.domain.draft import setting
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.phone import Phone
from tests import postgresql
from tests.conftest import LONG
from tests.sync.database import DatabaseStore
from tests.sync.server_process import Server

VESSEL = "00000000-0000-4000-8000-0000000000aa"
PART = "part/00000000-0000-4000-8000-000000000001"
LOCKERS = [f"locker/00000000-0000-4000-8000-00000000001{i}" for i in (1, 2)]
KILLS = 300 if LONG else 5
PATIENCE = 60           # with so many taps unsent nobody goes on tapping at one locker

pytestmark = pytest.mark.skipif(os.name == "nt", reason="other signals there")


class Sailor:
    """A phone with its token, which taps and syncs for itself."""

    def __init__(self, server: Server | Servers, role: str, seed: int) -> None:
        self.rng = random.Random(seed)
        paired = server.pair(role)
        self.server, self.token = server, paired["token"]
        self.phone = Phone(VESSEL, paired["dev"], lambda length: f"{seed:0{length}x}")
        self.tapped: list[str] = []
        self.answered: set[str] = set()

    def tap(self) -> None:
        body = {"part": PART, "locker": self.rng.choice(LOCKERS), "lot": "", "q": 1000}
        kind = self.rng.choice(["put", "took", "counted", "moved"])
        if kind == "moved":
            body = {"part": PART, "from": LOCKERS[0], "to": LOCKERS[1], "lot": "", "q": 1000}
        ident = str(UUID(int=self.rng.getrandbits(128), version=4))
        self.phone.record(ident, kind, body, _now_ms())
        self.tapped.append(ident)

    def sync(self) -> None:
        """Sync once; an answer that does not come leaves everything for the next time."""
        try:
            self.phone.sync(self._send, _now_ms())
        except (OSError, http.client.HTTPException, ValueError, Stopped):
            time.sleep(0.05)

    def _send(self, request: dict[str, Any]) -> dict[str, Any]:
        status, answer = self.server.post("/api/sync", request, self.token)
        if status == 429:
            time.sleep(1)
        if status != 200:
            raise Stopped("stopped", stop=str(answer.get("stop")))
        self.answered |= {one["id"] for one in answer["results"]}
        return answer


def _now_ms() -> int:
    return time.time_ns() // 1_000_000


@contextmanager
def at_work(sailors: list[Sailor]):
    """Let the phones tap and sync all the time."""
    over = threading.Event()

    def work(sailor: Sailor) -> None:
        while not over.is_set():
            if len(sailor.phone.outbox) < PATIENCE:
                for _ in range(sailor.rng.randint(1, 5)):
                    sailor.tap()
            sailor.sync()
            time.sleep(0.2)
    threads = [threading.Thread(target=work, args=(sailor,)) for sailor in sailors]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        over.set()
        for thread in threads:
            thread.join(60)


def begun(path: Path) -> Path:
    """Begin a store with one vessel."""
    store = open_store(path)
    with store.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe")],
               wall_ms=1)
    store.close()
    return path


@pytest.mark.slow
def test_server_killed_again_and_again_loses_and_doubles_nothing(tmp_path: Path) -> None:
    path = begun(tmp_path / "store.sqlite")
    server, rng = Server(path), random.Random(7)
    server.start()
    try:
        sailors = [Sailor(server, "skipper", 1), Sailor(server, "crew", 2)]
        with at_work(sailors):
            for _ in range(KILLS):
                time.sleep(rng.uniform(0.05, 0.8))
                server.kill()
                server.start()
        _sync_to_the_end(sailors)
    finally:
        server.kill()
    held = _look(path, sailors)
    assert held == {ident for sailor in sailors for ident in sailor.tapped}


class Servers:
    """Two servers on one store: each question goes to the one or the other."""

    def __init__(self, path: Path) -> None:
        self.all, self.rng = [Server(path), Server(path)], random.Random(11)
        for one in self.all:
            one.start()

    def post(self, path: str, body: Any, token: str = "") -> tuple[int, Any]:
        return self.rng.choice(self.all).post(path, body, token)

    def pair(self, role: str) -> dict[str, Any]:
        return self.all[0].pair(role)       # a code is known to the server that shows it


@pytest.mark.slow
@pytest.mark.skipif(postgresql.programs() is None, reason=postgresql.MISSING)
def test_two_servers_on_one_database_lose_and_double_nothing(tmp_path: Path) -> None:
    """Each phone asks now the one, now the other, and one of them is killed at work."""
    with postgresql.databases().in_use():
        path = begun(tmp_path / "office")
        servers = Servers(path)
        try:
            sailors = [Sailor(servers, "skipper", 1), Sailor(servers, "crew", 2)]
            with at_work(sailors):
                time.sleep(2)
                servers.all[1].kill()
                time.sleep(1)
                servers.all[1].start()
            _sync_to_the_end(sailors)
        finally:
            for one in servers.all:
                one.kill()
        held = _look(path, sailors)
    assert held == {ident for sailor in sailors for ident in sailor.tapped}
    assert len(held) > 10


def _sync_to_the_end(sailors: list[Sailor]) -> None:
    for sailor in [*sailors, *sailors]:
        for _ in range(20):
            sailor.sync()
            if not sailor.phone.outbox:
                break


def _look(path: Path, sailors: list[Sailor]) -> set[str]:
    """Check the store and both copies; give the ids of all movements in the log."""
    settings = read_settings({"SPARES_STORE": str(path)})
    ctx = open_context(settings)
    assert check(ctx, rebuild=True)["differences"] == []
    ctx.store.close()
    looked = DatabaseStore.__new__(DatabaseStore)
    looked.vessel, looked.store = VESSEL, open_store(path)
    rows = looked.rows(0, 10**6)
    looked.store.close()
    ids = [envelope.id for _, envelope in rows if envelope.kind != "set"]
    assert len(ids) == len(set(ids))
    for sailor in sailors:
        assert not sailor.phone.outbox and sailor.answered <= set(ids)
    one, other = (fold(sailor.phone.copy.entries()) for sailor in sailors)
    assert one == other
    return set(ids)
