"""The invariants as a state machine: five phones, the exchange, a store in a SQLite file.

A plain record of what was tapped and answered stands beside it. Rules: tap, sync, lose the
answer, send again, restart, back up, put back (properly or by hand), retire, step a clock.
"""

from __future__ import annotations

import json
import tempfile
from itertools import count
from pathlib import Path
from typing import Any

from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, precondition, rule

from spares.domain.book import one_per_id
from spares.domain.movements import saw
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.phone import Phone
from tests.conftest import LONG
from tests.sync.database import DatabaseServer

VESSEL = "00000000-0000-4000-8000-0000000000aa"
PART = "part/00000000-0000-4000-8000-000000000001"
OTHER = "part/00000000-0000-4000-8000-000000000009"
LOCKERS = [f"locker/00000000-0000-4000-8000-00000000001{i}" for i in (1, 2)]
START_MS, MINUTE_MS, DAY_MIN = 1_800_000_000_000, 60_000, 24 * 60
PHONES = st.integers(0, 4)


class Exchange(RuleBasedStateMachine):
    """Phones 0 to 3 are skipper and crew, phone 4 is a guest's."""

    @initialize(errors=st.lists(st.integers(-11 * 365 * DAY_MIN, 11 * 365 * DAY_MIN),
                                min_size=5, max_size=5))
    def begin(self, errors: list[int]) -> None:
        numbers = count(1)
        self.folder = tempfile.TemporaryDirectory()
        fresh = self.fresh = lambda length: f"{next(numbers):0{length}x}"
        self.server = DatabaseServer(VESSEL, bytes(32), fresh, Path(self.folder.name))
        roles = ["skipper", "crew", "crew", "crew", "guest"]
        self.phones = [Phone(VESSEL, self.server.pair(f"t{i}", role, START_MS), fresh)
                       for i, role in enumerate(roles)]
        self.errors, self.minute = errors, 0.0
        self.tapped: dict[str, int] = {}
        self.retired: set[int] = set()
        self.clock_ms = 0
        for who in range(5):
            self.exchange(who)

    def teardown(self) -> None:
        if hasattr(self, "server"):
            self.finish()
            self.server.store.store.close()
            self.folder.cleanup()

    @rule(who=PHONES, kind=st.sampled_from(["took", "put", "landed", "counted", "moved",
                                            "convert", "service", "set"]),
          there=st.integers(0, 1), q=st.integers(1, 9), minutes=st.sampled_from([0, 2, 20, 900]))
    def tap(self, who: int, kind: str, there: int, q: int, minutes: int) -> None:
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

    @rule(who=PHONES, fault=st.sampled_from(["", "", "answer lost", "twice", "one by one"]))
    def sync(self, who: int, fault: str) -> None:
        self.exchange(who, fault)

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
        for who in self.retired:            # the backup knew it as one of the crew
            self.server.revoke(f"t{who}", self.true_ms)

    @precondition(lambda self: len(self.retired) < 2)
    @rule(who=st.integers(1, 3))
    def retire(self, who: int) -> None:
        self.retired.add(who)
        self.server.revoke(f"t{who}", self.true_ms)

    @rule()
    def look_whether_chain_and_tables_hold(self) -> None:
        self.server.store.check_tables()

    @invariant()
    def clock_never_goes_back(self) -> None:
        if hasattr(self, "server"):
            now_ms = self.server.store.clock().last_ms
            assert now_ms >= self.clock_ms
            self.clock_ms = now_ms

    def record(self, who: int, kind: str, body: dict[str, Any]) -> None:
        ident = f"{len(self.tapped):032x}"
        ident = f"{ident[:8]}-{ident[8:12]}-4{ident[13:16]}-8{ident[17:20]}-{ident[20:]}"
        self.tapped[self.phones[who].record(ident, kind, body, self.phone_ms(who)).id] = who

    def exchange(self, who: int, fault: str = "") -> None:
        def send(request: dict[str, Any]) -> dict[str, Any]:
            if fault == "one by one":
                request["ops"] = request["ops"][:1]
            text = json.dumps(request)
            for _ in range(2 if fault == "twice" else 1):
                answer = self.server.handle(f"t{who}", json.loads(text), self.true_ms)
            if fault == "answer lost":
                raise Stopped("lost", stop="no_answer")
            return json.loads(json.dumps(answer))
        before = fold(self.server.entries())
        try:
            self.phones[who].sync(send, self.phone_ms(who))
        except Stopped:
            pass
        if who == 4 or who in self.retired:
            assert fold(self.server.entries()) == before, "a guest or leaver changed a count"

    @property
    def true_ms(self) -> int:
        return START_MS + round(self.minute * MINUTE_MS)

    def phone_ms(self, who: int) -> int:
        return self.true_ms + self.errors[who] * MINUTE_MS

    def finish(self) -> None:
        """Bring all together; then nothing is missing and all copies are alike."""
        for _ in range(3):
            for who in range(5):
                self.exchange(who)
        self.server.store.check_tables()
        store, log = self.server.store, self.server.entries()
        in_log = {entry.id for entry in log if entry.kind != "restamp"}
        assert len(log) == len({entry.id for entry in log})
        for ident, who in self.tapped.items():
            phone = self.phones[who]
            kept = ident in in_log or store.kept(ident) is not None
            unsent = any(change.id == ident for change in phone.outbox.values())
            assert kept or unsent or ident in phone.held or ident in phone.refused, \
                "a change that was saved is nowhere"
            assert who != 0 or not unsent, "the skipper's outbox does not empty"
        cells = fold(log)
        for who in {0, 1, 2, 3, 4} - self.retired:
            assert fold(self.phones[who].copy.entries()) == cells
        holding = one_per_id(log)
        for later in holding:
            for earlier in holding:
                assert later is earlier or later.dev != earlier.dev \
                    or not saw(later, earlier) or earlier.at < later.at


Exchange.TestCase.settings = settings(
    max_examples=1000 if LONG else 10, stateful_step_count=50 if LONG else 25, deadline=None,
    suppress_health_check=list(HealthCheck), database=None)
TestExchange = Exchange.TestCase
