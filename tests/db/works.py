"""Works on a store that can be broken off anywhere: sync, import, a meeting and others.

Each prepares a folder, does its work in it (with an answer noted in `said` for whatever a person
or a phone then holds for done), and looks afterwards: what was answered is there, nothing is
there by half, and the store is whole.
"""

from __future__ import annotations

import os
import random
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from spares.actions.bring_in import bring_in
from spares.actions.check import check
from spares.actions.context import open_context
from spares.config import read_settings
from spares.db import upgrade
from spares.db.backup import make_backup
from spares.db.chain import check_chain
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.rebuild import rebuild
from spares.db.restore import restore_backup
from spares.sync.phone import Phone
from tests.actions.conftest import FILES
from tests.db import work_meeting
from tests.db.test_upgrade import at_step, write_first_log
from tests.stores import heads_of, state_of
from tests.sync.database import DatabaseServer, DatabaseStore
from tests.sync.world import START_MS, VESSEL, World, play

NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)


@dataclass(frozen=True)
class Work:
    """How a folder is prepared, what is done in it, and what must hold however it ended."""

    prepare: Callable[[Path], Any]
    do: Callable[[Path, Any], None]
    look: Callable[[Path, Any, list[str]], None]


def say(folder: Path, what: str) -> None:
    """Note an answer that somebody got; it is there even if the process is killed at once."""
    with (folder / "said").open("a") as file:
        file.write(what + "\n")


def whole(path: Path) -> None:
    """See that a store's log and tables hold."""
    ctx = open_context(read_settings({"SPARES_STORE": str(path)}))
    assert check(ctx, rebuild=True)["differences"] == []
    ctx.store.close()


class Answering(DatabaseServer):
    """A server that notes what it has answered."""

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a request, and note it."""
        answer = super().handle(token, request, true_ms)
        for result in answer["results"]:
            say(self.store.folder, result["id"])
        return answer


def _prepare_sync(folder: Path) -> World:
    numbers = count(1)
    fresh = lambda length: f"{next(numbers):0{length}x}"  # noqa: E731
    server = Answering(VESSEL, bytes(32), fresh, folder)
    phones = [Phone(VESSEL, server.pair(f"t{who}", "skipper", START_MS), fresh)
              for who in range(5)]
    server.store.store.close()
    return World(random.Random(4), server, phones, [0] * 5)


def _sync(folder: Path, world: World) -> None:
    play(world, 40)
    world.server.store.store.close()


def _look_at_log(folder: Path, world: World, said: list[str]) -> None:
    kept = DatabaseStore.__new__(DatabaseStore)
    kept.vessel, kept.store = VESSEL, open_store(folder / "store.sqlite")
    kept.check_tables()
    ids = [envelope.id for _, envelope in kept.rows(0, 10**6)]
    kept.store.close()
    assert len(ids) == len(set(ids)) and set(said) <= set(ids)


def _prepare_import(folder: Path) -> None:
    open_store(folder / "store.sqlite").close()
    (folder / "files").mkdir()
    for name, rows in FILES.items():
        (folder / "files" / f"{name}.csv").write_text(rows, encoding="utf-8")


def _import(folder: Path, _: Any) -> None:
    store = open_store(folder / "store.sqlite")
    bring_in(store, folder / "files")
    say(folder, "brought in")
    store.close()


def _look_at_import(folder: Path, _: Any, said: list[str]) -> None:
    store = open_store(folder / "store.sqlite")
    with store.reading() as session:
        there = list(vessels(session))
    assert there or not said
    bring_in(store, folder / "files")       # the same once more: nothing was there by half
    with store.reading() as session:
        parts = session.execute(text("SELECT count(*) FROM part")).scalar()
        moved = session.execute(text("SELECT count(*) FROM log WHERE kind = 'counted'")).scalar()
    store.close()
    assert (parts, moved) == (6, 6)
    whole(folder / "store.sqlite")


def _prepare_upgrade(folder: Path) -> None:
    old = at_step(folder / "store.sqlite", "0001")
    with old.writing() as session:
        write_first_log(session, VESSEL)
    old.close()


def _upgrade(folder: Path, _: Any) -> None:
    open_store(folder / "store.sqlite").close()


def _look_at_upgrade(folder: Path, _: Any, said: list[str]) -> None:
    store = open_store(folder / "store.sqlite")
    assert upgrade.version_of(store.engine) == upgrade.LATEST
    with store.reading() as session:
        assert session.execute(text("SELECT vessel FROM logbook")).scalar() == VESSEL
        assert len(session.execute(text(
            "SELECT rowid FROM search_words WHERE search_words MATCH 'mpel'")).all()) == 1
        assert session.execute(text("PRAGMA integrity_check")).scalar() == "ok"
    with store.writing() as session:
        assert check_chain(session, VESSEL) == 1 and rebuild(session, VESSEL) == []
    store.close()


def _prepare_backup(folder: Path) -> dict[str, Any]:
    _prepare_import(folder)
    store = open_store(folder / "store.sqlite")
    bring_in(store, folder / "files")
    store.close()
    return {"before": state_of(folder / "store.sqlite")}


def _back_up(folder: Path, _: Any) -> None:
    store = open_store(folder / "store.sqlite")
    make_backup(store, folder / "ours.zip", NOW)
    say(folder, "made")
    store.close()


def _look_at_backup(folder: Path, known: dict[str, Any], said: list[str]) -> None:
    assert state_of(folder / "store.sqlite") == known["before"]
    assert not said or (folder / "ours.zip").exists()
    if (folder / "ours.zip").exists():
        restore_backup(folder / "ours.zip", folder / "back.sqlite", NOW)
        assert state_of(folder / "back.sqlite") == known["before"]


def _prepare_restore(folder: Path) -> dict[str, Any]:
    known = _prepare_backup(folder)
    store = open_store(folder / "store.sqlite")
    make_backup(store, folder / "ours.zip", NOW)
    (folder / "files" / "parts.csv").write_text("no;name\nP07;Anode\n", encoding="utf-8")
    bring_in(store, folder / "files")
    store.close()
    return {**known, "then": heads_of(folder / "store.sqlite"),
            "restored": {mark: head for mark, (head, _) in known["before"].items()}}


def _restore(folder: Path, _: Any) -> None:
    restore_backup(folder / "ours.zip", folder / "store.sqlite", NOW)
    say(folder, "restored")


def _look_at_restore(folder: Path, known: dict[str, Any], said: list[str]) -> None:
    assert os.path.getsize(folder / "store.sqlite") > 0
    found = heads_of(folder / "store.sqlite")
    assert found in ([known["restored"]] if said else [known["restored"], known["then"]])
    whole(folder / "store.sqlite")


WORKS = {
    "sync": Work(_prepare_sync, _sync, _look_at_log),
    "import": Work(_prepare_import, _import, _look_at_import),
    "upgrade": Work(_prepare_upgrade, _upgrade, _look_at_upgrade),
    "backup": Work(_prepare_backup, _back_up, _look_at_backup),
    "restore": Work(_prepare_restore, _restore, _look_at_restore),
    # Where nobody asks for the long ones, tests/sync/test_office_killed.py kills at a few points.
    "meeting": Work(work_meeting.prepare, lambda folder, _: work_meeting.do(folder, say),
                    work_meeting.look),
}
NAMES = [pytest.param(name, marks=[pytest.mark.long] if name == "meeting" else [])
         for name in WORKS]
