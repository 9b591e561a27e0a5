"""The demo vessel on both sides, for all that compares a phone with its server."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import asdict
from datetime import date

import pytest

from spares.actions.context import Context
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.sync_store import SyncStore
from spares.sync.store import entries_of
from tests.client.kept_server import Watched, begin
from tests.client.node_process import Node
from tests.stores import DAY_ZERO, make_demo


@pytest.fixture(scope="session")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watched]:
    """The demo vessel at the server, with orders on their way and a few things to take back."""
    store = open_store(make_demo(tmp_path_factory.mktemp("verbs")))
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    today = date.fromisoformat(DAY_ZERO)
    begin(Context(store, vessel, today))
    yield Watched(store, vessel, today)
    store.close()


@pytest.fixture(scope="session")
def phone(server: Watched) -> Iterator[Node]:
    """The demo vessel's log on a phone."""
    node = Node("sync_answers.js")
    with server.store.reading() as session:
        log = SyncStore(session, server.vessel)
        entries = entries_of(log.rows(0, log.size()), log.epochs())
    assert node.ask("open", entries=[asdict(entry) for entry in entries])["answer"] > 100
    yield node
    node.close()
