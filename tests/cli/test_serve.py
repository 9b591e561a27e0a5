"""The server as a process: its mark, its end, one a store, and slow or lying clients."""

from __future__ import annotations

import asyncio
import http.client
import json
import os
import signal
import socket
import stat
import subprocess
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from sqlalchemy import text

from spares.actions.nightly import FOLDER, made_in
from spares.cli.serve import serve_store
from spares.config import read_settings
from spares.db import upgrade
from spares.db.door import found_vessel, submit
from spares.db.engine import open_store
from spares.domain.draft import setting
from spares.web.running import find_server, mark_path, marked

TOP = Path(__file__).resolve().parents[2]
VESSEL = "00000000-0000-4000-8000-0000000000aa"


@contextmanager
def a_server(*more: str) -> Iterator[tuple[subprocess.Popen[str], int]]:
    """Run `spares serve` on a free port; gives the process and the port."""
    process = subprocess.Popen(
        [sys.executable, "-c", "import sys; from spares.cli.main import main; sys.exit(main())",
         "serve", "--port", "0", *more],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=TOP, env=os.environ.copy())
    try:
        line = process.stdout.readline()
        assert "http://127.0.0.1:" in line, process.stderr.read()
        yield process, int(line.split("http://127.0.0.1:")[1].split()[0])
    finally:
        if process.poll() is None:
            process.kill()
        process.communicate()


def test_a_damaged_store_is_told_at_the_start_and_in_every_answer(own_surroundings):
    own_surroundings.write_bytes(b"this is not a store " * 1000)
    with a_server() as (process, port):
        connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        connection.request("GET", "/api/summary")
        answer = connection.getresponse()
        problem = json.loads(answer.read())
        connection.close()
        assert (answer.status, problem["stop"]) == (503, "damaged")
        process.terminate()
        _, told = process.communicate(timeout=20)
    assert "error: " in told and "spares restore FILE" in told and "Traceback" not in told


@pytest.mark.skipif(os.name == "nt", reason="other signals there")
@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_a_stopped_server_ends_cleanly_and_takes_its_mark_away(name):
    settings = read_settings()
    with a_server() as (process, port):
        mark = find_server(settings)
        assert mark is not None
        assert mark.address == f"http://127.0.0.1:{port}"
        assert mark.pid == process.pid
        assert stat.S_IMODE(mark_path(settings).stat().st_mode) == 0o600
        process.send_signal(getattr(signal, name))
        assert process.wait(10) == 0
    assert find_server(settings) is None
    assert not mark_path(settings).exists()


@pytest.mark.skipif(os.name == "nt", reason="other signals there")
def test_a_server_told_to_stop_waits_for_no_answer_that_takes_long():
    """The answer would take a minute; it is given up within the time that the server waits."""
    text = """if True:
        import time
        from spares.web import server

        def slow(environ, start):
            print("asked", flush=True)
            time.sleep(60)
            return []

        server.STOP_TIMEOUT_S = 0.2
        listening = server.listen("127.0.0.1", 0)
        server.run([server.Door(slow, listening)],
                   lambda: print(server.address_of(listening), flush=True))
        print("ended", flush=True)"""
    process = subprocess.Popen([sys.executable, "-c", text], stdout=subprocess.PIPE,
                               stderr=subprocess.DEVNULL, text=True, cwd=TOP)
    try:
        address = process.stdout.readline().strip().removeprefix("http://")
        asking = http.client.HTTPConnection(address, timeout=30)
        asking.request("GET", "/")
        assert process.stdout.readline() == "asked\n"
        process.terminate()
        assert process.wait(15) == 0
        assert process.stdout.read() == "ended\n"
        asking.close()
    finally:
        process.kill()
        process.communicate()


def test_a_server_that_runs_makes_its_backup_by_itself(own_surroundings, monkeypatch):
    store = open_store(own_surroundings)
    with store.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe")],
               wall_ms=1)
    store.close()
    backups = own_surroundings.parent / FOLDER

    async def run_a_while(chores):
        beside = [asyncio.ensure_future(chore()) for chore in chores]
        for _ in range(600):
            if not made_in(backups):
                await asyncio.sleep(0.05)
        for chore in beside:
            chore.cancel()
    monkeypatch.setattr("spares.web.chores.FIRST_AFTER_S", 0)

    def run_apart(_doors, _start, chores):
        # a loop of the browser's driver may be running in this thread
        work = threading.Thread(target=lambda: asyncio.run(run_a_while(chores)))
        work.start()
        work.join()
    monkeypatch.setattr("spares.web.server.run", run_apart)
    serve_store(read_settings(), 0)
    assert len(made_in(backups)) == 1


def test_a_second_server_on_the_same_store_says_where_the_first_is(run):
    with a_server() as (_, port):
        ran = run("serve", "--port", "0")
    assert ran.code == 2
    assert f"served already, at http://127.0.0.1:{port}" in ran.err


@pytest.mark.sqlite
def test_what_looks_brings_no_store_up_under_a_server_of_an_earlier_version(
        run, own_surroundings, tmp_path):
    store = open_store(own_surroundings, upgrade=False)
    upgrade.bring_up(store.engine, "0009")
    with store.writing() as session:
        found_vessel(session, VESSEL)
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe")],
               wall_ms=1)
    with marked(read_settings(), "http://127.0.0.1:1", "token"):     # as one that runs holds it
        for words in (("check",), ("find", "x"), ("backup", tmp_path / "ours.zip")):
            ran = run(*words)
            assert ran.code == 2 and "earlier version" in ran.err
            assert upgrade.version_of(store.engine) == "0009"
    store.close()
    assert run("check").code == 0       # nobody holds it any more


@pytest.mark.sqlite
@pytest.mark.parametrize("is_newer", [True, False])
def test_a_store_that_is_newer_or_damaged_is_called_so_also_while_a_server_runs(
        run, own_surroundings, is_newer):
    store = open_store(own_surroundings)
    with store.writing() as session:
        session.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    store.close()
    if not is_newer:
        own_surroundings.write_bytes(b"this is not a store " * 1000)
    with marked(read_settings(), "http://127.0.0.1:1", "token"):
        ran = run("find", "x")
    assert ("use the newer program" if is_newer else "spares restore FILE") in ran.err
    assert "earlier version" not in ran.err


@pytest.mark.slow
def test_the_mark_of_a_killed_server_does_not_count():
    settings = read_settings()
    with a_server() as (process, _):
        process.kill()
        process.wait()
        assert mark_path(settings).exists()
        assert find_server(settings) is None
    with a_server() as (_, port):
        assert find_server(settings).address.endswith(str(port))


def test_a_port_in_use_is_told(run):
    with socket.create_server(("127.0.0.1", 0)) as taken:
        ran = run("serve", "--port", str(taken.getsockname()[1]))
    assert ran.code == 2
    assert "error: port: cannot listen" in ran.err


def test_hosts_bodies_and_tokens_are_judged_by_the_real_server():
    with a_server() as (_, port):
        token = find_server(read_settings()).token

        def ask(method: str, path: str, body: bytes = b"", **headers: str) -> tuple[int, dict]:
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
            try:
                names = {name.replace("_", "-"): value for name, value in headers.items()}
                connection.request(method, path, body, names)
                answer = connection.getresponse()
                assert "server" not in {name.lower() for name, _ in answer.getheaders()}
                return answer.status, json.loads(answer.read())
            finally:
                connection.close()

        kind = "application/json"
        assert ask("GET", "/api/openapi.json")[0] == 200
        assert ask("GET", "/api/openapi.json", Host="evil.example")[0] == 421
        assert ask("POST", "/api/compute/none", b"{}", Content_Type=kind)[0] == 404
        assert ask("POST", "/api/compute/none", b"{}", Content_Type=kind,
                   X_Spares_Token=token)[0] == 404
        assert ask("POST", "/api/compute/none", b"{}", Content_Type=kind,
                   X_Spares_Token=token[::-1])[0] == 403
        status, problem = ask("POST", "/api/compute/none", b"", Content_Type=kind,
                              Content_Length=str(9 * 1024 * 1024))
        assert (status, problem["stop"]) == (413, "too_big")


def test_clients_that_send_half_a_body_hold_nobody_up():
    with a_server() as (_, port):
        slow = []
        try:
            for _ in range(20):
                one = socket.create_connection(("127.0.0.1", port))
                one.sendall(b"POST /api/compute/fit HTTP/1.1\r\nHost: localhost\r\n"
                            b"Content-Type: application/json\r\nContent-Length: 100\r\n\r\n{")
                slow.append(one)
            time.sleep(0.1)
            connection = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
            connection.request("GET", "/api/openapi.json")
            assert connection.getresponse().status == 200
            connection.close()
        finally:
            for one in slow:
                one.close()


REQUEST_LINES = [
    (b"GET /api/openapi.json HTTP/1.0\r\nHost: localhost\r\n\r\n", (b"200",)),
    (b"GET /api/nothing HTTP/1.0\r\n\r\n", (b"404",)),
    (b"GET /api/nothing HTTP/1.0\r\nHost: evil.example\r\n\r\n", (b"421",)),
    (b"GET /" + b"x" * 9000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n", (b"414",)),
    # read in one go it is too long an address, in several the reader gives up before its end
    (b"GET /" + b"x" * 100_000 + b" HTTP/1.1\r\nHost: localhost\r\n\r\n", (b"400", b"414")),
    (b"POST /api/sync HTTP/1.1\r\nHost: localhost\r\nContent-Length: 1\r\n"
     b"Content-Length: 2\r\n\r\nx", (b"400",))]


@pytest.mark.slow
def test_old_long_and_lying_request_lines_are_answered_and_the_server_goes_on():
    with a_server() as (_, port):
        for line, wanted in [*REQUEST_LINES, REQUEST_LINES[0]]:
            with socket.create_connection(("127.0.0.1", port), timeout=10) as one:
                one.sendall(line)
                answer = one.recv(65536)
                assert answer.split(b" ", 2)[1] in wanted, (line[:60], answer[:300])
                assert b"Traceback" not in answer and b".py" not in answer
