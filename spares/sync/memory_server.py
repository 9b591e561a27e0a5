"""A server in memory, with a wall clock that may stand behind, for stories and tests."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction
from typing import Any
from uuid import UUID

from spares.domain.movements import Entry
from spares.errors import Stopped
from spares.sync.exchange import answer_sync, approve, reject
from spares.sync.memory import MemoryStore
from spares.sync.stamp import MINUTE_MS
from spares.sync.store import Held, Kept, entries_of
from spares.sync.turn import Around


class MemoryServer:
    """A server in memory with a wall clock that may stand behind; plays stories."""

    def __init__(self, vessel: str, key: bytes, fresh: Callable[[int], str]) -> None:
        self.store = MemoryStore(vessel, key, fresh)
        self.backups: dict[str, MemoryStore] = {}
        self._fresh = fresh
        self._behind_ms = 0
        self._boot = fresh(16)

    def pair(self, token: str, role: str, true_ms: int) -> str:
        """Pair a device; gives its number."""
        return self.store.pair(token, role).dev

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a sync request at true time [ms].

        Raises:
            Stopped: nothing was taken.
        """
        around = Around(true_ms - self._behind_ms, self._boot,
                        lambda: str(UUID(self._fresh(32), version=4)))
        try:
            device = self.store.device_of(token)
        except KeyError as err:
            raise Stopped("this device is not paired", stop="not_paired") from err
        return answer_sync(self.store, device, request, around)

    def backup(self, name: str) -> None:
        """Make a backup under a name."""
        self.backups[name] = self.store.backup()

    def restore(self, name: str, *, by_hand: bool = False) -> None:
        """Put a backup back, and start again."""
        self.store.put_back(self.backups[name], by_hand=by_hand)
        self._boot = self._fresh(16)

    def lose_time(self, minutes: Fraction | int) -> None:
        """Start again with the wall clock standing further behind [min]."""
        self._behind_ms += round(minutes * MINUTE_MS)
        self._boot = self._fresh(16)

    def revoke(self, token: str, true_ms: int) -> None:
        """Retire a device."""
        device = self.store.device_of(token)
        self.store.save_device(replace(device, revoked="retired",
                                       revoked_ms=self.store.clock().last_ms))

    def approve(self, ident: str) -> None:
        """Put a held change into the log."""
        approve(self.store, ident)

    def reject(self, ident: str) -> None:
        """Refuse a held change."""
        reject(self.store, ident)

    def entries(self) -> list[Entry]:
        """Give the log as the folds need it."""
        return entries_of(self.store.rows(0, self.store.size()), self.store.epochs())

    def kept(self, ident: str) -> Kept | None:
        """Find what became of a change."""
        return self.store.kept(ident)

    def held(self, ident: str) -> Held | None:
        """Find a held change."""
        return self.store.held(ident)

    def lost_numbers(self) -> dict[str, list[tuple[int, int]]]:
        """Give the ranges of numbers that devices lost."""
        return self.store.lost_numbers()
