"""Look into the log: single changes, acts, what was undone, versions of a field."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import func, select
from sqlmodel import Session, col

from spares.db.projection.stock import Key, StockProjection
from spares.db.rows import chunks
from spares.db.tables import CellRow, Effect, FieldVersion, LogEntry, Settlement, UsedNumber
from spares.domain.stock import count_asked_about

#: What a setting says in its note when it sets fields back.
UNDO_NOTE = "undo of "
AT_ONCE = 2000
_SEEN = re.compile(r'"seen":\{"epoch":"([0-9a-f]{16})"')


def entry(session: Session, vessel: str, ident: str) -> LogEntry | None:
    """Give the change with this id."""
    return session.execute(select(LogEntry).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.id) == ident)).scalars().first()


def first_of_batch(session: Session, vessel: str, batch: str) -> LogEntry | None:
    """Give the first change of what came in together under this id."""
    return session.execute(select(LogEntry).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.batch) == batch)
        .order_by(col(LogEntry.seq)).limit(1)).scalars().first()


def newest(session: Session, vessel: str, limit: int, before: int | None = None) -> list[LogEntry]:
    """Give the newest changes, those before position *before* of the log if it is given."""
    query = select(LogEntry).where(col(LogEntry.vessel) == vessel)
    if before is not None:
        query = query.where(col(LogEntry.seq) < before)
    return list(session.execute(query.order_by(col(LogEntry.seq).desc()).limit(limit)).scalars())


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


def whole_act_of(session: Session, row: LogEntry) -> list[LogEntry]:
    """Give the changes of one act, in their order, whether or not they were undone."""
    if not row.batch:
        return [row]
    return list(session.execute(select(LogEntry).where(
        col(LogEntry.vessel) == row.vessel, col(LogEntry.batch) == row.batch)
        .order_by(col(LogEntry.seq))).scalars())


def act_size(session: Session, row: LogEntry) -> int:
    """Count the changes of one act."""
    if not row.batch:
        return 1
    return session.execute(select(func.count()).where(
        col(LogEntry.vessel) == row.vessel, col(LogEntry.batch) == row.batch)).scalar_one()


def act_of(session: Session, row: LogEntry) -> list[LogEntry]:
    """Give the changes of one act that still stand, in their order."""
    rows = whole_act_of(session, row)
    undone = undone_among(session, row.vessel, [one.id for one in rows])
    return [one for one in rows if one.id not in undone]


def undone_among(session: Session, vessel: str, ids: Sequence[str]) -> set[str]:
    """Give which of these changes were undone, by a void or by setting fields back."""
    found: set[str] = set()
    for some in chunks(ids, 500):
        found |= set(session.execute(select(col(Settlement.of)).where(
            col(Settlement.vessel) == vessel, col(Settlement.kind) == "void",
            col(Settlement.of).in_(some))).scalars())
    for raw in session.execute(select(col(LogEntry.raw)).where(
            col(LogEntry.vessel) == vessel, col(LogEntry.kind) == "set",
            col(LogEntry.raw).contains(f'"note":"{UNDO_NOTE}'))).scalars():
        found.add(body_of(raw).get("note", "").removeprefix(UNDO_NOTE))
    return found & set(ids)


def body_of(raw: str) -> dict[str, Any]:
    """Give the body of a change as the log keeps it."""
    body: dict[str, Any] = json.loads(raw)["body"]
    return body


def versions_of(session: Session, vessel: str, docs: Iterable[str]
                ) -> dict[str, list[FieldVersion]]:
    """Give all that was ever set of some documents, by document, the oldest first."""
    found: dict[str, list[FieldVersion]] = {}
    for some in chunks(sorted(set(docs)), 500):
        for one in session.execute(select(FieldVersion).where(
                col(FieldVersion.vessel) == vessel, col(FieldVersion.doc).in_(some))
                .order_by(col(FieldVersion.at))).scalars():
            found.setdefault(one.doc, []).append(one)
    return found


def value_before(versions: Sequence[FieldVersion], change: str,
                 name: str) -> tuple[Any, list[str], bool]:
    """Look at what setting a field replaced.

    Args:
        versions: All that was ever set of the document, the oldest first.
        change: The change that set the field [-].
        name: The field [-].

    Returns:
        The value before that change (None if there was none), the versions that stand
        now, and whether a later setting stands on it.
    """
    of_field = [one for one in versions if one.field == name]
    mine = next(one for one in of_field if one.change_id == change)
    before = [one for one in of_field if one.change_id in mine.base]
    return (before[-1].value if before else None,
            [one.change_id for one in of_field if one.is_head],
            any(change in one.base for one in of_field))


def places_of_others(session: Session, vessel: str, changes: Iterable[str]) -> set[str]:
    """Give the lockers and lots that movements and counts other than *changes* name."""
    ours, found = set(changes), set()
    for one in session.execute(select(Effect).where(col(Effect.vessel) == vessel)).scalars():
        if one.change_id not in ours:
            found |= {one.locker, one.lot}
    return found


def is_new(session: Session, vessel: str, doc: str) -> bool:
    """Say whether nothing was ever set of a document."""
    return session.execute(select(FieldVersion.change_id).where(
        col(FieldVersion.vessel) == vessel, col(FieldVersion.doc) == doc).limit(1)).first() is None


def begins(session: Session, vessel: str, doc: str, fields: dict[str, Any]) -> bool:
    """Say whether nothing was ever set of a document, or just these values stand there."""
    heads = [one for one in versions_of(session, vessel, [doc]).get(doc, ()) if one.is_head]
    values = [[one.value for one in heads if one.field == name] for name in fields]
    stands = all(there and all(one == value for one in there)
                 for there, value in zip(values, fields.values(), strict=True))
    is_gone = any(one.field == "gone" and one.value is True for one in heads)
    return not heads or stands and not is_gone and "gone" not in fields


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


def counts_of(session: Session, vessel: str, part: str, locker: str, lot: str) -> list[LogEntry]:
    """Give the counts of a cell that stand, the newest first."""
    counted = list(session.execute(
        select(LogEntry).join(Effect, (col(Effect.change_id) == LogEntry.id)
                              & (col(Effect.vessel) == LogEntry.vessel))
        .where(col(LogEntry.vessel) == vessel, col(Effect.vessel) == vessel,
               col(Effect.is_count), col(Effect.part) == part,
               col(Effect.locker) == locker, col(Effect.lot) == lot)
        .order_by(col(LogEntry.at).desc())).scalars())
    undone = undone_among(session, vessel, [one.id for one in counted])
    return [one for one in counted if one.id not in undone]


def all_counts(session: Session, vessel: str) -> list[tuple[str, str, str]]:
    """Give stamp, part and locker of each count that stands."""
    rows = session.execute(
        select(col(LogEntry.id), col(LogEntry.at), col(Effect.part), col(Effect.locker))
        .join(Effect, (col(Effect.change_id) == LogEntry.id)
              & (col(Effect.vessel) == LogEntry.vessel))
        .where(col(LogEntry.vessel) == vessel, col(LogEntry.kind) == "counted")).all()
    undone = undone_among(session, vessel, list(dict.fromkeys(row[0] for row in rows)))
    return [(at, part, locker) for ident, at, part, locker in rows if ident not in undone]


def exchanges_from(session: Session, vessel: str, lots: Sequence[str]) -> set[str]:
    """Give the exchanges whose new part came from one of these lots."""
    found: set[str] = set()
    for some in chunks(lots, 500):
        found |= set(session.execute(
            select(col(LogEntry.id)).join(Effect, (col(Effect.change_id) == LogEntry.id)
                                          & (col(Effect.vessel) == LogEntry.vessel))
            .where(col(LogEntry.vessel) == vessel, col(LogEntry.kind) == "exchange",
                   col(Effect.lot).in_(some))).scalars())
    return found
