"""The open store of an application, and the context of a request."""

from __future__ import annotations

from datetime import date
from threading import Lock

from flask import Flask, current_app, g, request

from spares.actions.context import Context, open_context
from spares.config import Settings, today
from spares.db.engine import Store, open_store


class OpenStore:
    """Opens the store when it is first wanted, once, and closes it at the end."""

    def __init__(self, settings: Settings) -> None:
        self.settings = settings
        self._store: Store | None = None
        self._lock = Lock()

    def get(self) -> Store:
        """Give the open store."""
        with self._lock:
            if self._store is None:
                self._store = open_store(self.settings.store, beside=self.settings.beside)
            return self._store

    def stop(self, why: str) -> None:
        """Write nothing more to the store of this run, if it is open."""
        with self._lock:
            if self._store is not None:
                self._store.stop(why)

    def is_damaged(self) -> bool:
        """Say whether the store of this run, if it is open, has a damaged file."""
        with self._lock:
            opened = self._store
        return opened is not None and opened.is_damaged()

    def today(self) -> date:
        """Give the day that counts as today."""
        return today(self.settings)

    def close(self) -> None:
        """Let go of the file."""
        with self._lock:
            if self._store is not None:
                self._store.close()
                self._store = None


def register(app: Flask, settings: Settings) -> None:
    """Give *app* the store of *settings*."""
    app.extensions["spares_store"] = OpenStore(settings)


def store_of(app: Flask) -> OpenStore:
    """Give the store that *app* serves."""
    found: OpenStore = app.extensions["spares_store"]
    return found


def context() -> Context:
    """Give the context of this request.

    A device asks as itself, of its own vessel; at the server itself the vessel is the one
    asked for in the address.
    """
    opened = store_of(current_app)
    device = g.asker.device
    if device is not None:
        return Context(opened.get(), device.vessel, opened.today(), device.dev, device.role,
                       opened.settings.sheets_folder)
    return open_context(opened.settings, request.args.get("vessel"), store=opened.get())
