"""An office from two vessels to two hundred in one store: what is asked across them.

Each vessel is small; so what grows is what the number of vessels costs.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from math import log2
from pathlib import Path
from typing import Any

from spares.actions.across import out_of_date, wanted, who_has
from spares.actions.bring_in import bring_in
from spares.actions.changes import changes
from spares.actions.context import Context
from spares.actions.find import find
from spares.actions.loans import loans
from spares.actions.several import rights
from spares.actions.took import took
from spares.actions.undo import undo
from spares.db.engine import Store, open_store
from spares.db.find import vessels
from tests.bench.conftest import seconds_of
from tests.bench.vessels import vessel_tables

SIZES, LINES, MACHINES = (2, 20, 200), 100, 2
TODAY = date(2027, 3, 15)

#: What looks through all vessels, and what asks or writes aboard one of them.
ACROSS: dict[str, Callable[[Context], Any]] = {
    "who has a part": lambda ctx: who_has(ctx, "P00005"),
    "what is out of date": lambda ctx: out_of_date(ctx, "2028-03-15"),
    "what is wanted, by seller": wanted, "rights by vessel": rights}
ABOARD_ONE: dict[str, Callable[[Context], Any]] = {
    "find aboard one": lambda ctx: find(ctx, "impeller"),
    "took aboard one": lambda ctx: took(ctx, "P00005", "L001"),
    "took and undone aboard one": lambda ctx: (took(ctx, "P00005", "L001"), undo(ctx)),
    "the newest changes of one": changes, "loans of one": loans}


def bench_growth_of_office(figure, tmp_path: Path):
    taken: dict[str, list[float]] = {}
    for many in SIZES:
        (folder := tmp_path / str(many)).mkdir()
        store = _office(folder, many)
        with store.reading() as session:
            ctx = Context(store, vessels(session)[0][0], TODAY)
        for what, ask in {**ACROSS, **ABOARD_ONE}.items():
            ask(ctx)
            again = seconds_of(partial(ask, ctx))
            taken.setdefault(what, []).append(seconds_of(partial(_afresh, ctx, ask), times=3))
            figure(f"{what}, {many} vessels, from nothing", taken[what][-1], "s")
            figure(f"{what}, {many} vessels, once read", again, "s")
        store.close()
    by_log = log2(SIZES[-1]) / log2(SIZES[0])
    for what, (few, *_, most) in taken.items():
        by = by_log * SIZES[-1] / SIZES[0] if what in ACROSS else by_log
        figure(f"{what}: growth to {SIZES[-1]} vessels over that of "
               f"{'n log n' if what in ACROSS else 'log n'}", most / few / by, "times", limit=1)


def _afresh(ctx: Context, ask: Callable[[Context], Any]) -> None:
    ctx.store.memory.clear()
    ask(ctx)


def _office(folder: Path, many: int) -> Store:
    store = open_store(folder / "spares.sqlite")
    for at in range(many):
        files = folder / f"vessel{at}"
        files.mkdir()
        tables = vessel_tables(LINES, MACHINES, seed=at)
        tables["vessel"] = f"mark;name\n{'ABCDEFGHIJ'[at // 100]}{at % 100:02};VESSEL {at}\n"
        for name, text in tables.items():
            (files / f"{name}.csv").write_text(text, "utf-8")
        bring_in(store, files)
    return store
