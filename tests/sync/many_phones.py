"""Many phones that come aboard at once, each with what it wrote in a winter.

They speak the exchange by hand and keep little: what each wrote, what was answered, and when.
"""

from __future__ import annotations

import http.client
import random
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from uuid import UUID

from spares.db import devices
from spares.db.door import found_vessel
from spares.db.engine import open_store
from tests.sync.server_process import Server

VESSEL = "00000000-0000-4000-8000-0000000000aa"
AT_ONCE = 500
GIVE_UP_S = 900


@dataclass
class WinterPhone:
    """One phone: its changes, and when each was known to be safe."""

    token: str
    dev: str
    ops: list[dict[str, Any]]
    cursor: str | None = None
    answered: set[str] = field(default_factory=set)
    took_s: float = 0.0
    asked: int = 0

    def hand_in(self, server: Server, begun: float) -> None:
        """Ask until all changes are answered, whatever happens to the server meanwhile."""
        while self.ops and time.perf_counter() - begun < GIVE_UP_S:
            answer = self.ask(server, self.ops[:AT_ONCE], want=0)
            known = {one["id"] for one in answer.get("results", ())
                     if one["result"] == "ok" or one.get("was") == "ok"}
            self.answered |= known
            self.ops = [op for op in self.ops if op["id"] not in known]
        self.took_s = time.perf_counter() - begun

    def ask(self, server: Server, ops: list[dict[str, Any]], want: int) -> dict[str, Any]:
        """Send one request; {} where no good answer came."""
        self.asked += 1
        now_ms = time.time_ns() // 1_000_000
        try:
            status, answer = server.post("/api/sync", {
                "proto": 1, "schema": 1, "vessel": VESSEL, "inst": self.dev, "cursor": None,
                "now": now_ms, "off_prev": None, "boot_prev": None, "stepped": False,
                "last": ops[-1]["n"], "ops": ops, "want": want}, self.token, timeout_s=120)
        except (OSError, http.client.HTTPException, ValueError):
            time.sleep(0.2)
            return {}
        if status != 200:
            time.sleep(1)
            return {}
        return answer


def winter(path: Path, phones: int, changes: int, seed: int = 3) -> list[WinterPhone]:
    """Make a store with that many paired phones, each with changes of 200 days."""
    rng, now_ms = random.Random(seed), time.time_ns() // 1_000_000
    store, made = open_store(path), []
    with store.writing() as session:
        found_vessel(session, VESSEL)
        for at in range(phones):
            token = f"phone-{at:03}-{rng.getrandbits(64):016x}"
            dev = devices.pair(session, VESSEL, token, name=f"phone {at}", role="crew",
                               now_ms=now_ms, until_ms=now_ms + 400 * 86_400_000).dev
            since_ms = now_ms - 200 * 86_400_000
            made.append(WinterPhone(token, dev, [
                _movement(rng, n, since_ms + n * 200 * 86_400_000 // changes)
                for n in range(1, changes + 1)]))
    store.close()
    return made


def _movement(rng: random.Random, n: int, t: int) -> dict[str, Any]:
    part, locker = rng.randrange(400), rng.randrange(60)
    return {"id": str(UUID(int=rng.getrandbits(128), version=4)), "n": n,
            "kind": rng.choice(("put", "took", "counted")), "v": 1, "t": t, "seen": None,
            "after": "", "body": {
                "part": f"part/00000000-0000-4000-8000-0000001{part:05d}",
                "locker": f"locker/00000000-0000-4000-8000-0000002{locker:05d}", "lot": "",
                "q": 1000 * rng.randint(1, 9)}}


def all_at_once(phones: list[WinterPhone], server: Server,
                meanwhile: Any = lambda: None) -> float:
    """Let all hand in together, do *meanwhile* beside it; gives how long all took [s]."""
    begun = time.perf_counter()
    threads = [threading.Thread(target=phone.hand_in, args=(server, begun)) for phone in phones]
    for thread in threads:
        thread.start()
    meanwhile()
    for thread in threads:
        thread.join()
    return time.perf_counter() - begun
