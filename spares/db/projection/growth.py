"""Cells to which new movements only add: of their history only the counts are read.

Why that is enough is told in `spares/domain/stock_growth.py`. A cell that anything else
touches is folded from all that concerns it (`stock.py`); both give the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sqlalchemy import select, tuple_
from sqlmodel import Session, col

from spares.db.rows import chunks, read_envelope
from spares.db.tables import CellRow, Effect, LogEntry
from spares.domain.movements import CellKey, Entry, effects
from spares.domain.stock import Cell
from spares.domain.stock_growth import comes_on_top, shifted
from spares.sync.store import Epochs, entry_of

KEYS_AT_ONCE = 300


def grown(session: Session, vessel: str, epochs: Epochs, fresh: Iterable[Entry],
          keys: set[CellKey]) -> dict[CellKey, Cell]:
    """Work out those of *keys* that the *fresh* movements only add to.

    Args:
        session: A session in which the effects of the fresh ones are written.
        vessel: The vessel's id [-].
        epochs: Of her log, oldest first.
        fresh: Entries new in the log of which no other entry speaks.
        keys: Cells whose part is merged with none and that nothing else touches. Those that
            nothing touched before are left to the fold.
    """
    deltas: dict[CellKey, list[tuple[Entry, int | None]]] = {}
    for entry in fresh:
        for one in effects(entry):
            deltas.setdefault((one.part, one.locker, one.lot), []).append((entry, one.delta))
    found: dict[CellKey, Cell] = {}
    for some in chunks(sorted(keys & deltas.keys()), KEYS_AT_ONCE):
        counts = _counts(session, vessel, epochs, some)
        cells = dict(_cells(session, vessel, some))
        for key in some:
            if key in cells and all(
                    delta is not None and comes_on_top(entry, counts.get(key, ()))
                    for entry, delta in deltas[key]):
                found[key] = shifted(cells[key], sum(delta or 0 for _, delta in deltas[key]))
    return found


def _counts(session: Session, vessel: str, epochs: Epochs,
            keys: list[CellKey]) -> dict[CellKey, list[Entry]]:
    """Give every count of these cells, undone ones too."""
    found: dict[CellKey, list[Entry]] = {}
    for part, locker, lot, seq, raw in session.execute(
            select(col(Effect.part), col(Effect.locker), col(Effect.lot), col(LogEntry.seq),
                   col(LogEntry.raw))
            .join(LogEntry, (col(LogEntry.vessel) == col(Effect.vessel))
                  & (col(LogEntry.id) == col(Effect.change_id)))
            .where(col(Effect.vessel) == vessel, col(LogEntry.kind) == "counted",
                   tuple_(col(Effect.part), col(Effect.locker), col(Effect.lot)).in_(keys))):
        found.setdefault((part, locker, lot), []).append(
            entry_of(read_envelope(raw), seq, epochs))
    return found


def _cells(session: Session, vessel: str,
           keys: list[CellKey]) -> Iterator[tuple[CellKey, Cell]]:
    for row in session.execute(select(CellRow.__table__).where(
            col(CellRow.vessel) == vessel,
            tuple_(col(CellRow.part), col(CellRow.locker), col(CellRow.lot)).in_(keys))):
        yield ((row.part, row.locker, row.lot),
               Cell(row.quantity, row.low, row.high, tuple(row.doubts), tuple(row.rivals),
                    tuple(row.flags)))
