"""Stories of phones with wrong clocks, lost answers and a server that is put back."""

from __future__ import annotations

import json
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from spares.actions.compute import compute
from spares.errors import InvalidInput
from spares.sync.memory_server import MemoryServer
from spares.sync.story import Story
from tests.sync.database import DatabaseServer

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


@pytest.mark.parametrize("story", STORIES, ids=[story["name"] for story in STORIES])
def test_story_ends_alike_in_the_database(story: dict[str, Any], tmp_path: Path) -> None:
    fresh = counting()
    server = DatabaseServer(VESSEL, bytes(32), fresh, tmp_path)
    told = Story(server, VESSEL, story["given"]["devices"], fresh).play(story["given"]["steps"])
    assert told == story["expect"]
    server.store.check_tables()


def test_what_stood_before_a_restore_is_seen_by_who_pulled_it_after(tmp_path: Path) -> None:
    # The put is a row of both epochs. Were it only one of the first, the count five minutes
    # later would not seem to know it, and the cell would be in doubt.
    cell = {"part": "P", "locker": "K", "q": 10}
    steps = [[0, "A", "put", cell], [1, "A", "sync"], [2, "server", "backup", {"as": "copy"}],
             [3, "server", "restore", {"from": "copy"}], [4, "B", "sync"],
             [5, "B", "counted", cell], [6, "B", "sync"], [7, "A", "sync"]]
    fresh = counting()
    server = DatabaseServer(VESSEL, bytes(32), fresh, tmp_path)
    told = Story(server, VESSEL, {"A": 0, "B": 0}, fresh).play(steps)
    assert told["on_hand"]["P@K"] == {"quantity": 10, "low": 10, "high": 10, "doubts": [],
                                      "rivals": [], "negative": False}
    server.store.check_tables()


@pytest.mark.parametrize("story", STORIES, ids=[story["name"] for story in STORIES])
def test_story_plays_alike_as_a_call(story: dict[str, Any]) -> None:
    assert compute("history", story["given"]) == story["expect"]


@pytest.mark.parametrize(("given", "pointer"), [
    ({"devices": {}, "steps": []}, "#/devices"),
    ({"devices": {"A": "x"}, "steps": []}, "#/devices/A"),
    ({"devices": {"server": 0}, "steps": []}, "#/devices/server"),
    ({"devices": {"A": 0}}, "#/steps"),
    ({"devices": {"A": 0}, "steps": [], "more": 1}, "#/more"),
    ({"devices": {"A": 0}, "steps": [[0, "A"]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[-1, "A", "sync"]]}, "#/steps/0/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "sync", 5]]}, "#/steps/0/3"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "sync"], [0, "B", "sync"]]}, "#/steps/1"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "flew"]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "server", "flew"]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "took", {"part": "P", "locker": "K"}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "took", {"part": "P", "locker": "K", "q": -1}]]},
     "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "took", {"part": 5, "locker": "K", "q": 1}]]},
     "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "void", {"of": "nothing"}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "set", {"doc": 5, "f": {}}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "convert", {"out": 5, "in": []}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "convert", {"out": [5], "in": []}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "A", "clock", {"step_min": "x"}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "server", "lost_time", {"min": "x"}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "server", "restore", {"from": "x"}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "server", "approve", {"of": []}]]}, "#/steps/0"),
    ({"devices": {"A": 0}, "steps": [[0, "server", "revoke", {"device": "Z"}]]}, "#/steps/0"),
])
def test_story_that_cannot_be_played_is_refused_by_its_place(given: dict, pointer: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        compute("history", given)
    found = [error["pointer"] for error in caught.value.facts["errors"]]
    assert found == [pointer]


def test_story_may_name_lots_and_documents() -> None:
    found = compute("history", {"devices": {"A": 0, "B": 5}, "steps": [
        [0, "A", "put", {"part": "P", "locker": "K", "lot": "old", "q": 5}],
        [1, "A", "set", {"doc": "P", "f": {"name": "Impeller"}}], [2, "A", "sync"],
        [3, "B", "sync"], [4, "A", "set", {"doc": "P", "f": {"name": "Pump impeller"}}],
        [5, "A", "moved", {"part": "P", "from": "K", "to": "L", "lot": "old", "q": 2}]]})
    assert {name: row["quantity"] for name, row in found["on_hand"].items()} == {
        "P@K@old": 3, "P@L@old": 2}
    assert found["agree"] and found["refused"] == []
