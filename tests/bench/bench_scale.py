"""Twenty thousand part lines: find, first load and a trip against the bare work underneath.

Each figure stands beside the least that any program would have to do for it, taken in the
same run: the database's own query, or the bare arithmetic.
"""

from __future__ import annotations

import os
import sqlite3
import subprocess
import sys
import time
import urllib.request
from datetime import date
from pathlib import Path

import orjson
import psutil
import pytest

from spares.actions.bring_in import load_demo
from spares.actions.context import Context
from spares.actions.find import find
from spares.actions.show import parts
from spares.actions.took import took
from spares.actions.trip.restock import restock
from spares.db.engine import open_store
from spares.db.find import vessels
from tests.bench.conftest import seconds_of
from tests.bench.vessels import made_up_store

PARTS = 20_000
TODAY = "2027-03-15"


@pytest.fixture(scope="module")
def big(tmp_path_factory: pytest.TempPathFactory) -> Context:
    """A made-up vessel, brought in through the importer and the door."""
    store = made_up_store(tmp_path_factory.mktemp("big"), PARTS)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    return Context(store, vessel, date.fromisoformat(TODAY))


def fresh(ctx: Context) -> Context:
    """Forget what was worked out before."""
    ctx.store.memory.clear()
    return ctx


def bench_find(figure, big):
    bare = sqlite3.connect(big.store.path)
    query = ("SELECT s.part FROM search s JOIN search_words w ON w.rowid = s.id "
             "WHERE search_words MATCH '\"impeller\"' LIMIT 50")
    least = seconds_of(lambda: bare.execute(query).fetchall())
    find(big, "impeller")
    ours = seconds_of(lambda: find(big, "impeller"))
    number = seconds_of(lambda: find(big, "P00500"))
    figure(f"find a word in {PARTS} lines: bare query", least * 1000, "ms")
    figure(f"find a word in {PARTS} lines: with places and counts", ours * 1000, "ms")
    figure("find a word as a multiple of the bare query", ours / least, "x", limit=2)
    figure(f"find a number in {PARTS} lines", number * 1000, "ms")


def bench_first_load(figure, big):
    bare = sqlite3.connect(big.store.path)
    query = "SELECT p.*, c.* FROM part p LEFT JOIN cell c ON c.part = 'part/' || p.id"

    def least_load() -> bytes:
        return orjson.dumps([[str(cell) for cell in row] for row in bare.execute(query)])

    def whole_load() -> bytes:
        after, lines = None, []
        while True:
            page = parts(fresh(big) if after is None else big, after, 1000)
            lines += page["parts"]
            if (after := page["after"]) is None:
                return orjson.dumps(lines)

    least, ours = seconds_of(least_load, 3), seconds_of(whole_load, 3)
    figure(f"first load of {PARTS} lines: bare select and orjson", least, "s")
    figure(f"first load of {PARTS} lines", ours, "s")
    figure("first load as a multiple of the bare one", ours / least, "x", limit=2)


def bench_trip_plan(figure, big):
    def bare_sum() -> int:
        total = 0
        for line in range(200):
            for day in range(90):
                total += line * day % 7
        return total

    least = seconds_of(bare_sum)
    restock(big, "T1")
    ours = seconds_of(lambda: restock(fresh(big), "T1"), 3)
    figure("bare arithmetic of 200 services over 90 days", least * 1000, "ms")
    figure(f"restock of a trip, cold, {PARTS} lines, 200 services", ours * 1000, "ms")
    figure("restock as a multiple of the bare arithmetic", ours / least, "x")


def bench_one_movement(figure, big):
    ours = seconds_of(lambda: took(big, "P00500", "L001"), 3)
    figure(f"took one of {PARTS} lines, until the answer", ours, "s")


def bench_memory(figure, big, tmp_path):
    demo = tmp_path / "demo.sqlite"
    store = open_store(demo)
    load_demo(store, day_zero=date.fromisoformat(TODAY))
    store.close()
    figure("resident memory of the server, demo", _resident_mb(demo, "imp har"), "MB", limit=120)
    figure(f"resident memory of the server, {PARTS} lines",
           _resident_mb(big.store.path, "impeller"), "MB", limit=200)


def _resident_mb(path: Path, words: str) -> float:
    """Start a server of its own on *path*, ask it what a phone asks first, and weigh it."""
    port = "18" + str(os.getpid() % 1000).zfill(3)
    server = subprocess.Popen(
        [sys.executable, "-m", "spares", "serve"], stdout=subprocess.DEVNULL,
        env={**os.environ, "SPARES_STORE": str(path), "SPARES_PORT": port, "SPARES_TODAY": TODAY})
    try:
        for route in ("find?q=" + words.replace(" ", "+"), "trips/T1/restock", "parts?limit=1000",
                      "due"):
            _ask(f"http://127.0.0.1:{port}/api/{route}")
        return max(process.memory_info().rss
                   for process in (psutil.Process(server.pid),
                                   *psutil.Process(server.pid).children(True))) / 2**20
    finally:
        server.terminate()
        server.wait(20)


def _ask(address: str) -> None:
    for _ in range(100):
        try:
            with urllib.request.urlopen(address, timeout=60) as answer:
                answer.read()
                return
        except OSError:
            time.sleep(0.2)
    raise TimeoutError(address)
