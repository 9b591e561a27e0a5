"""An office meets a vessel's own server: two stores that keep the log of one vessel.

    pull what she has beyond what is in common -> bring what was written here meanwhile
            -> pull again -> take her log, row for row, in place of what stood here

Her server gives every row its number; the office follows. It comes as a device with the grant
`office`, through the same request and the same checks as any phone that brings rows back
(PROTOCOL.md). What was written at the office goes on counting there until it is in her log.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import zip_longest
from typing import Any, Protocol

from spares.errors import Refused, Stopped, StoreBusy
from spares.sync import stamp as clocks
from spares.sync.answer import check_answer
from spares.sync.change import (
    Envelope,
    envelope_from_json,
    mac_is_good,
    next_head,
    seal,
    written_form,
)
from spares.sync.cursor import read_cursor
from spares.sync.relaying import own_number, use_up, write_restamp
from spares.sync.request import MOST_CHANGES, MOST_EPOCHS, MOST_WANTED, PROTO, SCHEMA
from spares.sync.store import Epochs, Store, places
from spares.sync.turn import Around

#: Rows that are brought in one request are cut at about this size [bytes].
BRINGS_BYTES = 512 * 1024
Row = tuple[int, Envelope]


@dataclass(frozen=True)
class Home:
    """How far a log is the vessel's own: the first `common` rows [1], and her cursor there.

    `doubted`: the two clocks disagreed then, so what was written here since is doubtful, even
    if they agree at the next meeting: somebody set one right meanwhile.
    """

    cursor: str | None = None
    common: int = 0
    doubted: bool = False


class OfficeStore(Store, Protocol):
    """A store that follows the log of a vessel's own server."""

    def home(self) -> Home:
        """Give how far this log is the vessel's own."""

    def set_home(self, home: Home) -> None:
        """Keep how far this log is the vessel's own."""

    def rewind(self, seq: int) -> None:
        """Take the rows behind *seq* out, to be put in again; ends of epochs are cut to it."""


class Meeting:
    """One meeting, as the office goes through it: `request`, and `take` for the answer.

    Each call is one transaction of the store; what goes wrong in between leaves a store that
    is whole, and another meeting begins where this one came to.
    """

    def __init__(self, store: OfficeStore, inst: str) -> None:
        home = store.home()
        self.inst, self.cursor, self.common = inst, home.cursor, home.common
        if home.cursor is None or (head := store.head(home.common)) is None:
            self._from_the_first()
        else:
            self._head = head
        self._rows: list[Row] = []              # hers, behind what is in common
        self._brings: list[Envelope] | None = None
        self.doubted, self._was_doubted = False, home.doubted
        self._has_her_clock = True              # an answer to a letter is old when it comes
        self.taken, self.brought = 0, 0         # rows new here; rows new there
        self.waiting: list[str] = []            # what waits there, or was refused

    def _from_the_first(self) -> None:
        self.common, self._head, self._rows = 0, bytes(32), []

    def request(self, store: OfficeStore, wall_ms: int) -> dict[str, Any]:
        """Write the next request; *wall_ms* is this computer's clock [ms]."""
        now_ms, _ = clocks.tick(store.clock(), wall_ms)
        return {
            "proto": PROTO, "schema": SCHEMA, "vessel": store.vessel, "inst": self.inst,
            "cursor": self.cursor, "now": now_ms, "off_prev": None, "boot_prev": None,
            "stepped": False, "last": 0, "want": MOST_WANTED,
            "epochs": _ends(store.epochs(), self.common)[-MOST_EPOCHS:],
            "relay": [one.to_json() for one in self._next_brought()]}

    def letter(self, store: OfficeStore, wall_ms: int) -> list[dict[str, Any]]:
        """Write all that a meeting without a net asks and brings, for a file.

        Nobody knows how long it is on its way, so the times of what it brings are doubtful.
        """
        self.doubted = True
        self._brings = self._to_bring(store, ())
        requests: list[dict[str, Any]] = []
        while self._brings or not requests:
            requests.append({**self.request(store, wall_ms), "want": 0})
            self._brings = self._brings[len(requests[-1]["relay"]):]
        requests[-1]["want"] = MOST_WANTED
        return requests

    def take_letter(self, store: OfficeStore, answers: list[dict[str, Any]],
                    around: Around) -> None:
        """Do what the answers to a letter say.

        Raises:
            Stopped: as `take`; or there is more that the answers do not have.
        """
        self._brings, has_more, self._has_her_clock = [], True, False
        for answer in answers:
            has_more = self.take(store, answer, around)
        if has_more:
            raise Stopped("the answer to the letter is not whole", stop="malformed")

    def take(self, store: OfficeStore, answer: dict[str, Any], around: Around) -> bool:
        """Do what an answer says; True if there is more to exchange.

        Raises:
            Stopped: the other side has let this office go, is newer, or is not her server.
            StoreBusy: somebody else met her meanwhile; begin again.
        """
        check_answer(answer)
        if answer.get("reset"):
            self._from_the_first()
        for row in answer["changes"]:
            self._follow(store, row)
        self.cursor = answer["cursor"]
        self._note_brought(answer["relayed"])
        if store.size() == self.common:
            self._append(store, answer, around)
        if answer["more"]:
            return True
        if self._brings is None:
            self.doubted = answer["clock"] == "doubt"
            self._brings = self._to_bring(store, answer["epochs"])
        if self._brings:
            return True
        self._come_over(store, answer, around)
        return False

    def _follow(self, store: OfficeStore, row: Any) -> None:
        """Go one row further along her log; it may stand here in the same place already."""
        try:
            envelope = envelope_from_json(row["envelope"])
        except Refused as err:
            raise Stopped(f"row {row['seq']} of her log cannot be read here: {err.detail}",
                          stop="malformed") from err
        if row["seq"] != self.common + len(self._rows) + 1 or not mac_is_good(envelope, store.key):
            raise Stopped("this is not the log of this vessel", stop="wrong_boat")
        if not self._rows:
            head = next_head(self._head, envelope)
            if store.head(self.common + 1) == head:
                self.common, self._head = self.common + 1, head
                return
        self._rows.append((row["seq"], envelope))

    def _next_brought(self) -> list[Envelope]:
        size, found = 0, []
        for envelope in (self._brings or [])[:MOST_CHANGES]:
            size += len(written_form(envelope))
            if found and size > BRINGS_BYTES:
                break
            found.append(envelope)
        return found

    def _note_brought(self, results: list[dict[str, Any]]) -> None:
        brings = [one.id for one in self._brings or ()]     # of a letter they are not known here
        for ident, result in zip_longest(brings[:len(results)], results):
            self.brought += result["result"] == "ok"
            # what she knows already, and has in no row of her log, waits there since before
            is_there = result["result"] == "ok" or result["result"] == "dup" and "seq" in result
            self.waiting += [] if is_there else [ident or str(result.get("id"))]
        self._brings = self._brings and self._brings[len(results):]

    def _to_bring(self, store: OfficeStore, epochs: Sequence[Sequence[Any]]) -> list[Envelope]:
        """Give what was written here, with all places that it has here.

        Where the two clocks disagree, or did at the last meeting, its time is doubtful. What is
        hers already is brought only where she does not know its stamp or a place of it.
        """
        hers = {envelope.id: (seq, envelope) for seq, envelope in self._rows}
        known = [(epoch, end) for epoch, end in epochs]
        found = []
        for seq, envelope in store.rows(self.common, store.size() - self.common):
            placed = _placed(store, envelope, seq, store.epochs(), self._grade(envelope))
            if (twin := hers.get(envelope.id)) is not None and envelope.at >= twin[1].at \
                    and placed.pos.keys() <= places(twin[1].pos, twin[0], known).keys():
                continue
            found.append(placed)
        return found

    def _append(self, store: OfficeStore, answer: dict[str, Any], around: Around) -> None:
        """Put her rows behind the end, where nothing else stands, and keep how far it came.

        Her cursor tells the head of her chain there: both logs are the same, or nothing is kept.
        """
        end = self.common + len(self._rows)
        store.learn_epochs(_ends(answer["epochs"], end))
        older = [stamp for _, envelope in self._rows
                 if (stamp := _put(store, envelope, around)) is not None]
        cursor = read_cursor(self.cursor or "", store.key)
        head = store.head(end)
        if cursor is None or head is None or (cursor.seq, cursor.head) != (end, head):
            raise Stopped("her log and this one are not the same; nothing was kept",
                          stop="wrong_boat")
        self.taken += len(self._rows)
        self.common, self._head, self._rows = end, head, []
        store.set_home(Home(self.cursor, end, self._stays_doubted(answer, store.size() > end)))
        for body in older:
            now_ms, clock = clocks.tick(store.clock(), around.wall_ms)
            store.set_clock(clock)
            write_restamp(store, body, now_ms, around)

    def _grade(self, envelope: Envelope) -> int:
        return 1 if self.doubted or self._was_doubted else envelope.g

    def _stays_doubted(self, answer: dict[str, Any], something_waits: bool) -> bool:
        """Say whether what is written here from now on, or waits as it is, will be doubtful."""
        if self._has_her_clock and (self.doubted or answer["clock"] == "doubt"):
            return True
        return self._was_doubted and (
            self._brings is None or something_waits or not self._has_her_clock)

    def _come_over(self, store: OfficeStore, answer: dict[str, Any], around: Around) -> None:
        """Let her log stand in place of this one; what she has not got yet stands behind it."""
        if store.head(self.common) != self._head:
            raise StoreBusy("the log changed meanwhile; meet again")
        if not self._rows:
            self._append(store, answer, around)
            return
        here, rest = store.epochs(), store.rows(self.common, store.size() - self.common)
        store.rewind(self.common)
        store.begin_epoch()     # phones of this office see by it that rows have other numbers now
        self._append(store, answer, around)
        for seq, envelope in rest:
            known = store.kept(envelope.id)
            if known is None or known.outcome != "ok":
                store.append(own_number(store, _placed(store, envelope, seq, here,
                                                      self._grade(envelope))))
            else:
                self.taken -= 1
                use_up(store, envelope)


def _ends(epochs: Iterable[Sequence[Any]], common: int) -> list[tuple[str, int]]:
    """Give how far the rows in common stood in each of these epochs."""
    found = [(epoch, common if end is None else min(end, common)) for epoch, end in epochs]
    return [(epoch, end) for epoch, end in found if end]


def _placed(store: Store, envelope: Envelope, seq: int, epochs: Epochs, grade: int) -> Envelope:
    """Give an envelope with all places that its row had here, and this grade."""
    pos = places(envelope.pos, seq, epochs)
    if (pos, grade) == (envelope.pos, envelope.g):
        return envelope
    return seal(envelope, dev=envelope.dev, at=envelope.at, g=grade, pos=pos, key=store.key)


def _put(store: OfficeStore, envelope: Envelope, around: Around) -> dict[str, Any] | None:
    """Put a row of hers into the log as it is; what waited here under its id or number gives way.

    The clock goes beyond it, so that what its author makes next gets a greater stamp. Gives
    the smaller stamp that it waited here under, if so: what its author made next stands above
    that one.
    """
    now_ms = clocks.time_of(envelope.at) + 1
    if store.clock().last_ms < now_ms:
        clock = clocks.advance_to(store.clock(), now_ms, around.wall_ms)
        store.set_clock(clocks.tick(clock, around.wall_ms)[1])
    used = store.kept_as(envelope.dev, envelope.n)
    if used is not None and used.id != envelope.id and (held := store.held(used.id)) is not None:
        store.unhold(held.change.id)
        dev = store.stand_in_for(held.dev)
        store.hold(replace(held, dev=dev, change=replace(held.change, n=store.next_n(dev))))
    waited = store.held(envelope.id)
    if waited is not None:
        store.unhold(envelope.id)
    store.append(envelope)
    if waited is None or waited.at >= envelope.at:
        return None
    return {"of": envelope.id, "at": waited.at, "g": waited.g}
