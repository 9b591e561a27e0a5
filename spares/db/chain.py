"""Follow a vessel's log from its first entry and see that nothing in it was altered."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING

from spares.db.asking import ask
from spares.db.history import LogLine
from spares.errors import NotFound, StoreDamaged
from spares.sync.change import FIRST_HEAD, canonical, mac_is_good, next_head, read_envelope

if TYPE_CHECKING:
    from spares.db.asking import Reader

AT_ONCE = 1000


def check_chain(reader: Reader, vessel: str) -> int:
    """Recompute every seal and the chain; give the number of entries.

    Raises:
        StoreDamaged: an entry was altered, is missing, or the end does not agree.
        NotFound: there is no such vessel.
    """
    # All columns: what only the next write would read is damage too where it cannot be read.
    book = next(iter(ask(reader, "SELECT seq, head, key, epoch, own_dev, last_at, last_ms, adj_ms "
                         "FROM logbook WHERE vessel = :vessel", vessel=vessel)), None)
    if book is None:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    end, end_head, key = book[:3]
    head, count = FIRST_HEAD, 0
    for row, kept in _entries(reader, vessel):
        count += 1
        if (found := _next(head, row, kept, count, key)) is None:
            raise StoreDamaged(f"entry {count} of the log is not as it was written: put a "
                               "backup back (spares restore FILE)", entry=count)
        head = found
    if (end, end_head) != (count, head.hex()):
        raise StoreDamaged("the end of the log is missing: put a backup back "
                           "(spares restore FILE)", entry=count + 1)
    return count


def _entries(reader: Reader, vessel: str) -> Iterator[tuple[LogLine, str]]:
    """Give all entries, each with the head that is kept with it, some at a time."""
    behind, last = "", {}
    while some := list(ask(reader, f"SELECT {', '.join(LogLine._fields)}, head FROM log "
                           f"WHERE vessel = :vessel {behind} ORDER BY seq LIMIT {AT_ONCE}",
                           vessel=vessel, **last)):
        for *told, head in some:
            yield LogLine(*told), head
        behind, last = "AND seq > :last", {"last": told[1]}


def _next(head: bytes, row: LogLine, kept: str, count: int, key: bytes) -> bytes | None:
    """Give the head after the entry in place *count*, None where it is not as it was written."""
    try:
        envelope = read_envelope(row.raw)
        head = next_head(head, envelope)
        whole = (row.seq == count and kept == head.hex() and row.id == envelope.id
                 and _told_beside(row) == (envelope.kind, envelope.dev, envelope.n, envelope.at,
                                           envelope.body.get("batch", ""))
                 and row.raw == canonical(envelope.to_json()).decode()
                 and mac_is_good(envelope, key))
    except (ValueError, TypeError, KeyError, AttributeError):
        return None
    return head if whole else None


def _told_beside(row: LogLine) -> tuple[str, str, int, str, str]:
    """Give what stands in columns of its own too: by it changes are looked up and ordered."""
    return row.kind, row.dev, row.n, row.at, row.batch
