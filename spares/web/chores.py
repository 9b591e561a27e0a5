"""What the server does by itself while it runs.

A backup a day; photos that nobody needs go; an office meets its vessels.
"""

from __future__ import annotations

import asyncio
import logging
import time
from collections.abc import Callable
from datetime import datetime

from flask import Flask

from spares.actions.nightly import back_up_if_due
from spares.actions.offices import meet_due
from spares.actions.photo_room import make_room
from spares.errors import SparesError, StoreDamaged
from spares.web.store import store_of

FIRST_AFTER_S, EVERY_S = 60, 15 * 60
_log = logging.getLogger("spares")


class Chores:
    """Runs beside the server; a chore that fails is tried again and stops nothing."""

    def __init__(self, app: Flask) -> None:
        self._app = app

    async def run(self) -> None:
        """Do what is due, until cancelled; a meeting that takes long holds up no backup."""
        await asyncio.gather(self._every_while(self._back_up), self._every_while(self._meet))

    async def _every_while(self, chore: Callable[[], None]) -> None:
        await asyncio.sleep(FIRST_AFTER_S)
        while True:
            await asyncio.to_thread(self._tried, chore)
            await asyncio.sleep(EVERY_S)

    def once(self) -> None:
        """Do what is due now."""
        self._tried(self._back_up)
        self._tried(self._meet)

    def _tried(self, chore: Callable[[], None]) -> None:
        """Do one chore: even where it fails as nobody foresaw, it is tried again later."""
        try:
            chore()
        except Exception:
            _log.exception("a chore failed")

    def _meet(self) -> None:
        """Meet the vessels that were not met lately; that one is out of reach is as usual."""
        try:
            for one in meet_due(store_of(self._app).get(), time.time_ns() // 1_000_000):
                _log.info("%s: %s", one["mark"], one["fault"] or "met")
        except (SparesError, OSError) as err:
            _log.error("no vessel was met: %s", err)

    def _back_up(self) -> None:
        try:
            store = store_of(self._app).get()
            told = back_up_if_due(store, datetime.now().astimezone())
        except (SparesError, OSError) as err:
            _log.error("no backup was made: %s", err)
            if isinstance(err, StoreDamaged):
                store_of(self._app).stop(err.detail)
            return
        if told is not None:
            _log.info("backup made: %s", told["file"])
            self._tidy()

    def _tidy(self) -> None:
        try:
            make_room(store_of(self._app).get(), time.time_ns() // 1_000_000)
        except (SparesError, OSError) as err:
            _log.error("photos that nothing needs were left: %s", err)
