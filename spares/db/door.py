"""The one door: every write of every kind becomes an entry of the log here.

The log is the truth. In the same transaction the entry is numbered, stamped,
sealed and chained, and the tables that are made from the log follow it.
"""

from __future__ import annotations

import json
import secrets
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any
from uuid import uuid4

from sqlalchemy import insert, select
from sqlmodel import Session, col

from spares.db.projection import Projector
from spares.db.rows import chunks
from spares.db.tables import Device, FieldVersion, Logbook, LogEntry
from spares.domain.documents import fault
from spares.domain.draft import Draft
from spares.domain.identity import kind_of
from spares.errors import Conflict, NotFound, Refused
from spares.sync.change import (
    BODY_VERSION,
    FIRST_HEAD,
    Change,
    Envelope,
    canonical,
    mac_is_good,
    next_head,
    parse_change,
    seal,
)
from spares.sync.stamp import ServerClock, stamp, tick

SERVER = "server00"
AT_ONCE = 500


@dataclass(frozen=True)
class Outcome:
    """What became of a draft: taken anew, or known already from before."""

    id: str
    seq: int
    at: str
    was_new: bool


def found_vessel(session: Session, vessel: str, *, device_name: str = "this computer") -> Logbook:
    """Begin a log for the vessel with this id, with the server's own device in it."""
    book = Logbook(vessel=vessel, epoch=secrets.token_hex(8), key=secrets.token_bytes(32),
                   head=FIRST_HEAD.hex())
    session.add(book)
    session.flush()
    session.add(Device(vessel=vessel, dev=SERVER, name=device_name))
    session.flush()
    return book


def submit(session: Session, vessel: str, drafts: Sequence[Draft], *, wall_ms: int,
           dev: str = SERVER) -> list[Outcome]:
    """Take *drafts* made at this server, in order, all or none.

    A draft whose id is in the log already, with the same content, changes
    nothing and answers what it answered the first time.

    Args:
        session: A session of `Store.writing()`.
        vessel: The vessel's id [-].
        drafts: The changes asked for.
        wall_ms: The computer's clock [ms since 1970].
        dev: The device number they are written under [-].

    Raises:
        Refused: one is malformed; `pointer` says where. Nothing was written.
        Conflict: an id was used before for something else.
    """
    door = _Door(session, vessel, dev, wall_ms)
    door.look_up([draft.id for draft in drafts if draft.id],
                 [draft.body.get("doc") for draft in drafts if draft.kind == "set"])
    outcomes = [door.take(draft) for draft in drafts]
    door.close()
    return outcomes


def relay(session: Session, vessel: str, envelopes: Iterable[Envelope], *,
          wall_ms: int) -> int:
    """Take envelopes that were sealed before (brought by another device, or from a copy).

    Those that are known already change nothing; the order does not matter. Gives how
    many were new.

    Raises:
        Refused: a seal is not this vessel's, or something in it was altered.
    """
    envelopes = list(envelopes)
    door, new = _Door(session, vessel, SERVER, wall_ms), 0
    door.look_up([one.id for one in envelopes],
                 [one.body["doc"] for one in envelopes if one.kind == "set"])
    for envelope in envelopes:
        if not mac_is_good(envelope, door.book.key):
            raise Refused("the seal of an envelope is not good", reason="bad_mac",
                          change=envelope.id)
        if door.known(envelope.id) is None:
            door.append(envelope)
            new += 1
    door.close()
    return new


class _Door:
    def __init__(self, session: Session, vessel: str, dev: str, wall_ms: int) -> None:
        book, device = session.get(Logbook, vessel), session.get(Device, (vessel, dev))
        if book is None or device is None:
            raise NotFound("there is no such vessel in this store", vessel=vessel)
        self.session, self.book, self.device, self.wall_ms = session, book, device, wall_ms
        self.clock = ServerClock(book.last_ms, book.adj_ms)
        self.head, self.rows = bytes.fromhex(book.head), []
        # Kept here and written once at the end: each look-up would write them otherwise.
        self.seq, self.last_at, self.next_n = book.seq, book.last_at, device.next_n
        self.heads = _Heads(session, vessel)
        self.projector = Projector(session, vessel)
        self.entries: dict[str, LogEntry] = {}

    def look_up(self, ids: list[str], docs: list[str | None]) -> None:
        """Read in a few statements what the changes to come will be compared with."""
        for some in chunks(ids, AT_ONCE):
            self.entries |= {row.id: row for row in self.session.execute(
                select(LogEntry).where(col(LogEntry.vessel) == self.book.vessel,
                                       col(LogEntry.id).in_(some))).scalars()}
        self.heads.look_up(sorted({doc for doc in docs if isinstance(doc, str)}))

    def take(self, draft: Draft) -> Outcome:
        if draft.id is not None and (known := self.known(draft.id)) is not None:
            return _same_again(known, draft)
        epoch = self.book.epoch
        seen = {"epoch": epoch, "seq": self.seq} if self.seq else None
        change = Change(id=draft.id or str(uuid4()), n=self.next_n, kind=draft.kind,
                        v=BODY_VERSION, t=self.wall_ms, seen=seen, after=self.last_at, g=0,
                        body=self._complete(draft))
        change = parse_change(change.to_json())
        now_ms, self.clock = tick(self.clock, self.wall_ms)
        at = stamp(now_ms, self.wall_ms, self.wall_ms, self.last_at, self.device.dev)
        return self.append(seal(change, dev=self.device.dev, at=at, g=0,
                                pos={epoch: self.seq + 1}, key=self.book.key))

    def append(self, envelope: Envelope) -> Outcome:
        self.head = next_head(self.head, envelope)
        self.seq += 1
        self.last_at = max(self.last_at, envelope.at)
        if envelope.dev == self.device.dev:
            self.next_n = max(self.next_n, envelope.n + 1)
        row = {"vessel": self.book.vessel, "seq": self.seq, "id": envelope.id,
               "kind": envelope.kind, "dev": envelope.dev, "n": envelope.n, "at": envelope.at,
               "batch": envelope.body.get("batch", ""),
               "raw": canonical(envelope.to_json()).decode(), "head": self.head.hex()}
        self.rows.append(row)
        self.entries[envelope.id] = LogEntry(**row)
        self.heads.follow(envelope)
        self.projector.add(envelope)
        return Outcome(envelope.id, self.seq, envelope.at, was_new=True)

    def _complete(self, draft: Draft) -> dict[str, Any]:
        """Check the fields of a setting and name the versions that it stands on."""
        if draft.kind != "set" or not isinstance(draft.body.get("f"), dict):
            return draft.body
        doc, fields = draft.body.get("doc", ""), draft.body["f"]
        for name, value in fields.items():
            if wrong := fault(kind_of(doc), name, value):
                raise Refused(f"{name}: {wrong}", reason="bad_value", pointer=f"#/body/f/{name}")
        base = draft.body.get("base")
        return {**draft.body,
                "base": self.heads.of(doc, fields) if base is None else base}

    def known(self, ident: str) -> LogEntry | None:
        """Give the entry with this id, if it was looked up or written just now."""
        return self.entries.get(ident)

    def close(self) -> None:
        """Write what was taken: the log first, then the tables that follow it."""
        if not self.rows:
            return
        for some in chunks(self.rows, AT_ONCE):
            self.session.execute(insert(LogEntry), some)
        self.book.head, self.book.seq, self.book.last_at = self.head.hex(), self.seq, self.last_at
        self.device.next_n = self.next_n
        self.book.last_ms, self.book.adj_ms = self.clock.last_ms, self.clock.adj_ms
        self.session.add(self.book)
        self.session.add(self.device)
        self.session.flush()
        self.projector.finish()


class _Heads:
    """Which versions of a field nobody has replaced yet, as changes come in."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self.by_doc: dict[str, dict[str, list[str]]] = {}

    def of(self, doc: str, fields: Iterable[str]) -> dict[str, list[str]]:
        known = self.by_doc.get(doc, {})
        return {name: sorted(known[name]) for name in fields if known.get(name)}

    def follow(self, envelope: Envelope) -> None:
        if envelope.kind != "set":
            return
        known = self.by_doc.setdefault(envelope.body["doc"], {})
        for name in envelope.body["f"]:
            old = set(envelope.body["base"].get(name, ()))
            known[name] = [one for one in known.get(name, ()) if one not in old] + [envelope.id]

    def look_up(self, docs: list[str]) -> None:
        """Read the versions that stand for these documents."""
        self.by_doc |= {doc: {} for doc in docs}
        for some in chunks(docs, AT_ONCE):
            for doc, name, change_id in self.session.execute(
                    select(col(FieldVersion.doc), col(FieldVersion.field),
                           col(FieldVersion.change_id)).where(
                        col(FieldVersion.vessel) == self.vessel, col(FieldVersion.doc).in_(some),
                        col(FieldVersion.is_head))):
                self.by_doc[doc].setdefault(name, []).append(change_id)


def _same_again(known: LogEntry, draft: Draft) -> Outcome:
    before = json.loads(known.raw)
    body = {name: value for name, value in before["body"].items()
            if name != "batch" and (name != "base" or "base" in draft.body)}
    asked = {name: value for name, value in draft.body.items() if name != "batch"}
    if before["kind"] != draft.kind or body != asked:
        raise Conflict("this change's id was used before for another change", stop="id_reused",
                       change=known.id)
    return Outcome(known.id, known.seq, known.at, was_new=False)

