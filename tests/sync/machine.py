"""The invariants as a state machine: five phones, the exchange, and a plain record beside them.

Rules: tap, undo, answer a doubt, take or turn down what waits, join two parts, sync, lose the
answer, send again, let a request come late or after a newer one, restart, back up, put back
(properly or by hand), retire, report lost, pair again, step a clock, put a phone back from its own
copy, upgrade (upgrades.py). Which phones and which store, the tests say that run it.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import replace
from itertools import count
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from spares.domain.book import one_per_id
from spares.domain.movements import saw
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from spares.sync.merge import read_document
from spares.sync.phone import Phone
from tests.sync.upgrades import Upgrades

VESSEL = "00000000-0000-4000-8000-0000000000aa"
PART = "part/00000000-0000-4000-8000-000000000001"
OTHER = "part/00000000-0000-4000-8000-000000000009"
LOCKERS = [f"locker/00000000-0000-4000-8000-00000000001{i}" for i in (1, 2)]
START_MS, MINUTE_MS, DAY_MIN = 1_800_000_000_000, 60_000, 24 * 60
PHONES = st.integers(0, 4)
#: Who, what, in which locker, how many, how many minutes after the one before.
TAPS = st.tuples(PHONES, st.sampled_from(["took", "put", "landed", "counted", "moved", "convert",
                                          "service", "set"]),
                 st.integers(0, 1), st.integers(1, 9), st.sampled_from([0, 2, 20, 900]))
FAULTS = st.sampled_from(["", "", "answer lost", "twice", "one by one", "late"])


class Exchange(Upgrades, RuleBasedStateMachine):
    """Phones 0 to 3 are skipper and crew, phone 4 is a guest's."""

    make_phone: Any = Phone

    def make_server(self, fresh: Callable[[int], str]) -> MemoryServer:
        """Make the server; its store is in memory unless a child says otherwise."""
        return MemoryServer(VESSEL, bytes(32), fresh)

    def check_store(self) -> None:
        """See that what the store keeps beside the log follows from the log."""

    def let_go(self) -> None:
        """Give back what the server held."""

    @initialize(errors=st.lists(st.integers(-11 * 365 * DAY_MIN, 11 * 365 * DAY_MIN),
                                min_size=5, max_size=5))
    def begin(self, errors: list[int]) -> None:
        numbers = count(1)
        fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
        self.server = self.make_server(fresh)
        roles = ["skipper", "crew", "crew", "crew", "guest"]
        self.tokens = [f"t{i}" for i in range(5)]
        self.phones = [self.make_phone(VESSEL, self.server.pair(f"t{i}", role, START_MS), fresh)
                       for i, role in enumerate(roles)]
        self.errors, self.minute = errors, 0.0
        self.tapped: dict[str, int] = {}
        self.gone: dict[int, str] = {}
        self.late: list[tuple[int, str]] = []
        self.copies: dict[int, tuple[Any, int]] = {}
        self.forgotten: set[str] = set()
        self.turned_back: set[int] = set()
        self.turned_down: set[str] = set()
        self.clock_ms = 0
        self.begin_older()
        for who in range(5):
            self.exchange(who)

    def teardown(self) -> None:
        if hasattr(self, "server"):
            try:
                self.finish()
            finally:
                self.let_go()

    @rule(taps=st.lists(TAPS, min_size=1, max_size=6))
    def tap(self, taps: list[tuple[int, str, int, int, int]]) -> None:
        for one in taps:
            self.tap_once(*one)

    def tap_once(self, who: int, kind: str, there: int, q: int, minutes: int) -> None:
        self.minute += minutes
        line = {"part": PART, "locker": LOCKERS[there], "lot": "", "q": q * 1000}
        body: dict[str, Any] = line
        if kind == "moved":
            body = {"part": PART, "from": LOCKERS[there], "to": LOCKERS[1 - there], "lot": "",
                    "q": q * 1000}
        elif kind == "convert":
            body = {"out": [line], "in": [{**line, "part": OTHER, "q": q * 10_000}]}
        elif kind == "service":
            body = {"lines": [line], "date": "2027-03-15"}
        elif kind == "set":
            body = {"doc": PART, "f": {"note": f"{who} {q}"}, "base": {}}
        self.record(who, kind, body)

    @precondition(lambda self: self.tapped)
    @rule(who=PHONES, data=st.data())
    def undo(self, who: int, data: st.DataObject) -> None:
        self.record(who, "void", {"of": data.draw(st.sampled_from(sorted(self.tapped)))})

    @precondition(lambda self: self.tapped)
    @rule(who=PHONES, data=st.data(), side=st.sampled_from(["before", "after"]))
    def answer_a_doubt(self, who: int, data: st.DataObject, side: str) -> None:
        of, counted = (data.draw(st.sampled_from(sorted(self.tapped))) for _ in range(2))
        self.record(who, "settle", {"of": of, "count": counted, "side": side})

    @rule(who=st.integers(1, 3), other=PHONES)
    def wait_for_the_skipper(self, who: int, other: int) -> None:
        """One of the crew undoes what is still on a phone."""
        self.tap_once(other, "put", 0, 1, 0)
        self.record(who, "void", {"of": list(self.tapped)[-1]})
        self.exchange(who)

    @precondition(lambda self: self.tapped)
    @rule(data=st.data(), is_taken=st.booleans())
    def decide(self, data: st.DataObject, is_taken: bool) -> None:
        waiting = self.waiting()
        if not waiting:
            return
        ident = data.draw(st.sampled_from(waiting))
        if is_taken:
            self.server.approve(ident)
            return
        self.server.reject(ident)
        self.turned_down.add(ident)
        self.forgotten.add(ident)       # a log put back may not know it, nor who turned it down

    def waiting(self) -> list[str]:
        store = self.server.store
        return sorted(store.held_of(*store.devices))

    @rule(who=PHONES)
    def call_two_parts_one(self, who: int) -> None:
        self.record(who, "same", {"keep": PART, "drop": OTHER})

    @rule(syncs=st.lists(st.tuples(PHONES, FAULTS), min_size=1, max_size=4))
    def sync(self, syncs: list[tuple[int, str]]) -> None:
        for who, fault in syncs:
            self.exchange(who, fault)

    @rule(watches=st.lists(st.tuples(st.lists(TAPS, max_size=4),
                                     st.lists(st.tuples(PHONES, FAULTS), max_size=3)),
                           min_size=1, max_size=4))
    def live_on(self, watches: list[tuple[list[Any], list[Any]]]) -> None:
        for taps, syncs in watches:     # what people do most of the time
            self.tap(taps)
            self.sync(syncs)

    @precondition(lambda self: self.late)
    @rule(data=st.data())
    def arrive_late(self, data: st.DataObject) -> None:
        place = data.draw(st.integers(0, len(self.late) - 1))
        who, text = self.late.pop(place)
        with self.unchanged_by(who), suppress(Stopped):
            self.ask(who, text)

    @rule(who=PHONES)
    def copy_phone(self, who: int) -> None:
        self.copies[who] = copy.deepcopy(self.phones[who]), len(self.tapped)

    @precondition(lambda self: self.copies)
    @rule(data=st.data())
    def put_phone_back(self, data: st.DataObject) -> None:
        self.put_back_phone(data.draw(st.sampled_from(sorted(self.copies))))

    @rule(who=PHONES)
    def fork(self, who: int) -> None:
        self.copy_phone(who)
        for is_put_back in (False, True):
            if is_put_back:
                self.put_back_phone(who)
            self.tap_once(who, "put", 1, 1, 0)
            self.exchange(who)

    def put_back_phone(self, who: int) -> None:
        kept, many = self.copies.pop(who)
        self.phones[who] = kept
        self.turned_back.add(who)
        self.forgotten |= {ident for ident in list(self.tapped)[many:]
                           if self.tapped[ident] == who}

    @rule(minutes=st.integers(1, 4 * DAY_MIN))
    def server_loses_time(self, minutes: int) -> None:
        self.server.lose_time(minutes)

    @rule(who=PHONES, minutes=st.sampled_from([-3 * DAY_MIN, -60, -10, 10, 60, 3 * DAY_MIN]))
    def step_clock(self, who: int, minutes: int) -> None:
        self.errors[who] += minutes

    @rule()
    def back_up(self) -> None:
        self.server.backup("copy")

    @precondition(lambda self: self.server.backups)
    @rule(by_hand=st.booleans())
    def put_back(self, by_hand: bool) -> None:
        self.server.restore("copy", by_hand=by_hand)
        self.clock_ms = 0
        for who in range(1, 4):                 # paired again since the backup
            try:
                self.server.store.device_of(self.tokens[who])
            except KeyError:
                self.server.pair(self.tokens[who], "crew", self.true_ms)
        for who, why in self.gone.items():      # the backup knew it as one of the crew
            self.revoke(who, why)

    @precondition(lambda self: len(self.gone) < 2)
    @rule(who=st.integers(1, 3), why=st.sampled_from(["retired", "retired", "lost"]))
    def revoke(self, who: int, why: str) -> None:
        store = self.server.store
        self.gone[who] = why
        store.save_device(replace(store.device_of(self.tokens[who]), revoked=why,
                                  revoked_ms=store.clock().last_ms))

    @precondition(lambda self: self.gone)
    @rule(data=st.data())
    def pair_again(self, data: st.DataObject) -> None:
        who = data.draw(st.sampled_from(sorted(self.gone)))
        del self.gone[who]
        self.tokens[who] += " again"
        self.server.pair(self.tokens[who], "crew", self.true_ms)

    @rule()
    def look_whether_the_store_holds(self) -> None:
        self.check_store()

    @invariant()
    def clock_never_goes_back(self) -> None:
        if hasattr(self, "server"):
            now_ms = self.server.store.clock().last_ms
            assert now_ms >= self.clock_ms
            self.clock_ms = now_ms

    def record(self, who: int, kind: str, body: dict[str, Any]) -> None:
        ident = f"{len(self.tapped):08x}-0000-4000-9000-000000000000"
        self.tapped[self.phones[who].record(ident, kind, body, self.phone_ms(who)).id] = who

    def exchange(self, who: int, fault: str = "") -> None:
        def send(request: dict[str, Any]) -> dict[str, Any]:
            if fault == "one by one":
                request["ops"] = request["ops"][:1]
            text = json.dumps({**request, "schema": self.pages[who]})
            if fault == "late":
                self.late.append((who, text))
                raise Stopped("stuck on the way", stop="no_answer")
            for _ in range(2 if fault == "twice" else 1):
                answer = self.ask(who, text)
            if fault == "answer lost":
                raise Stopped("lost", stop="no_answer")
            return json.loads(json.dumps(answer))
        with self.unchanged_by(who), suppress(Stopped):
            self.phones[who].sync(send, self.phone_ms(who))

    @contextmanager
    def unchanged_by(self, who: int) -> Iterator[None]:
        """A guest, or one who has left, changes no count."""
        looks = who == 4 or who in self.gone
        before = fold(self.server.entries()) if looks else None
        yield
        assert not looks or fold(self.server.entries()) == before

    @property
    def true_ms(self) -> int:
        return START_MS + round(self.minute * MINUTE_MS)

    def phone_ms(self, who: int) -> int:
        return self.true_ms + self.errors[who] * MINUTE_MS

    def finish(self) -> None:
        """Bring all together; then nothing is missing and all copies are alike."""
        self.all_renewed()
        for _ in range(3):
            for who in range(5):
                self.exchange(who)
            for ident in self.waiting():
                self.server.approve(ident)
        self.check_store()
        log = self.server.entries()
        assert len(log) == len({entry.id for entry in log})
        self.check_nothing_is_missing({entry.id for entry in log if entry.kind != "restamp"})
        cells = fold(log)
        for who in {0, 1, 2, 3, 4} - self.gone.keys():
            assert fold(self.phones[who].copy.entries()) == cells
            assert read_document(self.phones[who].copy.entries(), PART) == read_document(log, PART)
        # An undoing has no place in the order; and where a phone and the log were both put back
        # a number can stand for two changes, of which one comes back under another.
        holding = [entry for entry in one_per_id(log) if entry.kind != "void"
                   and self.tapped.get(entry.id) not in self.turned_back]
        for later in holding:
            for earlier in holding:
                assert later is earlier or later.dev != earlier.dev \
                    or not saw(later, earlier) or earlier.at < later.at

    def check_nothing_is_missing(self, in_log: set[str]) -> None:
        """Each change that was saved is in the log, decided upon, or on its phone."""
        there = [{*(change.id for change in phone.outbox.values()), *phone.held, *phone.refused,
                  *(entry.id for entry in phone.copy.entries())} for phone in self.phones]
        unsent = {change.id for change in self.phones[0].outbox.values()}
        assert not unsent, "the skipper's outbox does not empty"
        for ident, who in self.tapped.items():
            kept = ident in in_log or self.server.kept(ident) is not None
            assert kept or ident in self.forgotten or ident in there[who], \
                "a change that was saved is nowhere"
        for phone in self.phones:
            told = {ident for ident, (_, code) in phone.refused.items() if code == "rejected"}
            assert told <= self.turned_down, "nobody turned down what a phone says was"


def run(machine: type[Exchange], examples: int, steps: int) -> None:
    """Run the machine on that many histories of up to so many steps."""
    run_state_machine_as_test(machine, settings=settings(
        max_examples=examples, stateful_step_count=steps, deadline=None, print_blob=True,
        suppress_health_check=list(HealthCheck), database=None))
