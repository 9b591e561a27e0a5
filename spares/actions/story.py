"""Play a story of phones and a server that lose sight of each other."""

from __future__ import annotations

from itertools import count
from typing import Any

from spares.sync.memory_server import MemoryServer
from spares.sync.story import Story

_VESSEL = "00000000-0000-4000-8000-000000000001"
_KEY = b"a story needs no secret, only 32"


def play_story(request: dict[str, Any]) -> dict[str, Any]:
    """Play a story as `transfer.compute.history.Request` loads it.

    Raises:
        InvalidInput: a step cannot be played; `errors` says which and why.
    """
    numbers = count(1)

    def fresh(length: int) -> str:
        return f"{next(numbers):0{length}x}"

    server = MemoryServer(_VESSEL, _KEY, fresh)
    return Story(server, _VESSEL, request["devices"], fresh).play(request["steps"])
