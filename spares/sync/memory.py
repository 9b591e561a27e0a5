"""A store in memory: the same promises as the database, for stories and tests.

A backup is a copy of everything. Putting it back begins a new epoch and leaves the devices
the rights they have now, unless it is put back `by_hand`, as a person does who copies an old
file over the present one.
"""

from __future__ import annotations

import copy
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from spares.sync.change import FIRST_HEAD, Change, Envelope, content_hash, next_head, written_form
from spares.sync.meeting import Home
from spares.sync.merge import check_immutable, read_document
from spares.sync.stamp import ServerClock
from spares.sync.store import Device, Epochs, Held, Kept, entries_of, more_epochs, still_lost

OWN_DEV = "server00"


class MemoryStore:
    """One vessel's log, its devices and its clock.

    `fresh`, a plain function, gives hex texts of a length that it never gave before.
    """

    def __init__(self, vessel: str, key: bytes, fresh: Callable[[int], str]) -> None:
        self.vessel, self.key = vessel, key
        self._fresh = fresh
        self.own_devs = [OWN_DEV]
        self._clock = ServerClock()
        self._epochs: list[tuple[str, int | None]] = [(fresh(16), None)]
        self._home = Home()
        self._log: list[Envelope] = []
        self._heads = [FIRST_HEAD]
        self._by_id: dict[str, Kept] = {}
        self._numbers: dict[str, dict[int, Kept]] = {}
        self._lost: dict[str, list[tuple[int, int]]] = {}
        self._held: dict[str, Held] = {}
        self._last_at: dict[str, str] = {}
        self.devices: dict[str, Device] = {}
        self.tokens: dict[str, str] = {}

    @property
    def own_dev(self) -> str:
        """Give the number of the server itself in this epoch."""
        return self.own_devs[-1]

    def clock(self) -> ServerClock:
        """Give the clock as last set."""
        return self._clock

    def set_clock(self, clock: ServerClock) -> None:
        """Keep the clock."""
        self._clock = clock

    def epochs(self) -> Epochs:
        """Give the epochs of this log, oldest first."""
        return tuple(self._epochs)

    def begin_epoch(self) -> None:
        """End the present epoch at the last row and begin a new one."""
        self._epochs[-1] = (self._epochs[-1][0], self.size())
        self._epochs.append((self._fresh(16), None))
        self.own_devs.append(self._fresh(8))

    def learn_epochs(self, found: Sequence[tuple[str, int]]) -> None:
        """Note that the rows up to each end also stood so in an epoch of another store."""
        self._epochs = more_epochs(self._epochs, found)

    def home(self) -> Home:
        """Give how far this log is the vessel's own."""
        return self._home

    def set_home(self, home: Home) -> None:
        """Keep how far this log is the vessel's own."""
        self._home = home

    def rewind(self, seq: int) -> None:
        """Take the rows behind *seq* out; what stood in past epochs is cut to it."""
        self._epochs = [(epoch, end if end is None else min(end, seq))
                        for epoch, end in self._epochs]
        for envelope in self._log[seq:]:
            self._by_id.pop(envelope.id, None)
            self._numbers[envelope.dev].pop(envelope.n, None)
        del self._log[seq:], self._heads[seq + 1:]

    def size(self) -> int:
        """Give the number of the last row [1]."""
        return len(self._log)

    def head(self, seq: int) -> bytes | None:
        """Give the head of the chain after row *seq*, None if beyond."""
        return self._heads[seq] if 0 <= seq < len(self._heads) else None

    def rows(self, after: int, most: int) -> list[tuple[int, Envelope]]:
        """Give up to *most* rows after *after*, in order."""
        return list(enumerate(self._log[after:after + most], after + 1))

    def written_rows(self, after: int, most: int) -> list[tuple[int, str]]:
        """Give the same as they are written."""
        return [(seq, written_form(envelope).decode()) for seq, envelope in self.rows(after, most)]

    def append(self, envelope: Envelope) -> int:
        """Add one row and mark its number as used; gives its seq."""
        self._log.append(envelope)
        self._heads.append(next_head(self._heads[-1], envelope))
        if envelope.dev not in self.own_devs and envelope.dev not in self.devices:
            self.devices[envelope.dev] = Device(envelope.dev, revoked="retired")
        self._use(Kept(envelope.id, envelope.dev, envelope.n, "ok", envelope.kind,
                       content_hash(envelope), self.size(), envelope.at, envelope.g,
                       envelope.pos, envelope.mac))
        return self.size()

    def kept(self, ident: str) -> Kept | None:
        """Find what became of a change."""
        return self._by_id.get(ident)

    def kept_as(self, dev: str, n: int) -> Kept | None:
        """Find what a device's number was used for."""
        used = self._numbers.get(dev, {}).get(n)
        if used is None and self._is_lost(dev, n):
            return Kept("", dev, n, "lost")
        return used

    def restamps_of(self, ident: str) -> list[Envelope]:
        """Give the restamp rows that name a change."""
        return [e for e in self._log if e.kind == "restamp" and e.body["of"] == ident]

    def next_n(self, dev: str) -> int:
        """Give the smallest number of a device that is not used [1]."""
        return self.missing(dev, 2**53)[0][0]

    def missing(self, dev: str, up_to: int) -> list[tuple[int, int]]:
        """Give the ranges of a device's numbers, up to *up_to*, that are not used."""
        taken = [(n, n) for n in self._numbers.get(dev, {})] + self._lost.get(dev, [])
        found, n = [], 1
        for first, last in sorted(taken):
            if n < first and n <= up_to:
                found.append((n, min(first - 1, up_to)))
            n = max(n, last + 1)
        return [*found, (n, up_to)] if n <= up_to else found

    def last_at(self, dev: str) -> str:
        """Give the greatest stamp of a device, "" if none."""
        return self._last_at.get(dev, "")

    def stamps_around(self, dev: str, n: int) -> tuple[str, list[tuple[int, str]]]:
        """Give a device's greatest stamp below number *n*, "" if none, and those above it."""
        used = self._numbers.get(dev, {})
        if n > max(used, default=0):
            return self.last_at(dev), []
        stamps = {one: min([kept.at, *(e.body["at"] for e in self.restamps_of(kept.id))])
                  for one, kept in used.items()}
        return (max((at for one, at in stamps.items() if one < n), default=""),
                [(one, at) for one, at in stamps.items() if one > n and at])

    def mark(self, kept: Kept) -> None:
        """Use up a number for what is not in the log: refused or dup."""
        self._use(kept)

    def write_off(self, dev: str, first: int, last: int) -> None:
        """Mark a range of numbers as lost on the device."""
        self._lost.setdefault(dev, []).append((first, last))

    def hold(self, held: Held) -> None:
        """Keep a change for the skipper; uses up its number."""
        # A device of after the backup may be unknown here: the list of what waits names devices.
        self.devices.setdefault(held.dev, Device(held.dev, revoked="retired"))
        self._held[held.change.id] = held
        self._use(Kept(held.change.id, held.dev, held.change.n, "held", held.change.kind,
                       content_hash(held.change), at=held.at, g=held.g))

    def held(self, ident: str) -> Held | None:
        """Find a held change."""
        return self._held.get(ident)

    def held_of(self, *devs: str) -> list[str]:
        """Give the ids of changes that came under these numbers and are still held."""
        came = {kept.id for dev in devs for kept in self._numbers.get(dev, {}).values()}
        return [ident for ident in self._held if ident in came]

    def unhold(self, ident: str) -> None:
        """Take a change out of those that are held."""
        del self._held[ident]

    def renew(self, device: Device, why: str) -> Device:
        """Give a device a fresh number; the old one joins `was`."""
        renewed = replace(device, dev=self._fresh(8), inst="", last=0,
                          was=(*device.was, device.dev))
        self.devices[device.dev] = replace(device, revoked="retired")
        self.devices[renewed.dev] = renewed
        self.tokens = {token: renewed.dev if dev == device.dev else dev
                       for token, dev in self.tokens.items()}
        return renewed

    def stand_in_for(self, dev: str) -> str:
        """Give a fresh number for what cannot stand under *dev* any more."""
        made = Device(self._fresh(8), revoked="retired", was=(dev,))
        self.devices[made.dev] = made
        return made.dev

    def save_device(self, device: Device) -> None:
        """Keep what changed about a device."""
        self.devices[device.dev] = device

    def begins(self, doc: str, fields: dict[str, Any]) -> bool:
        """Say whether nothing was ever set of a document, or just these values stand there."""
        there = read_document(entries_of(self.rows(0, self.size()), self.epochs()), doc)
        return there is None or not there.gone and not fields.keys() & there.conflicts.keys() \
            and fields.items() <= there.values.items()

    def check(self, change: Change) -> None:
        """Refuse another unit for a part that has one."""
        if change.kind == "set":
            document = read_document(entries_of(self.rows(0, self.size()), self.epochs()),
                                     change.body["doc"])
            check_immutable(change, {} if document is None else document.values)

    def pair(self, token: str, role: str) -> Device:
        """Pair a device: its token stands for a fresh number from now on."""
        device = Device(self._fresh(8), role)
        self.devices[device.dev] = device
        self.tokens[token] = device.dev
        return device

    def device_of(self, token: str) -> Device:
        """Find the device that a token stands for.

        Raises:
            KeyError: the token is not known.
        """
        return self.devices[self.tokens[token]]

    def lost_numbers(self) -> dict[str, list[tuple[int, int]]]:
        """Give the ranges of numbers that devices lost and that never came after all."""
        found = {dev: [left for first, last in sorted(ranges) for left in still_lost(
            first, last, [n for n in self._numbers.get(dev, {}) if first <= n <= last])]
            for dev, ranges in self._lost.items()}
        return {dev: ranges for dev, ranges in found.items() if ranges}

    def backup(self) -> MemoryStore:
        """Copy everything as it is now."""
        return copy.deepcopy(self)

    def put_back(self, backup: MemoryStore, *, by_hand: bool = False) -> None:
        """Become what the backup holds; who belongs to the crew is a fact of today."""
        tokens = self.tokens
        devices = {dev: device for dev, device in self.devices.items()
                   if dev in backup.devices or dev in tokens.values()}
        self.__dict__.update(backup.backup().__dict__)
        if not by_hand:
            self.devices, self.tokens = {**self.devices, **devices}, tokens
            self.begin_epoch()

    def _use(self, kept: Kept) -> None:
        known = self._by_id.get(kept.id)
        if kept.outcome != "dup" and kept.id and not (known and known.outcome == "ok"):
            self._by_id[kept.id] = kept
        self._numbers.setdefault(kept.dev, {})[kept.n] = kept
        self._last_at[kept.dev] = max(self.last_at(kept.dev), kept.at)

    def _is_lost(self, dev: str, n: int) -> bool:
        return any(first <= n <= last for first, last in self._lost.get(dev, ()))
