"""Doubts about counts: each is answered where it was asked, and once."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

from flask import Flask

from spares.db.door import submit
from spares.domain.draft import setting
from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import CELL, LOCKER, NOW, PART, VESSEL, Crew, here

AFT = "locker/00000000-0000-4000-8000-000000000007"


def _places(boat: Flask) -> dict[str, tuple[float, float, float]]:
    """Quantity, low and high by locker."""
    found = here(boat).get("/api/parts/P001").json["where"]
    return {one["locker"]: (one["quantity"], one["low"], one["high"]) for one in found}


def test_what_was_moved_is_answered_where_it_was_asked_and_once(boat: Flask) -> None:
    """Five lay in one locker and three in another when they were counted; one was carried over."""
    with store_of(boat).get().writing() as session:
        submit(session, VESSEL, [setting(AFT, no="L02", name="Aft", aboard=True)], wall_ms=NOW)
    counting, carrying = Crew(boat), Crew(boat)
    assert counting.codes(counting.op("counted", {**CELL, "q": 5000}),
                          counting.op("counted", {**CELL, "locker": AFT, "q": 3000})) == ["ok"] * 2
    moved = carrying.op("moved", {"part": PART, "from": LOCKER, "to": AFT, "lot": "", "q": 1000})
    assert carrying.codes(moved) == ["ok"]
    assert _places(boat) == {"L01": (4, 4, 5), "L02": (4, 3, 4)}

    def settle(side: str, **more: Any) -> Any:
        return here(boat).post("/api/do/settle", json={"change": moved["id"], "side": side, **more})
    is_problem(settle("before"), 422, field="#/locker")         # which of the two counts?
    aft = {"part": "P001", "locker": "L02", "change_id": str(uuid4())}
    assert settle("before", **aft).json["was_new"]
    assert _places(boat) == {"L01": (4, 4, 5), "L02": (3, 3, 3)}
    again = settle("before", **aft)                             # the answer was lost
    assert (again.status_code, again.json["was_new"], again.json["part"]["no"]) == (
        200, False, "P001")
    assert settle("after").status_code == 200                   # one doubt is left: no place needed
    assert _places(boat) == {"L01": (4, 4, 4), "L02": (3, 3, 3)}
    is_problem(settle("after", locker="L02"), 404, field="#/change")
