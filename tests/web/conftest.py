"""The application on a fresh store or on a copy of the demo, and clients that may write."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from flask import Flask
from flask.testing import FlaskClient

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.stores import DAY_ZERO, make_demo
from tests.web.crew import SERVED, found

TOKEN = "a-token-of-this-run"


class ReadingClient(FlaskClient):
    """Reads every answer to its end, so that no file stays open."""

    def open(self, *args, **kwargs):
        return super().open(*args, **{"buffered": True, **kwargs})


def make_app() -> Flask:
    app = create_app(read_settings(), token=TOKEN)
    app.test_client_class = ReadingClient
    return app


def writing(app: Flask) -> FlaskClient:
    client = app.test_client()
    client.environ_base["HTTP_X_SPARES"] = "1"
    return client


@pytest.fixture
def app() -> Iterator[Flask]:
    app = make_app()
    yield app
    store_of(app).close()


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return writing(app)


@pytest.fixture(scope="session")
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return make_demo(tmp_path_factory.mktemp("web-demo"))


@pytest.fixture(scope="module")
def looking(demo_file: Path) -> Iterator[FlaskClient]:
    """A client of the demo for tests that only look."""
    app = create_app(read_settings({"SPARES_STORE": str(demo_file), "SPARES_TODAY": DAY_ZERO}),
                     token=TOKEN)
    app.test_client_class = ReadingClient
    yield writing(app)
    store_of(app).close()


@pytest.fixture
def demo(demo_file: Path, own_surroundings: Path,
         monkeypatch: pytest.MonkeyPatch) -> Iterator[FlaskClient]:
    """A client of the test's own copy of the demo, in the store of the surroundings."""
    shutil.copy(demo_file, own_surroundings)
    monkeypatch.setenv("SPARES_TODAY", DAY_ZERO)
    app = make_app()
    yield writing(app)
    store_of(app).close()


@pytest.fixture(scope="module")
def boat(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """A small vessel served on the boat's net, one for a whole file of tests."""
    path = tmp_path_factory.mktemp("boat") / "store.sqlite"
    app = create_app(read_settings({"SPARES_STORE": str(path)}), net=SERVED)
    found(app)
    yield app
    store_of(app).close()
