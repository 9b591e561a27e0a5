"""The application on a fresh store, and a client that may write."""

from __future__ import annotations

import pytest
from flask import Flask
from flask.testing import FlaskClient

from spares.config import read_settings
from spares.web.app import create_app

TOKEN = "a-token-of-this-run"


class ReadingClient(FlaskClient):
    """Reads every answer to its end, so that no file stays open."""

    def open(self, *args, **kwargs):
        return super().open(*args, **{"buffered": True, **kwargs})


@pytest.fixture
def app() -> Flask:
    app = create_app(read_settings(), token=TOKEN)
    app.test_client_class = ReadingClient
    return app


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    client = app.test_client()
    client.environ_base["HTTP_X_SPARES"] = "1"
    return client
