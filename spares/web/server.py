"""Run the application: uvicorn in front, so that slow or silent clients cost nothing.

Bodies are read whole before Flask sees them: a phone that sends one byte a second on a weak
link would otherwise hold one of the few threads.
"""

from __future__ import annotations

import asyncio
import contextlib
import json
import signal
import socket
import ssl
from collections.abc import Awaitable, Callable, Coroutine, Iterator, MutableMapping, Sequence
from dataclasses import dataclass, field
from http import HTTPStatus
from pathlib import Path
from typing import Any

import uvicorn
from a2wsgi import WSGIMiddleware

from spares.errors import InvalidInput
from spares.web.guard import MAX_BODY_BYTES
from spares.web.headers import SECURITY
from spares.web.patience import PatientProtocol, in_pieces
from spares.web.problems import PROBLEM_TYPE, STOPS
from spares.web.threads import PassingThreads

THREADS = 8
BODY_TIMEOUT_S = 30
STOP_TIMEOUT_S = 5

Message = MutableMapping[str, Any]
Receive = Callable[[], Awaitable[Message]]
Send = Callable[[Message], Awaitable[None]]


def listen(host: str, port: int) -> socket.socket:
    """Open the port; 0 takes any free one.

    Raises:
        InvalidInput: the address is not of this computer, or the port is in use.
    """
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        found = socket.create_server((host, port), family=family)
        # Taken over by every connection: else a body waits 40 ms for the receipt of its head.
        found.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        return found
    except (OSError, UnicodeError) as err:
        reason = getattr(err, "strerror", None) or str(err)
        raise InvalidInput.at("#/port", f"cannot listen on {host} port {port}: {reason}") from err


def address_of(listening: socket.socket) -> str:
    """Give the plain http address of an open port."""
    host, port = listening.getsockname()[:2]
    return f"http://[{host}]:{port}" if ":" in host else f"http://{host}:{port}"


@dataclass(frozen=True)
class Door:
    """One open port: what answers there, and with which certificate and key (https).

    `contexts` are those by which new connections are greeted, once it is served.
    """

    app: Any
    listening: socket.socket
    certificate: tuple[Path, Path] | None = None
    contexts: list[ssl.SSLContext] = field(default_factory=list, compare=False)

    def config(self) -> uvicorn.Config:
        """Give how uvicorn serves it."""
        paths = [str(path) for path in self.certificate or ()]
        certificate, key = paths if paths else (None, None)
        answering = WSGIMiddleware(self.app)
        answering.executor = PassingThreads(THREADS)  # type: ignore[assignment]  # any Executor does
        found = uvicorn.Config(
            WholeBody(answering), http=PatientProtocol, ws="none",
            lifespan="off", access_log=False, log_level="warning", server_header=False,
            timeout_graceful_shutdown=STOP_TIMEOUT_S, ssl_certfile=certificate, ssl_keyfile=key)
        found.load()
        self.contexts.extend([found.ssl] if found.ssl else [])
        return found


def run(doors: Sequence[Door], on_start: Callable[[], None],
        chores: Sequence[Callable[[], Coroutine[Any, Any, None]]] = ()) -> None:
    """Serve until SIGINT or SIGTERM; what is answered within seconds is, the rest is given up.

    Args:
        doors: The open ports.
        on_start: Called when all is ready.
        chores: What is done beside, until the end; they are cancelled then.
    """
    asyncio.run(_serve(doors, on_start, chores))


class _Server(uvicorn.Server):
    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """Leave signals to `_serve`: uvicorn would end with the signal's exit code."""
        yield


async def _serve(doors: Sequence[Door], on_start: Callable[[], None],
                 chores: Sequence[Callable[[], Coroutine[Any, Any, None]]]) -> None:
    servers = [_Server(door.config()) for door in doors]

    def stop(*_: object) -> None:
        for server in servers:
            server.force_exit = server.should_exit      # asked twice: do not wait
            server.should_exit = True

    names = [name for name in ("SIGINT", "SIGTERM", "SIGBREAK") if hasattr(signal, name)]
    before = {name: signal.signal(getattr(signal, name), stop) for name in names}
    beside = [asyncio.ensure_future(chore()) for chore in chores]
    try:
        on_start()
        async with asyncio.TaskGroup() as group:
            for server, door in zip(servers, doors, strict=True):
                group.create_task(server.serve(sockets=[door.listening]))
    finally:
        for chore in beside:
            chore.cancel()
        for name, handler in before.items():
            signal.signal(getattr(signal, name), handler)


class WholeBody:
    """ASGI wrapper: read the whole body, within limits, then hand it on in one piece."""

    def __init__(self, app: Any, max_bytes: int = MAX_BODY_BYTES,
                 timeout_s: float = BODY_TIMEOUT_S) -> None:
        self._app, self._max_bytes, self._timeout_s = app, max_bytes, timeout_s

    async def __call__(self, scope: Message, receive: Receive, send: Send) -> None:
        """Answer one request."""
        if scope["type"] != "http":
            return
        try:
            async with asyncio.timeout(self._timeout_s):
                body = await self._read(scope, receive)
        except TimeoutError:
            await _refuse(send, HTTPStatus.REQUEST_TIMEOUT, "The body did not arrive in time.")
            return
        except _GoneBeforeTheEnd:
            return      # half a body is no request: nothing may be made of it
        if body is None:
            await _refuse(send, HTTPStatus.REQUEST_ENTITY_TOO_LARGE,
                          f"A body may have {self._max_bytes} bytes.")
            return
        told = [pair for pair in scope["headers"]
                if pair[0] not in (b"content-length", b"transfer-encoding")]
        headers = [*told, (b"content-length", str(len(body)).encode())]
        await self._app({**scope, "headers": headers}, _replay(body, receive), in_pieces(send))

    async def _read(self, scope: Message, receive: Receive) -> bytes | None:
        said = dict(scope["headers"]).get(b"content-length", b"0")
        if said.isdigit() and int(said) > self._max_bytes:
            return None
        pieces: list[bytes] = []
        size = 0
        while True:
            message = await receive()
            if message["type"] != "http.request":
                raise _GoneBeforeTheEnd
            pieces.append(message.get("body", b""))
            size += len(pieces[-1])
            if size > self._max_bytes:
                return None
            if not message.get("more_body", False):
                return b"".join(pieces)


class _GoneBeforeTheEnd(Exception):
    """The other side went away before the whole body had come."""


def _replay(body: bytes, receive: Receive) -> Receive:
    given = False

    async def replay() -> Message:
        nonlocal given
        if given:
            return await receive()
        given = True
        return {"type": "http.request", "body": body, "more_body": False}

    return replay


async def _refuse(send: Send, status: HTTPStatus, detail: str) -> None:
    stop = {"stop": STOPS[status]} if status in STOPS else {}
    body = json.dumps({**stop, "type": "about:blank", "title": status.phrase,
                       "status": int(status), "detail": detail}).encode()
    headers = {**SECURITY, "Content-Type": PROBLEM_TYPE, "Content-Length": str(len(body)),
               "Connection": "close"}
    await send({"type": "http.response.start", "status": int(status),
                "headers": [(k.lower().encode(), v.encode()) for k, v in headers.items()]})
    await send({"type": "http.response.body", "body": body})
