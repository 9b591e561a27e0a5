"""What one who has left, or only looks, brings back after a restore: it waits for the skipper."""

from __future__ import annotations

from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from spares.db import devices
from spares.domain.stock import fold
from spares.sync import exchange
from spares.sync.change import Change, seal
from spares.sync.memory import MemoryStore
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from spares.sync.stamp import DAY_MS
from spares.sync.store import entries_of
from tests.sync.bench import CELL, KEY, NOW, VESSEL, Bench, codes


def lose_by_restore(bench: Bench, who: str, *kinds: str) -> list[dict[str, Any]]:
    """Let changes be taken and lost; gives their envelopes."""
    backup = bench.store.backup()
    bench.ask(who, ops=[bench.op(n, kind) for n, kind in enumerate(kinds, 1)])
    envelopes = [envelope.to_json() for _, envelope in bench.store.rows(0, 9)]
    bench.store.put_back(backup)
    assert len(envelopes) == len(kinds) and bench.log() == []
    return envelopes


def change_device(bench: Bench, who: str, **facts: Any) -> None:
    bench.store.save_device(replace(bench.store.device_of(who), **facts))


def test_leaver_brings_back_what_was_its_own_and_then_hands_in(bench: Bench) -> None:
    lost = lose_by_restore(bench, "crew", "put", "took")
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    answer = bench.ask("crew", relay=lost, ops=[bench.op(3)])
    assert [one["result"] for one in answer["relayed"]] == ["held", "held"]
    assert codes(answer) == ["held"] and answer["next_n"] == 4 and answer["need"] == []
    assert bench.log() == [] and len(answer["held"]) == 3
    again = bench.ask("crew", relay=lost, ops=[bench.op(4)])
    assert len(again["held"]) == 4


def test_what_a_leaver_brought_back_keeps_its_stamp_when_the_skipper_takes_it(
        bench: Bench) -> None:
    lost, = lose_by_restore(bench, "crew", "put")
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    bench.ask("crew", relay=[lost], ops=[bench.op(2)])
    approve(bench, lost["id"])
    (_, back), = bench.store.rows(0, 9)
    assert (back.id, back.at, back.dev, back.n) == (lost["id"], lost["at"], lost["dev"], 1)
    answer = bench.ask("skipper", relay=[lost])     # another phone had pulled it before
    assert answer["relayed"][0]["result"] == "dup"


def approve(bench: Bench, ident: str) -> None:
    if isinstance(bench.store, MemoryStore):
        exchange.approve(bench.store, ident)
    else:
        bench.store.within(lambda store: exchange.approve(store, ident))


def test_numbers_that_a_leaver_no_longer_has_delay_nothing(bench: Bench) -> None:
    lose_by_restore(bench, "crew", "put", "put")
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    assert codes(bench.ask("crew", ops=[bench.op(3)], last=3)) == []
    answer = bench.ask("crew", gone=[[1, 2]], ops=[bench.op(3)], last=3)
    assert codes(answer) == ["held"] and answer["need"] == []
    assert list(bench.store.lost_numbers().values()) == [[(1, 2)]]


@pytest.mark.parametrize("revoked", ["", "retired"])
def test_what_a_guest_or_leaver_brings_back_of_others_waits_for_the_skipper(
        bench: Bench, revoked: str) -> None:
    lost, = lose_by_restore(bench, "crew", "put")
    change_device(bench, "guest", revoked=revoked, revoked_ms=NOW)
    answer = bench.ask("guest", relay=[lost], ops=[bench.op(1, "took")])
    assert answer["relayed"][0]["result"] == "held" and bench.log() == []
    assert bench.ask("crew", relay=[lost], last=1)["relayed"][0]["result"] == "ok"
    assert bench.log() == [lost["id"]] and bench.store.held(lost["id"]) is None


def test_guest_sets_no_stamp_right(bench: Bench) -> None:
    pos = {bench.store.epochs()[-1][0]: 9}
    change = Change(bench.ident(), 1, "restamp", 1, NOW, None, "", 0,
                    {"of": bench.ident(), "at": f"{NOW:012x}.0000.crew0000", "g": 0})
    restamp = seal(change, dev=bench.store.own_dev, at=f"{NOW:012x}.0000.server00", g=0, pos=pos,
                   key=KEY)
    answer = bench.ask("guest", relay=[restamp.to_json()])
    assert answer["relayed"][0]["code"] == "not_allowed" and bench.log() == []


@pytest.mark.parametrize(("grants", "result"), [(("take",), "ok"), ((), "held")])
def test_guest_brings_back_its_own_as_far_as_it_may_still_write(
        bench: Bench, grants: tuple[str, ...], result: str) -> None:
    change_device(bench, "guest", grants=("take",))
    lost, = lose_by_restore(bench, "guest", "took")
    change_device(bench, "guest", grants=grants)
    answer = bench.ask("guest", relay=[lost], last=1)
    assert answer["relayed"][0]["result"] == result and answer["need"] == []
    assert bench.log() == ([lost["id"]] if result == "ok" else [])


def leave_after_a_restore(make: Any) -> None:
    """A change was taken, lost by a restore, and then its author left with another unsent."""
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
    server = MemoryServer(VESSEL, KEY, fresh)
    phone = make(VESSEL, server.pair("crew", "crew", NOW), fresh)

    def send(request: dict[str, Any]) -> dict[str, Any]:
        return server.handle("crew", request, NOW)
    phone.sync(send, NOW)
    server.backup("before")
    for n in (1, 2):
        phone.record(f"00000000-0000-4000-8000-{n:012x}", "put", {**CELL, "q": 1000}, NOW)
        if n == 1:
            phone.sync(send, NOW)
    server.restore("before")
    server.revoke("crew", NOW)
    phone.sync(send, NOW)
    assert phone.outbox == {} and server.entries() == []
    assert all(server.held(f"00000000-0000-4000-8000-{n:012x}") for n in (1, 2))


def test_phone_of_a_leaver_comes_to_an_end_after_a_restore() -> None:
    leave_after_a_restore(Phone)


def guest_brings_back_what_a_lost_phone_made(make: Any, then: str) -> None:
    """What only a guest's phone still has waits for the skipper, and is not lost there either."""
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
    server = MemoryServer(VESSEL, KEY, fresh)
    crew = make(VESSEL, server.pair("crew", "crew", NOW), fresh)
    guest = make(VESSEL, server.pair("guest", "guest", NOW), fresh)
    server.backup("before")
    ident = "00000000-0000-4000-8000-000000000001"
    crew.record(ident, "put", {**CELL, "q": 1000}, NOW)
    crew.sync(lambda request: server.handle("crew", request, NOW), NOW)
    guest.sync(lambda request: server.handle("guest", request, NOW), NOW)
    # By the third time its cursor, of a log without rows, holds in the one put back.
    for _ in range(3):
        server.restore("before", by_hand=True)
        guest.sync(lambda request: server.handle("guest", request, NOW), NOW)
        assert server.held(ident) and server.entries() == []
    getattr(server, then)(ident)
    guest.sync(lambda request: server.handle("guest", request, NOW), NOW)
    left = [entry.id for entry in server.entries()]
    assert left == ([ident] if then == "approve" else [])
    assert [entry.id for entry in guest.copy.entries()] == left
    guest.sync(lambda request: server.handle("guest", request, NOW), NOW)
    assert not guest.relay


@pytest.mark.parametrize("then", ["approve", "reject"])
def test_guest_keeps_what_it_brought_back_until_the_skipper_decides(then: str) -> None:
    guest_brings_back_what_a_lost_phone_made(Phone, then)


def test_database_names_what_waits_under_another_number_too(tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    op = bench.op(1, "took")
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    bench.ask(ops=[op])
    bench.store.pair("again", "crew")
    assert bench.ask("again", ops=[op])["held"] == [op["id"]]


def test_skipper_sees_what_a_guest_brings_back_of_a_device_that_is_not_known_here(
        tmp_path: Path) -> None:
    """Written at the server itself after the backup: its number stands for no token."""
    bench = Bench(tmp_path)
    backup = bench.store.backup()
    change = Change(bench.ident(), 1, "put", 1, NOW, None, "", 0, {**CELL, "q": 1000})
    lost = seal(change, dev="desk0001", at=f"{NOW:012x}.0000.desk0001", g=0,
                pos={bench.store.epochs()[-1][0]: 1}, key=KEY)
    bench.store.append(lost)
    bench.store.put_back(backup)
    answer = bench.ask("guest", relay=[lost.to_json()])
    assert answer["relayed"][0]["result"] == "held"
    with bench.store.store.reading() as session:
        assert [row.id for row, _ in devices.waiting(session, VESSEL)] == [lost.id]


def test_dated_bag_that_was_begun_under_an_earlier_role_waits_with_what_lies_in_it(
        bench: Bench) -> None:
    lot = "lot/00000000-0000-4000-8000-000000000007"
    change_device(bench, "crew", role="guest", roles_before=("crew",))
    begun = bench.op(1, "set", {"doc": lot, "f": {"expires": "2028"}, "base": {}})
    answer = bench.ask(ops=[begun, bench.op(2, "put", {**CELL, "lot": lot, "q": 1000})])
    assert codes(answer) == ["held", "held"]
    approve(bench, begun["id"])
    again = bench.op(3, "set", {"doc": lot, "f": {"expires": "2038"}, "base": {}})
    assert codes(bench.ask(ops=[again])) == ["not_allowed"]     # no role of its own allowed that


def test_dated_bag_that_two_begin_apart_is_begun_by_both(bench: Bench) -> None:
    lot = "lot/00000000-0000-4000-8000-000000000007"
    bench.store.pair("second", "crew")

    def begin(who: str, n: int, expires: str) -> list[str]:
        body = {"doc": lot, "f": {"expires": expires, "condition": "new"}, "base": {}}
        return codes(bench.ask(who, ops=[bench.op(n, "set", body)]))
    assert begin("crew", 1, "2028") == begin("second", 1, "2028") == ["ok"]
    assert begin("second", 2, "2038") == ["not_allowed"]        # that is the skipper's
    gone = {"doc": lot, "f": {"gone": True}, "base": {}}
    assert codes(bench.ask("skipper", ops=[bench.op(1, "set", gone)])) == ["ok"]
    assert begin("crew", 2, "2028") == ["not_allowed"]


def test_what_is_decided_again_stays_below_what_its_author_made_later(bench: Bench) -> None:
    backup = bench.store.backup()
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    first = bench.op(1, "took", t=NOW - 2000)
    assert codes(bench.ask(ops=[first])) == ["held"]
    change_device(bench, "crew", revoked="")
    bench.ask(ops=[bench.op(2, "counted", t=NOW - 1000)])   # its author had seen the first
    (_, counted), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    bench.wall_ms += DAY_MS
    assert codes(bench.ask(relay=[counted.to_json()], ops=[first], last=2, now=NOW)) == ["ok"]
    stamps = {envelope.n: envelope.at for _, envelope in bench.store.rows(0, 9)}
    assert stamps[2] == counted.at and stamps[1] < stamps[2]


def test_two_that_are_decided_again_both_stay_below_what_came_after_them(bench: Bench) -> None:
    backup = bench.store.backup()
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    waiting = [bench.op(1, "took", t=NOW - 3000), bench.op(2, "landed", t=NOW - 2000)]
    assert codes(bench.ask(ops=waiting)) == ["held", "held"]
    change_device(bench, "crew", revoked="")
    bench.ask(ops=[bench.op(3, "counted", t=NOW - 1000)])
    (_, counted), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    bench.wall_ms += DAY_MS                     # by their age both would now be a day later
    bench.ask(relay=[counted.to_json()], ops=waiting, last=3, now=NOW)
    stamps = {envelope.n: envelope.at for _, envelope in bench.store.rows(0, 9)}
    assert stamps[1] < stamps[2] < stamps[3] == counted.at


def test_what_was_refused_and_is_taken_after_a_restore_has_its_place_between_the_others(
        bench: Bench) -> None:
    """Three changes of one tap: one is taken, nine are counted, one more is taken."""
    backup = bench.store.backup()
    change_device(bench, "crew", role="guest", grants=("take",))
    ops = [bench.op(1, "took"), bench.op(2, "counted", {**CELL, "q": 9000}), bench.op(3, "took")]
    assert codes(bench.ask(ops=ops)) == ["ok", "not_allowed", "ok"]
    brought = [envelope.to_json() for _, envelope in bench.store.rows(0, 9)]
    bench.store.put_back(backup)
    change_device(bench, "crew", role="crew")
    assert bench.ask(relay=brought, last=3)["need"] == [[2, 2]]
    assert codes(bench.ask(ops=[ops[1]], last=3)) == ["ok"]
    stamps = {envelope.n: envelope.at for _, envelope in bench.store.rows(0, 9)}
    assert stamps[1] < stamps[2] < stamps[3]
def test_what_waits_is_taken_below_what_its_author_counted_next_by_the_stamp_that_holds(
        bench: Bench) -> None:
    """Both were sent twice, the second time by a clock that was set back; no answer came."""
    empty = bench.store.backup()
    taken = bench.op(1, "took", t=NOW - 2000)
    counted = bench.op(2, "counted", {**CELL, "q": 8000}, t=NOW - 1000)

    def send() -> None:
        change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
        assert codes(bench.ask(ops=[taken])) == ["held"]
        change_device(bench, "crew", revoked="")
        assert codes(bench.ask(ops=[counted])) == ["ok"]
    send()
    (_, first), = bench.store.rows(0, 9)
    bench.store.put_back(empty)
    bench.wall_ms += DAY_MS
    send()
    bench.ask("skipper", relay=[first.to_json()])       # by which the count holds a day earlier
    approve(bench, taken["id"])
    entries = entries_of(bench.store.rows(0, 9), bench.store.epochs())
    assert [cell.quantity for cell in fold(entries).values()] == [8000]


def test_of_two_stamps_of_a_held_change_that_another_brings_back_the_smaller_holds(
        bench: Bench) -> None:
    backup = bench.store.backup()
    first = bench.op(1, t=NOW - 1000)
    bench.ask(ops=[first])                      # the answer is lost
    (_, sealed), = bench.store.rows(0, 9)
    bench.store.put_back(backup)
    change_device(bench, "crew", revoked="retired", revoked_ms=NOW)
    bench.ask(ops=[first], now=NOW + DAY_MS)    # by then its clock has been moved
    held = bench.store.held(first["id"])
    answer = bench.ask("skipper", relay=[sealed.to_json()])
    assert answer["relayed"][0]["result"] == "ok" and held.at < sealed.at
    (_, back), (_, restamp) = bench.store.rows(0, 9)
    assert back == sealed and restamp.body == {"of": back.id, "at": held.at, "g": held.g}
