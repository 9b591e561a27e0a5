"""An office and a vessel's own server, weeks apart, each with phones of its own."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync import exchange, meeting, turn
from spares.sync.meeting import Meeting
from spares.sync.memory import MemoryStore
from tests.conftest import LONG
from tests.sync.office_world import (
    ABOARD,
    ASHORE,
    OfficeWorld,
    bring_together,
    build,
    check_equal,
    meet,
    play,
)
from tests.sync.world import LOCKERS, PARTS, check_causes, silently_wrong

HISTORIES = 500 if LONG else 1
STEPS = 120
CELL = (PARTS[0], LOCKERS[0], "")

#: What happens beside wrong clocks of phones and a bad net; nobody is deceived by it.
SORTS: dict[str, dict[str, Any]] = {
    "weeks apart": {},
    "meetings at every turn": {"meets": 0.3},
    "phones that go between": {"between": 0.1},
    "either put back to an older state": {"restores": (ABOARD, ASHORE)},
    "either put back, and phones that go between": {"between": 0.1,
                                                    "restores": (ABOARD, ASHORE)},
    "servers that stand still while off": {"lost_time": (ABOARD, ASHORE)},
}


@pytest.mark.parametrize("sort", SORTS)
def test_office_and_vessel_end_equal_and_nobody_is_deceived_by(sort: str) -> None:
    for seed in range(HISTORIES):
        try:
            check_history(1000 * list(SORTS).index(sort) + seed, SORTS[sort])
        except Exception as err:
            raise AssertionError(f"history {seed} of {sort}") from err


def check_history(seed: int, sort: dict[str, Any]) -> None:
    world = build(seed, going_between="between" in sort)
    play(world, STEPS, **sort)
    bring_together(world)
    check_equal(world)
    for server in world.servers:
        world.server = server
        check_causes(world)
    assert silently_wrong(world) == []


@pytest.fixture
def world() -> OfficeWorld:
    """Two servers that know each other, and phones of both."""
    return build(1)


def tap(world: OfficeWorld, who: int, kind: str, pieces: int) -> str:
    """Let somebody write down a movement or count in the one cell, and sync."""
    part, locker, lot = CELL
    world.minute += 1
    ident = f"00000000-0000-4000-9000-{len(world.saved):012x}"
    world.saved[ident] = world.phones[who].record(
        ident, kind, {"part": part, "locker": locker, "lot": lot, "q": pieces * 1000},
        world.clock_ms(who))
    world.sync(who, faults=False)
    return ident


def cells(world: OfficeWorld) -> list[Any]:
    """Give the one cell as the vessel and as the office has it."""
    return [fold(server.entries()).get(CELL) for server in world.servers]


def test_a_change_of_each_is_known_to_the_other_and_counts_once(world: OfficeWorld) -> None:
    tap(world, 0, "put", 5)
    tap(world, 3, "put", 2)
    assert [cell.quantity for cell in cells(world)] == [5000, 2000]
    for _ in range(2):
        world.meet(faults=False)
        assert [cell.quantity for cell in cells(world)] == [7000, 7000]
    check_equal_after(world, 7000)


def check_equal_after(world: OfficeWorld, quantity: int) -> None:
    bring_together(world)
    check_equal(world)
    assert [cell.quantity for cell in cells(world)] == [quantity, quantity]


def test_count_aboard_and_take_at_the_office_a_minute_apart_are_in_doubt(world: OfficeWorld
                                                                        ) -> None:
    tap(world, 0, "put", 5)
    world.meet(faults=False)
    world.sync(3, faults=False)
    tap(world, 0, "counted", 5)
    taken = tap(world, 3, "took", 1)
    world.meet(faults=False)
    for cell in cells(world):
        assert (cell.low, cell.high, cell.doubts) == (4000, 5000, (taken,))


def test_what_was_seen_before_a_count_is_no_doubt_after_the_meeting(world: OfficeWorld) -> None:
    """The office had the vessel's take when it counted, and she the office's count."""
    tap(world, 0, "put", 5)
    world.meet(faults=False)
    tap(world, 3, "put", 1)
    world.meet(faults=False)
    for who in (0, 3):
        world.sync(who, faults=False)
    tap(world, 3, "counted", 6)
    world.meet(faults=False)
    world.sync(0, faults=False)
    tap(world, 0, "took", 2)
    world.meet(faults=False)
    assert [(cell.quantity, cell.doubts, cell.rivals) for cell in cells(world)] == \
        [(4000, (), ())] * 2


def test_where_the_clocks_of_the_two_disagree_the_offices_times_are_doubtful(world: OfficeWorld
                                                                            ) -> None:
    world.servers[ASHORE].lose_time(-180)       # it is three hours ahead
    tap(world, 0, "put", 5)
    world.meet(faults=False)
    world.sync(3, faults=False)     # to the office's own phones its clock is good enough
    taken = tap(world, 3, "took", 1)
    assert world.servers[ASHORE].entries()[-1].g == 0
    world.minute += 60
    tap(world, 0, "counted", 4)
    world.meet(faults=False)
    for cell in cells(world):       # by the stamps alone it was taken after the count
        assert (cell.low, cell.high, cell.doubts) == (3000, 4000, (taken,))


def test_what_was_written_by_a_wrong_clock_stays_doubtful_when_it_was_set_right(
        world: OfficeWorld) -> None:
    office = world.servers[ASHORE]
    office.lose_time(-180)          # it is three hours ahead, as the meeting tells
    tap(world, 0, "put", 5)
    world.meet(faults=False)
    world.sync(3, faults=False)
    taken = tap(world, 3, "took", 1)
    assert office.entries()[-1].g == 0
    office.lose_time(180)
    world.minute += 60
    tap(world, 0, "counted", 4)
    world.minute += 200             # until the office's time has come up to what it gave out
    world.meet(faults=False)
    for cell in cells(world):       # by the stamps alone it was taken after the count
        assert (cell.low, cell.high, cell.doubts) == (3000, 4000, (taken,))


def test_office_that_was_let_go_takes_and_gives_nothing(world: OfficeWorld) -> None:
    store = world.servers[ABOARD].store
    store.save_device(replace(store.device_of("office"), revoked="retired",
                              revoked_ms=store.clock().last_ms))
    ident = tap(world, 3, "put", 5)
    with pytest.raises(Stopped) as err:
        meeting_of(world)
    assert err.value.facts["stop"] == "revoked"
    assert store.kept(ident) is None and cells(world)[ABOARD] is None
    assert cells(world)[ASHORE].quantity == 5000


def meeting_of(world: OfficeWorld) -> Meeting:
    return meet(world.servers[ASHORE], world._handle, world.true_ms)


def test_office_that_may_only_look_keeps_its_changes_until_the_skipper_decides(world: OfficeWorld
                                                                              ) -> None:
    store = world.servers[ABOARD].store
    store.save_device(replace(store.device_of("office"), role="guest"))
    ident = tap(world, 3, "put", 5)
    tap(world, 0, "put", 1)
    for _ in range(2):      # it waits there still at the second meeting
        assert meeting_of(world).waiting == [ident]
    assert [cell.quantity for cell in cells(world)] == [1000, 6000]
    world.servers[ABOARD].approve(ident)
    bring_together(world)
    assert [cell.quantity for cell in cells(world)] == [6000, 6000]


def test_phone_says_nothing_of_epochs(world: OfficeWorld) -> None:
    request = {**world.phones[0].request(world.clock_ms(0)), "epochs": [["0" * 16, 1]]}
    with pytest.raises(Stopped) as err:
        world.servers[ABOARD].handle("t0", request, world.true_ms)
    assert err.value.facts["stop"] == "malformed"


def test_log_of_another_vessel_is_not_taken(world: OfficeWorld) -> None:
    tap(world, 0, "put", 5)
    store = world.servers[ASHORE].store
    before, store.key = store.size(), bytes(31) + b"x"
    with pytest.raises(Stopped) as err:
        meeting_of(world)
    assert (err.value.facts["stop"], store.size()) == ("wrong_boat", before)


def check_histories(_: OfficeWorld) -> None:
    for seed in range(6):
        check_history(seed, SORTS["weeks apart"])


def brings_nothing(*_: Any) -> list[Any]:
    return []


def do_nothing(*_: Any) -> None:
    pass


#: A fault that is planted, and what notices it.
FAULTS: dict[str, tuple[Any, str, Any, Callable[[OfficeWorld], None]]] = {
    "the vessel learns no places of the office": (
        MemoryStore, "learn_epochs", do_nothing,
        test_what_was_seen_before_a_count_is_no_doubt_after_the_meeting),
    "a clock that disagrees is believed": (
        turn.clocks, "clock_is_good", lambda *a, **k: True,
        test_where_the_clocks_of_the_two_disagree_the_offices_times_are_doubtful),
    "the office brings nothing": (
        Meeting, "_to_bring", brings_nothing,
        test_a_change_of_each_is_known_to_the_other_and_counts_once),
    "any phone says where rows stood": (
        exchange, "_learn_epochs", do_nothing, test_phone_says_nothing_of_epochs),
    "what she has not got is left out": (
        MemoryStore, "rewind", lambda store, seq: None, check_histories),
    "rows move and no new epoch begins": (
        MemoryStore, "begin_epoch", do_nothing, check_histories),
    "the grade is left as it was": (
        meeting, "_placed", lambda store, envelope, *a: envelope,
        test_where_the_clocks_of_the_two_disagree_the_offices_times_are_doubtful),
}


@pytest.mark.parametrize("fault", FAULTS)
def test_planted_fault_is_noticed(fault: str, monkeypatch: pytest.MonkeyPatch) -> None:
    where, name, instead, notices = FAULTS[fault]
    world = build(1)
    monkeypatch.setattr(where, name, instead)
    with pytest.raises((AssertionError, pytest.fail.Exception, Stopped)):
        notices(world)
