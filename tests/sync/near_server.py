"""The real server in the process of a test: it stands at once, and nobody asks it too often."""

from __future__ import annotations

from contextlib import ExitStack

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.sync.server_process import Server
from tests.web.test_slow_bodies import served


class NearServer(Server):
    """A server on one store, asked over a socket as one in a process of its own is."""

    def start(self) -> None:
        """Begin to serve, on any free port."""
        app = create_app(read_settings({"SPARES_STORE": str(self.path)}))
        app.extensions["spares_gate"].spend = lambda *_: None
        self._open = ExitStack()
        self._open.callback(store_of(app).close)
        self.opened = store_of(app).get()
        self.port = self._open.enter_context(served(app))[1]

    def kill(self) -> None:
        """End it; what it is answering is answered first."""
        self._open.close()
