"""Cells to which new movements only add: of their history only the counts are read.

Why that is enough is told in `spares/domain/stock_growth.py`. A cell that anything else
touches is folded from all that concerns it (`stock.py`); both give the same.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.rows import are_among, chunks, update_all
from spares.db.tables import CellRow, Effect, LogEntry
from spares.domain.movements import CellKey, Entry
from spares.domain.stock import Cell
from spares.domain.stock_growth import comes_on_top, shifted
from spares.sync.change import read_envelope
from spares.sync.store import Epochs, entry_of

KEYS_AT_ONCE = 500


#: The fresh movements of each cell; a count, which adds nothing, has None.
Deltas = Mapping[CellKey, Sequence[tuple[Entry, int | None]]]


def grown(session: Session, vessel: str, epochs: Epochs, deltas: Deltas,
          keys: set[CellKey]) -> dict[CellKey, Cell]:
    """Work out those of *keys* that fresh movements only add to.

    Args:
        session: A session in which the effects of the fresh ones are written.
        vessel: The vessel's id [-].
        epochs: Of her log, oldest first.
        deltas: What entries new in the log, of which no other entry speaks, add to each cell.
        keys: Cells whose part is merged with none and that nothing else touches. Those that
            nothing touched before are left to the fold.

    Returns:
        By cell its quantity, range and flags; what is in doubt there stays so.
    """
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


def shift_rows(session: Session, vessel: str, cells: Mapping[CellKey, Cell]) -> None:
    """Write what moved in these cells, which are there already."""
    update_all(session, CellRow, [
        {"vessel": vessel, "part": part, "locker": locker, "lot": lot, "quantity": cell.quantity,
         "low": cell.low, "high": cell.high, "flags": list(cell.flags)}
        for (part, locker, lot), cell in sorted(cells.items())],
        ("vessel", "part", "locker", "lot"))


def _counts(session: Session, vessel: str, epochs: Epochs,
            keys: list[CellKey]) -> dict[CellKey, list[Entry]]:
    """Give every count of these cells, undone ones too."""
    found: dict[CellKey, list[Entry]] = {}
    for part, locker, lot, seq, raw in session.execute(
            select(col(Effect.part), col(Effect.locker), col(Effect.lot), col(LogEntry.seq),
                   col(LogEntry.raw))
            .join(LogEntry, (col(LogEntry.vessel) == col(Effect.vessel))
                  & (col(LogEntry.id) == col(Effect.change_id)))
            .where(col(Effect.vessel) == vessel, col(Effect.is_count),
                   are_among(session, (Effect.part, Effect.locker, Effect.lot), keys))):
        found.setdefault((part, locker, lot), []).append(
            entry_of(read_envelope(raw), seq, epochs))
    return found


def _cells(session: Session, vessel: str,
           keys: list[CellKey]) -> Iterator[tuple[CellKey, Cell]]:
    """Give what of these cells moves with them."""
    for part, locker, lot, *numbers in session.execute(
            select(col(CellRow.part), col(CellRow.locker), col(CellRow.lot),
                   col(CellRow.quantity), col(CellRow.low), col(CellRow.high)).where(
                col(CellRow.vessel) == vessel,
                are_among(session, (CellRow.part, CellRow.locker, CellRow.lot), keys))):
        yield (part, locker, lot), Cell(*numbers)
