"""A cell of a thousand movements is counted and undone in as many lines as one of a hundred."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.domain.draft import Draft
from tests.actions.test_growth import lines_run
from tests.db.conftest import VESSEL, WALL_MS

CELL = {"part": f"part/{VESSEL}", "locker": f"locker/{VESSEL}", "lot": ""}
FEW, MANY = 100, 1000
#: As many lines are run; a few more where the store looks deeper into an index.
SAME = 1.1


def write(store: Store, *drafts: Draft) -> list[str]:
    with store.writing() as session:
        return [one.id for one in submit(session, VESSEL, list(drafts), wall_ms=WALL_MS)]


def touching(*kinds: str) -> list[Draft]:
    return [Draft(kind, {**CELL, "q": 1000}) for kind in kinds]


def lived_in(path: Path, movements: int, counted_each: int) -> Store:
    """Give a store with one cell; counted once in *counted_each* movements, 0: never."""
    store = open_store(path)
    with store.writing() as session:
        found_vessel(session, VESSEL)
    for _ in range(0, movements, counted_each or 20):
        write(store, *touching(*["put"] * (counted_each or 20)))
        if counted_each:
            write(store, *touching("counted"))
    return store


def count(store: Store) -> None:
    write(store, *touching("counted"))


def undone(store: Store) -> Callable[[], None]:
    [ident] = write(store, *touching("took"))
    return lambda: write(store, Draft("void", {"of": ident}))


@pytest.mark.parametrize("counted_each", [20, 0])
def test_undoing_costs_the_same_however_much_happened_before(tmp_path: Path,
                                                             counted_each: int) -> None:
    run = []
    for movements in (FEW, MANY):
        store = lived_in(tmp_path / f"{movements}.sqlite", movements, counted_each)
        run.append(lines_run(undone(store)))
        store.close()
    assert run[1] / run[0] < SAME


def test_counting_costs_the_same_however_much_happened_before(tmp_path: Path) -> None:
    run = []
    for movements in (FEW, MANY):
        store = lived_in(tmp_path / f"{movements}.sqlite", movements, 20)
        run.append(lines_run(lambda store=store: count(store)))
        store.close()
    assert run[1] / run[0] < SAME
