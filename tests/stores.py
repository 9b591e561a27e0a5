"""Stores for tests from outside: the demo as a file, and a watch that it stays as it was."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date, datetime
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from spares.actions.bring_in import load_demo
from spares.db.dump import logical_dump
from spares.db.engine import open_store
from spares.db.find import head_of, vessels
from spares.db.restore import restore_backup, restore_into
from tests import postgresql

DAY_ZERO = "2027-03-15"
#: Files in memory where there are such, for tests that do not ask what a disk does.
QUICK = Path("/dev/shm") if Path("/dev/shm").is_dir() else None


def make_demo(folder: Path) -> Path:
    """Put a store's file there with both demo vessels, as they are on day zero."""
    path = folder / "demo.sqlite"
    path.write_bytes(_whole_demo())
    return path


@cache
def _whole_demo() -> bytes:
    """Make it once for this process: a store lies in one file when it is closed."""
    with TemporaryDirectory(dir=QUICK) as folder:
        path = Path(folder) / "demo.sqlite"
        store = open_store(path)
        load_demo(store, day_zero=date.fromisoformat(DAY_ZERO))
        store.close()
        assert [one.name for one in Path(folder).iterdir()] == [path.name]
        return path.read_bytes()


def restore_to(source: Path, path: Path, now: datetime, *, look: bool = False) -> dict[str, Any]:
    """Put a backup in the place of the store at *path*, whatever kind of store it is."""
    if not postgresql.in_use():
        return restore_backup(source, path, now, look=look)
    store = open_store(path)
    try:
        return restore_into(source, store, now, look=look)
    finally:
        store.close()


def state_of(path: Path) -> dict[str, object]:
    """Give, for each vessel of a store, the head of her log and all that her tables say."""
    store = open_store(path)
    try:
        with store.reading() as session:
            return {mark: (head_of(session, vessel), logical_dump(session, vessel))
                    for vessel, mark in vessels(session)}
    finally:
        store.close()


def heads_of(path: Path) -> dict[str, object]:
    """Give, for each vessel of a store, the end of her log."""
    store = open_store(path, upgrade=False)
    try:
        with store.reading() as session:
            return {mark: head_of(session, vessel) for vessel, mark in vessels(session)}
    finally:
        store.close()


@contextmanager
def as_before(path: Path) -> Iterator[None]:
    """Assert that what happens inside leaves the store as it was."""
    before = state_of(path)
    yield
    assert state_of(path) == before
