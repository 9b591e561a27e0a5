"""The exchange with a phone: ten thousand changes in and out, beside a bare insert of the rows."""

from __future__ import annotations

import json
import sqlite3
import statistics
import time
from contextlib import closing
from functools import partial
from math import log2
from pathlib import Path

import pytest

from spares.actions.sync import sync
from spares.db import devices
from spares.db.door import found_vessel
from spares.db.engine import Store, open_store
from spares.db.fresh_id import fresh_id

CHANGES, AT_ONCE, RUNS = 10_000, 500, 3
#: How long the log is when an exchange is timed.
SIZES = (1_000, 10_000, 100_000, 1_000_000)
VESSEL = "00000000-0000-4000-8000-0000000000aa"
NOW, DAY_MS = 1_800_000_000_000, 86_400_000
#: The tables that a movement is written to.
WRITTEN = ("log", "effect", "cell")


@pytest.fixture
def store(tmp_path: Path):
    opened = open_store(tmp_path / "store.sqlite")
    with opened.writing() as session:
        found_vessel(session, VESSEL)
    yield opened
    opened.close()


def bench_sync(figure, tmp_path):
    """Each run has a store of its own, and the same rows are inserted right after it."""
    runs = []
    for run in range(RUNS):
        (folder := tmp_path / str(run)).mkdir()
        runs.append(_both_ways(folder))
    one_table, into, out, same_rows = (statistics.median(some) for some in zip(*runs, strict=True))
    figure(f"{CHANGES} changes: the same rows by a bare insert, one commit", same_rows, "s")
    figure(f"{CHANGES} changes from a phone", into, "s")
    figure(f"{CHANGES} changes from a phone, against the same rows",
           statistics.median(one[1] / one[3] for one in runs), "x", limit=4)
    figure(f"{CHANGES} changes from a phone, against one bare table", into / one_table, "x")
    figure(f"{CHANGES} changes to a fresh phone", out, "s")
    figure(f"{CHANGES} changes to a fresh phone, against the same rows", out / same_rows, "x")


def _both_ways(folder: Path) -> tuple[float, float, float, float]:
    ops = [_op(n) for n in range(1, CHANGES + 1)]
    one_table = _bare_insert(folder / "bare.sqlite", ops)
    with closing(open_store(folder / "store.sqlite")) as store:
        with store.writing() as session:
            found_vessel(session, VESSEL)
            dev = devices.pair(session, VESSEL, "t", name="", role="crew", now_ms=NOW).dev
            other = devices.pair(session, VESSEL, "u", name="", role="crew", now_ms=NOW).dev
        asked = [_request(dev, ops[at:at + AT_ONCE]) for at in range(0, CHANGES, AT_ONCE)]
        into = _seconds(lambda: [_ask(store, dev, one) for one in asked])
        out = _seconds(lambda: pull(store, other))
        return one_table, into, out, _same_rows(store.path, folder / "again.sqlite")


def bench_sync_growth(figure, store):
    """Time the same exchange as the log of one phone grows: 1 is as log n, below is better."""
    with store.writing() as session:
        dev = devices.pair(session, VESSEL, "t", name="", role="crew", now_ms=NOW).dev
    taken: dict[int, list[float]] = {size: [] for size in SIZES}
    for first in range(1, SIZES[-1] + 5 * AT_ONCE, AT_ONCE):
        now = NOW + first // CHANGES * DAY_MS       # nobody makes all that on one day
        request = _request(dev, [_op(n, now) for n in range(first, first + AT_ONCE)], now=now)
        seconds = _seconds(partial(_ask, store, dev, request, now))
        for size in SIZES:
            if size < first <= size + 5 * AT_ONCE:
                taken[size].append(seconds)
    middle = {size: statistics.median(some) for size, some in taken.items()}
    for size, seconds in middle.items():
        figure(f"{AT_ONCE} changes from a phone, {size:,} in the log", seconds, "s")
    few, most = SIZES[0], SIZES[-1]
    figure(f"an exchange: growth to {most:,} changes over that of log n",
           middle[most] / middle[few] / (log2(most) / log2(few)), "times", limit=1)


def _op(n: int, now: int = NOW) -> dict:
    return {"id": fresh_id(now + n), "n": n, "kind": "put", "v": 1, "t": now, "seen": None,
            "after": "", "body": {
                "part": f"part/00000000-0000-4000-8000-0000001{n % 1000:05d}",
                "locker": f"locker/00000000-0000-4000-8000-0000002{n % 100:05d}", "lot": "",
                "q": 1000}}


def _request(dev: str, ops: list[dict], cursor: str | None = None, now: int = NOW) -> bytes:
    return json.dumps(
        {"proto": 1, "schema": 1, "vessel": VESSEL, "inst": dev, "cursor": cursor, "now": now,
         "off_prev": None, "boot_prev": None, "stepped": False,
         "last": ops[-1]["n"] if ops else 0, "ops": ops, "want": 0 if ops else 1000}).encode()


def _ask(store: Store, dev: str, request: bytes, now: int = NOW) -> dict:
    return sync(store, VESSEL, dev, request, wall_ms=now, boot="b")


def pull(store: Store, dev: str) -> None:
    answer = _ask(store, dev, _request(dev, []))
    while answer["more"]:
        answer = _ask(store, dev, _request(dev, [], answer["cursor"]))


def _bare_insert(path: Path, ops: list[dict]) -> float:
    connection = sqlite3.connect(path, isolation_level=None)
    for line in ("journal_mode=WAL", "synchronous=FULL"):
        connection.execute(f"PRAGMA {line}")
    connection.execute("CREATE TABLE log (n INTEGER PRIMARY KEY, id TEXT UNIQUE, raw TEXT)")

    def insert() -> None:
        for at in range(0, CHANGES, AT_ONCE):
            connection.execute("BEGIN IMMEDIATE")
            connection.executemany("INSERT INTO log VALUES (?, ?, ?)", [
                (op["n"], op["id"], json.dumps(op)) for op in ops[at:at + AT_ONCE]])
            connection.execute("COMMIT")
    taken = _seconds(insert)
    connection.close()
    return taken


def _same_rows(made: Path, path: Path) -> float:
    """Insert what the exchange has written into a store of the same tables, as one transaction."""
    open_store(path).close()
    source = sqlite3.connect(made)
    rows = {table: source.execute(f"SELECT * FROM {table}").fetchall() for table in WRITTEN}
    connection = sqlite3.connect(path, isolation_level=None)
    connection.execute("PRAGMA synchronous=FULL")

    def insert() -> None:
        connection.execute("BEGIN IMMEDIATE")
        for table, some in rows.items():
            marks = ", ".join("?" * len(some[0]))
            connection.executemany(f"INSERT INTO {table} VALUES ({marks})", some)
        connection.execute("COMMIT")
    taken = _seconds(insert)
    connection.close()
    return taken


def _seconds(work) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
