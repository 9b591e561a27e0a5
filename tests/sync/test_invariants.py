"""The invariants of the exchange, as a state machine in memory and in a SQLite file."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path

import pytest

from spares.sync.memory_server import MemoryServer
from tests.conftest import LONG
from tests.stores import QUICK
from tests.sync.database import DatabaseServer
from tests.sync.machine import VESSEL, Exchange, run
from tests.sync.upgrades import brought_up


@pytest.mark.parametrize("block", range(10 if LONG else 1))
def test_invariants_hold_in_memory(block: int) -> None:
    run(Exchange, 1_000 if LONG else 34, 50)


class Stored(Exchange):
    """The same with a store in a SQLite file."""

    def make_server(self, fresh: Callable[[int], str]) -> MemoryServer:
        """Make a server with a file of its own."""
        self.folder = Path(tempfile.mkdtemp(dir=QUICK))
        return DatabaseServer(VESSEL, bytes(32), fresh, self.folder)

    def check_store(self) -> None:
        """See that the chain holds, and that all tables are what the log makes of them."""
        self.server.store.check_tables()

    def bring_up_store(self) -> None:
        """Run the last step on the file: a second each, so not where time is short."""
        if LONG:
            brought_up(self.server.store)

    def let_go(self) -> None:
        """Close and remove the file."""
        self.server.store.store.close()
        shutil.rmtree(self.folder)


@pytest.mark.parametrize("block", range(10 if LONG else 1))
def test_invariants_hold_in_a_file(block: int) -> None:
    run(Stored, 100 if LONG else 5, 50 if LONG else 25)
