"""A phone whose rules run in node, with the face of the phone that Python's stories play with."""

from __future__ import annotations

from collections.abc import Callable
from itertools import count
from types import SimpleNamespace
from typing import Any

from spares.domain.movements import Entry
from spares.errors import Stopped
from spares.sync.phone import MOST_ROUNDS, Send
from tests.client.node_process import Node

_OF_ENTRY = ("id", "dev", "n", "kind", "at", "g", "seen", "pos", "body")


class NodePhone:
    """One phone in the node process; `node` and `names` are set by the test."""

    node: Node
    names = count()

    def __init__(self, vessel: str, dev: str, fresh: Callable[[int], str]) -> None:
        self.name = f"phone {next(self.names)}"
        self.node.ask("new", name=self.name, vessel=vessel, dev=dev)

    def __deepcopy__(self, memo: Any) -> NodePhone:
        twin = object.__new__(type(self))
        twin.name = f"phone {next(self.names)}"
        self.node.ask("copy", name=self.name, **{"as": twin.name})
        return twin

    def record(self, ident: str, kind: str, body: dict[str, Any], clock_ms: int) -> Any:
        """Keep what was tapped; gives what has its `id`."""
        self._ask("record", change={"id": ident, "kind": kind, "body": body}, clock=clock_ms)
        return SimpleNamespace(id=ident)

    def sync(self, send: Send, clock_ms: int, dies: Callable[[], bool] = lambda: False) -> None:
        """Exchange until both have everything; where `dies` says so the page is closed half-way."""
        for _ in range(MOST_ROUNDS):
            request = self._ask("request", clock=clock_ms)
            answer, dead = send(request), dies()
            more = self._ask("take", request=request, answer=answer, dies=dead)
            if dead:
                self.reopen()
                raise Stopped("the page was closed", stop="closed")
            if not more:
                return
        raise AssertionError("the exchange does not come to an end")

    def ask_about_held(self) -> None:
        """Send again all that waits for the skipper."""
        self._ask("ask")

    def reopen(self) -> None:
        """Close the page and open it again: what was stored is what is left."""
        self._ask("reopen")

    def state(self) -> dict[str, Any]:
        """Give what waits, and the cells as this phone counts them."""
        found: dict[str, Any] = self._ask("state")
        return found

    @property
    def dev(self) -> str:
        """Give its number at the server."""
        return str(self.state()["dev"])

    @property
    def made(self) -> int:
        """Give the greatest number made."""
        return int(self.state()["made"])

    @property
    def outbox(self) -> dict[int, Any]:
        """Give what waits, by number."""
        return {change["n"]: SimpleNamespace(**change) for change in self.state()["waiting"]}

    @property
    def held(self) -> list[str]:
        """Give the ids of what waits for the skipper."""
        return list(self.state()["held"])

    @property
    def refused(self) -> dict[str, Any]:
        """Give what was refused, by id, each with its code behind it."""
        state = self.state()
        return {ident: (None, code) for ident, (code, _) in zip(
            state["refused"], state["said"], strict=True)}

    @property
    def relay(self) -> list[None]:
        """Give as many things as are to be brought back."""
        return [None] * self.state()["relay"]

    @property
    def gone(self) -> list[Any]:
        """Give the numbers that it has no more."""
        return list(self.state()["gone"])

    @property
    def copy(self) -> Any:
        """Give its copy of the log."""
        return self

    def entries(self) -> list[Entry]:
        """Give its copy as the folds need it."""
        return [Entry(**{name: row[name] for name in _OF_ENTRY}) for row in self._ask("entries")]

    def _ask(self, verb: str, **given: Any) -> Any:
        return self.node.ask(verb, name=self.name, **given)["answer"]
