"""Which numbers of each device are used: in the log, held, refused or written off as lost.

Numbers are dense, so that a loss shows. Beyond the smallest free one there are few: those
that came after a gap. Only these are read.
"""

from __future__ import annotations

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.tables import Device, LogEntry, LostRange, UsedNumber
from spares.sync.checks import GREATEST_WHOLE


class Numbers:
    """The numbers of one vessel's devices, inside one transaction."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self._free: dict[str, int] = {}
        self._beyond: dict[str, list[tuple[int, int]]] = {}

    def next_n(self, dev: str) -> int:
        """Give the smallest number that is not used [1]."""
        self._read(dev)
        return self._free[dev]

    def is_used(self, dev: str, n: int) -> bool:
        """Say whether a number is used, whatever for."""
        self._read(dev)
        if n < self._free[dev]:
            return True
        return any(low <= n <= high for low, high in self._beyond[dev])

    def is_greatest(self, dev: str, n: int) -> bool:
        """Say whether no greater number is used."""
        self._read(dev)
        return n >= self._free[dev] and all(last <= n for _, last in self._beyond[dev])

    def use(self, dev: str, first: int, last: int | None = None) -> None:
        """Mark a number, or a range of them, as used."""
        self._read(dev)
        beyond = self._beyond[dev]
        if first == self._free[dev] and last is None and not beyond:    # as nearly always
            self._free[dev] += 1
            return
        beyond.append((first, first if last is None else last))
        beyond.sort()
        while beyond and beyond[0][0] <= self._free[dev]:
            self._free[dev] = max(self._free[dev], beyond.pop(0)[1] + 1)

    def missing(self, dev: str, up_to: int) -> list[tuple[int, int]]:
        """Give the ranges of numbers, up to *up_to*, that are not used."""
        n, found = self.next_n(dev), []
        for first, last in self._beyond[dev]:
            if n < first and n <= up_to:
                found.append((n, min(first - 1, up_to)))
            n = max(n, last + 1)
        return [*found, (n, up_to)] if n <= up_to else found

    def save(self) -> None:
        """Keep the smallest free numbers with their devices."""
        for dev, free in self._free.items():
            device = self.session.get(Device, (self.vessel, dev))
            if device is not None and device.next_n != free:
                device.next_n = free
                self.session.add(device)

    def _read(self, dev: str) -> None:
        if dev in self._free:
            return
        device = self.session.get(Device, (self.vessel, dev))
        free = 1 if device is None else device.next_n
        self._free[dev] = free
        found = [(n, n) for table in (LogEntry, UsedNumber) for n in self.session.execute(
            select(col(table.n)).where(col(table.vessel) == self.vessel, col(table.dev) == dev,
                                       col(table.n) >= free)).scalars()]
        found += [(first, last) for first, last in self.session.execute(
            select(col(LostRange.first), col(LostRange.last)).where(
                col(LostRange.vessel) == self.vessel, col(LostRange.dev) == dev,
                col(LostRange.last) >= free))]
        self._beyond[dev] = []
        for first, last in sorted(found):
            self.use(dev, first, min(last, GREATEST_WHOLE))
