"""Phones that run the client's modules, with the server's own rules and a bad net between them."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator
from contextlib import suppress
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis.stateful import rule

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync import exchange, story
from spares.sync.memory_server import MemoryServer
from spares.sync.story import Story
from spares.sync.story_names import minutes_of
from tests.client.node_phone import NodePhone
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.sync import crew_world
from tests.sync import world as random_stories
from tests.sync.machine import PHONES, Exchange, run
from tests.sync.test_leaving import (
    guest_brings_back_what_a_lost_phone_made,
    leave_after_a_restore,
)
from tests.sync.test_lost_numbers import STORIES as LOST_NUMBERS
from tests.sync.test_new_number import (
    STORIES as NEW_NUMBERS,
)
from tests.sync.test_new_number import (
    held_change_of_an_earlier_number_outlasts_a_restore,
    held_take_of_an_earlier_number_stays_before_the_count_after_it,
    leaver_is_not_told_that_what_was_approved_was_turned_down,
    number_of_what_is_known_under_another_is_not_shown_as_lost,
    refusal_that_a_restore_forgot_is_shown_no_more,
    who_is_paired_again_still_waits,
)
from tests.sync.test_whole_changes import (
    held_change_is_asked_for_before_a_refused_one,
    held_change_stays,
    older_app_keeps_all_when_the_log_was_put_back,
    refused_change_that_is_taken_after_all_is_refused_no_more,
)

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


@pytest.mark.parametrize("seed", range(60 if LONG else 4))
def test_a_crew_that_changes_is_not_deceived(seed: int) -> None:
    crew_world.check(crew_world.played(seed, 60, NodePhone, forks=seed % 2 == 1))


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
    exchange.reject(server.store, _ident(2), "counted since")
    phone.sync(send, 1_800_000_000_000)
    assert phone.state()["held"] == [] and phone.state()["refused"] == [_ident(2)]
    assert phone.state()["said"] == [["rejected", "counted since"]]
    assert _ident(1) in {entry.id for entry in phone.entries()}


def test_phone_of_a_leaver_comes_to_an_end_after_a_restore() -> None:
    leave_after_a_restore(NodePhone)


@pytest.mark.parametrize("then", ["approve", "reject"])
def test_guest_keeps_what_it_brought_back_until_the_skipper_decides(then: str) -> None:
    guest_brings_back_what_a_lost_phone_made(NodePhone, then)


def test_held_change_of_an_earlier_number_outlasts_a_restore() -> None:
    held_change_of_an_earlier_number_outlasts_a_restore(NodePhone)


def test_held_take_of_an_earlier_number_stays_before_the_count_after_it() -> None:
    held_take_of_an_earlier_number_stays_before_the_count_after_it(NodePhone)


def test_refusal_that_a_restore_forgot_is_shown_no_more() -> None:
    refusal_that_a_restore_forgot_is_shown_no_more(NodePhone)


@pytest.mark.parametrize("then", ["approve", "reject"])
def test_who_is_paired_again_still_waits(then: str) -> None:
    who_is_paired_again_still_waits(NodePhone, then)


def test_number_of_what_is_known_under_another_is_not_shown_as_lost() -> None:
    number_of_what_is_known_under_another_is_not_shown_as_lost(NodePhone)


@pytest.mark.parametrize("story", [*NEW_NUMBERS, *LOST_NUMBERS])
def test_new_number(story: Callable[[Any], None]) -> None:
    story(NodePhone)


def test_leaver_is_not_told_that_what_was_approved_was_turned_down() -> None:
    leaver_is_not_told_that_what_was_approved_was_turned_down(NodePhone)


def test_older_app_keeps_all_when_the_log_was_put_back(monkeypatch: pytest.MonkeyPatch) -> None:
    older_app_keeps_all_when_the_log_was_put_back(NodePhone, monkeypatch)


def test_held_change_stays_when_its_number_stands_for_another() -> None:
    held_change_stays(NodePhone)


def test_held_change_is_asked_for_before_a_refused_one() -> None:
    held_change_is_asked_for_before_a_refused_one(NodePhone)


def test_refused_change_that_is_taken_after_all_is_refused_no_more() -> None:
    refused_change_that_is_taken_after_all_is_refused_no_more(NodePhone)


class Clients(Exchange):
    """The machine of the invariants with phones that run the client's modules.

    Beside what happens to all phones, their page is closed at any moment.
    """

    make_phone = NodePhone

    @rule(who=PHONES)
    def close_the_page(self, who: int) -> None:
        self.phones[who].reopen()

    @rule(who=PHONES)
    def close_the_page_half_way(self, who: int) -> None:
        def send(request: dict[str, Any]) -> dict[str, Any]:
            return self.server.handle(self.tokens[who], request, self.true_ms)
        with self.unchanged_by(who), suppress(Stopped):
            self.phones[who].sync(send, self.phone_ms(who), dies=lambda: True)

    def finish(self) -> None:
        """Beside all else, the phones' own counting gives what the server's gives."""
        super().finish()
        cells = {key: (cell.quantity, cell.low, cell.high)
                 for key, cell in fold(self.server.entries()).items()}
        for who in {0, 1, 2, 3, 4} - self.gone.keys():
            assert cells == {(row["part"], row["locker"], row["lot"]):
                             (row["quantity"], row["low"], row["high"])
                             for row in self.phones[who].state()["cells"]}

    def let_go(self) -> None:
        """Forget the phones."""
        NodePhone.node.ask("forget")


@pytest.mark.parametrize("block", range(10 if LONG else 1))
def test_invariants_hold_with_the_modules_of_the_client(block: int) -> None:
    run(Clients, 1_000 if LONG else 26, 50)
