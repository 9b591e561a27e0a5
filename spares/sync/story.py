"""Play a story: phones with wrong clocks, lost answers, a server that is put back.

Times are minutes of true time. The first device is the skipper's, the others are
crew. All pair and sync once at 0; after the last step all that still belong to
the crew sync twice, and then all copies must agree.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from typing import Any, Protocol

from spares.domain.movements import Entry
from spares.domain.stock import Cell, fold
from spares.errors import InvalidInput, NotFound, SparesError, Stopped
from spares.sync.merge import read_document
from spares.sync.phone import Phone
from spares.sync.store import Held, Kept
from spares.sync.story_names import Names, minutes_of, text_of

START_MS = 1_800_000_000_000
MINUTE_MS = 60_000
_MOVES = ("put", "took", "landed", "moved", "counted", "convert", "service", "void", "settle",
          "same", "set")


class Server(Protocol):
    """A running server with a store that can be backed up and put back."""

    def pair(self, token: str, role: str, true_ms: int) -> str:
        """Pair a device; gives its number."""

    def handle(self, token: str, request: dict[str, Any], true_ms: int) -> dict[str, Any]:
        """Answer a sync request at true time [ms].

        Raises:
            Stopped: nothing was taken.
        """

    def backup(self, name: str) -> None:
        """Make a backup under a name."""

    def restore(self, name: str) -> None:
        """Put a backup back, and start again."""

    def lose_time(self, minutes: Fraction) -> None:
        """Start again with the wall clock standing further behind [min]."""

    def revoke(self, token: str, true_ms: int) -> None:
        """Retire a device."""

    def approve(self, ident: str) -> None:
        """Put a held change into the log."""

    def reject(self, ident: str) -> None:
        """Refuse a held change."""

    def entries(self) -> list[Entry]:
        """Give the log as the folds need it."""

    def kept(self, ident: str) -> Kept | None:
        """Find what became of a change."""

    def held(self, ident: str) -> Held | None:
        """Find a held change."""

    def lost_numbers(self) -> dict[str, list[tuple[int, int]]]:
        """Give the ranges of numbers that devices lost."""


class Story:
    """The phones, their clocks, and the names that the story uses."""

    def __init__(self, server: Server, vessel: str, devices: Mapping[str, Fraction],
                 fresh: Callable[[int], str]) -> None:
        self.server, self.errors_min = server, dict(devices)
        self.phones: dict[str, Phone] = {}
        self.copies: dict[str, Phone] = {}
        self.revoked: set[str] = set()
        self.names = Names()
        self.numbers: dict[str, str] = {}
        self.minute = Fraction(0)
        for name in devices:
            role = "crew" if self.phones else "skipper"
            self.phones[name] = Phone(vessel, server.pair(name, role, START_MS), fresh)
        for name in devices:
            self.sync(name)

    def play(self, steps: Sequence[Sequence[Any]]) -> dict[str, Any]:
        """Play all steps, bring everybody together, and tell what is on hand.

        Raises:
            InvalidInput: a step cannot be played; `errors` says which.
        """
        for place, (minute, who, verb, *args) in enumerate(steps):
            self.minute = minute
            try:
                self._step(who, verb, args[0] if args else {})
            except KeyError as err:
                raise InvalidInput.at(f"#/steps/{place}", f"{err.args[0]!r} is missing or not "
                                      "known") from err
            except SparesError as err:
                raise InvalidInput.at(f"#/steps/{place}", err.detail) from err
        self.minute = max([Fraction(0), *(step[0] for step in steps)])
        for name in [*self.phones, *self.phones]:
            if name not in self.revoked:
                self.sync(name)
        return self._ending()

    def sync(self, name: str, times: int = 1, answered: bool = True) -> None:
        """Let a phone sync; a server that stops it leaves it as it is."""
        phone = self.phones[name]

        def send(request: dict[str, Any]) -> dict[str, Any]:
            text = json.dumps(request)
            for _ in range(times):
                answer = self.server.handle(name, json.loads(text), self._true_ms())
            if not answered:
                raise Stopped("the answer was lost", stop="no_answer")
            self.numbers[answer["dev"]] = name
            return json.loads(json.dumps(answer))

        try:
            phone.sync(send, self._clock_ms(name))
        except Stopped:
            return

    def _step(self, who: str, verb: str, args: Mapping[str, Any]) -> None:
        if who == "server":
            self._server_step(verb, args)
            return
        phone = self.phones[who]
        if verb == "sync":
            self.sync(who)
        elif verb == "sync_answer_lost":
            self.sync(who, answered=False)
        elif verb == "sync_sent_three_times":
            self.sync(who, times=3)
        elif verb == "clock":
            self.errors_min[who] += minutes_of(args, "step_min")
        elif verb == "phone_copy":
            self.copies[text_of(args, "as")] = copy.deepcopy(phone)
        elif verb == "phone_put_back":
            self.phones[who] = copy.deepcopy(self.copies[text_of(args, "from")])
        elif verb in _MOVES:
            self.names.record(phone, who, verb, args, self._clock_ms(who))
        else:
            raise NotFound(f"no device does {verb!r}")

    def _server_step(self, verb: str, args: Mapping[str, Any]) -> None:
        if verb == "backup":
            self.server.backup(text_of(args, "as"))
        elif verb == "restore":
            self.server.restore(text_of(args, "from"))
        elif verb == "lost_time":
            self.server.lose_time(minutes_of(args, "min"))
        elif verb == "revoke":
            self.server.revoke(text_of(args, "device"), self._true_ms())
            self.revoked.add(text_of(args, "device"))
        elif verb == "approve":
            self.server.approve(self.names.ids[text_of(args, "of")])
        elif verb == "reject":
            self.server.reject(self.names.ids[text_of(args, "of")])
        else:
            raise NotFound(f"the server does not do {verb!r}")

    def _ending(self) -> dict[str, Any]:
        entries, labels = self.server.entries(), self.names.labels
        cells, state = fold(entries), _state(entries)
        belonging = [phone for name, phone in self.phones.items() if name not in self.revoked]
        agree = all(not phone.outbox and not phone.relay
                    and _state(phone.copy.entries()) == state for phone in belonging)
        outcomes = {label: self.server.kept(ident) for ident, label in labels.items()}
        return {
            "on_hand": {self.names.name_of(key): self._row(cells[key]) for key in sorted(cells)},
            "agree": agree,
            "lost": [{"device": self.numbers.get(dev, dev), "from": first, "to": last}
                     for dev, ranges in self.server.lost_numbers().items()
                     for first, last in ranges],
            "held": [label for ident, label in labels.items() if self.server.held(ident)],
            "refused": [label for label, kept in outcomes.items()
                        if kept is not None and kept.outcome == "refused"]}

    def _row(self, cell: Cell) -> dict[str, Any]:
        return {"quantity": cell.quantity, "low": cell.low, "high": cell.high,
                "doubts": [self.names.labels[ident] for ident in cell.doubts],
                "rivals": [self.names.labels[ident] for ident in cell.rivals],
                "negative": "negative" in cell.flags}

    def _true_ms(self) -> int:
        return START_MS + round(self.minute * MINUTE_MS)

    def _clock_ms(self, name: str) -> int:
        return self._true_ms() + round(self.errors_min[name] * MINUTE_MS)


def _state(entries: list[Entry]) -> Any:
    docs = {entry.body["doc"] for entry in entries if entry.kind == "set"}
    return fold(entries), {doc: read_document(entries, doc) for doc in docs}
