"""A turn that is held for long: whoever waits is told, and those who only look are answered."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from spares.config import read_settings
from spares.db import turn as turn_module
from spares.db.engine import Store, open_store
from spares.errors import StoreBusy
from spares.web.app import create_app
from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import CELL, SERVED, VESSEL, Crew, found

pytestmark = pytest.mark.both


@contextmanager
def held_by_another(store: Store, vessel: str) -> Iterator[None]:
    """Let another thread have the turn, as a long import does."""
    has, may_go = threading.Event(), threading.Event()

    def hold() -> None:
        with store.turn_of(vessel):
            has.set()
            may_go.wait(60)
    thread = threading.Thread(target=hold)
    thread.start()
    assert has.wait(60)
    try:
        yield
    finally:
        may_go.set()
        thread.join()


def test_turn_is_waited_for_and_may_be_taken_again_by_its_holder(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = open_store(tmp_path / "store.sqlite")
    monkeypatch.setattr(turn_module, "WAIT_S", 0.05)
    with held_by_another(store, VESSEL), pytest.raises(StoreBusy, match="try again"), \
            store.turn_of(VESSEL):
        raise AssertionError("two have it")
    with store.turn_of(VESSEL), store.turn_of(VESSEL):
        pass
    with held_by_another(store, VESSEL):
        pass        # it was given back as often as it was taken
    store.close()


def test_writers_are_told_and_those_who_look_are_answered_while_something_long_is_written(
        tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    app = create_app(read_settings({"SPARES_STORE": str(tmp_path / "store.sqlite")}), net=SERVED)
    found(app)
    crew = Crew(app)
    op = crew.op("put", {**CELL, "q": 1000})
    monkeypatch.setattr(turn_module, "WAIT_S", 0.05)
    with held_by_another(store_of(app).get(), VESSEL):
        answer = crew.client.post("/api/sync", json=crew.request(op))
        assert is_problem(answer, 503)["type"] == "/problems/store-busy"
        assert int(answer.headers["Retry-After"]) > 0
        assert crew.client.get("/api/parts/P001").status_code == 200
    assert crew.codes(op) == ["ok"]     # and nothing of it was taken before
    store_of(app).close()
