"""Take what another phone could not send: its unsent changes, brought aboard as a file.

Nothing seals such a file. So what is in it stands under a number of its own, is doubtful in
its time, and waits for the skipper unless the skipper brings it. When the phone comes itself
its changes are known by their ids and count once.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.errors import Refused
from spares.sync import rights
from spares.sync import stamp as clocks
from spares.sync.change import Change, parse_change, seal
from spares.sync.checks import UUID
from spares.sync.store import Device, Held, Store

Result = dict[str, Any]


class Handing:
    """One file being taken: by *bringer*, from *author*, whose clock said *said_ms* [ms]."""

    def __init__(self, store: Store, bringer: Device, author: Device, *, is_known: bool,
                 now_ms: int, said_ms: int) -> None:
        self.store, self.author, self.now_ms, self.said_ms = store, author, now_ms, said_ms
        self.waits = bringer.role != "skipper" or bool(bringer.revoked or author.revoked)
        self.is_known, self._dev = is_known, ""

    def take_all(self, ops: list[Any]) -> list[Result]:
        """Take the changes in the order of their numbers; each for itself."""
        return [self._take(raw) for raw in sorted(ops, key=_number_of)]

    def _take(self, raw: Any) -> Result:
        ident = raw.get("id") if type(raw) is dict else None
        if type(ident) is not str or not UUID.fullmatch(ident):
            return {"id": None, "result": "refused", "code": "bad_shape",
                    "say": "id: must be a UUID in lower case"}
        known = self.store.kept(ident)
        if known is not None and known.outcome != "lost":
            return {"id": ident, "result": "dup", "was": known.outcome}
        try:
            change = parse_change(raw)
            held = self._may(change)
            self.store.check(change)
        except Refused as err:
            return {"id": ident, "result": "refused", "code": err.facts["reason"],
                    "say": err.detail}
        return self._keep(change, held)

    def _may(self, change: Change) -> bool:
        """Say whether the change has to wait, beside who brings it."""
        author = self.author
        begins = rights.is_begun(change) and self.store.begins(
            change.body["doc"], change.body["f"])
        if not rights.may_write(author.role, author.grants, change) and not (
                begins and rights.begins_lot(author.role, change)):
            if not rights.could_write_once(author, change, begins=begins):
                raise Refused("the phone that wrote it has no right to make such a change",
                              reason="not_allowed", pointer="#/kind")
            return True
        target = self.store.kept(change.body["of"]) if change.kind == "void" else None
        return change.kind == "void" and rights.check_void(author, target) == "held"

    def _keep(self, change: Change, held: bool) -> Result:
        store = self.store
        self._dev = self._dev or self._begin()
        change = replace(change, n=store.next_n(self._dev))
        before = max(store.last_at(self._dev), store.last_at(self.author.dev))
        low = clocks.floor_of(before, change.after, self.now_ms)
        at = clocks.stamp(self.now_ms, self.said_ms, change.t, low, self._dev)
        if held or self.waits:
            store.hold(Held(change, self._dev, at, 1, "handed over"))
            return {"id": change.id, "result": "held"}
        pos = {store.epochs()[-1][0]: store.size() + 1}
        return {"id": change.id, "result": "ok", "seq": store.append(
            seal(change, dev=self._dev, at=at, g=1, pos=pos, key=store.key))}


    def _begin(self) -> str:
        """Take a fresh number for the file; it counts as one that the author had."""
        dev = self.store.stand_in_for(self.author.dev)
        # What the file undoes may be in it too: it stands under this number, and is the author's.
        self.author = replace(self.author, was=(*self.author.was, dev))
        if self.is_known:
            self.store.save_device(self.author)
        return dev


def _number_of(raw: Any) -> int:
    number = raw.get("n") if type(raw) is dict else None
    return number if type(number) is int else 0
