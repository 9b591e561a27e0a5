"""Append sealed envelopes to a vessel's log, and let the tables follow in one go.

Rows are gathered and written together: one movement and an import of twenty thousand
lines go the same way.
"""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, select
from sqlmodel import Session, col

from spares.db.numbers import Numbers
from spares.db.projection import Projector
from spares.db.rows import AT_ONCE, chunks, insert_all, is_among
from spares.db.tables import Logbook, LogEntry
from spares.errors import NotFound
from spares.sync.change import FIRST_HEAD, Envelope, link, written_form
from spares.sync.stamp import ServerClock


class LogWriter:
    """The end of one vessel's log, inside one transaction; `flush` writes what was gathered."""

    def __init__(self, session: Session, vessel: str) -> None:
        book = session.get(Logbook, vessel)
        if book is None:
            raise NotFound("there is no such vessel in this store", vessel=vessel)
        self.session, self.book, self.vessel = session, book, vessel
        self.clock = ServerClock(book.last_ms, book.adj_ms)
        # Kept here and written once at the end: each look-up would write them otherwise.
        self.seq, self.last_at, self.chain = book.seq, book.last_at, bytes.fromhex(book.head)
        self.numbers = Numbers(session, vessel)
        self._rows: list[dict[str, Any]] = []
        self._entries: dict[str, LogEntry | None] = {}
        self._written: dict[str, dict[str, Any]] = {}
        self._projector: Projector | None = None
        self._is_rewound = False

    def append(self, envelope: Envelope) -> int:
        """Add one row; gives its seq [1]."""
        written = written_form(envelope)
        self.chain = link(self.chain, written)
        self.seq += 1
        self.last_at = max(self.last_at, envelope.at)
        self.numbers.use(envelope.dev, envelope.n)
        row = {"vessel": self.vessel, "seq": self.seq, "id": envelope.id,
               "kind": envelope.kind, "dev": envelope.dev, "n": envelope.n, "at": envelope.at,
               "batch": envelope.body.get("batch", ""),
               "raw": written.decode(), "head": self.chain.hex()}
        self._rows.append(row)
        self._written[envelope.id] = row
        if not self._is_rewound:
            self._projector = self._projector or Projector(self.session, self.vessel)
            self._projector.add(envelope, self.seq)
        return self.seq

    def rewind(self, seq: int) -> None:
        """Take the rows behind *seq* out; from here on the tables wait until they are made anew."""
        self.flush()
        self.chain, self.seq, self._is_rewound = self.head(seq) or FIRST_HEAD, seq, True
        behind = (col(LogEntry.vessel) == self.vessel, col(LogEntry.seq) > seq)
        self.session.execute(delete(LogEntry).where(*behind))
        self._entries, self._written = {}, {}
        self.flush()

    def look_up(self, ids: list[str]) -> None:
        """Read in a few statements what the changes to come will be compared with."""
        self._entries |= dict.fromkeys(ids)
        for some in chunks(ids, AT_ONCE):
            self._entries |= {row.id: row for row in self.session.execute(
                select(LogEntry).where(col(LogEntry.vessel) == self.vessel,
                                       is_among(self.session, LogEntry.id, some))).scalars()}

    def entry(self, ident: str) -> LogEntry | None:
        """Give the row of a change, written before or just now."""
        if ident in self._written:
            return LogEntry(**self._written[ident])
        if ident not in self._entries:
            self._entries[ident] = self.session.execute(select(LogEntry).where(
                col(LogEntry.vessel) == self.vessel, col(LogEntry.id) == ident)).scalars().first()
        return self._entries[ident]

    def head(self, seq: int) -> bytes | None:
        """Give the head of the chain after row *seq*, None if the log does not reach so far."""
        if seq in (0, self.seq):
            return self.chain if seq else FIRST_HEAD
        if not 0 < seq < self.seq:
            return None
        self.flush()
        head = self.session.execute(select(col(LogEntry.head)).where(
            col(LogEntry.vessel) == self.vessel, col(LogEntry.seq) == seq)).scalar()
        return None if head is None else bytes.fromhex(head)

    def flush(self) -> None:
        """Write what was gathered: the log first, then the tables that follow it."""
        insert_all(self.session, LogEntry, self._rows)
        self._rows = []
        self.book.head, self.book.seq, self.book.last_at = self.chain.hex(), self.seq, self.last_at
        self.book.last_ms, self.book.adj_ms = self.clock.last_ms, self.clock.adj_ms
        self.session.add(self.book)
        self.numbers.save()
        self.session.flush()
        projector, self._projector = self._projector, None
        if projector is not None:
            projector.finish()

