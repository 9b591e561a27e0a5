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

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.epochs import EPOCH_BYTES, fresh_dev
from spares.db.fresh_id import fresh_id
from spares.db.log_writer import LogWriter
from spares.db.rows import chunks, is_among
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
    mac_is_good,
    parse_change,
    seal,
)
from spares.sync.stamp import stamp, tick

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
    book = Logbook(vessel=vessel, epoch=secrets.token_hex(EPOCH_BYTES),
                   key=secrets.token_bytes(32), head=FIRST_HEAD.hex(),
                   own_dev=fresh_dev(session, vessel))
    session.add(book)
    session.flush()
    session.add(Device(vessel=vessel, dev=book.own_dev, name=device_name))
    session.flush()
    return book


def submit(session: Session, vessel: str, drafts: Sequence[Draft], *, wall_ms: int,
           dev: str = "") -> list[Outcome]:
    """Take *drafts* made at this server, in order, all or none.

    A draft whose id is in the log already, with the same content, changes
    nothing and answers what it answered the first time.

    Args:
        session: A session of `Store.writing()`.
        vessel: The vessel's id [-].
        drafts: The changes asked for.
        wall_ms: The computer's clock [ms since 1970].
        dev: The device number they are written under, "" for the server's own [-].

    Raises:
        Refused: one is malformed; `pointer` says where. Nothing was written.
        Conflict: an id was used before for something else.
    """
    door = _Door(session, vessel, dev, wall_ms)
    door.look_up([draft.id for draft in drafts if draft.id],
                 [draft.body.get("doc") for draft in drafts if draft.kind == "set"])
    outcomes = [door.take(draft) for draft in drafts]
    if any(one.was_new for one in outcomes):
        door.log.flush()
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
    door, new = _Door(session, vessel, "", wall_ms), 0
    door.look_up([one.id for one in envelopes],
                 [one.body["doc"] for one in envelopes if one.kind == "set"])
    for envelope in envelopes:
        if not mac_is_good(envelope, door.log.book.key):
            raise Refused("the seal of an envelope is not good", reason="bad_mac",
                          change=envelope.id)
        if door.log.entry(envelope.id) is None:
            door.append(envelope)
            new += 1
    door.log.flush()
    return new


class _Door:
    def __init__(self, session: Session, vessel: str, dev: str, wall_ms: int) -> None:
        self.log = LogWriter(session, vessel)
        self.dev, self.wall_ms = dev or self.log.book.own_dev, wall_ms
        if session.get(Device, (vessel, self.dev)) is None:
            raise NotFound("there is no such device in this store", vessel=vessel)
        self.heads = _Heads(session, vessel)

    def look_up(self, ids: list[str], docs: list[str | None]) -> None:
        """Read in a few statements what the changes to come will be compared with."""
        self.log.look_up(ids)
        self.heads.look_up(sorted({doc for doc in docs if isinstance(doc, str)}))

    def take(self, draft: Draft) -> Outcome:
        log = self.log
        if draft.id is not None and (known := log.entry(draft.id)) is not None:
            return _same_again(known, draft)
        epoch = log.book.epoch
        seen = {"epoch": epoch, "seq": log.seq} if log.seq else None
        change = Change(id=draft.id or fresh_id(self.wall_ms), n=log.numbers.next_n(self.dev),
                        kind=draft.kind, v=BODY_VERSION, t=self.wall_ms, seen=seen,
                        after=log.last_at, g=0, body=self._complete(draft))
        change = parse_change(change.to_json())
        now_ms, log.clock = tick(log.clock, self.wall_ms)
        at = stamp(now_ms, self.wall_ms, self.wall_ms, log.last_at, self.dev)
        return self.append(seal(change, dev=self.dev, at=at, g=0, pos={epoch: log.seq + 1},
                                key=log.book.key))

    def append(self, envelope: Envelope) -> Outcome:
        seq = self.log.append(envelope)
        self.heads.follow(envelope)
        return Outcome(envelope.id, seq, envelope.at, was_new=True)

    def _complete(self, draft: Draft) -> dict[str, Any]:
        """Check the fields of a setting and name the versions that it stands on."""
        if draft.kind != "set" or not isinstance(draft.body.get("f"), dict):
            return draft.body
        doc, fields = draft.body.get("doc", ""), draft.body["f"]
        check_fields(doc, fields)
        base = draft.body.get("base")
        return {**draft.body,
                "base": self.heads.of(doc, fields) if base is None else base}


def check_fields(doc: str, fields: dict[str, Any]) -> None:
    """Refuse a value that a field of this document cannot hold.

    Raises:
        Refused: with `reason` bad_value.
    """
    for name, value in fields.items():
        if wrong := fault(kind_of(doc), name, value):
            raise Refused(f"{name}: {wrong}", reason="bad_value", pointer=f"#/body/f/{name}")


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
                        col(FieldVersion.vessel) == self.vessel,
                        is_among(self.session, FieldVersion.doc, some),
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

