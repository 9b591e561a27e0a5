"""A movement in doubt is asked about against the count that holds, and the answer ends it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from spares.db.before_writing import doubted
from spares.domain.stock import fold
from spares.sync.stamp import MINUTE_MS
from spares.sync.store import entries_of
from tests.sync.bench import CELL, NOW, VESSEL, Bench

HOUR_MS = 60 * MINUTE_MS


def settle(bench: Bench, change: str, n: int) -> list[tuple[int, int, int]]:
    """Answer a doubt as the screen does; gives quantity, low and high of each cell."""
    with bench.store.store.reading() as session:
        found = doubted(session, VESSEL, change)
    body: dict[str, Any] = {"of": change, "count": found[0][1], "side": "after"}
    bench.ask("skipper", ops=[bench.op(n, "settle", body)])
    with bench.store.store.reading() as session:
        assert doubted(session, VESSEL, change) == []
    entries = entries_of(bench.store.rows(0, 99), bench.store.epochs())
    return [(cell.quantity, cell.low, cell.high) for cell in fold(entries).values()]


def test_doubt_about_a_part_that_was_merged_since_can_be_settled(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    bench.store.pair("second", "crew")
    other = "part/00000000-0000-4000-8000-000000000022"
    bench.ask(ops=[bench.op(1, "counted", {**CELL, "part": other, "q": 5000}, t=NOW - 1000)])
    taken = bench.op(1, "took", {**CELL, "part": other, "q": 2000})
    bench.ask("second", ops=[taken])
    bench.ask("skipper", ops=[bench.op(1, "same", {"keep": CELL["part"], "drop": other})])
    assert settle(bench, taken["id"], 2) == [(3000, 3000, 3000)]


def test_doubt_is_about_the_count_that_holds_by_the_stamp_that_holds(tmp_path: Path) -> None:
    """A count taken twice, the second time an hour late, gets its first stamp again."""
    bench = Bench(tmp_path)
    bench.store.pair("second", "crew")
    bench.store.pair("third", "crew")
    backup, early = bench.store.backup(), bench.op(1, "counted", {**CELL, "q": 5000})
    bench.ask(ops=[early])                                  # the answer is lost
    (_, first), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    bench.wall_ms = NOW + HOUR_MS
    bench.ask(ops=[early])                                  # its clock was set back meanwhile
    half_past = {"now": NOW + HOUR_MS, "off_prev": 0}
    later = bench.op(1, "counted", {**CELL, "q": 5000}, t=NOW + HOUR_MS // 2)
    bench.ask("second", ops=[later], **half_past)
    taken = bench.op(1, "took", {**CELL, "q": 2000}, t=NOW + HOUR_MS // 2 + 1)
    bench.ask("third", ops=[taken], **half_past)
    bench.ask("skipper", relay=[first.to_json()])
    assert settle(bench, taken["id"], 1) == [(3000, 3000, 3000)]
