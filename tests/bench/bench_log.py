"""What follows a whole log, or writes one row more, as the log grows.

Two fifths are taken, the rest put, one in fifty is a count; a few hundred cells, so that each has
a long history. Of the whole log nothing may grow faster than n log n, of one row or a few than
log n. Five hundred at once touch all the pages of a small store and one each in a large one: that
grows until each has its own and then with log n; `bench_sync.py` follows it to a million.
"""

from __future__ import annotations

import random
from collections.abc import Callable, Iterator
from datetime import date
from math import log2
from pathlib import Path
from uuid import UUID

from spares.actions.backup import backup, restore
from spares.actions.changes import changes
from spares.actions.check import check
from spares.actions.context import Context
from spares.actions.counts import counts
from spares.actions.loans import loans
from spares.actions.undo import undo
from spares.config import read_settings
from spares.db import devices
from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.domain.draft import Draft, setting
from tests.bench.bench_sync import NOW, VESSEL, pull
from tests.bench.conftest import seconds_of

SIZES = (1_000, 10_000, 100_000)
AT_ONCE, FEW, COUNTED = 500, 50, 50
PARTS, LOCKERS = ([f"{kind}/{UUID(int=at + 1, version=4)}" for at in range(many)]
                  for kind, many in (("part", 500), ("locker", 40)))


def bench_growth_of_log(figure, tmp_path: Path):
    taken: dict[str, dict[int, float]] = {}
    whole: set[str] = set()
    for rows in SIZES:
        (folder := tmp_path / str(rows)).mkdir()
        store = _store(folder, rows)
        for what, seconds, is_whole in _of_log(store, folder):
            taken.setdefault(what, {})[rows] = seconds
            whole |= {what} if is_whole else set()
            figure(f"{what}, {rows:,} rows", seconds, "s")
        store.close()
    few, most = SIZES[0], SIZES[-1]
    for what, of_size in taken.items():
        by_log = log2(most) / log2(few)
        by, of = (by_log * most / few, "n log n") if what in whole else (by_log, "log n")
        is_bounded = what.startswith(f"{AT_ONCE} ")
        figure(f"{what}: growth to {most:,} rows over that of {of}",
               of_size[most] / of_size[few] / by, "times", limit=None if is_bounded else 1)


def _store(folder: Path, rows: int) -> Store:
    store, rng = open_store(folder / "store.sqlite"), random.Random(2)
    with store.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [
            setting(f"vessel/{VESSEL}", mark="BIG", name="MADE UP"),
            *(setting(part, no=f"P{at:03}", name="a part") for at, part in enumerate(PARTS)),
            *(setting(one, no=f"L{at:02}", name="a locker") for at, one in enumerate(LOCKERS))],
            wall_ms=NOW)
        devices.pair(session, VESSEL, "t", name="", role="crew", now_ms=NOW)
    for _ in range(rows // AT_ONCE):
        _write(store, rng, AT_ONCE)
    return store


def _write(store: Store, rng: random.Random, many: int, kind: str = "") -> None:
    drafts = []
    for at in range(many):
        cell = rng.randrange(len(PARTS))
        drafts.append(Draft(
            kind or ("counted" if at % COUNTED == 0 else rng.choice(("put", "put", "put", "took",
                                                                     "took"))),
            {"part": PARTS[cell], "locker": LOCKERS[cell % len(LOCKERS)], "lot": "", "q": 1000}))
    with store.writing(VESSEL) as session:
        submit(session, VESSEL, drafts, wall_ms=NOW)


def _of_log(store: Store, folder: Path) -> Iterator[tuple[str, float, bool]]:
    """Give what was done, how long it took [s], and whether it follows the whole log."""
    ctx, rng = Context(store, VESSEL, date(2027, 3, 15)), random.Random(3)
    settings = read_settings({"SPARES_STORE": str(folder / "put back" / "store.sqlite")})
    with store.reading() as session:
        dev = devices.paired(session, VESSEL)[0].dev
    whole: dict[str, Callable[[], object]] = {
        "the log pulled by a fresh phone": lambda: pull(store, dev),
        "the log followed, its chain and what cannot be right": lambda: check(ctx),
        "the same, and the tables made anew": lambda: check(ctx, rebuild=True),
        "a backup made and read back": lambda: backup(store, folder / "one.zip"),
        "a backup put back": lambda: restore(settings, folder / "one.zip"),
        "lockers by the age of their counts": lambda: counts(ctx), "loans": lambda: loans(ctx)}
    for what, work in whole.items():
        yield what, seconds_of(work, times=1), True
    single: dict[str, Callable[[], object]] = {
        "the newest fifty changes listed": lambda: changes(ctx),
        f"{AT_ONCE} movements and counts written": lambda: _write(store, rng, AT_ONCE),
        f"{FEW} movements and a count written": lambda: _write(store, rng, FEW),
        "one movement written": lambda: _write(store, rng, 1, "put"),
        "one count written": lambda: _write(store, rng, 1, "counted"),
        "one movement written and undone": lambda: (_write(store, rng, 1, "put"), undo(ctx))}
    for what, work in single.items():
        yield what, seconds_of(work), False
