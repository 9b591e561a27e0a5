"""An office meets a vessel, as her log grows: for the first time, and after a few changes.

The first time it follows her whole log; after changes of its own it makes the tables anew from it.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from math import log2
from pathlib import Path
from statistics import median
from typing import Any

from sqlmodel import select

from spares.actions import meeting, sync
from spares.actions.context import clock_ms
from spares.actions.devices import pair
from spares.db import devices
from spares.db.engine import Store, open_store
from spares.db.tables import Logbook
from spares.sync.store import OFFICE
from tests.bench.bench_log import _store, _write
from tests.bench.bench_sync import VESSEL
from tests.bench.conftest import seconds_of

SIZES = (1_000, 5_000, 25_000)
#: What is written between two meetings.
NEWS = 50


def bench_growth_of_meeting(figure, tmp_path: Path):
    taken: dict[str, list[float]] = {}
    for rows in SIZES:
        (folder := tmp_path / str(rows)).mkdir()
        for what, seconds in _meetings(folder, rows):
            taken.setdefault(what, []).append(seconds)
            figure(f"{what}, {rows:,} rows", seconds, "s")
    by_log = log2(SIZES[-1]) / log2(SIZES[0])
    for what, seconds in taken.items():
        by, of = ((by_log, "log n") if what.endswith("of hers")
                  else (by_log * SIZES[-1] / SIZES[0], "n log n"))
        figure(f"{what}: growth to {SIZES[-1]:,} rows over that of {of}",
               seconds[-1] / seconds[0] / by, "times", limit=1)


def _meetings(folder: Path, rows: int) -> list[tuple[str, float]]:
    hers, office = _store(folder, rows), open_store(folder / "office.sqlite")
    pair(hers, VESSEL, "token", name="office", role="crew", grants=(OFFICE,))
    with hers.reading() as session:
        key = session.execute(select(Logbook.key)).scalar_one()
    meeting.follow(office, VESSEL, key, address="http://127.0.0.1:1", token="token", authority="",
                   mark="BIG", name="MADE UP")
    sends, rng = _sends(hers), random.Random(5)
    found = [("the first meeting of an office and a vessel",
              seconds_of(lambda: meeting.meet(office, VESSEL, sends), times=1))]
    for what, writer, times in ((f"one after {NEWS} changes of hers", hers, 9),
                                (f"one after {NEWS} changes of the office", office, 3)):
        found.append((what, _after_news(lambda: meeting.meet(office, VESSEL, sends),
                                        lambda writer=writer: _write(writer, rng, NEWS), times)))
    hers.close()
    office.close()
    return found


def _after_news(meet: Callable[[], Any], write: Callable[[], Any], times: int) -> float:
    """Give the middle one of several meetings, each after something was written [s]."""
    taken = []
    for _ in range(times):
        write()
        taken.append(seconds_of(meet, times=1))
    return median(taken)


def _sends(hers: Store) -> Callable[[dict[str, Any]], Any]:
    """Give what hands a request to her store."""
    with hers.reading() as session:
        dev = devices.by_token(session, "token").dev

    def send(request: dict[str, Any]) -> Any:
        return json.loads(json.dumps(sync.sync(
            hers, VESSEL, dev, json.dumps(request).encode(), wall_ms=clock_ms(), boot="one")))
    return send
