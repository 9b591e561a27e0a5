"""A bad net: a proxy between phones and server that loses, cuts, doubles, delays and resets."""

from __future__ import annotations

import random
import re
import socket
import struct
import threading
import time
from collections import Counter
from contextlib import suppress
from itertools import cycle

#: What befalls a request; the half of all go through as they are.
FAULTS = ("request lost", "request reset", "request cut", "answer lost", "answer reset",
          "answer cut", "twice", "slow", "late")
RESET = struct.pack("ii", 1, 0)         # closed with a reset, not with an end
LENGTH = re.compile(rb"content-length: *(\d+)", re.IGNORECASE)


class BadNet:
    """Listens on `port` and hands each request to the server behind it, or does worse."""

    def __init__(self, server_port: int, seed: int, late_s: float) -> None:
        self.server_port, self.late_s, self.rng = server_port, late_s, random.Random(seed)
        dice = [*FAULTS, *[""] * len(FAULTS)]
        self.rng.shuffle(dice)
        self._dice, self._lock, self.befell = cycle(dice), threading.Lock(), Counter[str]()
        self._listening = socket.create_server(("127.0.0.1", 0))
        self.port: int = self._listening.getsockname()[1]
        self._on_the_way: list[threading.Thread] = []
        self._taking = threading.Thread(target=self._take)
        self._taking.start()

    def close(self) -> None:
        """Take no more, and wait until all that is on the way has arrived."""
        with suppress(OSError):
            self._listening.shutdown(socket.SHUT_RDWR)
        self._listening.close()
        self._taking.join(20)
        for one in self._on_the_way:
            one.join(self.late_s + 60)
            assert not one.is_alive()

    def _take(self) -> None:
        while True:
            try:
                phone, _ = self._listening.accept()
            except OSError:
                return
            carrying = threading.Thread(target=self._carry, args=(phone,))
            self._on_the_way.append(carrying)
            carrying.start()

    def _carry(self, phone: socket.socket) -> None:
        with phone, suppress(OSError):
            phone.settimeout(20)
            asked = read_whole(phone)
            with self._lock:
                fault, wait_s = next(self._dice), self.rng.uniform(0, self.late_s)
                self.befell[fault] += 1
            if fault == "late":
                phone.close()           # it has given up by then
            if fault in ("slow", "late"):
                time.sleep(wait_s if fault == "late" else min(wait_s, 1))
            if fault == "request cut":
                self._ask(asked[:len(asked) - max(1, len(asked) // 3)], is_whole=False)
            elif fault not in ("request lost", "request reset"):
                answer = [self._ask(asked) for _ in range(2 if fault == "twice" else 1)][-1]
                if fault in ("answer cut", "answer reset"):
                    phone.sendall(answer[:len(answer) // 2])
                elif fault not in ("answer lost", "late"):
                    phone.sendall(answer)
            if fault.endswith("reset"):
                phone.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, RESET)

    def _ask(self, asked: bytes, *, is_whole: bool = True) -> bytes:
        with socket.create_connection(("127.0.0.1", self.server_port), 60) as server:
            server.sendall(asked)
            return read_whole(server) if is_whole else b""


def read_whole(end: socket.socket) -> bytes:
    """Read one request or answer: its head, and as much as that says.

    Raises:
        OSError: the other side went away before.
    """
    came, wanted = b"", -1
    while wanted < 0 or len(came) < wanted:
        if not (piece := end.recv(1 << 16)):
            raise ConnectionError("gone before the end")
        came += piece
        if wanted < 0 and (head := came.find(b"\r\n\r\n")) >= 0:
            said = LENGTH.search(came[:head])
            wanted = head + 4 + (int(said[1]) if said else 0)
    return came
