"""Cells which fresh movements, and those taken back, only shift: of their history counts are read.

Why that is enough is told in `spares/domain/stock_growth.py`. A cell that anything else
touches is folded from all that concerns it (`stock.py`); both give the same.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from sqlalchemy import exists, select
from sqlmodel import Session, col

from spares.db.projection.cut_offs import behind
from spares.db.rows import are_among, chunks, update_all
from spares.db.tables import CellRow, Effect, LogEntry, Settlement
from spares.domain.cut_off import CutOff
from spares.domain.movements import CellKey, Entry, effects
from spares.domain.stock import Cell
from spares.domain.stock_growth import comes_on_top, shifted
from spares.sync.change import read_envelope
from spares.sync.store import Epochs, entry_of

KEYS_AT_ONCE = 500
_CELL = (CellRow.part, CellRow.locker, CellRow.lot)


#: The movements of each cell that are fresh or undone now; a count, which adds nothing, has None.
Deltas = Mapping[CellKey, Sequence[tuple[Entry, int | None]]]


def grown(session: Session, vessel: str, epochs: Epochs, deltas: Deltas, keys: set[CellKey],
          cut_offs: Mapping[CellKey, CutOff]) -> dict[CellKey, Cell]:
    """Work out those of *keys* that are only shifted, by fresh movements or by undoing.

    Args:
        session: A session in which the effects of the fresh ones are written.
        vessel: The vessel's id [-].
        epochs: Of her log, oldest first.
        deltas: What entries new in the log, of which no other entry speaks, add to each cell,
            and with the other sign what those had added that are undone now.
        keys: Cells whose part is merged with none and that nothing else touches. Those that
            nothing touched before are left to the fold.
        cut_offs: Of these cells; counts before one have no say any more.

    Returns:
        By cell its quantity, range and flags; what is in doubt there stays so.
    """
    found: dict[CellKey, Cell] = {}
    uncounted = [key for key in sorted(keys & deltas.keys())
                 if all(delta is not None for _, delta in deltas[key])]
    for some in chunks(uncounted, KEYS_AT_ONCE):
        counts = _counts(session, vessel, epochs, some, cut_offs)
        cells = dict(_cells(session, vessel, some))
        for key in some:
            if key in cells and all(comes_on_top(entry, counts.get(key, ()))
                                    for entry, _ in deltas[key]):
                found[key] = shifted(cells[key], sum(delta or 0 for _, delta in deltas[key]))
    return found


def taken_back(entries: Iterable[Entry]) -> dict[CellKey, list[tuple[Entry, int | None]]]:
    """Give what undoing these entries adds to each cell, None where it undoes a count."""
    found: dict[CellKey, list[tuple[Entry, int | None]]] = {}
    for entry in entries:
        for part, locker, lot, delta, _ in effects(entry):
            found.setdefault((part, locker, lot), []).append(
                (entry, None if delta is None else -delta))
    return found


def still_touched(session: Session, vessel: str, keys: Sequence[CellKey]) -> set[CellKey]:
    """Give those of these cells that something touches which was not undone."""
    return {tuple(row) for some in chunks(keys, KEYS_AT_ONCE) for row in session.execute(
        select(*map(col, _CELL)).where(
            col(CellRow.vessel) == vessel, are_among(session, _CELL, some),
            exists().where(
                col(Effect.vessel) == CellRow.vessel, col(Effect.part) == CellRow.part,
                col(Effect.locker) == CellRow.locker, col(Effect.lot) == CellRow.lot,
                ~exists().where(col(Settlement.vessel) == Effect.vessel,
                                col(Settlement.of) == Effect.change_id,
                                col(Settlement.kind) == "void"))))}


def shift_rows(session: Session, vessel: str, cells: Mapping[CellKey, Cell]) -> None:
    """Write what moved in these cells, which are there already."""
    update_all(session, CellRow, [
        {"vessel": vessel, "part": part, "locker": locker, "lot": lot, "quantity": cell.quantity,
         "low": cell.low, "high": cell.high, "flags": list(cell.flags)}
        for (part, locker, lot), cell in sorted(cells.items())],
        ("vessel", "part", "locker", "lot"))


def _counts(session: Session, vessel: str, epochs: Epochs, keys: list[CellKey],
            cut_offs: Mapping[CellKey, CutOff]) -> dict[CellKey, list[Entry]]:
    """Give every count of these cells behind their cut-offs, undone ones too."""
    found: dict[CellKey, list[Entry]] = {}
    for part, locker, lot, seq, raw in behind(
            session, vessel, keys, cut_offs,
            [*map(col, (Effect.part, Effect.locker, Effect.lot, LogEntry.seq, LogEntry.raw))],
            only_counts=True):
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
                are_among(session, _CELL, keys))):
        yield (part, locker, lot), Cell(*numbers)
