"""A phone as the exchange wants it: outbox, copy of the log, and what it does with an answer.

The client in the browser keeps these same rules; here they play stories and tests.
What was tapped stays in the outbox until the copy holds it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from typing import Any

from spares.domain.movements import Entry
from spares.sync.change import BODY_VERSION, Change, Envelope, envelope_from_json
from spares.sync.request import MOST_CHANGES, MOST_WANTED, PROTO, SCHEMA
from spares.sync.store import entry_of

Send = Callable[[dict[str, Any]], dict[str, Any]]
#: More rounds than any honest exchange needs.
MOST_ROUNDS = 10_000


@dataclass
class Copy:
    """A copy of the log as far as it was pulled: envelopes and their rows by id."""

    envelopes: dict[str, Envelope] = field(default_factory=dict)
    rows: dict[str, int] = field(default_factory=dict)
    cursor: str | None = None
    seen: dict[str, Any] | None = None
    epochs: list[tuple[str, int | None]] = field(default_factory=list)

    def keep(self, envelope: Envelope, row: int | None = None) -> None:
        """Keep an envelope; one that comes with its row of the log is the truth."""
        if row is not None:
            self.rows[envelope.id] = row
        if row is not None or envelope.id not in self.envelopes:
            self.envelopes[envelope.id] = envelope

    def unplaced(self) -> list[Envelope]:
        """Give what was brought back and stands in no row of the log yet."""
        return [e for ident, e in self.envelopes.items() if ident not in self.rows]

    def displaced(self, answer: dict[str, Any]) -> list[Envelope]:
        """Give what the log has no more in its row, which is forgotten.

        The log was put back by hand to before it, and the cursor is of before that.
        """
        start, end = (self.seen or {"seq": 0})["seq"], answer["seen"]["seq"]
        there = {row["seq"]: row["envelope"]["id"] for row in answer["changes"]} | {
            result["seq"]: result["id"] for result in answer["results"] if "seq" in result}
        lost = [ident for ident, row in self.rows.items() if row > start
                and there.get(row) != ident and (row <= end or not answer["more"])]
        for ident in lost:
            del self.rows[ident]
        return [self.envelopes[ident] for ident in lost]

    def drop(self, ident: str) -> None:
        """Forget an envelope that will not come into the log; one that is there stays."""
        if ident not in self.rows:
            self.envelopes.pop(ident, None)

    def entries(self) -> list[Entry]:
        """Give what the folds need, with all places in the log that are known."""
        return [entry_of(envelope, self.rows.get(envelope.id), self.epochs)
                for envelope in self.envelopes.values()]


@dataclass
class Phone:
    """One phone; `fresh` gives texts for its installation."""

    vessel: str
    dev: str
    fresh: Callable[[int], str]
    inst: str = ""
    outbox: dict[int, Change] = field(default_factory=dict)
    copy: Copy = field(default_factory=Copy)
    rebuilt: Copy | None = None
    relay: list[Envelope] = field(default_factory=list)
    gone: list[list[int]] = field(default_factory=list)
    elsewhere: dict[int, str] = field(default_factory=dict)     # its numbers and what is there
    made: int = 0
    off_prev: int | None = None
    boot_prev: str | None = None
    latest_t: int = -(2**53)
    stepped: bool = False
    held: dict[str, Change] = field(default_factory=dict)
    refused: dict[str, tuple[Change, str]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.inst = self.inst or self.fresh(16)

    def record(self, ident: str, kind: str, body: dict[str, Any], clock_ms: int) -> Change:
        """Keep what was tapped, at *clock_ms* of this phone's clock [ms]."""
        self._look_at_clock(clock_ms)
        self.made += 1
        after = max((e.at for e in self.copy.envelopes.values()), default="")
        change = Change(ident, self.made, kind, BODY_VERSION, clock_ms, self.copy.seen, after, 0,
                        body)
        self.outbox[change.n] = change
        return change

    def sync(self, send: Send, clock_ms: int) -> None:
        """Exchange with the server until both have everything.

        *send* may raise (no answer came); everything is kept and sent again later.
        """
        for _ in range(MOST_ROUNDS):
            request = self.request(clock_ms)
            if not self.take(request, send(request)):
                return
        raise RuntimeError("the exchange does not come to an end")

    def request(self, clock_ms: int) -> dict[str, Any]:
        """Write the next request [clock in ms]; new changes wait while the copy is made anew."""
        self._look_at_clock(clock_ms)
        at_work = self.rebuilt or self.copy
        relay = [] if self.rebuilt else self.relay[:MOST_CHANGES]
        is_ready = not self.rebuilt and len(relay) == len(self.relay)
        ops = [self.outbox[n].to_json() for n in sorted(self.outbox)][:MOST_CHANGES]
        return {
            "proto": PROTO, "schema": SCHEMA, "vessel": self.vessel, "dev": self.dev,
            "inst": self.inst,
            "cursor": at_work.cursor, "now": clock_ms, "off_prev": self.off_prev,
            "boot_prev": self.boot_prev, "stepped": self.stepped, "last": self.made,
            "ops": ops if is_ready else [], "relay": [e.to_json() for e in relay],
            "gone": self.gone, "want": MOST_WANTED}

    def take(self, request: dict[str, Any], answer: dict[str, Any]) -> bool:
        """Do what an answer says; True if there is more to exchange at once."""
        if answer.get("stop") == "fork":
            self.inst = self.fresh(16)
            self._renumber(answer)
            return True
        is_renumbered = answer["dev"] != self.dev
        if answer["clock"] == "doubt":
            self.outbox = {n: _doubted(change) for n, change in self.outbox.items()}
        self._take_results(answer)
        self.gone = self.gone[len(request["gone"]):]
        if is_renumbered:
            self._renumber(answer)
        self._take_relayed(request, answer)
        if answer.get("reset"):
            self.rebuilt = Copy()
        self._take_page(answer)
        if not is_renumbered:       # else `need` is about numbers that are no longer its own
            self._give_needed(answer)
        self._look_at_held(answer)
        may_go_on = is_renumbered or answer.get("reset") or answer["results"]
        is_unsent = bool(self.outbox) and (may_go_on or not request["ops"])
        busy = bool(answer["more"] or self.rebuilt or self.relay or self.gone or is_unsent)
        if not busy:
            self._complete(request, answer)
            # What waits there for the skipper may be turned down, or lost as the log was put back.
            self.relay = self.copy.unplaced()[:MOST_CHANGES] if answer["cursor"] else []
        return busy

    def _take_results(self, answer: dict[str, Any]) -> None:
        for result in answer["results"]:
            change = self.outbox.get(result["n"])
            if change is None or change.id != result["id"]:
                continue
            outcome = result.get("was", result["result"])
            if outcome != "ok" or (result["sealed"]["dev"], result["sealed"]["n"]) != (
                    answer["dev"], change.n):
                self.elsewhere[change.n] = change.id
            if outcome == "ok":
                self._sealed(change, result)
            elif outcome == "refused":
                self.refused[change.id] = change, result["code"]
            else:
                self.held[change.id] = change
            del self.outbox[change.n]

    def _take_relayed(self, request: dict[str, Any], answer: dict[str, Any]) -> None:
        self.relay = self.relay[len(request["relay"]):]
        for brought, result in zip(request["relay"], answer["relayed"], strict=True):
            if result.get("was") == "refused" or result.get("code") == "not_allowed":
                self.copy.drop(brought["id"])

    def _sealed(self, change: Change, result: dict[str, Any]) -> None:
        """Keep the change in the envelope that the server tells about."""
        self.copy.keep(envelope_from_json({**change.to_json(), **result["sealed"]}),
                       result["seq"])

    def _take_page(self, answer: dict[str, Any]) -> None:
        if answer["cursor"] is None:
            self.rebuilt = None     # one who has left gets no more of it, and still hands in
            return
        at_work = self.rebuilt or self.copy
        for row in answer["changes"]:
            at_work.keep(envelope_from_json(row["envelope"]), row["seq"])
        if not self.rebuilt and not answer.get("reload"):
            self.relay += self.copy.displaced(answer)
        at_work.cursor, at_work.seen = answer["cursor"], answer["seen"]
        at_work.epochs = [(epoch, end) for epoch, end in answer["epochs"]]
        if self.rebuilt and not answer["more"]:
            self._swap(self.rebuilt)

    def _swap(self, rebuilt: Copy) -> None:
        """Take the new copy into use; what it lacks is brought back to the server."""
        self.relay = []
        for ident, old in self.copy.envelopes.items():
            new = rebuilt.envelopes.get(ident)
            if new is None or (new.at, new.mac) != (old.at, old.mac):
                self.relay.append(old)
                rebuilt.keep(old)
        self.copy, self.rebuilt = rebuilt, None

    def _give_needed(self, answer: dict[str, Any]) -> None:
        """Answer for the numbers that the server lacks: unsent, brought back, or lost."""
        own = {e.n: e for e in (*self.copy.envelopes.values(), *self.relay) if e.dev == self.dev}
        # What is brought back may come to stand there under another number, for good.
        self.elsewhere |= {e.n: e.id for e in self.relay if e.dev == self.dev}
        # A number can stand for two, one of an earlier device number: what waits goes first.
        decided = {change.n: change for change in (
            *(change for change, _ in self.refused.values()), *self.held.values())}
        for first, last in [] if self.rebuilt else answer["need"]:
            for n in set(range(first, last + 1)) - self.outbox.keys():
                if n in own:
                    self.relay += [own[n]] if own[n] not in self.relay else []
                elif n in decided:
                    # The server was put back to before it decided: it decides again.
                    self.outbox[n] = decided[n]
                    self.refused.pop(decided[n].id, None)
                elif (said := self._said(self.elsewhere.get(n, ""))) is not None:
                    self.outbox[n] = _numbered(said, n)
                    self.refused.pop(said.id, None)
                    # First in its envelope: said anew it could hold below what it had seen.
                    sealed = self.copy.envelopes.get(said.id)
                    self.relay += [sealed] if sealed and sealed not in self.relay else []
                else:
                    self.gone.append([n, n])

    def _said(self, ident: str) -> Change | None:
        """Find a change that stood under one of its numbers, as it was made."""
        if ident in self.copy.envelopes:
            return Change(**{**vars(self.copy.envelopes[ident].change()), "g": 0})
        return next((change for change in (
            *self.held.values(), *(change for change, _ in self.refused.values()),
            *self.outbox.values()) if change.id == ident), None)

    def _look_at_held(self, answer: dict[str, Any]) -> None:
        """Ask again about what waits for the skipper no longer: decided, or forgotten there.

        A log that was put back forgot it; a server that knows the phone under a new number does
        not name it. The answer to the change itself says what became of it.
        """
        for ident, (change, code) in [*self.refused.items()]:
            # A log that was put back forgot the refusal: told of it still, a person makes it anew.
            if code != "id_reused" and (ident in answer["held"] or ident in self.copy.envelopes) \
                    or code == "rejected" and answer.get("reset"):
                del self.refused[ident]
                self.held[ident] = change
        waiting = {change.id for change in self.outbox.values()}
        just_told = {result["id"] for result in answer["results"]}
        for change in _as_tapped(self.held.values()):
            ident = change.id
            if ident in answer["held"]:
                continue
            if ident in self.copy.envelopes or ident in waiting:
                del self.held[ident]
            elif not answer["more"] and not self.rebuilt and ident not in just_told:
                del self.held[ident]
                self.made += 1
                self.outbox[self.made] = _numbered(change, self.made)

    def ask_about_held(self) -> None:
        """Send again all that waits for the skipper: one who has left is told nothing else."""
        waiting = {change.id for change in self.outbox.values()}
        for change in _as_tapped(one for one in self.held.values() if one.id not in waiting):
            self.made += 1
            self.outbox[self.made] = _numbered(change, self.made)
        self.held = {}

    def _renumber(self, answer: dict[str, Any]) -> None:
        """Number anew what is not in the log, in the order of the taps.

        Also what waits for the skipper: asked about later, when a log put back forgot it, it would
        stand behind what the same hand made next, as if it had seen that.
        """
        self.dev, self.made = answer["dev"], answer["next_n"] - 1
        unsent = [self.outbox[n] for n in sorted(self.outbox)]
        # What was sent before, asked about again or not, was tapped before what never was.
        sent = {one.id: one for one in unsent if one.id in self.elsewhere.values()} | self.held
        waiting = [*_as_tapped(sent.values()), *(one for one in unsent if one.id not in sent)]
        self.held, self.elsewhere, self.gone, self.outbox = {}, {}, [], {}
        for change in waiting:
            self.made += 1
            self.outbox[self.made] = _numbered(change, self.made)

    def _complete(self, request: dict[str, Any], answer: dict[str, Any]) -> None:
        self.off_prev = request["now"] - answer["now"]
        self.boot_prev = answer["boot"]
        self.stepped, self.latest_t = False, request["now"]

    def _look_at_clock(self, clock_ms: int) -> None:
        self.stepped = self.stepped or clock_ms < self.latest_t
        self.latest_t = max(self.latest_t, clock_ms)


def _as_tapped(changes: Iterable[Change]) -> list[Change]:
    return sorted(changes, key=lambda change: (change.after, change.t, change.n))


def _doubted(change: Change) -> Change:
    return Change(**{**vars(change), "g": 1})


def _numbered(change: Change, n: int) -> Change:
    return Change(**{**vars(change), "n": n})
