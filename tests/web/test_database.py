"""The server on a store in PostgreSQL: what a phone is told when the database fails."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import text

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests import postgresql
from tests.problems import is_problem
from tests.web.conftest import writing
from tests.web.crew import found

PUT = {"part": "P001", "locker": "L01", "quantity": 1}
pytestmark = pytest.mark.skipif(postgresql.programs() is None, reason=postgresql.MISSING)


@pytest.fixture
def office(tmp_path: Path) -> Iterator[Flask]:
    databases = postgresql.databases()
    name = databases.server.make(databases.new)
    settings = read_settings({"SPARES_STORE": databases.server.address(name),
                              "SPARES_FOLDER": str(tmp_path)})
    app = create_app(settings)
    found(app)
    yield app
    store_of(app).close()
    databases.server.drop(name)


@pytest.mark.parametrize(("state", "status", "stop"), [
    ("53100", 507, "disk_full"), ("57P01", 503, "busy"), ("XX001", 503, "damaged")])
def test_what_the_database_cannot_do_is_said_and_nothing_is_kept(
        office: Flask, state: str, status: int, stop: str) -> None:
    with store_of(office).get().writing() as session:
        session.execute(text(
            "CREATE FUNCTION fail() RETURNS trigger LANGUAGE plpgsql AS "
            f"$$ BEGIN RAISE EXCEPTION 'as it happens' USING ERRCODE = '{state}'; END $$"))
        session.execute(text("CREATE TRIGGER fail BEFORE INSERT ON log "
                             "FOR EACH ROW EXECUTE FUNCTION fail()"))
    client = writing(office)
    told = is_problem(client.post("/api/do/put", json=PUT), status)
    assert told["stop"] == stop
    assert client.get("/api/summary").json["changes"] == 4


def test_a_database_that_was_away_is_asked_again(office: Flask) -> None:
    """Every connection is lost, as when its server was started again between two requests."""
    client = writing(office)
    assert client.post("/api/do/put", json=PUT).status_code == 200
    name = store_of(office).get().engine.url.database
    postgresql.databases().server.ask(
        f"SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = '{name}'")
    assert client.post("/api/do/put", json=PUT).status_code == 200
    assert client.get("/api/summary").json["changes"] == 6


@pytest.mark.parametrize("wrong", [
    {"note": "a\0b"}, {"note": "x" * 5000}, {"quantity": 2**70}, {"quantity": 2**62},
    {"part": "P\0"}, {"locker": "L" * 5000}])
def test_what_the_database_cannot_hold_is_the_askers_fault(office: Flask, wrong: dict) -> None:
    told = writing(office).post("/api/do/put", data=json.dumps({**PUT, **wrong}),
                                content_type="application/json")
    assert told.status_code in (400, 404, 422), told.get_data(as_text=True)
    assert writing(office).get("/api/find", query_string={"q": "P\0001"}).status_code < 500
