"""Connections to a file for those who only look, through the standard library alone."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from contextlib import contextmanager


class Lookers:
    """Connections that are lent for a look and rest in between.

    `connect` opens one more. Once closed, one that is still lent is closed when it comes back.
    """

    def __init__(self, connect: Callable[[], sqlite3.Connection]) -> None:
        self._connect = connect
        self._resting: list[sqlite3.Connection] = []
        self._closed = False

    @contextmanager
    def lend(self) -> Iterator[sqlite3.Connection]:
        """Lend a connection to one who looks; whatever it began ends with the look."""
        try:
            connection = self._resting.pop()        # threads may ask at once
        except IndexError:
            connection = self._connect()
        try:
            yield connection
        finally:
            connection.rollback()
            self._resting.append(connection)
            if self._closed:
                self.close()

    def close(self) -> None:
        """Close those that rest, and keep none any more."""
        self._closed = True
        while self._resting:
            self._resting.pop().close()
