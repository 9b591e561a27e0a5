"""How many lie where: the cells that the new changes touch are folded anew.

Which changes touch which cell is kept in `effect`, so that one movement folds
one cell and not the whole history. A full fold gives the same (a law of ours).
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import delete, select
from sqlmodel import Session, col

from spares.db.logbook import epochs
from spares.db.projection.growth import KEYS_AT_ONCE, grown, shift_rows
from spares.db.rows import are_among, chunks, insert_all, is_among
from spares.db.tables import CellRow, Effect, LogEntry, Sameness, Settlement
from spares.domain.stock import Cell, Entry, effects, fold
from spares.sync.change import Envelope, read_envelope
from spares.sync.store import entry_of

Key = tuple[str, str, str]
ABOUT_OTHERS = ("void", "settle", "restamp")


class StockProjection:
    """Follows every change that moves or counts something, or speaks of one that does."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self.epochs = epochs(session, vessel)
        self.fresh: dict[str, Entry] = {}
        self.deltas: dict[Key, list[tuple[Entry, int | None]]] = {}
        self.effects: list[dict[str, Any]] = []
        self.sames: list[dict[str, Any]] = []
        self.spoken_of: set[str] = set()

    def add(self, envelope: Envelope, seq: int) -> None:
        entry = entry_of(envelope, seq, self.epochs)
        body = envelope.body
        if envelope.kind in ABOUT_OTHERS:
            self.spoken_of.add(body["of"])
        elif envelope.kind == "same":
            self.sames.append({"vessel": self.vessel, "change_id": envelope.id,
                               "keep": body["keep"], "drop": body["drop"], "at": envelope.at})
        found = effects(entry)
        if found or envelope.kind in ABOUT_OTHERS or envelope.kind == "same":
            self.fresh[envelope.id] = entry
        for one in found:
            self.deltas.setdefault((one.part, one.locker, one.lot), []).append((entry, one.delta))
        self.effects += [{"vessel": self.vessel, "change_id": envelope.id, "part": one.part,
                          "locker": one.locker, "lot": one.lot,
                          "is_count": one.count is not None} for one in found]

    def look_again(self, changes: Iterable[str]) -> None:
        """Fold the cells of these changes anew: more is known of what their authors had seen."""
        self.spoken_of |= set(changes)

    def finish(self) -> None:
        if not self.fresh and not self.spoken_of:
            return
        insert_all(self.session, Effect, self.effects)
        insert_all(self.session, Sameness, self.sames)
        sames = self.session.execute(
            select(Sameness).where(col(Sameness.vessel) == self.vessel)).scalars().all()
        group = _Groups(sames)
        spoken_of = self._keys_of(self._all_spoken_of())
        keys = self.deltas.keys() | spoken_of
        fresh = {row["change_id"] for row in self.sames}
        keys |= self._keys_of_parts({part for row in sames for part in (row.keep, row.drop)
                                     if row.change_id in fresh | self.spoken_of}, group)
        touched = sorted({(member, locker, lot) for part, locker, lot in keys
                          for member in group.of(part)})
        plain = {key for key in self.deltas.keys() - spoken_of if key[0] not in group.members}
        known = grown(self.session, self.vessel, self.epochs, self.deltas, plain)
        shift_rows(self.session, self.vessel, known)
        same_entries = self._entries({row.change_id for row in sames})
        for some in chunks([key for key in touched if key not in known], KEYS_AT_ONCE):
            self._refold(some, same_entries)

    def entries_of(self, key: Key) -> list[Entry]:
        """Give what concerns a cell, under any of the names merged into its part."""
        sames = self.session.execute(
            select(Sameness).where(col(Sameness.vessel) == self.vessel)).scalars().all()
        keys = [(part, *key[1:]) for part in sorted(_Groups(sames).of(key[0]))]
        return self._concerning(keys, self._entries({row.change_id for row in sames}))

    def _concerning(self, keys: list[Key], sames: list[Entry]) -> list[Entry]:
        ids = set(self._ids_touching(keys))
        about = self._ids_about(ids | {one.id for one in sames})
        return [*self._entries(ids | about), *sames]

    def _refold(self, keys: list[Key], sames: list[Entry]) -> None:
        self._write(keys, fold(self._concerning(keys, sames)))

    def _write(self, keys: list[Key], cells: Mapping[Key, Cell]) -> None:
        self.session.execute(delete(CellRow).where(
            col(CellRow.vessel) == self.vessel,
            are_among(self.session, (CellRow.part, CellRow.locker, CellRow.lot), keys)))
        rows = [{"vessel": self.vessel, "part": key[0], "locker": key[1], "lot": key[2],
                 "quantity": cell.quantity, "low": cell.low, "high": cell.high,
                 "doubts": list(cell.doubts), "rivals": list(cell.rivals),
                 "flags": list(cell.flags), "counted_at": ""}
                for key in keys if (cell := cells.get(key)) is not None]
        insert_all(self.session, CellRow, rows)

    def _all_spoken_of(self) -> set[str]:
        """Give the changes of which others speak now, or spoke before they came."""
        named = self.spoken_of | self._settlements("of", "of", self.fresh.keys())
        # An answer that is taken back opens the doubt about its movement again.
        return named | self._settlements("of", "change_id", named)

    def _keys_of(self, changes: Iterable[str]) -> set[Key]:
        keys: set[Key] = set()
        for some in chunks(sorted(changes), 500):
            keys |= {tuple(row) for row in self.session.execute(
                select(Effect.part, Effect.locker, Effect.lot).where(
                    col(Effect.vessel) == self.vessel,
                    is_among(self.session, Effect.change_id, some)))}
        return keys

    def _keys_of_parts(self, parts: set[str], group: _Groups) -> set[Key]:
        wanted = sorted({member for part in parts for member in group.of(part)})
        keys: set[Key] = set()
        for some in chunks(wanted, 500):
            keys |= {tuple(row) for row in self.session.execute(
                select(Effect.part, Effect.locker, Effect.lot).where(
                    col(Effect.vessel) == self.vessel, is_among(self.session, Effect.part, some)))}
        return keys

    def _ids_touching(self, keys: list[Key]) -> list[str]:
        return list(self.session.execute(select(col(Effect.change_id)).where(
            col(Effect.vessel) == self.vessel,
            are_among(self.session, (Effect.part, Effect.locker, Effect.lot), keys))).scalars())

    def _ids_about(self, ids: set[str]) -> set[str]:
        """Give the voids and settles that speak of these changes, and those that speak of them."""
        found = self._settlements("change_id", "of", ids)
        return found | self._settlements("change_id", "of", found)

    def _settlements(self, wanted: str, by: str, ids: Iterable[str]) -> set[str]:
        """Give one column of the voids, settles and restamps whose column *by* is among ids."""
        found: set[str] = set()
        for some in chunks(sorted(ids), 500):
            found |= set(self.session.execute(select(getattr(Settlement, wanted)).where(
                col(Settlement.vessel) == self.vessel,
                is_among(self.session, getattr(Settlement, by), some))).scalars())
        return found

    def _entries(self, ids: set[str]) -> list[Entry]:
        entries = [self.fresh[one] for one in ids if one in self.fresh]
        for some in chunks(sorted(ids - self.fresh.keys()), 500):
            entries += [entry_of(read_envelope(raw), seq, self.epochs)
                        for seq, raw in self.session.execute(
                            select(col(LogEntry.seq), col(LogEntry.raw)).where(
                                col(LogEntry.vessel) == self.vessel,
                                is_among(self.session, LogEntry.id, some)))]
        return entries


class _Groups:
    """Which part records are one part, by what was said so far."""

    def __init__(self, sames: Iterable[Sameness]) -> None:
        self.members: dict[str, set[str]] = {}
        for row in sames:
            joined = self.of(row.keep) | self.of(row.drop)
            for part in joined:
                self.members[part] = joined

    def of(self, part: str) -> set[str]:
        return self.members.get(part, {part})
