"""The time of one request: what the server's clock says, and how far to trust the device's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from spares.sync import stamp as clocks
from spares.sync.request import SyncRequest
from spares.sync.store import Device, Store


@dataclass(frozen=True)
class Around:
    """What the world gives: wall clock [ms since 1970], this run of the server, fresh ids."""

    wall_ms: int
    boot: str
    fresh_id: Callable[[], str]


@dataclass
class Turn:
    """One request being answered; `now_ms` is the server's time in it [ms]."""

    store: Store
    device: Device
    request: SyncRequest
    around: Around
    now_ms: int
    clock_is_good: bool
    lost_ms: int

    def reach(self, time_ms: int) -> None:
        """Set the server's clock forward if it is behind *time_ms*; this request follows [ms].

        Only a floor would freeze its time until the wall clock catches up.
        """
        if time_ms > self.now_ms:
            clock = clocks.advance_to(self.store.clock(), time_ms, self.around.wall_ms)
            self.now_ms, clock = clocks.tick(clock, self.around.wall_ms)
            self.store.set_clock(clock)


def begin(store: Store, device: Device, request: SyncRequest, around: Around) -> Turn:
    """Read both clocks, and find out whether the server lost time while it was off."""
    now_ms, clock = clocks.tick(store.clock(), around.wall_ms)
    store.set_clock(clock)
    drift = clocks.drift_ms(request.now, now_ms, request.off_prev)
    lost_ms = clocks.lost_time_ms(
        drift, restarted=request.boot_prev != around.boot, first=request.off_prev is None,
        stepped=request.stepped, trusted=device.role != "guest" and not device.revoked)
    good = clocks.clock_is_good(drift, lost_ms=lost_ms, stepped=request.stepped)
    turn = Turn(store, device, request, around, now_ms, good, lost_ms)
    turn.reach(now_ms + lost_ms)
    return turn
