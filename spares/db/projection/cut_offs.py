"""Which rows of the log have to be read to fold a cell: those behind its cut-off.

Why they are enough is told in `spares/domain/cut_off.py`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sqlalchemy import ColumnElement, Row, Select, and_, delete, select
from sqlmodel import Session, col

from spares.db.rows import AT_ONCE, are_among, chunks, insert_all
from spares.db.tables import CutOffRow, Effect, LogEntry
from spares.domain.cut_off import CutOff
from spares.domain.movements import CellKey

_CELL = (Effect.part, Effect.locker, Effect.lot)
_CUT = (CutOffRow.part, CutOffRow.locker, CutOffRow.lot)
_LOGGED = (col(LogEntry.vessel) == col(Effect.vessel)) & (
    col(LogEntry.id) == col(Effect.change_id))


def read_cut_offs(session: Session, vessel: str, keys: Sequence[CellKey]) -> dict[CellKey, CutOff]:
    """Give the cut-offs of those of these cells that have one."""
    return {(part, locker, lot): CutOff(*facts)
            for some in chunks(keys, AT_ONCE)
            for part, locker, lot, *facts in session.execute(
                select(*map(col, (*_CUT, CutOffRow.seq, CutOffRow.at, CutOffRow.made))).where(
                    col(CutOffRow.vessel) == vessel, are_among(session, _CUT, some)))}


def write_cut_offs(session: Session, vessel: str, known: Mapping[CellKey, CutOff],
                   found: Mapping[CellKey, CutOff | None]) -> None:
    """Put new cut-offs in the place of the *known* ones; None: the cell has none."""
    changed = {key: cut for key, cut in found.items() if known.get(key) != cut}
    for some in chunks([key for key in changed if key in known], AT_ONCE):
        session.execute(delete(CutOffRow).where(
            col(CutOffRow.vessel) == vessel, are_among(session, _CUT, some)))
    insert_all(session, CutOffRow, [
        {"vessel": vessel, "part": part, "locker": locker, "lot": lot, **cut._asdict()}
        for (part, locker, lot), cut in sorted(changed.items()) if cut is not None])


def behind(session: Session, vessel: str, keys: Sequence[CellKey],
           known: Mapping[CellKey, CutOff], wanted: Sequence[ColumnElement],
           *, only_counts: bool = False) -> Iterator[Row]:
    """Give columns of `effect` and `log` of all rows that touch these cells behind their cut-offs.

    A cell without a cut-off is read whole.
    """
    kinds = col(Effect.is_count).in_([True] if only_counts else [False, True])
    for statement, some in ((_behind_known, [key for key in keys if key in known]),
                            (_whole, [key for key in keys if key not in known])):
        for part in chunks(some, AT_ONCE):
            found = session.execute(statement(session, select(*wanted), vessel, part, kinds))
            yield from (row for row in found if row[0] is not None)


def _whole(session: Session, rows: Select, vessel: str, keys: Sequence[CellKey],
           kinds: ColumnElement[bool]) -> Select:
    return rows.join_from(Effect, LogEntry, _LOGGED).where(
        col(Effect.vessel) == vessel, are_among(session, _CELL, keys), kinds)


def _behind_known(session: Session, rows: Select, vessel: str, keys: Sequence[CellKey],
                  kinds: ColumnElement[bool]) -> Select:
    # An outer join, for SQLite, and texts that are no plain columns, for PostgreSQL: either would
    # else go through all that ever touched these cells, and not into the index behind each cut.
    return rows.join_from(CutOffRow, Effect, and_(
        col(Effect.vessel) == CutOffRow.vessel,
        *(col(its) == col(cut) + "" for its, cut in zip(_CELL, _CUT, strict=True)),
        kinds, col(Effect.seq) > col(CutOffRow.seq)), isouter=True).join(
        LogEntry, _LOGGED, isouter=True).where(
        col(CutOffRow.vessel) == vessel, are_among(session, _CUT, keys))
