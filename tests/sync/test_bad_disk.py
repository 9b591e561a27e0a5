"""A disk that is full, or that gives back other bytes than were written."""

from __future__ import annotations

import random
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import event, text

from spares.config import read_settings
from spares.db.chain import check_chain
from spares.web.app import create_app
from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import CELL, SERVED, VESSEL, Crew, found, head

pytestmark = pytest.mark.sqlite


def make_app(path: Path) -> Flask:
    app = create_app(read_settings({"SPARES_STORE": str(path)}), net=SERVED)
    found(app)
    return app


@pytest.fixture
def app(tmp_path: Path) -> Iterator[Flask]:
    app = make_app(tmp_path / "store.sqlite")
    yield app
    store_of(app).close()


def heavy(crew: Crew, how_many: int) -> list[dict]:
    return [crew.op("put", {**CELL, "q": 1000, "note": "x" * 1900}) for _ in range(how_many)]


def fill(app: Flask, crew: Crew) -> list[dict]:
    """Sync until the disk is full; gives the changes that were not taken."""
    for _ in range(200):
        ops, before = heavy(crew, 40), head(app)
        answer = crew.sync(*ops)
        if answer.status_code == 507:
            body = is_problem(answer, 507)
            assert body["stop"] == "disk_full" and head(app) == before
            return ops
        assert answer.status_code == 200
    raise AssertionError("the disk was never full")


def check_whole(app: Flask, crew: Crew) -> None:
    with store_of(app).get().reading() as session:
        assert check_chain(session, VESSEL) == head(app)[0]
    assert crew.client.get("/api/parts/P001").status_code == 200


def test_full_store_takes_nothing_by_half_and_goes_on_when_there_is_room(app: Flask) -> None:
    crew, limit = Crew(app), [0]
    engine = store_of(app).get().engine
    with engine.connect() as connection:
        pages = connection.execute(text("PRAGMA page_count")).scalar()
    engine.dispose()

    @event.listens_for(engine, "connect")
    def limited(connection, _):
        connection.execute(f"PRAGMA max_page_count={limit[0]}").close()
    limit[0] = pages + 200
    left = fill(app, crew)
    check_whole(app, crew)
    limit[0] = 10**9
    engine.dispose()
    assert crew.codes(*left) == ["ok"] * len(left)
    check_whole(app, crew)


def test_small_file_system_that_is_full_costs_no_answered_change(tmp_path: Path) -> None:
    folder = tmp_path / "small"
    folder.mkdir()
    mounted = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=6m", "tmpfs", str(folder)],
                             capture_output=True, check=False)
    if mounted.returncode != 0:
        pytest.skip("a small file system cannot be mounted here")
    app = None
    try:
        app = make_app(folder / "store.sqlite")
        crew = Crew(app)
        (folder / "in the way").write_bytes(b"x" * 2_000_000)
        left = fill(app, crew)
        check_whole(app, crew)
        (folder / "in the way").unlink()
        assert crew.codes(*left) == ["ok"] * len(left)
        check_whole(app, crew)
    finally:
        if app is not None:
            store_of(app).close()
        subprocess.run(["umount", str(folder)], check=True)


@pytest.mark.parametrize("seed", range(3))
def test_damaged_pages_are_refused_with_the_way_out(tmp_path: Path, seed: int) -> None:
    path = tmp_path / "store.sqlite"
    app = make_app(path)
    crew = Crew(app)
    for _ in range(5):
        crew.codes(*heavy(crew, 40))
    store_of(app).close()
    rng, page, data = random.Random(seed), 4096, bytearray(path.read_bytes())
    # The log's own pages hold the long notes; of every one the head of the page is lost.
    hit = [at for at in range(page, len(data), page) if b"x" * 500 in data[at:at + page]]
    for at in hit:
        data[at:at + 64] = rng.randbytes(64)
    path.write_bytes(data)
    damaged = bytes(data)
    answer = crew.client.post("/api/sync", json=crew.request(cursor=None))
    body = is_problem(answer, answer.status_code)
    assert body["type"] == "/problems/store-damaged", body
    assert "restore" in body["detail"]
    store_of(app).close()
    assert path.read_bytes() == damaged
