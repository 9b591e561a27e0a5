"""Bodies that never end, or trickle in: told off in time, and before anything reads them."""

from __future__ import annotations

import asyncio
import json
import socket

import pytest

from spares.web.server import BODY_TIMEOUT_S, WholeBody, listen

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
