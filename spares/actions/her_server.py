"""A vessel's own server as an office reaches it: one request at a time, over any net."""

from __future__ import annotations

import http.client
import socket
import ssl
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from threading import Timer
from typing import Any
from urllib.parse import urlsplit

import orjson

from spares.errors import InvalidInput, Stopped, StoreBusy

CONNECT_S, TIMEOUT_S = 10, 60
#: How long one request may take that never quite stands still [s].
LONGEST_S = 30 * 60
#: Over a poor net a large request never arrives: how much smaller each further try is.
TRIES = (1, 4, 16, 64)
#: How often one request waits where she asks for patience, and how long each time at most.
MOST_WAITS, LONGEST_WAIT_S = 100, 60
LARGEST_ANSWER = 64 * 1024 * 1024
#: Of what she says of a refusal, so much is shown [characters].
LONGEST_SAID = 300


class HerServer:
    """Sends requests to a vessel's own server; call it with one to get the answer.

    Args:
        home: `address`, `token` and `authority` of her paper; the certificate that her server
            shows must be of that authority.
        at: HOST:PORT where the connection goes, where that is not her address: the end of a
            tunnel, say [-].
        wait: Waits so many seconds before another try.

    Raises:
        InvalidInput: the address is none that can be reached safely.
    """

    def __init__(self, home: dict[str, Any], at: str | None = None,
                 wait: Callable[[float], None] = time.sleep) -> None:
        self._token, self._wait = home["token"], wait
        try:
            self._url = urlsplit(home["address"])
            host, port = _host_and_port(at) if at else (self._url.hostname or "", self._url.port)
        except ValueError as err:
            raise InvalidInput.at("#/address", f"this is no address ({err})") from err
        is_safe = self._url.scheme == "https" and home["authority"] or (
            self._url.scheme == "http" and host in ("127.0.0.1", "::1", "localhost"))
        if not is_safe or not self._url.hostname:
            raise InvalidInput.at("#/address", "an https address, with her certificate, is needed")
        self._to = host, port or (443 if self._url.scheme == "https" else 80)
        try:
            self._trust = ssl.create_default_context(cadata=home["authority"]) \
                if self._url.scheme == "https" else None
        except (ssl.SSLError, ValueError, TypeError) as err:
            raise InvalidInput.at("#/authority", "this is no certificate") from err

    def __call__(self, request: dict[str, Any]) -> dict[str, Any]:
        """Send a sync request and give the answer, asking for less where the net is poor.

        Raises:
            Stopped: her server stopped the request; `stop` is its code.
            StoreBusy: it does not answer.
        """
        began = time.monotonic()
        for part in TRIES:
            body = {**request, "want": -(-request["want"] // part),
                    "relay": request["relay"][:max(len(request["relay"]) // part, 1)]}
            try:
                return self._answered(body, began)
            except (OSError, http.client.HTTPException, ValueError) as err:
                fault = err
        raise StoreBusy(f"the server of the vessel at {self._to[0]}:{self._to[1]} does not "
                        f"answer ({fault})") from fault

    def ask(self, method: str, path: str, body: bytes | None = None,
            kind: str = "application/json") -> tuple[int, bytes]:
        """Ask her server for anything else; gives status and content.

        Raises:
            StoreBusy: it does not answer.
            Stopped: what answers is not her server.
        """
        try:
            status, _, data = self._ask(method, path, body, kind)
        except (OSError, http.client.HTTPException, ValueError) as err:
            raise StoreBusy(f"the server of the vessel does not answer ({err})") from err
        return status, data

    def _answered(self, request: dict[str, Any], began: float) -> dict[str, Any]:
        for _ in range(MOST_WAITS):
            # Its clock goes on while it waits: an old one would make all that it brings doubtful.
            now_ms = request["now"] + round((time.monotonic() - began) * 1000)
            status, headers, data = self._ask("POST", "/api/sync", orjson.dumps(
                {**request, "now": now_ms}), "application/json")
            if status != http.client.TOO_MANY_REQUESTS:
                break
            waits = headers.get("Retry-After", "1")
            self._wait(min(max(int(waits), 1) if waits.isdecimal() else 1, LONGEST_WAIT_S))
        if status in (http.client.TOO_MANY_REQUESTS, http.client.REQUEST_ENTITY_TOO_LARGE):
            raise ValueError(f"it answered {status}")       # less may do
        answer = orjson.loads(data)
        if not isinstance(answer, dict):
            raise ValueError("no answer of a server")
        if status != http.client.OK:
            raise Stopped(_shown(answer.get("detail", f"it answered {status}")),
                          stop=_shown(answer.get("stop", "")))
        return answer

    def _ask(self, method: str, path: str, body: bytes | None, kind: str
             ) -> tuple[int, Any, bytes]:
        try:
            sock = socket.create_connection(self._to, CONNECT_S)
        except OSError as err:
            raise StoreBusy(f"no way leads to the server of the vessel at {self._to[0]}:"
                            f"{self._to[1]} just now ({err})") from err
        sock.settimeout(TIMEOUT_S)
        if self._trust is not None:
            try:
                sock = self._trust.wrap_socket(sock, server_hostname=self._url.hostname)
            except ssl.SSLCertVerificationError as err:
                raise Stopped("what answers there is not her server, or its certificate was made "
                              f"anew ({err.verify_message})", stop="wrong_boat") from err
        connection = http.client.HTTPConnection(self._url.hostname or "", self._url.port)
        connection.sock = sock
        try:
            with _ended_after(sock, LONGEST_S):
                connection.request(method, path, body, {
                    "Host": self._url.netloc, "Content-Type": kind, "X-Spares": "1",
                    "Authorization": f"Bearer {self._token}"})
                response = connection.getresponse()
                return response.status, response.headers, response.read(LARGEST_ANSWER)
        finally:
            connection.close()


@contextmanager
def _ended_after(sock: socket.socket, longest_s: float) -> Iterator[None]:
    """End a connection on which something comes for ever, a byte at a time."""
    def end() -> None:
        with suppress(OSError):
            socket.socket.shutdown(sock, socket.SHUT_RDWR)      # TLS is not asked: it may wait

    timer = Timer(longest_s, end)
    timer.daemon = True
    timer.start()
    try:
        yield
    finally:
        timer.cancel()


def _shown(said: Any) -> str:
    """Give what the other side says as one line that a terminal and a log may show."""
    return "".join(one if one.isprintable() else " " for one in str(said)[:LONGEST_SAID])


def _host_and_port(at: str) -> tuple[str, int]:
    host, colon, port = at.rpartition(":")
    if not colon or not host or not port.isdecimal():
        raise InvalidInput.at("#/at", "HOST:PORT is needed")
    return host.strip("[]"), int(port)
