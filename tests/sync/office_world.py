"""A world in which a vessel's own server and an office keep one log, each with its own phones.

Phones, clocks, faults and the truth about each cell are those of `world.py`. The two servers
meet now and then, over a net on which answers get lost; either is put back to older states,
and a phone may go from one to the other.
"""

from __future__ import annotations

import json
import random
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any
from uuid import UUID

from spares.actions.meeting import meet as meet_in_database
from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.meeting import Meeting
from spares.sync.memory import MemoryStore
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from spares.sync.store import OFFICE
from spares.sync.turn import Around
from tests.sync.world import START_MS, VESSEL, YEARS_11_MIN, World, check_copies

ABOARD, ASHORE = 0, 1
PHONES = 5
#: More rounds than any honest meeting needs.
MOST_ROUNDS = 200


@dataclass
class OfficeWorld(World):
    """Two servers; `at` says which one each phone talks to."""

    servers: list[MemoryServer] = field(default_factory=list)
    at: list[int] = field(default_factory=list)

    def sync(self, who: int, faults: bool = True) -> None:
        """Let a phone sync with the server that it is near."""
        self.server = self.servers[self.at[who]]
        super().sync(who, faults)

    def meet(self, faults: bool = True) -> None:
        """Let the office meet the vessel; a meeting that breaks off is no matter."""
        office = self.servers[ASHORE]
        with suppress(Stopped):
            meet(office, self._send if faults else self._handle, self.true_ms - office._behind_ms)

    def _handle(self, request: dict[str, Any]) -> dict[str, Any]:
        answer = self.servers[ABOARD].handle("office", json.loads(json.dumps(request)),
                                             self.true_ms)
        return json.loads(json.dumps(answer))

    def _send(self, request: dict[str, Any]) -> dict[str, Any]:
        rng = self.rng
        if rng.random() < 0.3:      # over a poor net it asks for little
            request |= {"want": rng.choice([1, 2, 5])}
        for _ in range(2 if rng.random() < 0.1 else 1):
            answer = self._handle(request)
        if rng.random() < 0.1:
            raise Stopped("lost", stop="no_answer")
        if rng.random() < 0.05:     # somebody writes while they meet
            self.sync(rng.choice([who for who in range(PHONES) if self.at[who] == ASHORE]))
        return answer


def meet(office: MemoryServer, send: Callable[[dict[str, Any]], dict[str, Any]],
         wall_ms: int) -> Meeting | None:
    """Let an office meet the vessel."""
    if not isinstance(office.store, MemoryStore):
        meet_in_database(office.store.store, VESSEL, send, now_ms=lambda: wall_ms)
        return None
    meeting = Meeting(office.store, "office-1")
    around = Around(wall_ms, "", lambda: str(UUID(office._fresh(32), version=4)))
    for _ in range(MOST_ROUNDS):
        if not meeting.take(office.store, send(meeting.request(office.store, wall_ms)), around):
            return meeting
    raise AssertionError("the meeting does not come to an end")


def let_in(vessel: MemoryServer) -> None:
    """Let the office in at the vessel's server."""
    vessel.pair("office", "crew", START_MS)
    vessel.store.save_device(replace(vessel.store.device_of("office"), grants=(OFFICE,)))


def in_memory(fresh: Callable[[int], str], _: int) -> MemoryServer:
    """Make one of the two servers in memory."""
    server = MemoryServer(VESSEL, bytes(32), fresh)
    server.store.own_devs = [fresh(8)]
    return server


def build(seed: int, going_between: bool = False,
          make: Callable[[Callable[[int], str], int], MemoryServer] = in_memory,
          phone: Any = Phone) -> OfficeWorld:
    """Three phones aboard, two at the office; with *going_between* both servers know all.

    *phone* makes a phone: with Python's rules, or with the client's modules.
    """
    rng = random.Random(seed)
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
    servers = [make(fresh, which) for which in (ABOARD, ASHORE)]
    let_in(servers[ABOARD])
    errors = [rng.choice([0, 0, rng.randint(-YEARS_11_MIN, YEARS_11_MIN)]) for _ in range(PHONES)]
    at = [ABOARD, ABOARD, ABOARD, ASHORE, ASHORE]
    phones = [phone(VESSEL, servers[at[who]].pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(PHONES)]
    if going_between:
        for who in range(PHONES):
            store, other = servers[at[who]].store, servers[1 - at[who]].store
            other.save_device(store.device_of(f"t{who}"))
            other.tokens[f"t{who}"] = phones[who].dev
    world = OfficeWorld(rng, servers[ABOARD], phones, errors, servers=servers, at=at)
    world.meet(faults=False)
    for who in range(PHONES):
        world.sync(who, faults=False)
    return world


def play(world: OfficeWorld, steps: int, *, between: float = 0, restores: tuple[int, ...] = (),
         lost_time: tuple[int, ...] = (), meets: float = 0.03, step_clocks: bool = False) -> None:
    """Play steps of 0.5 to 300 minutes; *between* is how often a phone goes to the other."""
    rng = world.rng
    for step in range(steps):
        world.minute += rng.choice([0.5, 3, 20, 300])
        who, dice = rng.randrange(PHONES), rng.random()
        if rng.random() < meets:
            world.meet()
        if rng.random() < between:
            world.at[who] = 1 - world.at[who]
            if ASHORE not in world.at:
                world.at[who] = ASHORE
        server = world.servers[rng.choice(restores or (ABOARD,))]
        if dice < 0.35:
            world.sync(who)
        elif restores and dice < 0.38:
            server.backup(f"b{step}")
        elif restores and dice < 0.41 and server.backups:
            server.restore(rng.choice(list(server.backups)))
        elif lost_time and dice < 0.43:
            world.servers[rng.choice(lost_time)].lose_time(rng.randint(1, 4 * 24 * 60))
        elif step_clocks and dice < 0.45:
            world.errors_min[who] += rng.choice([-1, 1]) * rng.choice([10, 60, 3 * 24 * 60])
        else:
            world.act(who)


def bring_together(world: OfficeWorld) -> None:
    """Let all sync and meet until nobody has anything that another lacks."""
    for _ in range(3):
        for who in range(PHONES):
            world.sync(who, faults=False)
        world.meet(faults=False)
    for who in range(PHONES):
        world.sync(who, faults=False)


def check_equal(world: OfficeWorld) -> None:
    """Both logs are the same to the row, and nothing that was saved is missing on either."""
    stores = [server.store for server in world.servers]
    sizes = [store.size() for store in stores]
    assert sizes[ABOARD] == sizes[ASHORE]
    assert stores[ABOARD].head(sizes[ABOARD]) == stores[ASHORE].head(sizes[ASHORE])
    assert fold(world.servers[ABOARD].entries()) == fold(world.servers[ASHORE].entries())
    for server in world.servers:
        world.server = server
        check_copies(world)
