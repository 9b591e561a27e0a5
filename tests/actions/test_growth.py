"""A vessel eight times as large takes some eight times the work to list, not sixty-four.

Work is counted in lines of Python that are run, which no other program at work can change.
"""

from __future__ import annotations

import sys
from collections.abc import Callable
from datetime import date
from math import log
from typing import Any

import pytest

from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.export import export_csv
from spares.actions.fit_book import fit_book
from spares.actions.show import machines, parts, services
from spares.actions.stranded import stranded
from spares.actions.trip.restock import restock
from spares.actions.walk_round import walk_round
from spares.db.find import vessels
from tests.bench.vessels import made_up_store

#: Part lines; machines are a tenth of them, services as many.
FEW, MANY = 100, 800
MOST = MANY * log(MANY) / (FEW * log(FEW))

LISTED: dict[str, Callable[[Context], Any]] = {
    "due": due, "walk-round": walk_round, "services": services, "machines": machines,
    "parts": lambda ctx: parts(ctx, None, 1000), "restock": lambda ctx: restock(ctx, "T1"),
    "stranded": stranded, "fit points": fit_book, "tables": export_csv}


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory):
    """A small vessel, and one eight times as large."""
    stores = [made_up_store(tmp_path_factory.mktemp("vessel"), lines, lines // 10)
              for lines in (FEW, MANY)]
    found = []
    for store in stores:
        with store.reading() as session:
            found.append(Context(store, vessels(session)[0][0], date(2027, 3, 15)))
    yield found
    for store in stores:
        store.close()


def lines_run(work: Callable[[], Any]) -> int:
    """Count the lines of Python that some work runs; a loop in one line counts each time round."""
    count = 0

    def seen(_frame: Any, event: str, _: Any) -> Any:
        nonlocal count
        count += event == "line"
        return seen
    before = sys.gettrace()
    sys.settrace(seen)
    try:
        work()
    finally:
        sys.settrace(before)
    return count


def test_a_loop_in_a_loop_is_seen() -> None:
    """Else nothing below would tell."""
    def each_by_each(many: int) -> int:
        return lines_run(lambda: [[one for one in range(many) if one == other]
                                  for other in range(many)])
    assert each_by_each(MANY) / each_by_each(FEW) > 2 * MOST


@pytest.mark.parametrize("what", LISTED)
def test_work_grows_no_faster_than_what_is_listed(both: list[Context], what: str) -> None:
    run = []
    for ctx in both:
        ctx.store.memory.clear()
        ctx.aboard()
        run.append(lines_run(lambda ctx=ctx: LISTED[what](ctx)))
    assert run[1] / run[0] < MOST
