"""A skipper and a crew of four that changes, played by chance against what really lay there.

Somebody leaves, is paired again, is a guest for a while; a phone is put back from its own copy;
what waits is decided; the log is put back. Beside the truth of the counts each phone has to show
what became of each change, and the server which numbers are lost.
"""

from __future__ import annotations

import copy
import random
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass, field, replace
from itertools import count
from typing import Any

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from spares.sync.phone import Phone
from tests.sync.world import START_MS, VESSEL, YEARS_11_MIN, World, check_causes, silently_wrong

CREW = range(1, 5)


@dataclass
class CrewWorld(World):
    """The world, and what may be missing in the end: what phone and log were put back past."""

    guests: set[int] = field(default_factory=set)
    mistaken: set[str] = field(default_factory=set)             # written down, and never done
    by: dict[str, int] = field(default_factory=dict)
    copies: dict[int, tuple[Any, int]] = field(default_factory=dict)
    off_the_phone: set[str] = field(default_factory=set)
    off_the_log: set[str] = field(default_factory=set)
    named: dict[tuple[str, int], dict[str, int]] = field(default_factory=dict)
    turned_back: set[int] = field(default_factory=set)
    unknown: set[tuple[str, int]] = field(default_factory=set)

    def record(self, who: int, kind: str, body: dict[str, Any]) -> None:
        """Write something down, and note under which number."""
        super().record(who, kind, body)
        self.by[list(self.saved)[-1]] = who
        self.note_numbers(who)

    def note_numbers(self, who: int, answer: dict[str, Any] | None = None) -> None:
        """Note what the numbers of a phone stand for: waiting, or under which they were taken."""
        phone = self.phones[who]
        dev = phone.dev if answer is None else answer["dev"]
        stands = [(n, change.id) for n, change in phone.outbox.items()] if answer is None else \
            [(result["n"], result["id"]) for result in answer.get("results", ())]
        for n, ident in stands:
            self.named.setdefault((dev, n), {})[ident] = who

    def sync(self, who: int, faults: bool = True) -> None:
        """Let a phone sync, and show what it says."""
        super().sync(who, faults)
        self.note_numbers(who)
        if not faults and who not in self.gone:
            check_shown(self, who)

    def is_outside(self, who: int) -> bool:
        """Say whether what somebody makes waits for the skipper."""
        return who in self.gone or who in self.guests

    def mistake(self, who: int) -> None:
        """Let somebody whose changes wait write down what was never done."""
        if self.is_outside(who):
            before = self.truth.copy()
            many = len(self.saved)
            self.act(who)
            made = [one.id for one in list(self.saved.values())[many:]]
            if self.truth != before:
                self.truth = before
                self.mistaken.update(made)

    def come_back(self, who: int) -> None:
        """Pair somebody again who has left, or let a guest be of the crew again."""
        if who in self.gone:
            del self.gone[who]
            self.guests.discard(who)
            self.tokens[who] += "'"
            self.server.pair(self.tokens[who], "crew", self.true_ms)
        elif who in self.guests:
            self.guests.remove(who)
            self.give_role(who, "crew")

    def give_role(self, who: int, role: str) -> None:
        """Give somebody another role, as the skipper does."""
        store = self.server.store
        device = store.device_of(self.tokens[who])
        store.save_device(replace(device, role=role, roles_before=tuple(
            {*device.roles_before, device.role})))

    def go(self, who: int) -> None:
        """Let somebody leave, or be a guest, or come back."""
        if self.is_outside(who):
            self.come_back(who)
        elif self.rng.random() < 0.6:
            self.revoke(who, "retired")
        else:
            self.guests.add(who)
            self.give_role(who, "guest")

    def put_phone_back(self, who: int) -> None:
        """Make a copy of a phone, or put it back from the one that was made."""
        if who not in self.copies:
            self.copies[who] = copy.deepcopy(self.phones[who]), len(self.saved)
            return
        self.phones[who], many = self.copies.pop(who)
        self.turned_back.add(who)
        # What its numbers stand for by now it cannot know any more.
        self.unknown |= {number for number, ids in self.named.items() if who in ids.values()}
        made = {ident for ident in list(self.saved)[many:] if self.by[ident] == who}
        self.off_the_phone |= made
        self.off_the_log |= {ident for ident in made if self.server.kept(ident) is None}

    def put_log_back(self, name: str) -> None:
        """Put a backup back; notes what it does not know."""
        known = {ident for ident in self.saved if self.server.kept(ident) is not None}
        self.server.restore(name)
        self.off_the_log |= {ident for ident in known if self.server.kept(ident) is None}

    def decide(self) -> None:
        """Let the skipper take what waits, and turn down what was never done."""
        store = self.server.store
        for ident in sorted(store.held_of(*store.devices)):
            if ident in self.mistaken:
                self.server.reject(ident)
            else:
                self.server.approve(ident)

    @contextmanager
    def unchanged_by(self, who: int) -> Iterator[None]:
        """Nobody who has left, or only looks, changes the log."""
        before = self.server.store.size() if self.is_outside(who) else None
        with suppress(Stopped):
            yield
        assert before in (None, self.server.store.size()), "one who is outside changed the log"


def build(seed: int, make: Any = Phone) -> CrewWorld:
    rng = random.Random(seed)
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731  (copied with the store)
    server = MemoryServer(VESSEL, bytes(32), fresh)
    errors = [rng.choice([0, 0, rng.randint(-YEARS_11_MIN, YEARS_11_MIN)]) for _ in range(5)]
    phones = [make(VESSEL, server.pair(f"t{who}", "crew" if who else "skipper", START_MS), fresh)
              for who in range(5)]
    world = CrewWorld(rng, server, phones, errors)
    for who in range(5):
        world.sync(who, faults=False)
    return world


def play(world: CrewWorld, steps: int, *, restores: bool = True, forks: bool = True) -> None:
    """Play steps of 0.5 to 300 minutes."""
    rng, server = world.rng, world.server
    for step in range(steps):
        world.minute += rng.choice([0.5, 3, 20, 300])
        who, one, dice = rng.randrange(5), rng.choice(CREW), rng.random()
        if dice < 0.3:
            world.sync(who)
        elif dice < 0.42:
            world.go(one)
        elif dice < 0.46:
            world.mistake(one)
        elif dice < 0.50:
            world.decide()
        elif restores and dice < 0.54:
            server.backup(f"b{step}")
        elif restores and dice < 0.57 and server.backups:
            world.put_log_back(rng.choice(list(server.backups)))
        elif forks and dice < 0.61:
            world.put_phone_back(one)
        else:
            world.act(who)


def bring_together(world: CrewWorld) -> None:
    """Let all come back and sync, and the skipper decide; what was never done is undone."""
    world.minute += 60
    for who in CREW:
        world.come_back(who)
    for turn in range(4):
        for who in range(5):
            world.sync(who, faults=False)
        world.decide()
        if turn == 2:
            for entry in world.server.entries():
                if entry.id in world.mistaken:
                    world.record(0, "void", {"of": entry.id})
    for who in range(5):
        world.sync(who, faults=False)


def played(seed: int, steps: int, make: Any = Phone, **profile: bool) -> CrewWorld:
    """Play one history to its end."""
    world = build(seed, make)
    play(world, steps, **profile)
    bring_together(world)
    return world


def check_shown(world: CrewWorld, who: int) -> None:
    """A phone that was brought together shows of each change what became of it."""
    phone, store = world.phones[who], world.server.store
    log = {entry.id for entry in world.server.entries()}
    for ident in phone.held:
        assert world.server.held(ident) is not None, "shown as waiting, and does not wait"
    for ident in phone.refused:
        assert ident not in log and store.held(ident) is None, "shown as refused, and is not"


def check(world: CrewWorld) -> None:
    """See that nothing is missing, all copies are alike, and what is on hand is true."""
    log = world.server.entries()
    in_log = {entry.id for entry in log if entry.kind != "restamp"}
    missing = set(world.saved) - world.mistaken - in_log
    assert missing <= world.off_the_phone & world.off_the_log, "a change that was saved is nowhere"
    cells = fold(log)
    for who, phone in enumerate(world.phones):
        assert not phone.outbox and not phone.relay and not phone.gone and not phone.held
        assert set(phone.refused) <= world.mistaken
        assert fold(phone.copy.entries()) == cells
        check_shown(world, who)
    for dev, ranges in world.server.lost_numbers().items():
        for first, last in ranges:
            for n in range(first, last + 1):
                stood_for = set(world.named.get((dev, n), ()))
                assert (dev, n) in world.unknown or stood_for - in_log, \
                    f"{dev} {n} is shown as lost, and nothing is: {stood_for}"
    if not missing:
        check_causes(world, but={
            ident for ident, who in world.by.items() if who in world.turned_back})
        assert silently_wrong(world) == []
