"""A cell of a thousand movements is counted and undone with as much work as one of a hundred.

Of Python the lines that are run are counted, of SQLite the steps of its own machine.
"""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import event, text

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


def steps_of(store: Store, job: Callable[[], object]) -> int:
    """Count the steps of SQLite's machine, of which each row that it goes through takes some."""
    steps = 0

    def step() -> int:
        nonlocal steps
        steps += 1
        return 0            # go on

    def watch(_connection: Any, cursor: Any, *_: Any) -> None:
        cursor.connection.set_progress_handler(step, 1)
    event.listen(store.engine, "before_cursor_execute", watch)
    job()
    event.remove(store.engine, "before_cursor_execute", watch)
    return steps


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


@pytest.mark.sqlite
def test_database_goes_through_as_many_rows_however_much_happened_before(tmp_path: Path) -> None:
    run = []
    for movements in (FEW, MANY):
        store = lived_in(tmp_path / f"{movements}.sqlite", movements, 20)
        jobs = (lambda store=store: write(store, *touching("took")), undone(store),
                lambda store=store: count(store))
        run.append([steps_of(store, job) for job in jobs])
        store.close()
    assert min(run[0]) > 100, "the steps were not seen"
    assert all(many / few < SAME for few, many in zip(*run, strict=True)), run


def test_cut_off_whose_counts_are_gone_stops_no_movement(tmp_path: Path) -> None:
    """Of a damaged store, until its tables are made anew; 1 was counted."""
    store = lived_in(tmp_path / "damaged.sqlite", 20, 20)
    with store.writing() as session:
        session.execute(text("DELETE FROM effect"))
    write(store, *touching("took"))
    with store.reading() as session:
        assert session.execute(text("SELECT quantity FROM cell")).scalars().all() == [0]
    store.close()
