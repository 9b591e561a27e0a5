"""A store with one vessel in it, and a hand that writes to it."""

from __future__ import annotations

import shutil
import tempfile
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from spares.db.door import Outcome, found_vessel, submit
from spares.db.engine import Store, open_store
from spares.domain.draft import Draft, setting
from tests.db import disk
from tests.stores import QUICK

VESSEL = "11111111-1111-4111-8111-111111111111"
WALL_MS = 1_800_000_000_000


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    """An empty store with one vessel."""
    opened = open_store(tmp_path / "spares.sqlite")
    with opened.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TST", name="Test hull")],
               wall_ms=WALL_MS)
    yield opened
    opened.close()


@pytest.fixture
def write(store: Store) -> Callable[..., list[Outcome]]:
    """Hand drafts to the door in one transaction."""
    def hand(*drafts: Draft, wall_ms: int = WALL_MS) -> list[Outcome]:
        with store.writing() as session:
            return submit(session, VESSEL, drafts, wall_ms=wall_ms)
    return hand


@pytest.fixture
def watched() -> Iterator[Path]:
    """A folder on a disk that is watched (tests/db/disk.py), in memory where that can be."""
    disk.watch()
    folder = Path(tempfile.mkdtemp(dir=QUICK))
    yield folder
    disk.listener = None
    shutil.rmtree(folder)
