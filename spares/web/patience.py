"""Connections that stand still: how long one is waited for, and what is sent in pieces.

A phone that walks out of reach says nothing. Its connection would stay open for ever, and each
one takes a file descriptor, which the store needs as well.
"""

from __future__ import annotations

import asyncio
from collections.abc import Awaitable, Callable, MutableMapping
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

#: How long the head of a request may take, and an answer of which nothing more is fetched [s].
HEAD_TIMEOUT_S, FETCH_TIMEOUT_S = 30, 60
#: What is handed on at once of an answer, and how much of it may wait to be sent [bytes].
#: Under https asyncio cuts off, 30 s after all is handed on, what did not leave by then: so a
#: long answer is not handed on before most of it has left.
PIECE_BYTES, WAITING_BYTES = 16 * 1024, 64 * 1024

Message = MutableMapping[str, Any]
Send = Callable[[Message], Awaitable[None]]


class PatientProtocol(H11Protocol):
    """HTTP/1.1 that ends a connection on which nothing moves."""

    _standing: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for the first head."""
        super().connection_made(transport)
        transport.set_write_buffer_limits(high=WAITING_BYTES)
        self._end_in(HEAD_TIMEOUT_S)

    def data_received(self, data: bytes) -> None:
        """Wait on while a head is not whole; a request that is, is waited for elsewhere."""
        super().data_received(data)
        if self.flow.write_paused:
            return          # what else is asked meanwhile is no fetching
        if self.cycle is not None and not self.cycle.response_complete:
            self._go_on()
        elif self._standing is None:
            self._end_in(HEAD_TIMEOUT_S)

    def pause_writing(self) -> None:
        """Wait for the other side to fetch what it asked for."""
        super().pause_writing()
        self._go_on()
        self._end_in(FETCH_TIMEOUT_S)

    def resume_writing(self) -> None:
        """Go on writing: it is being fetched."""
        super().resume_writing()
        self._go_on()

    def connection_lost(self, exc: Exception | None) -> None:
        """Wait no longer."""
        self._go_on()
        super().connection_lost(exc)

    def _end_in(self, seconds: float) -> None:
        self._standing = self.loop.call_later(seconds, self.transport.abort)

    def _go_on(self) -> None:
        if self._standing is not None:
            self._standing.cancel()
            self._standing = None


def in_pieces(send: Send) -> Send:
    """Hand on the body of an answer piece by piece, each when there is room for it."""
    async def send_on(message: Message) -> None:
        body = message.get("body", b"")
        for at in range(0, len(body) - PIECE_BYTES, PIECE_BYTES):
            await send({**message, "body": body[at:at + PIECE_BYTES], "more_body": True})
        rest = max(len(body) - 1, 0) // PIECE_BYTES * PIECE_BYTES
        await send({**message, "body": body[rest:]} if body else message)
    return send_on
