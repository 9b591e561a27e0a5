"""Backups made beside a server while phones hand in some 3,000 changes a minute.

Each is one moment of the log: all that was answered before it began is in it, no request is in
it by half, and on an empty machine it comes back to the same head, counts and photos. One that
is killed on its way is there whole under its name, or not at all.
"""

from __future__ import annotations

import http.client
import os
import random
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import UTC, datetime
from itertools import count, islice
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from spares.db.backup import make_backup
from spares.db.backup_file import unpack_backup
from spares.db.chain import check_chain
from spares.db.engine import open_store
from spares.db.photo_files import photo_files
from spares.db.rebuild import rebuild
from tests.conftest import LONG
from tests.stores import restore_to
from tests.sync.many_phones import WinterPhone, _movement
from tests.sync.near_server import NearServer
from tests.sync.server_process import TOP, Server
from tests.sync.test_real_server import PART, VESSEL, begun
from tests.web.test_photos import made as picture
from tests.web.test_photos import sha

pytestmark = [pytest.mark.sqlite, pytest.mark.slow,
              pytest.mark.skipif(os.name == "nt", reason="other signals there")]

#: A hundred backups, in blocks so that no store grows without end; of each block some are killed.
BLOCKS, IN_A_BLOCK, KILLED = (20, 5, 2) if LONG else (1, 1, 0)
#: Together 3,000 changes a minute; the short form hurries, and its server is in this process.
PHONES, AT_ONCE, EACH_S = (5, 10, 1.0) if LONG else (2, 10, 0.1)
NOW = datetime(2027, 3, 15, 18, 5, tzinfo=UTC)


class Writer(WinterPhone):
    """A phone that hands in some changes every second, now and then with a photo."""

    def __init__(self, server: Server, seed: int) -> None:
        paired = server.pair("crew")
        super().__init__(paired["token"], paired["dev"], [])
        self.rng, self.numbers, self.seed = random.Random(seed), count(1), seed
        self.requests: list[set[str]] = []
        self.photos: dict[str, bytes] = {}
        self.is_photographed: set[str] = set()

    def write(self, server: Server) -> None:
        """Hand in the changes of a second, in one request."""
        now_ms = time.time_ns() // 1_000_000
        ops = [_movement(self.rng, n, now_ms) for n in islice(self.numbers, AT_ONCE)]
        photo = self.photograph(server) if len(self.requests) % 4 == 0 else None
        if photo is not None:
            ops.append({**ops[0], "id": ops[0]["id"][:-4] + "ffff", "n": next(self.numbers),
                        "kind": "photo", "body": {"doc": PART, "sha256": photo, "mime":
                                                  "image/jpeg", "bytes": len(self.photos[photo])}})
        self.requests.append({op["id"] for op in ops})
        answered = {one["id"] for one in self.ask(server, ops, want=0)["results"]
                    if one["result"] == "ok"}
        assert answered == self.requests[-1]
        self.answered |= answered
        self.is_photographed |= {photo} - {None}

    def photograph(self, server: Server) -> str:
        """Send the bytes of a photo; gives its name."""
        data = picture(size=(40 + self.seed, 40 + len(self.photos)))
        asking = http.client.HTTPConnection("127.0.0.1", server.port, timeout=20)
        asking.request("PUT", f"/api/photo/{sha(data)}", data, {
            "X-Spares": "1", "Authorization": f"Bearer {self.token}",
            "Content-Type": "application/octet-stream"})
        assert asking.getresponse().status in (200, 201, 204)
        asking.close()
        self.photos[sha(data)] = data
        return sha(data)


@contextmanager
def writing(server: Server, writers: list[Writer]) -> Iterator[None]:
    """Let all write every second until the end of the block; what goes wrong there is raised."""
    over, wrong = threading.Event(), []

    def work(writer: Writer) -> None:
        try:
            while not over.wait(EACH_S * writer.rng.uniform(0.7, 1.3)):
                writer.write(server)
        except Exception as err:
            wrong.append(err)
    threads = [threading.Thread(target=work, args=(writer,)) for writer in writers]
    for thread in threads:
        thread.start()
    try:
        yield
    finally:
        over.set()
        for thread in threads:
            thread.join(60)
    assert not wrong, wrong


def log_of(path: Path) -> list[tuple[str, str]]:
    """Give id and head of all rows of a log whose chain and tables hold."""
    store = open_store(path)
    try:
        with store.writing() as session:
            check_chain(session, VESSEL)
            assert rebuild(session, VESSEL) == []
            return [tuple(row) for row in session.execute(text(
                "SELECT id, head FROM log ORDER BY seq")).all()]
    finally:
        store.close()


def look_at(file: Path, manifest: dict[str, Any], writers: list[Writer], known: dict[str, set[str]],
            whole: list[tuple[str, str]]) -> int:
    """See that a backup is one moment of the log; gives how many rows it has."""
    target = file.with_suffix("") / "empty machine.sqlite"
    restore_to(file, target, NOW)
    rows = log_of(target)
    (vessel,) = manifest["vessels"]
    assert rows == whole[:len(rows)] and (vessel["seq"], vessel["head"]) == (
        len(rows), rows[-1][1])
    ids = {ident for ident, _ in rows}
    assert known["changes"] <= ids, "what was answered before it began is not in the backup"
    for request in [one for writer in writers for one in writer.requests]:
        assert not request & ids or request <= ids, "a request is in the backup by half"
    store = open_store(target)
    there = {name: photo_files(store).read(name) for name in photo_files(store).names()}
    store.close()
    assert known["photos"] <= there.keys()
    sent = {name: data for writer in writers for name, data in writer.photos.items()}
    assert there == {name: sent[name] for name in there}
    return len(rows)


@pytest.mark.parametrize("block", range(BLOCKS))
def test_each_backup_is_one_moment_of_a_log_that_phones_write_to(
        block: int, tmp_path: Path) -> None:
    path = begun(tmp_path / "store.sqlite")
    server, rng = (Server if LONG else NearServer)(path), random.Random(block)
    server.start()
    made = []
    try:
        writers = [Writer(server, 10 * block + one) for one in range(PHONES)]
        store = open_store(path)
        with writing(server, writers):
            for number in range(IN_A_BLOCK):
                wait_for_more(writers)
                known = {"changes": set().union(*(writer.answered for writer in writers)),
                         "photos": set().union(*(writer.is_photographed for writer in writers))}
                file = tmp_path / f"{number}.zip"
                made.append((file, make_backup(store, file, NOW), known))
            kill_some(path, rng)
            wait_for_more(writers)
        store.close()
    finally:
        server.kill()
    whole = log_of(path)
    assert {ident for ident, _ in whole} >= set().union(*(writer.answered for writer in writers))
    lengths = [look_at(*one[:2], writers, one[2], whole) for one in made]
    # Meanwhile they went on writing, or it was no such backup.
    assert [*lengths, len(whole)] == sorted({1, *lengths, len(whole)} - {1})


def wait_for_more(writers: list[Writer]) -> None:
    """Wait until each was answered once more."""
    known = [len(writer.answered) for writer in writers]
    until_s = time.monotonic() + 60
    while any(len(writer.answered) == before for writer, before in zip(writers, known,
                                                                       strict=True)):
        assert time.monotonic() < until_s
        time.sleep(0.02)


def kill_some(store: Path, rng: random.Random) -> None:
    """Kill `spares backup` at any moment: under its name is a whole backup, or nothing."""
    for number in range(KILLED):
        file = store.parent / f"killed-{number}.zip"
        running = subprocess.Popen(
            [sys.executable, "-c", "import sys; from spares.cli.main import main; sys.exit(main())",
             "backup", str(file)], cwd=TOP, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            env={**os.environ, "SPARES_STORE": str(store)})
        until_s = time.monotonic() + 20
        while not list(store.parent.glob(f".{file.name}-*")) and time.monotonic() < until_s \
                and running.poll() is None:
            time.sleep(0.002)           # it has begun to write
        time.sleep(rng.uniform(0, 0.3))
        running.kill()
        running.wait()
        if file.exists():
            (file.parent / f"looked-at-{number}").mkdir()
            unpack_backup(file, file.parent / f"looked-at-{number}")
