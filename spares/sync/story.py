"""Play a story: phones with wrong clocks, lost answers, a server that is put back.

Times are minutes of true time. The first device is the skipper's, the others are
crew. All pair and sync once at 0; after the last step all that still belong to
the crew sync twice, and then all copies must agree.
"""

from __future__ import annotations

import copy
import json
from collections.abc import Callable, Mapping, Sequence
from typing import Any, Protocol
from uuid import UUID, uuid5

from spares.domain.movements import CellKey, Entry
from spares.domain.stock import Cell, fold
from spares.errors import InvalidInput, NotFound, Refused, Stopped
from spares.sync.bodies import check_body
from spares.sync.checks import REF
from spares.sync.merge import base_for_next, read_document, versions_of
from spares.sync.phone import Phone
from spares.sync.store import Held, Kept

START_MS = 1_800_000_000_000
MINUTE_MS = 60_000
_NAMES = UUID("5d7c3a34-6f0e-5a8e-9b61-0c9a4d1b7e22")

#: Where a name stands in the body of a step, and what kind of thing it names.
_THINGS = {"part": "part", "keep": "part", "drop": "part", "locker": "locker", "from": "locker",
           "to": "locker", "machine": "machine"}
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

    def lose_time(self, minutes: int) -> None:
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

    def __init__(self, server: Server, vessel: str, devices: Mapping[str, int],
                 fresh: Callable[[int], str]) -> None:
        self.server, self.errors = server, dict(devices)
        self.phones: dict[str, Phone] = {}
        self.copies: dict[str, Phone] = {}
        self.revoked: set[str] = set()
        self.ids: dict[str, str] = {}
        self.labels: dict[str, str] = {}
        self.things: dict[str, str] = {}
        self.numbers: dict[str, str] = {}
        self.minute = 0
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
        for place, step in enumerate(steps):
            minute, who, verb = step[:3]
            args = step[3] if len(step) > 3 else {}
            self.minute = minute
            try:
                self._step(who, verb, args)
            except KeyError as err:
                raise InvalidInput.at(f"#/steps/{place}", f"{err.args[0]!r} is missing or not "
                                      "known") from err
            except (Refused, NotFound) as err:
                raise InvalidInput.at(f"#/steps/{place}", err.detail) from err
        for _ in range(2):
            for name in self.phones:
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
        elif verb == "sync":
            self.sync(who)
        elif verb == "sync_answer_lost":
            self.sync(who, answered=False)
        elif verb == "sync_sent_three_times":
            self.sync(who, times=3)
        elif verb == "clock":
            self.errors[who] += args["step_min"]
        elif verb == "phone_copy":
            self.copies[args["as"]] = copy.deepcopy(self.phones[who])
        elif verb == "phone_put_back":
            self.phones[who] = copy.deepcopy(self.copies[args["from"]])
        elif verb in _MOVES:
            self._record(who, verb, args)
        else:
            raise NotFound(f"no device does {verb!r}")

    def _server_step(self, verb: str, args: Mapping[str, Any]) -> None:
        if verb == "backup":
            self.server.backup(args["as"])
        elif verb == "restore":
            self.server.restore(args["from"])
        elif verb == "lost_time":
            self.server.lose_time(args["min"])
        elif verb == "revoke":
            self.server.revoke(args["device"], self._true_ms())
            self.revoked.add(args["device"])
        elif verb == "approve":
            self.server.approve(self.ids[args["of"]])
        elif verb == "reject":
            self.server.reject(self.ids[args["of"]])
        else:
            raise NotFound(f"the server does not do {verb!r}")

    def _record(self, who: str, kind: str, args: Mapping[str, Any]) -> None:
        phone = self.phones[who]
        ident = str(uuid5(_NAMES, f"change {len(self.labels)}"))
        label = args.get("as", f"{who}{phone.made + 1}")
        body = self._body(phone, kind, {k: v for k, v in args.items() if k != "as"})
        check_body(kind, body)
        phone.record(ident, kind, body, self._clock_ms(who))
        self.ids[label], self.labels[ident] = ident, label

    def _body(self, phone: Phone, kind: str, args: dict[str, Any]) -> dict[str, Any]:
        if kind == "set":
            doc = self._ref(*(args["doc"].split("/", 1) if "/" in args["doc"]
                              else ("part", args["doc"])))
            return {"doc": doc, "f": args["f"], "base": _base(phone, doc, args["f"])}
        body = {name: self._value(name, value) for name, value in args.items()}
        if kind in ("put", "took", "landed", "moved", "counted"):
            body.setdefault("lot", "")
        return body

    def _value(self, name: str, value: Any) -> Any:
        if name in ("out", "in", "lines"):
            return [{"lot": "", **{k: self._value(k, v) for k, v in line.items()}}
                    for line in value]
        if name in ("of", "count"):
            return self.ids[value]
        if name in ("lot", "to_lot"):
            return self._ref("lot", value) if value else ""
        return self._ref(_THINGS[name], value) if name in _THINGS else value

    def _ref(self, kind: str, name: str) -> str:
        ref = f"{kind}/{name}"
        if not REF.fullmatch(ref):
            ref = f"{kind}/{uuid5(_NAMES, ref)}"
        self.things[ref] = name
        return ref

    def _ending(self) -> dict[str, Any]:
        entries = self.server.entries()
        cells = fold(entries)
        belonging = [phone for name, phone in self.phones.items() if name not in self.revoked]
        agree = all(not phone.outbox and not phone.relay
                    and _state(phone.copy.entries()) == _state(entries) for phone in belonging)
        outcomes = {label: self.server.kept(ident) for ident, label in self.labels.items()}
        return {
            "on_hand": {self._name_of(key): self._row(cells[key]) for key in sorted(cells)},
            "agree": agree,
            "lost": [{"device": self.numbers.get(dev, dev), "from": first, "to": last}
                     for dev, ranges in self.server.lost_numbers().items()
                     for first, last in ranges],
            "held": [label for ident, label in self.labels.items() if self.server.held(ident)],
            "refused": [label for label, kept in outcomes.items()
                        if kept is not None and kept.outcome == "refused"]}

    def _row(self, cell: Cell) -> dict[str, Any]:
        return {"quantity": cell.quantity, "low": cell.low, "high": cell.high,
                "doubts": [self.labels[ident] for ident in cell.doubts],
                "rivals": [self.labels[ident] for ident in cell.rivals],
                "negative": "negative" in cell.flags}

    def _name_of(self, key: CellKey) -> str:
        return "@".join(self.things[ref] for ref in key if ref)

    def _true_ms(self) -> int:
        return START_MS + self.minute * MINUTE_MS

    def _clock_ms(self, name: str) -> int:
        return self._true_ms() + self.errors[name] * MINUTE_MS


def _base(phone: Phone, doc: str, fields: Mapping[str, Any]) -> dict[str, list[str]]:
    """Name the versions that a new one stands on: all heads that the phone knows of."""
    unsent = [Entry(change.id, phone.dev, change.n, change.kind, f"~{change.n:016d}", 0,
                    change.seen, {}, change.body) for change in phone.outbox.values()]
    versions = versions_of([*phone.copy.entries(), *unsent], doc)
    return {name: base_for_next(versions[name]) for name in fields if name in versions}


def _state(entries: list[Entry]) -> Any:
    docs = {entry.body["doc"] for entry in entries if entry.kind == "set"}
    return fold(entries), {doc: read_document(entries, doc) for doc in docs}
