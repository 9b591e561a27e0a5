"""A world of five phones and a server, played by chance against what really lay in the lockers.

Counts are always true. Clocks have any constant error; answers get lost, batches are sent twice
or arrive late, the server is put back to older states, people leave the crew. What is on hand
must be the truth, or be in doubt with the truth inside its range.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from collections.abc import Iterator, Set
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any

from spares.domain.book import one_per_id
from spares.domain.movements import saw
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone

VESSEL = "00000000-0000-4000-8000-0000000000aa"
PARTS = [f"part/00000000-0000-4000-8000-00000000000{i}" for i in (1, 2)]
LOCKERS = [f"locker/00000000-0000-4000-8000-00000000001{i}" for i in (1, 2)]
MINUTE_MS = 60_000
START_MS = 1_800_000_000_000
YEARS_11_MIN = 11 * 365 * 24 * 60


@dataclass
class World:
    """Phones, server, true time, and the truth about each cell."""

    rng: random.Random
    server: MemoryServer
    phones: list[Phone]
    errors_min: list[int]
    minute: float = 0
    truth: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    known: set[str] = field(default_factory=set)
    saved: dict[str, Any] = field(default_factory=dict)
    gone: dict[int, str] = field(default_factory=dict)
    late: list[tuple[int, str]] | None = None
    tokens: list[str] = field(default_factory=lambda: [f"t{who}" for who in range(5)])

    @property
    def true_ms(self) -> int:
        """Give true time [ms]."""
        return START_MS + round(self.minute * MINUTE_MS)

    def clock_ms(self, who: int) -> int:
        """Give the reading of a phone's clock [ms]."""
        return self.true_ms + self.errors_min[who] * MINUTE_MS

    def act(self, who: int) -> None:
        """Let somebody take, put, move or count, and write it down."""
        rng, part = self.rng, self.rng.choice(PARTS)
        here, there = rng.sample(LOCKERS, 2)
        cell, other = (part, here, ""), (part, there, "")
        kind = rng.choice(["took", "put", "moved", "counted", "counted"])
        q = rng.randint(1, 3) * 1000
        body: dict[str, Any] = {"part": part, "lot": "", "locker": here, "q": q}
        if kind == "counted":
            body["q"] = max(self.truth[cell], 0)
        elif kind != "put" and self.truth[cell] < q:
            return
        elif kind == "moved":
            body = {"part": part, "lot": "", "from": here, "to": there, "q": q}
            self.truth[cell] -= q
            self.truth[other] += q
        else:
            self.truth[cell] += q if kind == "put" else -q
        self.record(who, kind, body)

    def record(self, who: int, kind: str, body: dict[str, Any]) -> None:
        """Write something down on a phone."""
        rng = self.rng
        ident = f"{rng.getrandbits(128):032x}"
        ident = f"{ident[:8]}-{ident[8:12]}-4{ident[13:16]}-8{ident[17:20]}-{ident[20:]}"
        change = self.phones[who].record(ident, kind, body, self.clock_ms(who))
        self.saved[change.id] = change
        self.minute += 0.05

    def sync(self, who: int, faults: bool = True) -> None:
        """Let a phone sync over a bad net."""
        def send(request: dict[str, Any]) -> dict[str, Any]:
            self.note_numbers(who)
            text, rng = json.dumps(request), self.rng
            if faults and self.late is not None and rng.random() < 0.1:
                self.late.append((who, text))
                raise Stopped("stuck on the way", stop="no_answer")
            if faults and rng.random() < 0.3 and request["ops"]:
                request["ops"] = request["ops"][:1]
                text = json.dumps(request)
            for _ in range(2 if faults and rng.random() < 0.1 else 1):
                answer = self.server.handle(self.tokens[who], json.loads(text), self.true_ms)
            self.note_numbers(who, answer)
            if faults and rng.random() < 0.15:
                raise Stopped("lost", stop="no_answer")
            for result in answer.get("results", ()):
                if result.get("was", result["result"]) == "ok":
                    self.known.add(result["id"])
            return json.loads(json.dumps(answer))
        with self.unchanged_by(who):
            self.phones[who].sync(send, self.clock_ms(who))

    def note_numbers(self, who: int, answer: dict[str, Any] | None = None) -> None:
        """Note what the numbers of a phone stand for, where somebody wants to know."""

    def deliver_late(self) -> None:
        """Let requests arrive that were stuck on the way; nobody hears the answers."""
        while self.late:
            who, text = self.late.pop(self.rng.randrange(len(self.late)))
            with self.unchanged_by(who):
                self.server.handle(self.tokens[who], json.loads(text), self.true_ms)

    def leave(self, why: str) -> None:
        """Let somebody leave the crew, or lose the phone; the skipper (0) stays, and two more."""
        if len(self.gone) < 2:
            self.revoke(self.rng.choice([who for who in range(1, 5) if who not in self.gone]), why)

    def revoke(self, who: int, why: str) -> None:
        """Take a phone's rights, as the skipper does."""
        store = self.server.store
        self.gone[who] = why
        store.save_device(replace(store.device_of(self.tokens[who]), revoked=why,
                                  revoked_ms=store.clock().last_ms))

    @contextmanager
    def unchanged_by(self, who: int) -> Iterator[None]:
        """Nobody who has left changes the log; that an answer did not come is no matter."""
        before = self.server.store.size() if who in self.gone else None
        with suppress(Stopped):
            yield
        assert before in (None, self.server.store.size()), "one who has left changed the log"


def build(seed: int) -> World:
    rng = random.Random(seed)
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
    server = MemoryServer(VESSEL, bytes(32), fresh)
    errors = [rng.choice([0, 0, rng.randint(-YEARS_11_MIN, YEARS_11_MIN)]) for _ in range(5)]
    phones = [Phone(VESSEL, server.pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(5)]
    world = World(rng, server, phones, errors)
    for who in range(5):
        world.sync(who, faults=False)
    return world


def play(world: World, steps: int, *, restores: bool = False, by_hand: bool = False,
         lost_time: bool = False, step_clocks: bool = False, late: int = 0,
         leavers: tuple[str, ...] = ()) -> None:
    """Play steps of 0.5 to 300 minutes; a request stuck on the way comes *late* steps later."""
    rng, server = world.rng, world.server
    world.late = [] if late else None
    for step in range(steps):
        world.minute += rng.choice([0.5, 3, 20, 300])
        who, dice = rng.randrange(5), rng.random()
        if dice < 0.35:
            world.sync(who)
        elif restores and dice < 0.38:
            server.backup(f"b{step}")
        elif restores and dice < 0.41 and server.backups:
            server.restore(rng.choice(list(server.backups)), by_hand=by_hand and rng.random() < 0.5)
            for gone, why in world.gone.items():    # an old file copied by hand knew them as crew
                world.revoke(gone, why)
        elif lost_time and dice < 0.43:
            server.lose_time(rng.randint(1, 4 * 24 * 60))
        elif step_clocks and dice < 0.45:
            world.errors_min[who] += rng.choice([-1, 1]) * rng.choice([10, 60, 3 * 24 * 60])
        elif leavers and dice < 0.46:
            world.leave(rng.choice(leavers))
        else:
            world.act(who)
        if lost_time and rng.random() < 0.02:
            world.sync(who)
        if late and step % late == 0:
            if rng.random() < 0.5:
                world.sync(who)     # a second request overtakes the first
            world.deliver_late()


def bring_together(world: World) -> None:
    """Let all sync twice; what people brought who have left, the skipper takes in between."""
    world.deliver_late()
    for who in (*world.gone, *range(5)):
        world.sync(who, faults=False)
    for ident in [i for phone in world.gone for i in world.phones[phone].held]:
        if world.server.held(ident) is not None:
            world.server.approve(ident)
    for who in range(5):
        world.sync(who, faults=False)


def check_copies(world: World) -> None:
    """Nothing that was saved or answered is missing, and all copies are alike."""
    log = world.server.entries()
    assert len(log) == len({entry.id for entry in log})
    in_log = {entry.id for entry in log if entry.kind != "restamp"}
    kept = in_log.union(*(_kept_by(world.phones[who]) for who in world.gone))
    assert in_log <= set(world.saved) <= kept, "a change that was saved is nowhere"
    assert world.known <= kept
    cells = fold(log)
    for phone in [phone for who, phone in enumerate(world.phones) if who not in world.gone]:
        assert not phone.outbox and not phone.relay and not phone.gone
        assert fold(phone.copy.entries()) == cells
    store = world.server.store
    for dev, device in store.devices.items():
        if device.revoked or dev in store.own_devs:
            continue
        used = [entry.n for entry in log if entry.dev == dev]
        assert store.missing(dev, max(used, default=0)) == []
    assert store.lost_numbers() == {}
    holding = one_per_id(log)
    for dev in {entry.dev for entry in log} - set(store.own_devs):
        stamps = [e.at for e in sorted(holding, key=lambda e: e.n) if e.dev == dev]
        assert stamps == sorted(stamps), "stamps of one device rise with its numbers"


def _kept_by(phone: Phone) -> set[str]:
    """Give what one who has left still has: unsent, held, refused, or as the log once had it."""
    return {*(change.id for change in phone.outbox.values()), *phone.held, *phone.refused,
            *(entry.id for entry in phone.copy.entries())}


def check_causes(world: World, but: Set[str] = frozenset()) -> None:
    """What an author had seen holds before what the author made; *but* these ids."""
    holding = [one for one in one_per_id(world.server.entries()) if one.id not in but]
    for later in holding:
        for earlier in holding:
            assert later is earlier or not saw(later, earlier) or earlier.at < later.at


def all_arrived(world: World) -> bool:
    """Say whether the log has all that was made: of one who has left, a restore may cost some."""
    return {entry.id for entry in world.server.entries()} >= set(world.saved)


def silently_wrong(world: World) -> list[str]:
    cells = fold(world.server.entries())
    wrong = []
    for key, cell in cells.items():
        true = world.truth[key]
        in_doubt = bool(cell.doubts or cell.rivals) and cell.low <= true <= cell.high
        if cell.quantity != true and not in_doubt:
            wrong.append(f"{key}: {cell} but {true}")
    return wrong
