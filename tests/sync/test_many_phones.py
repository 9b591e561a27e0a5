"""Many phones sync at once after a winter, and the server is killed in the middle."""

from __future__ import annotations

import os
import time
from collections import Counter
from pathlib import Path

import pytest

from spares.db.engine import open_store
from tests.conftest import KIND, LONG
from tests.sync.database import DatabaseStore
from tests.sync.many_phones import VESSEL, all_at_once, winter
from tests.sync.server_process import Server

PHONES, CHANGES, KILLS = (100, 500, 6) if LONG else (6, 60, 2)

pytestmark = pytest.mark.skipif(os.name == "nt", reason="other signals there")

#: On the other kind of store too; a run on PostgreSQL has but that one.
KINDS = ["sqlite", pytest.param("postgresql", marks=pytest.mark.long)] if KIND == "sqlite" else [
    KIND]


@pytest.mark.slow
@pytest.mark.parametrize("kind_of_store", KINDS, indirect=True)
def test_phones_that_come_at_once_lose_nothing_with_the_server_killed(
        kind_of_store: str, tmp_path: Path) -> None:
    path = tmp_path / "store.sqlite"
    phones = winter(path, PHONES, CHANGES)
    written = {op["id"]: op for phone in phones for op in phone.ops}
    server = Server(path)
    server.start()

    def kill_now_and_then() -> None:
        for _ in range(KILLS):
            time.sleep(0.3 if not LONG else 1.5)
            server.kill()
            server.start()
    try:
        all_at_once(phones, server, kill_now_and_then)
    finally:
        server.kill()
    assert not any(phone.ops for phone in phones)
    assert set().union(*(phone.answered for phone in phones)) == written.keys()
    store = DatabaseStore.__new__(DatabaseStore)
    store.vessel, store.store = VESSEL, open_store(path)
    rows = store.rows(0, 10**6)
    assert Counter(envelope.id for _, envelope in rows) == Counter(written.keys())
    assert all(envelope.body == written[envelope.id]["body"] for _, envelope in rows)
    store.check_tables()
    store.store.close()
