"""The office or the vessel's server is killed in the middle of a meeting; each is a process.

Where exactly is said by what stands between them, which sees every request and answer.
"""

from __future__ import annotations

import http.client
import json
import os
import random
import shutil
import signal
import socket
import time
from collections.abc import Callable, Iterator
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from multiprocessing.process import BaseProcess
from pathlib import Path
from threading import Thread

import pytest

from spares.actions.offices import PAPER, take_paper
from spares.db.tables import Logbook
from tests import postgresql
from tests.browser.forked import begin
from tests.conftest import LONG
from tests.db.work_meeting import (
    AT_ONCE,
    ENDS,
    TOKEN,
    Made,
    check_equal,
    check_log,
    opened,
    prepare,
)
from tests.sync.world import VESSEL

#: How many meetings are broken off by killing each of the two.
KILLS = 60 if LONG else 1
#: What is to be seen of one request: it came, it was passed on, it was answered, answer given.
HITS, ROUNDS, LONGEST_S = 4, 6, 60

pytestmark = pytest.mark.skipif(os.name == "nt", reason="other signals there")


class Between(ThreadingHTTPServer):
    """Passes the office's requests on to the vessel's server, and kills at the hit named."""

    daemon_threads = True

    def __init__(self) -> None:
        super().__init__(("127.0.0.1", 0), Passing)
        self.to, self.hits, self.point = 0, 0, 0
        self.kill: Callable[[], None] = lambda: None
        self.rng = random.Random(5)

    def hit(self) -> None:
        """Count; at the point a moment passes, in which the work goes on, and it is killed."""
        self.hits += 1
        if self.hits == self.point:
            time.sleep(self.rng.uniform(0, 0.03))
            self.kill()


class Passing(BaseHTTPRequestHandler):
    """One request on its way; a little at a time, as over a poor net."""

    server: Between

    def do_POST(self) -> None:
        request = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        request |= {"want": min(request["want"], AT_ONCE), "relay": request["relay"][:AT_ONCE]}
        self.server.hit()
        onward = http.client.HTTPConnection("127.0.0.1", self.server.to, timeout=20)
        try:
            onward.request("POST", self.path, json.dumps(request), {
                name: self.headers[name] for name in ("Host", "Content-Type", "X-Spares",
                                                      "Authorization")})
            self.server.hit()
            answer = onward.getresponse()
            data = answer.read()
        except (OSError, http.client.HTTPException):
            self.close_connection = True        # nobody answers any more
            return
        finally:
            onward.close()
        self.server.hit()
        self.send_response(answer.status)
        self.send_header("Content-Type", "application/json")
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)
        self.server.hit()

    def log_message(self, *_: object) -> None:
        """Leave the terminal to the tests."""

    def handle(self) -> None:
        """Answer; who asked may be gone."""
        try:
            super().handle()
        except OSError:
            self.close_connection = True


@pytest.fixture(scope="module")
def between() -> Iterator[Between]:
    server = Between()
    thread = Thread(target=server.serve_forever, daemon=True)
    thread.start()
    yield server
    server.shutdown()
    thread.join()
    server.server_close()


@pytest.fixture(scope="module")
def apart(between: Between, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Made]:
    """Both ends' stores, after each wrote for itself; the office knows where she is."""
    folder = tmp_path_factory.mktemp("apart")
    made = prepare(folder)
    stores = opened(folder)
    with stores["aboard"].reading() as session:
        key = session.get_one(Logbook, VESSEL).key
    take_paper(stores["office"], {
        "spares_office": PAPER, "vessel": VESSEL, "mark": "TGL", "name": "Tangloppe",
        "address": f"http://127.0.0.1:{between.server_port}", "token": TOKEN, "key": key.hex(),
        "authority": ""})
    for store in stores.values():
        store.close()
    return folder, made


def settings(folder: Path, end: str) -> dict[str, str]:
    return {"PATH": os.environ["PATH"], **postgresql.surroundings(folder / f"{end}.sqlite")}


def serve(folder: Path, between: Between) -> BaseProcess:
    """Start the vessel's server, and wait until it answers."""
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        between.to = free.getsockname()[1]
    server = begin("serve", "--port", str(between.to), settings=settings(folder, "aboard"))
    end = time.monotonic() + LONGEST_S
    while time.monotonic() < end:
        try:
            socket.create_connection(("127.0.0.1", between.to), 1).close()
            return server
        except OSError:
            time.sleep(0.02)
    raise AssertionError("the server does not start")


def end_of(process: BaseProcess) -> int | None:
    process.join(LONGEST_S)
    return process.exitcode


def break_off(folder: Path, between: Between, killed: str, point: int) -> None:
    """Let the two meet, and kill one of them at the point."""
    processes = {"aboard": serve(folder, between)}
    between.hits, between.point = 0, point
    # Not waited for there: of two threads that ask how a process ended one is told wrongly.
    between.kill = lambda: processes[killed].kill()
    processes["office"] = begin("meet", settings=settings(folder, "office"))
    end_of(processes["office"])
    assert end_of(processes[killed]) == -signal.SIGKILL, f"{between.hits} hits, none at {point}"
    _kill(processes["aboard"])
    between.point = 0


@pytest.mark.parametrize("killed", ENDS)
def test_killed_in_the_middle_of_a_meeting_nothing_is_lost_and_the_next_heals(
        killed: str, between: Between, apart: tuple[Path, Made], tmp_path: Path) -> None:
    folder, made, rng = tmp_path / "both", apart[1], random.Random(ENDS.index(killed))
    for _ in range(KILLS):
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(apart[0], folder)
        for store in opened(folder).values():       # a database is copied when it is opened
            store.close()
        point = rng.randint(1, HITS * ROUNDS - 1)
        break_off(folder, between, killed, point)
        for end, store in opened(folder).items():
            check_log(store, made[end])
            store.close()
        server = serve(folder, between)
        assert end_of(begin("meet", settings=settings(folder, "office"))) == 0, point
        _kill(server)
        check_equal(stores := opened(folder), made)
        for store in stores.values():
            store.close()


def _kill(process: BaseProcess) -> None:
    process.kill()
    process.join(LONGEST_S)
