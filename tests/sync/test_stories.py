"""Stories of phones with wrong clocks, lost answers and a server that is put back."""

from __future__ import annotations

import json
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from spares.sync.memory_server import MemoryServer
from spares.sync.story import Story

VESSEL = "00000000-0000-4000-8000-0000000000aa"
STORIES = json.loads((Path(__file__).parents[1] / "vectors/history/stories.json")
                     .read_text("utf-8"))["cases"]


def counting() -> Any:
    numbers = count(1)
    return lambda length: f"{next(numbers):0{length}x}"


def play(given: dict[str, Any]) -> tuple[MemoryServer, dict[str, Any]]:
    fresh = counting()
    server = MemoryServer(VESSEL, bytes(32), fresh)
    story = Story(server, VESSEL, given["devices"], fresh)
    return server, story.play(given["steps"])


@pytest.mark.parametrize("story", STORIES, ids=[story["name"] for story in STORIES])
def test_story_ends_as_worked_by_hand(story: dict[str, Any]) -> None:
    assert play(story["given"])[1] == story["expect"]
