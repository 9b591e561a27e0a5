"""The power fails at any moment of a sync: what was answered is there, and the log is whole.

The control leaves a sync out, as `synchronous=NORMAL` does: then answers must get lost, else
nothing was tested here.
"""

from __future__ import annotations

import random
import sqlite3
from contextlib import closing
from itertools import count
from pathlib import Path
from typing import Any

import pytest

from spares.db import engine
from spares.db.chain import check_chain
from spares.db.engine import open_store
from spares.db.rebuild import rebuild
from spares.sync.phone import Phone
from tests.conftest import LONG
from tests.db import disk
from tests.db.power import DAMAGES, Recording, cuts, lay_out
from tests.sync.database import DatabaseServer
from tests.sync.world import START_MS, VESSEL, World, play

POINTS, STEPS = (2000, 400) if LONG else (40, 80)

pytestmark = [pytest.mark.sqlite,
              pytest.mark.skipif(bool(disk.why_not()), reason=disk.why_not())]


class Answering(DatabaseServer):
    """A server that notes in the recording what it has answered."""

    recording: Recording

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a request, and mark what its phone then holds for taken."""
        answer = super().handle(token, request, true_ms)
        for result in answer["results"]:
            self.recording.mark(result["id"])
        return answer


def record(folder: Path, seed: int) -> tuple[Recording, dict[str, bytes]]:
    """Let five phones sync for a while; gives the acts, and the files before the first."""
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731
    server = Answering(VESSEL, bytes(32), fresh, folder)
    phones = [Phone(VESSEL, server.pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(5)]
    server.store.store.close()
    start = {str(path): path.read_bytes() for path in folder.iterdir()}
    server.recording = Recording()
    disk.listener = server.recording.listen
    world = World(random.Random(seed), server, phones, [0] * 5)
    play(world, STEPS)
    server.store.store.close()
    disk.listener = None
    return server.recording, start


def lost(path: Path, answered: list[str], whole: bool) -> list[str]:
    """Open what the power left, see that it is whole; gives the answered changes not in it."""
    with closing(sqlite3.connect(path)) as connection:
        assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
        ids = {row[0] for row in connection.execute("SELECT id FROM log")}
    if whole:
        store = open_store(path)
        with store.writing() as session:
            assert check_chain(session, VESSEL) == len(ids)
            assert rebuild(session, VESSEL) == []
        store.close()
    return [ident for ident in answered if ident not in ids]


def fail_power(folder: Path, seed: int) -> list[int]:
    """Play, cut at random points, damage in three ways; gives how many answers each lost."""
    recording, start = record(folder, seed)
    assert any(act.what == "sync" for act in recording.acts)
    assert any(act.what == "write" and act.path.endswith(".sqlite") for act in recording.acts), \
        "the recording holds no checkpoint"
    rng, after, found = random.Random(seed), folder / "after", []
    after.mkdir()
    for point, found_disk in enumerate(cuts(recording.acts, start, POINTS, rng)):
        for damage in DAMAGES:
            lay_out(found_disk.image(damage, rng), after)
            # All tables are made anew for some of them: it takes as long as all else together.
            found.append(len(lost(after / "store.sqlite", found_disk.marks, point % 10 == 0)))
    return found


@pytest.mark.slow
def test_power_that_fails_costs_no_answered_change(watched: Path) -> None:
    assert sum(fail_power(watched, 1)) == 0


def test_without_syncs_at_each_commit_answers_get_lost(
        watched: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    prepare = engine._prepare

    def hurried(connection: sqlite3.Connection, given: Any) -> None:
        prepare(connection, given)
        connection.execute("PRAGMA synchronous=NORMAL").close()
    monkeypatch.setattr(engine, "_prepare", hurried)
    found = fail_power(watched, 1)
    assert sum(one > 0 for one in found) > len(found) / 4
