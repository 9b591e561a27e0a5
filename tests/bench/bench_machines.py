"""From twenty machines to two thousand, each with ten fit points and services, in one vessel.

Part lines grow with them. Each question is asked of a vessel that has been read, as after a start.
"""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from math import log2
from pathlib import Path
from statistics import median
from typing import Any

import orjson

from spares.actions.check import check
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.export import export_csv, export_ics, export_json
from spares.actions.fit_book import fit_book
from spares.actions.papers.paper import paper
from spares.actions.show import machines, services, show
from spares.actions.stranded import stranded
from spares.actions.summary import summary
from spares.actions.trip.restock import restock
from spares.actions.walk_round import walk_round
from spares.db.find import vessels
from tests.bench.conftest import seconds_of
from tests.bench.vessels import made_up_store

SIZES, PARTS_EACH = (20, 200, 2_000), 10
TODAY = date(2027, 3, 15)

ASKED: dict[str, Callable[[Context], Any]] = {
    "what is due": due, "the walk-round": walk_round, "all services": services,
    "all machines": machines, "one machine": lambda ctx: show(ctx, "M001"),
    "a trip planned": lambda ctx: restock(ctx, "T1"), "what is stranded": stranded,
    "the summary": summary, "fit points for a phone": lambda ctx: orjson.dumps(fit_book(ctx)),
    "what cannot be right": check, "exported as tables": export_csv,
    "exported as JSON": lambda ctx: orjson.dumps(export_json(ctx)),
    "exported as a calendar": export_ics, "the index on paper": lambda ctx: paper(ctx, "index"),
    "the book of handing over": lambda ctx: paper(ctx, "handover")}


def bench_growth_of_machines(figure, tmp_path: Path):
    taken: dict[str, list[float]] = {}
    for many in SIZES:
        (folder := tmp_path / str(many)).mkdir()
        store = made_up_store(folder, many * PARTS_EACH, many)
        with store.reading() as session:
            ctx = Context(store, vessels(session)[0][0], TODAY)
        due(ctx)                # what a first question imports is no matter of size
        for what, ask in ASKED.items():
            some = [_once_read(ctx, ask) for _ in range(1 if many == SIZES[-1] else 3)]
            taken.setdefault(what, []).append(median(some))
            figure(f"{what}, {many:,} machines", taken[what][-1], "s")
        store.close()
    by_n_log_n = SIZES[-1] * log2(SIZES[-1]) / (SIZES[0] * log2(SIZES[0]))
    for what, (few, *_, most) in taken.items():
        figure(f"{what}: growth to {SIZES[-1]:,} machines over that of n log n",
               most / few / by_n_log_n, "times", limit=1)


def _once_read(ctx: Context, ask: Callable[[Context], Any]) -> float:
    ctx.store.memory.clear()
    ctx.aboard()
    return seconds_of(partial(ask, ctx), times=1)
