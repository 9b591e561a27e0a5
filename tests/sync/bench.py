"""A server with one device in each role, its store in memory or in the database."""

from __future__ import annotations

from itertools import count
from pathlib import Path
from typing import Any

from spares.sync.exchange import answer_sync
from spares.sync.memory import MemoryStore
from spares.sync.store import Device
from spares.sync.turn import Around
from tests.sync.database import DatabaseStore

VESSEL = "00000000-0000-4000-8000-0000000000aa"
NOW = 1_800_000_000_000
KEY = bytes(range(32))
CELL = {"part": "part/00000000-0000-4000-8000-000000000001",
        "locker": "locker/00000000-0000-4000-8000-000000000002", "lot": ""}


class Bench:
    """A store with one device in each role, and short ways to ask it."""

    def __init__(self, folder: Path | None = None) -> None:
        numbers = count(1)
        self.fresh = lambda length: f"{next(numbers):0{length}x}"
        self.store: Any = MemoryStore(VESSEL, KEY, self.fresh) if folder is None \
            else DatabaseStore(VESSEL, KEY, folder)
        self.boot, self.wall_ms = "boot-1", NOW
        self.numbers = count(1)
        for role in ("skipper", "crew", "guest"):
            self.store.pair(role, role)

    def ask(self, who: str = "crew", **parts: Any) -> dict[str, Any]:
        """Send a request with sensible outsides."""
        request = {"proto": 1, "schema": 1, "vessel": VESSEL, "inst": f"inst-{who}",
                   "cursor": None, "now": NOW, "off_prev": None, "boot_prev": None,
                   "stepped": False, "last": greatest_number(parts.get("ops", [])), **parts}
        around = Around(self.wall_ms, self.boot, lambda: self.ident())
        return self.answer(self.store.device_of(who), request, around)

    def answer(self, device: Device, request: Any, around: Around) -> dict[str, Any]:
        """Answer a request as it is."""
        if isinstance(self.store, DatabaseStore):
            return self.store.answer(device, request, around)
        return answer_sync(self.store, device, request, around)

    def ident(self) -> str:
        """Give an id never given before."""
        return f"00000000-0000-4000-9000-{next(self.numbers):012x}"

    def op(self, n: int, kind: str = "put", body: dict | None = None, **other: Any) -> dict:
        """Make a change."""
        return {"id": self.ident(), "n": n, "kind": kind, "v": 1, "t": NOW, "seen": None,
                "after": "", "body": {**CELL, "q": 1000} if body is None else body, **other}

    def log(self) -> list[str]:
        """Give the ids in the log."""
        return [envelope.id for _, envelope in self.store.rows(0, 10_000)]


def greatest_number(ops: list[Any]) -> int:
    """Give the greatest number that proper changes among these have."""
    numbers = [op["n"] for op in ops if isinstance(op, dict) and type(op.get("n")) is int]
    return max([n for n in numbers if 0 < n < 2**53], default=0)


def codes(answer: dict[str, Any]) -> list[str]:
    return [result.get("code", result["result"]) for result in answer["results"]]
