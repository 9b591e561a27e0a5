"""The store that the exchange with devices works on, in the database.

It keeps the promises of `spares.sync.store.Store` for one vessel, inside one write
transaction; `close` writes what was gathered.
"""

from __future__ import annotations

import json
from collections.abc import Sequence

from sqlalchemy import delete, exists, func, select
from sqlmodel import Session, col

from spares.db import devices
from spares.db.before_writing import begins, seen_in, stamps_of
from spares.db.door import check_fields
from spares.db.epochs import begin_epoch, learn_epochs
from spares.db.log_writer import LogWriter
from spares.db.logbook import epochs
from spares.db.projection.stock import StockProjection
from spares.db.rows import AT_ONCE, chunks, is_among
from spares.db.tables import FieldVersion, HeldChange, LogEntry, LostRange, Settlement, UsedNumber
from spares.sync.change import Change, Envelope, content_hash, parse_change, read_envelope
from spares.sync.merge import IMMUTABLE, check_immutable
from spares.sync.stamp import ServerClock
from spares.sync.store import Device, Epochs, Held, Kept


class SyncStore:
    """One vessel's log, devices and clock, as the exchange wants them."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self.log = LogWriter(session, vessel)
        self.key = self.log.book.key
        self._last_at: dict[str, str] = {}
        self._set_now: set[str] = set()
        self._known: set[str] = set()
        self._epochs: Epochs | None = None
        self._unused: set[str] = set()

    @property
    def own_dev(self) -> str:
        """Give the number of the server itself in this epoch."""
        return self.log.book.own_dev

    def close(self) -> None:
        """Write all that was gathered."""
        self.log.flush()

    def clock(self) -> ServerClock:
        """Give the clock as last set."""
        return self.log.clock

    def set_clock(self, clock: ServerClock) -> None:
        """Keep the clock."""
        self.log.clock = clock

    def epochs(self) -> Epochs:
        """Give the epochs of this log, oldest first."""
        if self._epochs is None:
            self._epochs = epochs(self.session, self.vessel)
        return self._epochs

    def begin_epoch(self) -> None:
        """End the present epoch at the last row and begin a new one."""
        self.log.flush()
        begin_epoch(self.session, self.vessel)
        self._epochs = None

    def learn_epochs(self, found: Sequence[tuple[str, int]]) -> None:
        """Note that the rows up to each end also stood so in an epoch of another store."""
        self.log.flush()
        new = learn_epochs(self.session, self.vessel, found)
        self._epochs = None
        if new and (ids := seen_in(self.session, self.vessel, new)):
            stock = StockProjection(self.session, self.vessel)
            stock.look_again(ids)
            stock.finish()

    def size(self) -> int:
        """Give the number of the last row [1]."""
        return self.log.seq

    def head(self, seq: int) -> bytes | None:
        """Give the head of the chain after row *seq*, None if beyond."""
        return self.log.head(seq)

    def rows(self, after: int, most: int) -> list[tuple[int, Envelope]]:
        """Give up to *most* rows after *after*, in order."""
        return [(seq, read_envelope(raw)) for seq, raw in self.written_rows(after, most)]

    def written_rows(self, after: int, most: int) -> list[tuple[int, str]]:
        """Give the same as they are written."""
        if most <= 0:
            return []
        self.log.flush()
        return [(seq, raw) for seq, raw in self.session.execute(
            select(col(LogEntry.seq), col(LogEntry.raw)).where(
                col(LogEntry.vessel) == self.vessel, col(LogEntry.seq) > after)
            .order_by(col(LogEntry.seq)).limit(most))]

    def append(self, envelope: Envelope) -> int:
        """Add one row, mark its number as used; gives its seq."""
        if envelope.dev not in self._known:
            devices.make_known(self.session, self.vessel, envelope.dev)
            self._known.add(envelope.dev)
        self._drop_number(envelope.dev, envelope.n)
        self._note_at(envelope.dev, envelope.at)
        if envelope.kind == "set":
            self._set_now.add(envelope.body["doc"])
        return self.log.append(envelope)

    def look_up(self, ids: list[str]) -> None:
        """Read in a few statements what became of these changes."""
        self.log.look_up(ids)
        used: set[str] = set()
        for some in chunks(ids, AT_ONCE):
            used |= set(self.session.execute(select(col(UsedNumber.id)).where(
                col(UsedNumber.vessel) == self.vessel,
                is_among(self.session, UsedNumber.id, some))).scalars())
        self._unused |= set(ids) - used

    def kept(self, ident: str) -> Kept | None:
        """Find what became of a change: in the log, else held, else refused."""
        row = self.log.entry(ident)
        if row is not None:
            return _kept_in_log(row)
        if ident in self._unused:
            return None
        found = [_kept(row) for row in self.session.execute(select(UsedNumber).where(
            col(UsedNumber.vessel) == self.vessel, col(UsedNumber.id) == ident,
            col(UsedNumber.outcome) != "dup")).scalars()]
        return max(found, key=lambda kept: kept.outcome == "held", default=None)

    def kept_as(self, dev: str, n: int) -> Kept | None:
        """Find what a device's number was used for."""
        if not self.log.numbers.is_used(dev, n):
            return None
        self.log.flush()
        row = self.session.execute(select(LogEntry).where(
            col(LogEntry.vessel) == self.vessel, col(LogEntry.dev) == dev,
            col(LogEntry.n) == n)).scalars().first()
        if row is not None:
            return _kept_in_log(row)
        used = self.session.get(UsedNumber, (self.vessel, dev, n))
        return Kept("", dev, n, "lost") if used is None else _kept(used)

    def restamps_of(self, ident: str) -> list[Envelope]:
        """Give the restamp rows that name a change."""
        self.log.flush()
        return [read_envelope(raw) for raw in self.session.execute(
            select(col(LogEntry.raw)).join(Settlement, (
                (col(Settlement.vessel) == LogEntry.vessel)
                & (col(Settlement.change_id) == LogEntry.id)))
            .where(col(LogEntry.vessel) == self.vessel, col(Settlement.kind) == "restamp",
                   col(Settlement.of) == ident).order_by(col(LogEntry.seq))).scalars()]

    def next_n(self, dev: str) -> int:
        """Give the smallest number of a device that is not used [1]."""
        return self.log.numbers.next_n(dev)

    def missing(self, dev: str, up_to: int) -> list[tuple[int, int]]:
        """Give the ranges of a device's numbers, up to *up_to*, that are not used."""
        return self.log.numbers.missing(dev, up_to)

    def last_at(self, dev: str) -> str:
        """Give the greatest stamp of a device in the log or held, "" if none."""
        if dev not in self._last_at:
            self.log.flush()
            found = [self.session.execute(select(func.max(col(table.at))).where(
                col(table.vessel) == self.vessel, col(table.dev) == dev)).scalar() or ""
                for table in (LogEntry, UsedNumber)]
            self._last_at[dev] = max(found)
        return self._last_at[dev]

    def stamps_around(self, dev: str, n: int) -> tuple[str, list[tuple[int, str]]]:
        """Give a device's greatest stamp below number *n*, "" if none, and those above it."""
        if self.log.numbers.is_greatest(dev, n):
            return self.last_at(dev), []
        self.log.flush()
        used = stamps_of(self.session, self.vessel, dev)
        return (max((at for number, at in used if number < n), default=""),
                [(number, at) for number, at in used if number > n and at])

    def mark(self, kept: Kept) -> None:
        """Use up a number for what is not in the log: refused or dup."""
        self._use(kept)

    def hold(self, held: Held) -> None:
        """Keep a change for the skipper; uses up its number."""
        change = held.change
        # A device of after the backup may be unknown here: the list of what waits names devices.
        devices.make_known(self.session, self.vessel, held.dev)
        self.session.add(HeldChange(vessel=self.vessel, id=change.id, dev=held.dev, at=held.at,
                                    g=held.g, raw=json.dumps(change.to_json()), why=held.why))
        self._use(Kept(change.id, held.dev, change.n, "held", change.kind, content_hash(change),
                       at=held.at, g=held.g))

    def held(self, ident: str) -> Held | None:
        """Find a held change."""
        row = self.session.get(HeldChange, (self.vessel, ident))
        return None if row is None else Held(parse_change(json.loads(row.raw)), row.dev, row.at,
                                             row.g, row.why)

    def held_of(self, *devs: str) -> list[str]:
        """Give the ids of changes that came under these numbers and are still held."""
        self.session.flush()
        return list(self.session.execute(select(col(HeldChange.id)).where(
            col(HeldChange.vessel) == self.vessel, exists().where(
                col(UsedNumber.vessel) == self.vessel, col(UsedNumber.id) == HeldChange.id,
                col(UsedNumber.dev).in_(devs))).order_by(col(HeldChange.at))).scalars())

    def unhold(self, ident: str) -> None:
        """Take a change out of those that are held."""
        self.session.delete(self.session.get_one(HeldChange, (self.vessel, ident)))
        self.session.flush()

    def write_off(self, dev: str, first: int, last: int) -> None:
        """Mark a range of numbers as lost on the device."""
        devices.make_known(self.session, self.vessel, dev)
        self.session.add(LostRange(vessel=self.vessel, dev=dev, first=first, last=last))
        self.log.numbers.use(dev, first, last)

    def renew(self, device: Device, why: str) -> Device:
        """Give a device a fresh number; the old one joins `was`, the token moves over."""
        return devices.renew(self.session, self.vessel, device)

    def stand_in_for(self, dev: str) -> str:
        """Give a fresh number, with no token, for what cannot stand under *dev* any more."""
        return devices.stand_in_for(self.session, self.vessel, dev)

    def save_device(self, device: Device) -> None:
        """Keep what changed about a device."""
        devices.save(self.session, self.vessel, device)

    def begins(self, doc: str, fields: dict[str, object]) -> bool:
        """Say whether nothing was ever set of a document, or just these values stand there."""
        self.log.flush()
        return begins(self.session, self.vessel, doc, fields)

    def check(self, change: Change) -> None:
        """Refuse a value that its field cannot hold, and another unit for a part.

        Raises:
            Refused: with `reason` bad_value or immutable.
        """
        if change.kind != "set":
            return
        doc, fields = change.body["doc"], change.body["f"]
        check_fields(doc, fields)
        fixed = [name for name in IMMUTABLE.get(doc.partition("/")[0], ()) if name in fields]
        if fixed:
            check_immutable(change, {name: self._shown(doc, name) for name in fixed})

    def _shown(self, doc: str, name: str) -> object:
        if doc in self._set_now:
            self.log.flush()
        row = self.session.execute(select(FieldVersion).where(
            col(FieldVersion.vessel) == self.vessel, col(FieldVersion.doc) == doc,
            col(FieldVersion.field) == name).order_by(col(FieldVersion.at).desc())
            .limit(1)).scalars().first()
        return None if row is None else row.value

    def _use(self, kept: Kept) -> None:
        self._unused.discard(kept.id)
        self._drop_number(kept.dev, kept.n)
        self.session.add(UsedNumber(
            vessel=self.vessel, dev=kept.dev, n=kept.n, id=kept.id, outcome=kept.outcome,
            kind=kept.kind, sha=kept.sha, at=kept.at, g=kept.g, code=kept.code, say=kept.say))
        self.session.flush()
        self.log.numbers.use(kept.dev, kept.n)
        self._note_at(kept.dev, kept.at)

    def _drop_number(self, dev: str, n: int) -> None:
        """Forget what a number was used for before: it was held, or lost, and is decided now."""
        if self.log.numbers.is_used(dev, n):
            self.session.execute(delete(UsedNumber).where(
                col(UsedNumber.vessel) == self.vessel, col(UsedNumber.dev) == dev,
                col(UsedNumber.n) == n))

    def _note_at(self, dev: str, at: str) -> None:
        if dev in self._last_at:
            self._last_at[dev] = max(self._last_at[dev], at)


def _kept_in_log(row: LogEntry) -> Kept:
    envelope = read_envelope(row.raw)
    return Kept(row.id, row.dev, row.n, "ok", row.kind, content_hash(envelope), row.seq,
                envelope.at, envelope.g, envelope.pos, envelope.mac)


def _kept(row: UsedNumber) -> Kept:
    return Kept(row.id, row.dev, row.n, row.outcome, row.kind, row.sha, at=row.at, g=row.g,
                code=row.code, say=row.say)


