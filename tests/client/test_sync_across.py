"""The client's modules against the real server: Flask, one transaction a request, a SQLite file."""

from __future__ import annotations

import random
import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from flask import Flask

from spares.actions.gate import Gate
from spares.actions.meeting import follow
from spares.config import read_settings
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from spares.web import sync as web_sync
from spares.web.app import create_app
from tests.client import test_sync_phones as with_modules
from tests.client.node_phone import NodePhone
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.stores import QUICK
from tests.sync import office_world
from tests.sync.database import DatabaseServer
from tests.sync.machine import run
from tests.sync.test_random_stories import LOST, RETIRED, check_true, played
from tests.sync.world import START_MS, VESSEL, World, silently_wrong

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


class WebServer(DatabaseServer):
    """The server that is asked as phones ask it: by HTTP and token, with its own wall clock."""

    app: Flask

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a sync request at true time [ms].

        Raises:
            Stopped: nothing was taken.
        """
        self.app.extensions["spares_store"] = SimpleNamespace(get=lambda: self.store.store)
        web_sync.clock_ms = lambda: true_ms - self._behind_ms
        web_sync.BOOT = self._boot
        answer = self.app.test_client().post("/api/sync", json=request, headers={
            "Authorization": f"Bearer {token}", "X-Spares": "1"})
        if answer.status_code == 200 or answer.json.get("stop") == "fork":
            return answer.json
        assert answer.status_code in (401, 403, 426), answer.json
        raise Stopped(answer.json["detail"], stop=answer.json["stop"])


@pytest.fixture(autouse=True)
def across(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """One node process with all phones, one application, and nobody who asks too often."""
    monkeypatch.setattr(web_sync, "clock_ms", web_sync.clock_ms)
    monkeypatch.setattr(web_sync, "BOOT", web_sync.BOOT)
    monkeypatch.setattr(Gate, "spend", lambda *_: None)
    WebServer.app = create_app(read_settings({"SPARES_STORE": ":memory:"}))
    NodePhone.node = Node("sync_phones.js")
    yield
    NodePhone.node.close()


class Across(with_modules.Clients):
    """The machine of the invariants with the real server and the modules of the client."""

    def make_server(self, fresh: Callable[[int], str]) -> MemoryServer:
        """Make a server with a file of its own."""
        self.folder = Path(tempfile.mkdtemp(dir=QUICK))
        return WebServer(VESSEL, bytes(32), fresh, self.folder)

    def check_store(self) -> None:
        """See that the chain holds, and that all tables are what the log makes of them."""
        self.server.store.check_tables()

    def let_go(self) -> None:
        """Close and remove the file; forget the phones."""
        super().let_go()
        self.server.store.store.close()
        shutil.rmtree(self.folder)


@pytest.mark.parametrize("block", range(10 if LONG else 1))
def test_invariants_hold_across(block: int) -> None:
    run(Across, 100 if LONG else 4, 50 if LONG else 20)


def build(seed: int) -> World:
    """Make five phones and a server with the file that the test's folder holds."""
    fresh = with_modules._counting()
    rng = random.Random(seed)
    server = WebServer(VESSEL, bytes(32), fresh, Path(tempfile.mkdtemp(dir=QUICK)))
    errors = [rng.choice([0, rng.randint(-60, 60) * 24 * 60]) for _ in range(5)]
    phones = [NodePhone(VESSEL, server.pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(5)]
    return World(rng, server, phones, errors)


@pytest.mark.parametrize("block", range(20 if LONG else 1))
def test_random_histories_lose_nothing_and_deceive_nobody_across(block: int) -> None:
    for seed in range(100 * block, 100 * block + (100 if LONG else 3)):
        world = played(seed, {"late": 1, "leavers": (RETIRED, LOST), "restores": True}, build, 40)
        check_true(world)
        world.server.store.check_tables()
        world.server.store.store.close()
        shutil.rmtree(world.server.store.folder)
        NodePhone.node.ask("forget")


def served(fresh: Callable[[int], str], which: int) -> WebServer:
    """Make the vessel's own server, or the office's, each with a file of its own."""
    server = WebServer(VESSEL, bytes(32), fresh, Path(tempfile.mkdtemp(dir=QUICK)))
    if which == office_world.ASHORE:
        follow(server.store.store, VESSEL, bytes(32))
    return server


#: Both servers asked by HTTP, each with phones of its own; or in memory, and phones go between.
APART: dict[str, dict[str, Any]] = {"of each": {"make": served},
                                    "that go between": {"going_between": True}}


@pytest.mark.parametrize("sort", APART)
def test_phones_of_office_and_vessel_end_equal_across(sort: str) -> None:
    given = APART[sort]
    for seed in range(200 if LONG else 1):
        world = office_world.build(seed, phone=NodePhone, **given)
        office_world.play(world, 100 if LONG else 25, meets=0.1,
                          between=0.1 if "going_between" in given else 0)
        office_world.bring_together(world)
        office_world.check_equal(world)
        assert silently_wrong(world) == []
        for server in world.servers if "make" in given else ():
            server.store.check_tables()
            server.store.store.close()
            shutil.rmtree(server.store.folder)
        NodePhone.node.ask("forget")
