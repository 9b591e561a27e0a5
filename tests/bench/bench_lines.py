"""From two thousand part lines to two hundred thousand: nothing may grow faster than n log n.

Each size is brought in through the importer as anybody's files are; then what people ask.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from math import log2
from pathlib import Path

from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.find import find
from spares.actions.show import parts
from spares.actions.took import took
from spares.actions.trip.restock import restock
from spares.db.find import vessels
from tests.bench.conftest import seconds_of
from tests.bench.vessels import made_up_store

SIZES = (2_000, 20_000, 200_000)
TODAY = date(2027, 3, 15)


def bench_growth_of_lines(figure, tmp_path: Path):
    taken: dict[str, dict[int, float]] = {}
    for lines in SIZES:
        for what, seconds in _of_size(tmp_path / str(lines), lines).items():
            taken.setdefault(what, {})[lines] = seconds
            figure(f"{what}, {lines:,} lines", seconds, "s")
    few, most = SIZES[0], SIZES[-1]
    by_n_log_n = most * log2(most) / (few * log2(few))
    for what, of_size in taken.items():
        figure(f"{what}: growth to {most:,} lines over that of n log n",
               of_size[most] / of_size[few] / by_n_log_n, "times", limit=1)


def _of_size(folder: Path, lines: int) -> dict[str, float]:
    folder.mkdir()
    made = []
    importing = seconds_of(lambda: made.append(made_up_store(folder, lines)), times=1)
    store = made[0]
    with store.reading() as session:
        ctx = Context(store, vessels(session)[0][0], TODAY)

    def cold(work: Callable[[], object]) -> Callable[[], object]:
        def run() -> object:
            store.memory.clear()
            return work()
        return run
    found = {
        "brought in by the importer": importing,
        "all lines, from nothing": seconds_of(cold(lambda: _all_lines(ctx)), times=1),
        "a word found": seconds_of(lambda: find(ctx, "impeller")),
        "a number found": seconds_of(lambda: find(ctx, "P00500")),
        "a trip planned, from nothing": seconds_of(cold(lambda: restock(ctx, "T1")), times=1),
        "what is due, from nothing": seconds_of(cold(lambda: due(ctx)), times=1),
        "one piece taken, until the answer": seconds_of(
            lambda: took(ctx, "P00500", "L001"), times=1)}
    store.close()
    return found


def _all_lines(ctx: Context) -> int:
    after, count = None, 0
    while True:
        page = parts(ctx, after, 1000)
        count += len(page["parts"])
        if (after := page["after"]) is None:
            return count
