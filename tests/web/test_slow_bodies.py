"""Bodies that never end, or trickle in: told off in time, and before anything reads them."""

from __future__ import annotations

import asyncio
import json
import socket
import threading
import time
from contextlib import contextmanager

import pytest

from spares.web import patience
from spares.web.patience import PIECE_BYTES, in_pieces
from spares.web.server import BODY_TIMEOUT_S, Door, WholeBody, _Server, listen

SCOPE = {"type": "http", "headers": [(b"host", b"localhost")]}


def answer_to(pieces, *, length: bytes | None = None, timeout_s: float = 5.0):
    """Send a body piece by piece; gives the status, the problem, and how many were taken."""
    sent, taken = [], 0

    async def never(scope, receive, send):
        raise AssertionError("the application was asked")

    async def receive():
        nonlocal taken
        taken += 1
        return await pieces(taken)

    async def send(message):
        sent.append(message)

    headers = SCOPE["headers"] + ([(b"content-length", length)] if length else [])
    asyncio.run(WholeBody(never, 1000, timeout_s)({**SCOPE, "headers": headers}, receive, send))
    return sent[0]["status"], json.loads(sent[1]["body"]), taken, dict(sent[0]["headers"])


async def always_more(_):
    return {"type": "http.request", "body": b"x" * 100, "more_body": True}


async def trickling(_):
    await asyncio.sleep(0.01)
    return {"type": "http.request", "body": b"", "more_body": True}


@pytest.mark.parametrize("length", [None, b"5"])
def test_s13_body_in_pieces_without_end_is_cut_at_the_limit(length):
    status, body, taken, headers = answer_to(always_more, length=length)
    assert (status, body["stop"], taken) == (413, "too_big", 11)
    assert headers[b"connection"] == b"close"


def test_s13_body_said_to_be_too_long_is_not_read_at_all():
    assert answer_to(always_more, length=b"1001")[:3:2] == (413, 0)


def test_s13_body_that_does_not_arrive_is_given_up():
    status, body, _, headers = answer_to(trickling, timeout_s=0.1)
    assert (status, body["status"]) == (408, 408)
    assert headers[b"connection"] == b"close"
    assert BODY_TIMEOUT_S <= 30


def test_no_answer_is_held_back_until_its_head_was_received():
    """Nagle's rule (RFC 896) and a delayed receipt (RFC 1122) cost 40 ms together; from memory."""
    with listen("127.0.0.1", 0) as opened:
        with socket.create_connection(opened.getsockname()), opened.accept()[0] as taken:
            assert taken.getsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY)


@contextmanager
def served(app):
    """A real server for *app*; gives where it answers."""
    with listen("127.0.0.1", 0) as opened:
        server = _Server(Door(app, opened).config())
        thread = threading.Thread(target=lambda: asyncio.run(server.serve(sockets=[opened])))
        thread.start()
        try:
            yield opened.getsockname()
        finally:
            server.should_exit = True
            thread.join(20)


def ended(connection):
    """Read until the other side ends it; gives how much came."""
    came = 0
    with connection:
        connection.settimeout(10)
        try:
            while data := connection.recv(1 << 16):
                came += len(data)
        except ConnectionError:
            pass
    return came


def test_connections_on_which_nothing_moves_are_ended(monkeypatch):
    """Silent, half a head, an answer that nobody fetches: each would keep a descriptor."""
    whole, asked = b"x" * 20_000_000, b"GET / HTTP/1.1\r\nHost: x\r\n\r\n"
    monkeypatch.setattr(patience, "HEAD_TIMEOUT_S", 0.3)
    monkeypatch.setattr(patience, "FETCH_TIMEOUT_S", 0.3)

    def app(environ, start):
        start("200 OK", [("Content-Length", str(len(whole)))])
        return [whole]

    with served(app) as at:
        for said in (b"", asked[:-4]):
            silent = socket.create_connection(at)
            silent.sendall(said)
            assert ended(silent) == 0
        lazy = socket.create_connection(at)
        lazy.sendall(asked)
        time.sleep(1)
        assert 0 < ended(lazy) < len(whole)
        greedy = socket.create_connection(at)       # asks for more, and fetches nothing
        greedy.sendall(asked)
        time.sleep(0.15)
        greedy.sendall(asked)
        time.sleep(1)
        assert 0 < ended(greedy) < len(whole)
        monkeypatch.setattr(patience, "FETCH_TIMEOUT_S", 60)
        steady = socket.create_connection(at)
        steady.sendall(asked.replace(b"\r\n\r\n", b"\r\nConnection: close\r\n\r\n"))
        assert ended(steady) > len(whole)


@pytest.mark.parametrize("size", [0, 1, PIECE_BYTES, PIECE_BYTES + 1, 3 * PIECE_BYTES])
def test_an_answer_leaves_in_pieces_and_whole(size):
    sent = []

    async def send(message):
        sent.append(message)
    body = bytes(at % 251 for at in range(size))
    asyncio.run(in_pieces(send)({"type": "http.response.body", "body": body}))
    assert b"".join(one["body"] for one in sent) == body
    assert all(len(one["body"]) <= PIECE_BYTES for one in sent)
