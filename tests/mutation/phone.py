"""The phone's fit check as a witness: what it answers to the random requests of its own test.

It is asked once. A mutant is then put to those of the requests that come near it, as the test in
`tests/client/test_fit_twin.py` puts all of them.
"""

from __future__ import annotations

from collections.abc import Callable, Set
from types import ModuleType
from typing import Any

MOST = 3000     # requests that a mutant is put to, of those near it

Place = tuple[str, ...]


class Phone:
    """Requests with the phone's answers, and what each request comes near."""

    def __init__(self, test: ModuleType, name: str) -> None:
        self.test, self.name = test, name
        self.requests: list[dict[str, Any]] = test.asked()
        self.answers: list[Any] = test._asked_of_the_phone()["answers"]
        self.near: list[set[Place]] = []

    def look(self, watched: Callable[[Callable[[], object]], set[Place]]) -> list[set[Place]]:
        """Answer each request unchanged, *watched*; give what each came near."""
        return [watched(lambda r=request: self.test._answer(r)) for request in self.requests]

    def differs(self, places: Set[Place]) -> str:
        """Give the name of the test and of the first request near *places* answered otherwise."""
        chosen = [n for n in range(len(self.requests))
                  if not self.near or not places or self.near[n] & places]
        for n in chosen[::max(1, len(chosen) // MOST)]:
            try:
                alike = self.test._answer(self.requests[n]) == self.answers[n]
            except Exception:
                alike = False
            if not alike:
                return f"{self.name}, request {n}"
        return ""
