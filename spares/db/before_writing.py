"""What is asked of the log and its tables before something is written."""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.history import body_of
from spares.db.projection.stock import Key, StockProjection
from spares.db.tables import CellRow, Effect, FieldVersion, LogEntry, Settlement, UsedNumber
from spares.domain.stock import count_asked_about

AT_ONCE = 2000
_SEEN = re.compile(r'"seen":\{"epoch":"([0-9a-f]{16})"')


def is_new(session: Session, vessel: str, doc: str) -> bool:
    """Say whether nothing was ever set of a document."""
    return session.execute(select(FieldVersion.change_id).where(
        col(FieldVersion.vessel) == vessel, col(FieldVersion.doc) == doc).limit(1)).first() is None


def begins(session: Session, vessel: str, doc: str, fields: dict[str, Any]) -> bool:
    """Say whether nothing was ever set of a document, or just these values stand there."""
    heads = session.execute(select(FieldVersion).where(
        col(FieldVersion.vessel) == vessel, col(FieldVersion.doc) == doc,
        col(FieldVersion.is_head)).order_by(col(FieldVersion.at))).scalars().all()
    values = [[one.value for one in heads if one.field == name] for name in fields]
    stands = all(there and all(one == value for one in there)
                 for there, value in zip(values, fields.values(), strict=True))
    is_gone = any(one.field == "gone" and one.value is True for one in heads)
    return not heads or stands and not is_gone and "gone" not in fields


def seen_in(session: Session, vessel: str, epochs: Mapping[str, int]) -> list[str]:
    """Give the changes behind a row of each epoch whose authors name it as what they had seen.

    Whoever had more of an epoch than was known of it here stands behind what was known.
    """
    if not epochs:
        return []
    rows = session.execute(select(col(LogEntry.id), col(LogEntry.seq), col(LogEntry.raw)).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.seq) > min(epochs.values())))
    # Looked for here: a question with a part for each of a thousand epochs is none for SQLite.
    return [ident for ident, seq, raw in rows.yield_per(AT_ONCE)
            if any(seq > epochs.get(epoch, seq) for epoch in _SEEN.findall(raw))]


def stamps_of(session: Session, vessel: str, dev: str) -> list[tuple[int, str]]:
    """Give the used numbers of a device, each with the stamp that holds, "" if it has none."""
    smaller: dict[str, str] = {}
    for of, raw in session.execute(
            select(col(Settlement.of), col(LogEntry.raw)).join(LogEntry, (
                (col(LogEntry.vessel) == Settlement.vessel)
                & (col(LogEntry.id) == Settlement.change_id)))
            .where(col(Settlement.vessel) == vessel, col(Settlement.kind) == "restamp")):
        at = body_of(raw)["at"]
        smaller[of] = min(at, smaller.get(of, at))
    return [(number, min(at, smaller.get(ident, at))) for table in (LogEntry, UsedNumber)
            for number, at, ident in session.execute(
                select(col(table.n), col(table.at), col(table.id)).where(
                    col(table.vessel) == vessel, col(table.dev) == dev))]


def doubted(session: Session, vessel: str, change: str) -> list[tuple[Key, str]]:
    """Give the cells in which a movement is in doubt, each with the count that it is against."""
    found = []
    places = {(key.locker, key.lot) for key in session.execute(select(Effect).where(
        col(Effect.vessel) == vessel, col(Effect.change_id) == change)).scalars()}
    for locker, lot in sorted(places):
        # Its part may be merged with another since: the cell bears the name that was kept.
        for cell in session.execute(select(CellRow).where(
                col(CellRow.vessel) == vessel, col(CellRow.locker) == locker,
                col(CellRow.lot) == lot)).scalars():
            key = (cell.part, locker, lot)
            if change in cell.doubts and (count := count_asked_about(
                    StockProjection(session, vessel).entries_of(key), key, change)):
                found.append((key, count))
    return found


def parts_of(session: Session, vessel: str, change: str) -> list[str]:
    """Give the parts that a change moves or counts, as they were called then."""
    return list(session.execute(select(col(Effect.part)).where(
        col(Effect.vessel) == vessel, col(Effect.change_id) == change)).scalars())
