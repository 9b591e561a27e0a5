"""Phones that run the client's modules, with the server's own rules and a bad net between them."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, rule, run_state_machine_as_test

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync import exchange, story
from spares.sync.memory_server import MemoryServer
from spares.sync.story import Story
from spares.sync.story_names import minutes_of
from tests.client.node_phone import NodePhone
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.sync import world as random_stories
from tests.sync.test_leaving import leave_after_a_restore

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

VESSEL = "00000000-0000-4000-8000-0000000000aa"
STORIES = json.loads((Path(__file__).parents[1] / "vectors/history/stories.json")
                     .read_text("utf-8"))["cases"]
CELLS = [{"part": f"part/00000000-0000-4000-8000-00000000000{part}",
          "locker": f"locker/00000000-0000-4000-8000-00000000001{locker}", "lot": ""}
         for part in (1, 2) for locker in (1, 2)]


@pytest.fixture(scope="module", autouse=True)
def node() -> Iterator[None]:
    """The process in which all phones of this file live."""
    NodePhone.node = Node("sync_phones.js")
    yield
    NodePhone.node.close()


def _counting() -> Any:
    numbers = count(1)
    return lambda length: f"{next(numbers):0{length}x}"


@pytest.mark.parametrize("case", [pytest.param(case, id=case["name"]) for case in STORIES])
def test_story_ends_with_the_phone_as_worked_out_by_hand(
        case: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(story, "Phone", NodePhone)
    fresh = _counting()
    given = case["given"]
    devices = {name: minutes_of({"m": error}, "m") for name, error in given["devices"].items()}
    told = Story(MemoryServer(VESSEL, bytes(32), fresh), VESSEL, devices, fresh)
    steps = [[minutes_of({"m": step[0]}, "m"), *step[1:]] for step in given["steps"]]
    assert told.play(steps) == case["expect"]


@pytest.mark.parametrize("seed", range(60 if LONG else 6))
def test_random_history_loses_nothing_and_deceives_nobody(
        seed: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(random_stories, "Phone", NodePhone)
    world = random_stories.build(7000 + seed)
    random_stories.play(world, 60, restores=True, lost_time=seed % 2 == 1)
    random_stories.bring_together(world)
    random_stories.check_copies(world)
    random_stories.check_causes(world)
    assert random_stories.silently_wrong(world) == []


def _one_phone() -> tuple[MemoryServer, NodePhone, Callable[[dict[str, Any]], dict[str, Any]]]:
    fresh = _counting()
    server = MemoryServer(VESSEL, bytes(32), fresh)
    phone = NodePhone(VESSEL, server.pair("t", "skipper", 1_800_000_000_000), fresh)
    return server, phone, lambda request: server.handle("t", request, 1_800_000_000_000)


def _ident(number: int) -> str:
    return f"00000000-0000-4000-8000-{number:012x}"


def test_an_older_page_hands_in_and_pulls_once_it_is_brought_up(
        monkeypatch: pytest.MonkeyPatch) -> None:
    server, phone, send = _one_phone()
    phone.record(_ident(1), "put", {**CELLS[0], "q": 5000}, 1_800_000_000_000)
    phone.sync(send, 1_800_000_000_000)
    with monkeypatch.context() as newer:
        newer.setattr(exchange, "SCHEMA", 2)
        phone.record(_ident(2), "took", {**CELLS[0], "q": 1000}, 1_800_000_000_500)
        phone.sync(send, 1_800_000_000_500)
        assert phone.outbox == {} and phone.state()["cells"][0]["quantity"] == 4000
    phone.sync(send, 1_800_000_001_000)
    assert {entry.id for entry in server.entries()} == {_ident(1), _ident(2)}
    assert {entry.id for entry in phone.entries()} == {_ident(1), _ident(2)}


def test_a_newer_page_keeps_what_was_made_until_the_server_is_brought_up() -> None:
    server, phone, send = _one_phone()
    phone.record(_ident(1), "put", {**CELLS[0], "q": 5000}, 1_800_000_000_000)
    with pytest.raises(Stopped) as caught:
        phone.sync(lambda request: send({**request, "schema": 2}), 1_800_000_000_000)
    assert caught.value.facts["stop"] == "server_old"
    assert [change.id for change in phone.outbox.values()] == [_ident(1)]
    phone.sync(send, 1_800_000_000_000)
    assert phone.outbox == {} and len(server.entries()) == 1


def test_held_changes_stay_on_the_phone_until_the_skipper_decides() -> None:
    fresh = _counting()
    server = MemoryServer(VESSEL, bytes(32), fresh)
    server.pair("skipper", "skipper", 1_800_000_000_000)
    phone = NodePhone(VESSEL, server.pair("crew", "crew", 1_800_000_000_000), fresh)

    def send(request: dict[str, Any]) -> dict[str, Any]:
        return server.handle("crew", request, 1_800_000_000_000)

    for number in (1, 2):     # they undo what is not here
        phone.record(_ident(number), "void", {"of": _ident(90 + number)}, 1_800_000_000_000)
    phone.sync(send, 1_800_000_000_000)
    assert sorted(phone.state()["held"]) == [_ident(1), _ident(2)] and phone.outbox == {}
    server.approve(_ident(1))
    server.reject(_ident(2))
    phone.sync(send, 1_800_000_000_000)
    assert phone.state()["held"] == [] and phone.state()["refused"] == [_ident(2)]
    assert _ident(1) in {entry.id for entry in phone.entries()}


def test_phone_of_a_leaver_comes_to_an_end_after_a_restore() -> None:
    leave_after_a_restore(NodePhone)


class Phones(RuleBasedStateMachine):
    """Three phones that are closed at any moment, and a server that is put back."""

    @initialize()
    def pair(self) -> None:
        fresh = _counting()
        self.ids, self.minute = count(1), 0
        self.saved: set[str] = set()
        self.server = MemoryServer(VESSEL, bytes(32), fresh)
        self.phones = [NodePhone(VESSEL, self.server.pair(f"t{who}", "skipper", self._now()), fresh)
                       for who in range(3)]

    @rule(who=st.integers(0, 2), kind=st.sampled_from(["took", "put", "counted"]),
          cell=st.sampled_from(CELLS), pieces=st.integers(1, 9), minutes=st.integers(1, 400))
    def record(self, who: int, kind: str, cell: dict, pieces: int, minutes: int) -> None:
        self.minute += minutes
        ident = f"00000000-0000-4000-8000-{next(self.ids):012x}"
        self.phones[who].record(ident, kind, {**cell, "q": pieces * 1000}, self._now())
        self.saved.add(ident)

    @rule(who=st.integers(0, 2), fate=st.sampled_from(["ok", "ok", "twice", "lost", "closed"]))
    def sync(self, who: int, fate: str) -> None:
        self._sync(who, fate)

    @rule(who=st.integers(0, 2))
    def close_the_page(self, who: int) -> None:
        self.phones[who].reopen()

    @rule()
    def back_up(self) -> None:
        self.server.backup("b")

    @rule()
    def put_back(self) -> None:
        if "b" in self.server.backups:
            self.server.restore("b")

    def teardown(self) -> None:
        if not hasattr(self, "phones"):
            return
        for who in [0, 1, 2, 0, 1, 2]:
            self._sync(who, "ok")
        log = self.server.entries()
        ids = [entry.id for entry in log if entry.kind != "restamp"]
        assert sorted(ids) == sorted(self.saved), "each change is there once"
        cells = {key: cell.quantity for key, cell in fold(log).items()}
        for phone in self.phones:
            state = phone.state()
            assert state["waiting"] == state["gone"] == state["refused"] == []
            assert {(row["part"], row["locker"], row["lot"]): row["quantity"]
                    for row in state["cells"]} == cells

    def _sync(self, who: int, fate: str) -> None:
        def send(request: dict[str, Any]) -> dict[str, Any]:
            for _ in range(2 if fate == "twice" else 1):
                answer = self.server.handle(f"t{who}", request, self._now())
            if fate == "lost":
                raise Stopped("no answer came", stop="no_answer")
            return answer

        try:
            self.phones[who].sync(send, self._now(), dies=lambda: fate == "closed")
        except Stopped:
            return

    def _now(self) -> int:
        return 1_800_000_000_000 + self.minute * 60_000


def test_phones_closed_at_any_moment_lose_nothing_and_count_nothing_twice() -> None:
    run_state_machine_as_test(Phones, settings=settings(
        max_examples=400 if LONG else 30, stateful_step_count=40, deadline=None))
