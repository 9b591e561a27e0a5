"""Follow a vessel's log from its first entry and see that nothing in it was altered."""

from __future__ import annotations

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.rows import read_envelope
from spares.db.tables import Logbook, LogEntry
from spares.errors import NotFound, StoreDamaged
from spares.sync.change import FIRST_HEAD, canonical, mac_is_good, next_head


def all_logs(session: Session) -> list[str]:
    """Give the ids of all vessels that have a log here."""
    return list(session.execute(select(col(Logbook.vessel)).order_by(
        col(Logbook.vessel))).scalars())


def check_chain(session: Session, vessel: str) -> int:
    """Recompute every seal and the chain; give the number of entries.

    Raises:
        StoreDamaged: an entry was altered, is missing, or the end does not agree.
        NotFound: there is no such vessel.
    """
    book = session.get(Logbook, vessel)
    if book is None:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    head, count = FIRST_HEAD, 0
    asked = select(LogEntry).where(col(LogEntry.vessel) == vessel).order_by(col(LogEntry.seq))
    with session.execute(asked.execution_options(yield_per=1000)) as rows:
        for row in rows.scalars():
            count += 1
            if (found := _next(head, row, count, book.key)) is None:
                raise StoreDamaged(f"entry {count} of the log is not as it was written: put a "
                                   "backup back (spares restore FILE)", entry=count)
            head = found
    if (book.seq, book.head) != (count, head.hex()):
        raise StoreDamaged("the end of the log is missing: put a backup back "
                           "(spares restore FILE)", entry=count + 1)
    return count


def _next(head: bytes, row: LogEntry, count: int, key: bytes) -> bytes | None:
    """Give the head after the entry in place *count*, None where it is not as it was written."""
    try:
        envelope = read_envelope(row.raw)
        head = next_head(head, envelope)
        whole = (row.seq == count and row.head == head.hex() and row.id == envelope.id
                 and _told_beside(row) == (envelope.kind, envelope.dev, envelope.n, envelope.at,
                                           envelope.body.get("batch", ""))
                 and row.raw == canonical(envelope.to_json()).decode()
                 and mac_is_good(envelope, key))
    except (ValueError, TypeError, KeyError, AttributeError):
        return None
    return head if whole else None


def _told_beside(row: LogEntry) -> tuple[str, str, int, str, str]:
    """Give what stands in columns of its own too: by it changes are looked up and ordered."""
    return row.kind, row.dev, row.n, row.at, row.batch
