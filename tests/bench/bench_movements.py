"""A hundred thousand movements: their fold, their growth, their room on the disk.

A small computer keeps the store on a card that wears with what is written to it; so the bytes
that a change costs are a figure too.
"""

from __future__ import annotations

import random
import time
from functools import partial
from math import log2
from pathlib import Path
from uuid import UUID

import pytest

from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.domain.draft import Draft
from spares.domain.movements import Entry
from spares.domain.stock import fold
from tests.bench.conftest import seconds_of

VESSEL = "00000000-0000-4000-8000-0000000000aa"
CELLS, MOVEMENTS = 500, 100_000
SIZES = (1_000, 10_000, 100_000, 1_000_000)
COUNTED = 50        # one movement in so many is a count
STORED = 20_000


def _entries(many: int) -> list[Entry]:
    """Make movements and counts by five devices that saw all before."""
    rng = random.Random(1)
    made = []
    for n in range(1, many + 1):
        kind = "counted" if n % COUNTED == 0 else rng.choice(("put", "took"))
        body = {"part": f"P{rng.randrange(CELLS)}", "locker": "L", "lot": "", "q": 1000}
        made.append(Entry(f"id{n}", f"d{n % 5}", n, kind, f"{n:012x}.0000.d{n % 5}", 0,
                          {"epoch": "e", "seq": n - 1}, {"e": n}, body))
    return made


def _bare(rows: list[tuple[str, str, str, str, int]]) -> dict[tuple[str, str, str], int]:
    cells: dict[tuple[str, str, str], int] = {}
    for kind, part, locker, lot, q in rows:
        key = (part, locker, lot)
        if kind == "counted":
            cells[key] = q
        else:
            cells[key] = cells.get(key, 0) + (q if kind == "put" else -q)
    return cells


def bench_fold(figure):
    entries = _entries(MOVEMENTS)
    rows = [(one.kind, one.body["part"], one.body["locker"], one.body["lot"], one.body["q"])
            for one in entries]
    assert {key: cell.quantity for key, cell in fold(entries).items()} == _bare(rows)
    ours, bare = seconds_of(lambda: fold(entries)), seconds_of(lambda: _bare(rows))
    figure(f"fold of {MOVEMENTS:,} movements", ours, "s")
    figure("the fold as a multiple of a bare loop over the same tuples", ours / bare, "x", limit=5)


def bench_fold_growth(figure):
    """Time a movement against that of n log n: 1 is n log n, below is better."""
    taken = {}
    for many in SIZES:
        times = 1 if many > MOVEMENTS else 3
        taken[many] = seconds_of(partial(fold, _entries(many)), times)
        figure(f"fold of {many:,} movements, each", taken[many] / many * 1e6, "us")
    few, most = SIZES[0], SIZES[-1]
    figure("growth of the fold to a million over that of n log n",
           taken[most] / taken[few] / (most * log2(most) / (few * log2(few))), "times", limit=1)


@pytest.fixture
def store(tmp_path: Path):
    opened = open_store(tmp_path / "store.sqlite")
    with opened.writing() as session:
        found_vessel(session, VESSEL)
    yield opened
    opened.close()


def _draft(rng: random.Random) -> Draft:
    return Draft("put", {"part": f"part/{UUID(int=rng.randrange(CELLS), version=4)}",
                         "locker": f"locker/{UUID(int=rng.randrange(40), version=4)}", "lot": "",
                         "q": 1000})


def _write(store: Store, rng: random.Random, many: int) -> None:
    with store.writing() as session:
        submit(session, VESSEL, [_draft(rng) for _ in range(many)],
               wall_ms=time.time_ns() // 1_000_000)


def bench_store_of_movements(figure, store):
    rng, path = random.Random(2), store.path
    _write(store, rng, 1)
    empty, one_first = path.stat().st_size, seconds_of(lambda: _write(store, rng, 1), times=9)
    written = _bytes_written()
    for _ in range(100):
        _write(store, rng, 1)
    if written is not None:
        figure("bytes written for a change, tapped by itself",
               (_bytes_written() - written) / 100, "B")
        written = _bytes_written()
    for _ in range(STORED // 500):
        _write(store, rng, 500)
    if written is not None:
        figure("bytes written for a change, five hundred at once",
               (_bytes_written() - written) / STORED, "B")
    with store.engine.connect() as connection:
        connection.exec_driver_sql("PRAGMA wal_checkpoint(TRUNCATE)")
    figure("the store's file, for each 1,000 movements",
           (path.stat().st_size - empty) / STORED * 1000 / 1024, "KiB")
    one_later = seconds_of(lambda: _write(store, rng, 1), times=9)
    figure("one movement, into a new store", one_first * 1000, "ms")
    figure(f"one movement, after {STORED:,} others", one_later * 1000, "ms")


def _bytes_written() -> int | None:
    """Give what this process has handed to the system to write [bytes], where it tells."""
    told = Path("/proc/self/io")
    if not told.exists():
        return None
    return int(told.read_text().split("wchar: ")[1].split()[0])
