"""A turn among the threads of a process: one looks and then writes before the next one looks."""

from __future__ import annotations

from threading import RLock

from spares.errors import StoreBusy

#: As long as a store is waited for that another program writes to [s].
WAIT_S = 10


class Turn:
    """Has one holder at a time, who may take it again; whoever waits too long is told.

    Without that end a server's threads would all come to wait for one long import, and nobody
    would answer those who only look.
    """

    def __init__(self) -> None:
        self._lock = RLock()

    def of(self, vessel: str) -> Turn:  # noqa: ARG002  a file has one writer for all its vessels
        """Give the turn of one vessel."""
        return self

    def __enter__(self) -> None:
        if not self._lock.acquire(timeout=WAIT_S):
            raise StoreBusy("something long is being written to the store; try again in a moment")

    def __exit__(self, *_: object) -> None:
        self._lock.release()
