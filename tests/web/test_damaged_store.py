"""A store that is damaged, from the start or while the server runs: one clear answer."""

from __future__ import annotations

import asyncio
import random
from collections.abc import Callable

import pytest
from sqlalchemy import text

from spares.config import read_settings
from spares.db.chain import check_chain
from spares.db.engine import UNSYNCED
from spares.web import chores
from spares.web.app import create_app
from spares.web.chores import Chores
from spares.web.store import store_of
from tests.problems import is_problem
from tests.stores import DAY_ZERO, make_demo
from tests.web.crew import CELL, SERVED, VESSEL, Crew, found

PAGE_BYTES = 4096


def garbled(data: bytes) -> bytes:
    return data[:PAGE_BYTES] + b"\xa5" * (len(data) - PAGE_BYTES)


def speckled(data: bytes) -> bytes:
    rng, spoilt = random.Random(5), bytearray(data)
    for at in range(PAGE_BYTES, len(data), PAGE_BYTES):
        spoilt[at:at + 64] = rng.randbytes(64)
    return bytes(spoilt)


DAMAGES: dict[str, Callable[[bytes], bytes]] = {
    "pages overwritten": garbled, "heads of pages overwritten": speckled,
    "first page overwritten": lambda data: bytes(PAGE_BYTES) + data[PAGE_BYTES:],
    "cut off": lambda data: data[:2 * PAGE_BYTES],
    "another file": lambda data: b"this is not a store " * 1000}


def says_damaged(answer) -> None:
    body = is_problem(answer, 503)
    assert (body["type"], body["stop"]) == ("/problems/store-damaged", "damaged")
    assert "spares restore FILE" in body["detail"]
    assert "Retry-After" not in answer.headers


@pytest.fixture(scope="module")
def demo_bytes(tmp_path_factory) -> bytes:
    return make_demo(tmp_path_factory.mktemp("whole")).read_bytes()


@pytest.mark.sqlite
@pytest.mark.parametrize("damage", DAMAGES)
def test_store_damaged_before_the_start_is_a_problem_that_names_the_way_out(
        tmp_path, demo_bytes, damage):
    path = tmp_path / "demo.sqlite"
    path.write_bytes(spoilt := DAMAGES[damage](demo_bytes))
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}))
    client = app.test_client()
    for _ in range(2):
        for ask in ("summary", "find?q=impeller", "lockers", "check", "devices/me"):
            says_damaged(client.get(f"/api/{ask}"))
        says_damaged(client.post("/api/do/took", json={"part": "P034", "locker": "L17"},
                                 headers={"X-Spares": "1"}))
    store_of(app).close()
    assert path.read_bytes() == spoilt


@pytest.fixture
def boat(tmp_path):
    app = create_app(read_settings({"SPARES_STORE": str(tmp_path / "boat.sqlite")}), net=SERVED)
    app.add_url_rule("/api/crash", view_func=lambda: 1 / 0)
    found(app)
    yield app
    store_of(app).close()


def spoil(app, damage: Callable[[bytes], bytes]) -> None:
    """Damage the file under the running server, and let it forget what it had read."""
    store = store_of(app).get()
    store.engine.dispose()          # brings the write-ahead log into the file
    store.path.write_bytes(damage(store.path.read_bytes()))


@pytest.mark.sqlite
@pytest.mark.parametrize("damage", DAMAGES)
def test_store_damaged_while_the_server_runs_tells_every_phone_alike(boat, damage):
    crew, skipper = Crew(boat), Crew(boat, "skipper")
    heavy = [crew.op("put", {**CELL, "q": 1000, "note": "x" * 1900}) for _ in range(40)]
    assert set(crew.codes(*heavy)) == {"ok"}
    spoil(boat, DAMAGES[damage])
    for _ in range(2):
        says_damaged(crew.sync(crew.op(), cursor=None))
        says_damaged(skipper.client.get("/api/summary"))
        says_damaged(skipper.client.post("/api/do/put", json={
            "part": "P001", "locker": "L01", "quantity": 1}))
        says_damaged(skipper.client.get("/api/devices/me"))


def test_text_that_rotted_inside_a_page_is_found_by_the_backup_and_stops_writing(boat):
    crew = Crew(boat)
    crew.codes(crew.op())
    if store_of(boat).get().is_file:
        spoil(boat, lambda data: data.replace(b"Impeller", b"Impelled"))
    else:
        with store_of(boat).get().writing() as session:
            session.execute(text("UPDATE log SET raw = replace(raw, 'Impeller', 'Impelled')"))
    Chores(boat).once()
    says_damaged(crew.sync(crew.op()))


def test_chore_that_fails_as_nobody_foresaw_ends_no_other(boat, monkeypatch):
    done = []
    monkeypatch.setattr(chores, "FIRST_AFTER_S", 0)
    monkeypatch.setattr(chores, "EVERY_S", 0.001)

    def fails(*_):
        done.append("meets")
        raise KeyError("changes")

    def backs_up(*_):
        done.append("backs up")
        if done.count("meets") > 1 < done.count("backs up"):
            raise asyncio.CancelledError

    monkeypatch.setattr(chores, "meet_due", fails)
    monkeypatch.setattr(chores, "back_up_if_due", backs_up)
    with pytest.raises(asyncio.CancelledError):
        asyncio.run(asyncio.wait_for(Chores(boat).run(), 30))
    assert {"meets", "backs up"} == set(done)


def test_sync_that_the_disk_did_not_confirm_is_told_until_a_new_start(boat, tmp_path):
    crew = Crew(boat)
    crew.codes(crew.op())
    store_of(boat).get().stop(UNSYNCED)
    op = crew.op()
    for _ in range(2):
        body = is_problem(crew.sync(op), 503)
        assert body["stop"] == "damaged" and "started again" in body["detail"]
    assert "started again" in crew.client.get("/api/summary").json["not_writing"]
    store_of(boat).close()          # a new start
    assert crew.client.get("/api/summary").json["not_writing"] is None
    assert crew.codes(op) == ["ok"]


def test_fault_of_the_program_is_not_blamed_on_the_store(boat):
    crew = Crew(boat)
    crew.codes(crew.op())
    is_problem(crew.client.get("/api/crash"), 500)
    with store_of(boat).get().reading() as session:
        if store_of(boat).get().is_file:
            assert session.execute(text("PRAGMA quick_check")).scalar() == "ok"
        assert check_chain(session, VESSEL) > 0
    assert crew.codes(crew.op()) == ["ok"]
