"""Random histories of five phones against what really lay in the lockers.

Counts are always true. Clocks have any constant error; answers get lost, batches
are sent twice, the server is put back to older states. What is on hand must be
the truth, or be in doubt with the truth inside its range.
"""

from __future__ import annotations

import json
import random
from collections import Counter
from dataclasses import dataclass, field
from itertools import count
from typing import Any

import pytest

from spares.domain.book import one_per_id
from spares.domain.movements import saw
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from tests.conftest import LONG

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
        ident = f"{rng.getrandbits(128):032x}"
        ident = f"{ident[:8]}-{ident[8:12]}-4{ident[13:16]}-8{ident[17:20]}-{ident[20:]}"
        change = self.phones[who].record(ident, kind, body, self.clock_ms(who))
        self.saved[change.id] = change
        self.minute += 0.05

    def sync(self, who: int, faults: bool = True) -> None:
        """Let a phone sync over a bad net."""
        def send(request: dict[str, Any]) -> dict[str, Any]:
            text, rng = json.dumps(request), self.rng
            if faults and rng.random() < 0.3 and request["ops"]:
                request["ops"] = request["ops"][:1]
                text = json.dumps(request)
            for _ in range(2 if faults and rng.random() < 0.1 else 1):
                answer = self.server.handle(f"t{who}", json.loads(text), self.true_ms)
            if faults and rng.random() < 0.15:
                raise Stopped("lost", stop="no_answer")
            for result in answer["results"]:
                if result.get("was", result["result"]) == "ok":
                    self.known.add(result["id"])
            return json.loads(json.dumps(answer))
        try:
            self.phones[who].sync(send, self.clock_ms(who))
        except Stopped:
            return


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
         lost_time: bool = False, step_clocks: bool = False) -> None:
    rng, server = world.rng, world.server
    for step in range(steps):
        world.minute += rng.choice([0.5, 3, 20, 300])
        who, dice = rng.randrange(5), rng.random()
        if dice < 0.35:
            world.sync(who)
        elif restores and dice < 0.38:
            server.backup(f"b{step}")
        elif restores and dice < 0.41 and server.backups:
            server.restore(rng.choice(list(server.backups)), by_hand=by_hand and rng.random() < 0.5)
        elif lost_time and dice < 0.43:
            server.lose_time(rng.randint(1, 4 * 24 * 60))
        elif step_clocks and dice < 0.45:
            world.errors_min[who] += rng.choice([-1, 1]) * rng.choice([10, 60, 3 * 24 * 60])
        else:
            world.act(who)
        if lost_time and rng.random() < 0.02:
            world.sync(who)


def bring_together(world: World) -> None:
    for _ in range(2):
        for who in range(5):
            world.sync(who, faults=False)


def check_copies(world: World) -> None:
    """Nothing that was saved or answered is missing, and all copies are alike."""
    log = world.server.entries()
    assert len(log) == len({entry.id for entry in log})
    assert {entry.id for entry in log if entry.kind != "restamp"} == set(world.saved)
    assert world.known <= {entry.id for entry in log}
    cells = fold(log)
    for phone in world.phones:
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


def check_causes(world: World) -> None:
    """What an author had seen holds before what the author made."""
    holding = one_per_id(world.server.entries())
    for later in holding:
        for earlier in holding:
            assert later is earlier or not saw(later, earlier) or earlier.at < later.at


def silently_wrong(world: World) -> list[str]:
    cells = fold(world.server.entries())
    wrong = []
    for key, cell in cells.items():
        true = world.truth[key]
        in_doubt = bool(cell.doubts or cell.rivals) and cell.low <= true <= cell.high
        if cell.quantity != true and not in_doubt:
            wrong.append(f"{key}: {cell} but {true}")
    return wrong


SEEDS = list(range(400 if LONG else 25))


@pytest.mark.parametrize("seed", SEEDS)
def test_wrong_clocks_and_a_bad_net_cost_nothing(seed: int) -> None:
    world = build(seed)
    play(world, 120)
    bring_together(world)
    check_copies(world)
    check_causes(world)
    assert silently_wrong(world) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_restores_bring_everything_back(seed: int) -> None:
    world = build(1000 + seed)
    play(world, 120, restores=True)
    bring_together(world)
    check_copies(world)
    check_causes(world)
    assert silently_wrong(world) == []


@pytest.mark.parametrize("seed", SEEDS)
def test_old_files_copied_back_by_hand_lose_nothing(seed: int) -> None:
    world = build(4000 + seed)
    play(world, 120, restores=True, by_hand=True)
    bring_together(world)
    check_copies(world)


@pytest.mark.parametrize("seed", SEEDS)
def test_server_that_stands_still_while_off_shows_doubt(seed: int) -> None:
    world = build(2000 + seed)
    play(world, 120, lost_time=True)
    bring_together(world)
    check_copies(world)
    check_causes(world)
    assert silently_wrong(world) == []


def test_clocks_that_are_moved_while_offline_hardly_ever_deceive() -> None:
    # A clock moved and moved back between two syncs leaves no trace, so none is too much to ask:
    # three silently wrong cells in 80 000 were found in an earlier model of these rules.
    wrong = []
    for seed in SEEDS:
        world = build(5000 + seed)
        play(world, 120, step_clocks=True)
        bring_together(world)
        check_copies(world)
        wrong += silently_wrong(world)
    assert len(wrong) <= 1, wrong


@pytest.mark.parametrize("seed", SEEDS)
def test_everything_at_once_loses_no_change(seed: int) -> None:
    world = build(3000 + seed)
    play(world, 120, restores=True, by_hand=True, lost_time=True, step_clocks=True)
    bring_together(world)
    check_copies(world)
