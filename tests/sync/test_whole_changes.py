"""A change is there whole, once, in its place: what a planted fault in the rules would break."""

from __future__ import annotations

import copy
from dataclasses import replace
from itertools import count
from typing import Any

import pytest

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync import exchange
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from tests.sync.bench import CELL, KEY, NOW, VESSEL, Bench, codes

PART, HERE, THERE = CELL["part"], CELL["locker"], "locker/00000000-0000-4000-8000-000000000003"


class Pair:
    """A server and one phone, over a net that may lose the answer."""

    def __init__(self, make: Any = Phone, role: str = "skipper") -> None:
        numbers = count(1)
        fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
        self.server = MemoryServer(VESSEL, KEY, fresh)
        self.phone = make(VESSEL, self.server.pair("t", role, NOW), fresh)
        self.made = count(1)

    def record(self, kind: str, **body: Any) -> str:
        """Record a change of the cell; gives its id."""
        ident = f"00000000-0000-4000-8000-{next(self.made):012x}"
        rest = {} if kind in ("void", "set") else {"part": PART, "lot": ""}
        self.phone.record(ident, kind, {**rest, **body}, NOW)
        return ident

    def sync(self, one_and_lost: bool = False) -> None:
        """Sync; or send one change alone, and lose the answer."""
        def send(request: dict[str, Any]) -> dict[str, Any]:
            if one_and_lost:
                request = {**request, "ops": request["ops"][:1]}
            answer = self.server.handle("t", request, NOW)
            if one_and_lost:
                raise Stopped("lost", stop="no_answer")
            return answer
        try:
            self.phone.sync(send, NOW)
        except Stopped:
            pass

    def on_hand(self) -> dict[str, int]:
        """Give what is on hand in each locker [thousandths]."""
        return {locker: cell.quantity for (_, locker, _), cell in fold(
            self.server.entries()).items()}


def test_move_is_there_whole_or_not_at_all() -> None:
    pair = Pair()
    pair.record("counted", locker=HERE, q=5000)
    pair.sync()
    pair.record("moved", **{"from": HERE, "to": THERE, "q": 3000})
    pair.sync(one_and_lost=True)
    assert sum(pair.on_hand().values()) == 5000


def test_take_and_count_in_one_millisecond_stand_in_their_order() -> None:
    pair = Pair()
    pair.record("put", locker=HERE, q=9000)
    pair.record("took", locker=HERE, q=2000)
    pair.record("counted", locker=HERE, q=6000)
    pair.sync()
    assert pair.on_hand() == {HERE: 6000}


@pytest.mark.parametrize("q", [1000.0, 0.5, True, "1000"])
def test_quantity_that_is_no_whole_number_is_refused(q: Any) -> None:
    bench = Bench()
    answer = bench.ask(ops=[bench.op(1, "put", {**CELL, "q": q})])
    assert codes(answer) == ["bad_value"] and bench.log() == []


def held_change_stays(make: Any) -> None:
    """A held change under a number that an old file gave to another one is not forgotten."""
    pair = Pair(make, "crew")
    pair.sync()
    pair.server.backup("before")
    older = copy.deepcopy(pair.phone)
    pair.record("put", locker=HERE, q=1000)
    pair.sync()
    pair.phone = older                      # put back to its own backup: it forks
    held = pair.record("void", of="00000000-0000-4000-8000-0000000000ff")
    pair.sync()
    assert held in pair.phone.held
    pair.server.restore("before", by_hand=True)     # an old file is copied: the old number again
    pair.record("void", of="00000000-0000-4000-8000-0000000000fe")
    pair.sync()
    known = {change.id for change in pair.phone.outbox.values()}
    assert held in {*known, *pair.phone.held, *pair.phone.refused}


def test_held_change_stays_when_its_number_stands_for_another() -> None:
    held_change_stays(Phone)


def held_change_is_asked_for_before_a_refused_one(make: Any) -> None:
    """Of two changes under one number, one of an earlier device number, the held one is meant."""
    pair = Pair(make, "crew")
    pair.sync()
    refused = pair.record("set", doc=PART, f={"name": "x"}, base={})
    pair.sync()
    older = copy.deepcopy(pair.phone)
    pair.record("put", locker=HERE, q=1000)
    pair.sync()
    pair.server.backup("before")
    pair.phone = older                      # put back to its own backup: it forks
    held = pair.record("void", of="00000000-0000-4000-8000-0000000000ff")
    pair.sync()
    assert list(pair.phone.held) == [held] and pair.server.held(held).change.n == 1
    pair.server.restore("before")
    pair.sync()
    assert pair.server.held(held).change.n == 1 and list(pair.phone.refused) == [refused]


def test_held_change_is_asked_for_before_a_refused_one() -> None:
    held_change_is_asked_for_before_a_refused_one(Phone)


def refused_change_that_is_taken_after_all_is_refused_no_more(make: Any) -> None:
    """Still shown as refused it would be recorded again, and hold twice."""
    pair = Pair(make, "crew")
    pair.sync()
    pair.server.backup("before")
    refused = pair.record("set", doc=PART, f={"name": "x"}, base={})
    pair.sync()
    assert list(pair.phone.refused) == [refused]
    store = pair.server.store
    store.save_device(replace(store.device_of("t"), role="skipper"))
    pair.server.restore("before")
    pair.sync()
    assert [entry.id for entry in pair.server.entries()] == [refused] and not pair.phone.refused


def test_refused_change_that_is_taken_after_all_is_refused_no_more() -> None:
    refused_change_that_is_taken_after_all_is_refused_no_more(Phone)


def older_app_keeps_all_when_the_log_was_put_back(make: Any, monkeypatch: Any) -> None:
    """It gets no rows: told to pull anew, it would bring its whole copy without end."""
    pair = Pair(make)
    pair.sync()
    pair.server.backup("before")
    lost = pair.record("put", locker=HERE, q=1000)
    pair.sync()
    pair.server.restore("before")
    waits = pair.record("put", locker=HERE, q=2000)
    monkeypatch.setattr(exchange, "SCHEMA", 2)
    asked = count(1)

    def send(request: dict[str, Any]) -> dict[str, Any]:
        assert next(asked) < 5, "the exchange does not come to an end"
        return pair.server.handle("t", request, NOW)
    pair.phone.sync(send, NOW)
    assert [change.id for change in pair.phone.outbox.values()] == [waits]
    monkeypatch.undo()                      # the app was brought up
    pair.sync()
    assert [entry.id for entry in pair.server.entries()] == [lost, waits]


def test_older_app_keeps_all_when_the_log_was_put_back(monkeypatch: Any) -> None:
    older_app_keeps_all_when_the_log_was_put_back(Phone, monkeypatch)
