"""One of a crew whose changes wait, whose phone goes on under new numbers, and a log put back."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from itertools import count
from typing import Any

from spares.domain.stock import fold
from spares.errors import Stopped
from spares.sync.memory_server import MemoryServer
from tests.sync.bench import CELL, KEY, NOW, VESSEL


class Apart:
    """A skipper and one of the crew, whose change waits for the skipper."""

    def __init__(self, make: Any) -> None:
        numbers = count(1)
        self.ident = lambda: f"00000000-0000-4000-8000-{next(numbers):012x}"
        fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731
        self.server = MemoryServer(VESSEL, KEY, fresh)
        self.server.pair("skipper", "skipper", NOW)
        self.phone, self.token = make(VESSEL, self.server.pair("crew", "crew", NOW), fresh), "crew"
        self.other = make(VESSEL, self.server.pair("other", "crew", NOW), fresh)
        self.now, self.is_cut_off, self.most = NOW, False, 500
        self.sync()

    def tap(self, kind: str = "took", body: dict[str, Any] | None = None, *,
            alone: bool = False) -> str:
        ident = self.ident()
        self.now += 60_000
        self.phone.record(ident, kind, {**CELL, "q": 1000} if body is None else body, self.now)
        if not alone:
            self.sync()
        return ident

    def sync(self) -> None:
        self.phone.sync(self.send, self.now)

    def send(self, request: dict[str, Any]) -> dict[str, Any]:
        request["ops"] = request["ops"][:self.most]
        answer = self.server.handle(self.token, request, self.now)
        if self.is_cut_off and (request["ops"] or request["gone"]):
            raise Stopped("the answer was lost", stop="no_answer")
        return answer

    def sync_other(self) -> None:
        self.other.sync(lambda request: self.server.handle("other", request, self.now), self.now)

    def cut_off(self) -> None:
        self.is_cut_off = True
        with suppress(Stopped):
            self.sync()
        self.is_cut_off = False

    def pair_again(self) -> None:
        self.token += " again"
        self.server.pair(self.token, "crew", self.now)

    def change_role(self, role: str) -> None:
        store = self.server.store
        device = store.device_of(self.token)
        store.save_device(replace(device, role=role, roles_before=(device.role,)))

    def leave(self) -> None:
        self.server.revoke(self.token, self.now)

    def on_hand(self) -> list[int]:
        return [cell.quantity for cell in fold(self.server.entries()).values()]
