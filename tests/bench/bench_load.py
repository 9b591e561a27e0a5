"""A hundred phones that come aboard at once after a winter, with five hundred changes each.

How long each waits until all it wrote is safe: the first, the middle, the slowest of twenty, the
last; and by how many places the most unlucky one was answered later than it asked. And the same
while silent clients hold connections open and send nothing, or one byte of a long request.
"""

from __future__ import annotations

import os
import socket
from contextlib import ExitStack
from pathlib import Path

import pytest

from tests.sync.many_phones import all_at_once, winter
from tests.sync.server_process import Server

PHONES, CHANGES, SILENT = 100, 500, 40

pytestmark = pytest.mark.skipif(os.name == "nt", reason="other signals there")


def bench_winter(figure, tmp_path: Path):
    _come_aboard(figure, tmp_path / "store.sqlite", "", silent=0)


def bench_winter_with_silent_clients(figure, tmp_path: Path):
    _come_aboard(figure, tmp_path / "store.sqlite", f", {SILENT} silent ones beside",
                 silent=SILENT)


def _come_aboard(figure, path: Path, beside: str, silent: int) -> None:
    phones = winter(path, PHONES, CHANGES)
    server = Server(path)
    server.start()
    try:
        with ExitStack() as held:
            for number in range(silent):
                mute = held.enter_context(socket.create_connection(("127.0.0.1", server.port)))
                mute.sendall(b"POST /api/sync HTTP/1.1\r\nHost: localhost\r\n")
                if number % 2:      # its head is whole, and its body never comes
                    mute.sendall(b"Content-Type: application/json\r\nX-Spares: 1\r\n"
                                 b"Content-Length: 100000\r\n\r\n{")
            whole = all_at_once(phones, server)
    finally:
        server.kill()
    assert all(len(phone.answered) == CHANGES for phone in phones)
    waits = sorted(phone.took_s for phone in phones)
    name = f"{PHONES} phones, {CHANGES} changes each{beside}"
    figure(f"{name}: until all are safe", whole, "s")
    figure(f"{name}: changes in a second", PHONES * CHANGES / whole, "1/s")
    figure(f"{name}: the first phone waits", waits[0], "s")
    figure(f"{name}: the middle phone waits", waits[len(waits) // 2], "s")
    figure(f"{name}: 95 of 100 wait at most", waits[len(waits) * 95 // 100 - 1], "s")
    answered = sorted(range(len(phones)), key=lambda at: phones[at].took_s)
    figure(f"{name}: places that the most unlucky phone fell behind",
           max(place - asked for place, asked in enumerate(answered)), "")
    figure(f"{name}: requests of the most patient", max(phone.asked for phone in phones), "")
