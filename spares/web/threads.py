"""Threads that answer requests, and that no end of the program waits for.

Those of `concurrent.futures` are waited for when a program ends, however long an answer takes.
To give one up costs nothing: looking changes nothing, and what is written is one transaction,
which is kept whole or not at all, as when the power goes.
"""

from __future__ import annotations

from collections.abc import Callable
from concurrent.futures import Executor, Future
from queue import SimpleQueue
from threading import Lock, Thread
from typing import Any


class PassingThreads(Executor):
    """At most *most* threads, begun as they are needed."""

    def __init__(self, most: int) -> None:
        self._most, self._begun, self._busy = most, 0, 0
        self._lock = Lock()
        self._asked: SimpleQueue[Callable[[], None]] = SimpleQueue()

    def submit(self, fn: Callable[..., Any], /, *args: Any, **named: Any) -> Future[Any]:
        """Let a thread do it as soon as one is free."""
        found: Future[Any] = Future()

        def work() -> None:
            if not found.set_running_or_notify_cancel():
                return
            try:
                found.set_result(fn(*args, **named))
            except BaseException as err:      # whoever waits for it is told
                found.set_exception(err)

        with self._lock:
            self._busy += 1
            self._asked.put(work)
            if self._busy > self._begun < self._most:
                self._begun += 1
                Thread(target=self._answer, name=f"answer-{self._begun}", daemon=True).start()
        return found

    def _answer(self) -> None:
        while True:
            self._asked.get()()
            with self._lock:
                self._busy -= 1
