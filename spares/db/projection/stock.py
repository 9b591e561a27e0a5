"""How many lie where: the cells that the new changes touch are folded anew.

Which changes touch which cell is kept in `effect`, so that one movement folds
one cell and not the whole history, and of a cell that was counted only what lies
behind its cut-off. A full fold gives the same (a law of ours).
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from typing import Any

from sqlalchemy import delete, select
from sqlmodel import Session, col

from spares.db.logbook import epochs
from spares.db.projection.cut_offs import behind, read_cut_offs, write_cut_offs
from spares.db.projection.growth import KEYS_AT_ONCE, grown, shift_rows, still_touched, taken_back
from spares.db.projection.merged import Groups
from spares.db.rows import are_among, chunks, insert_all, is_among
from spares.db.tables import CellRow, Effect, LogEntry, Sameness, Settlement
from spares.domain.book import one_per_id
from spares.domain.cut_off import CutOff, Row, cut_off, is_behind
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
        self.voided: set[str] = set()
        self.spoken_of: set[str] = set()
        self.cut_offs: dict[Key, CutOff] = {}

    def add(self, envelope: Envelope, seq: int) -> None:
        entry = entry_of(envelope, seq, self.epochs)
        body = envelope.body
        if envelope.kind in ABOUT_OTHERS:
            (self.voided if envelope.kind == "void" else self.spoken_of).add(body["of"])
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
                          "is_count": one.count is not None, "seq": seq} for one in found]

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
        group = Groups(sames)
        others = self._spoken_of_otherwise()
        # Undoing what lies before a cut-off changes nothing behind it: no cell is unsure by that.
        voided, unsure = self._keys_of(self.voided), self._keys_of(others)
        fresh = {row["change_id"] for row in self.sames}
        unsure |= self._keys_of_parts(
            {part for row in sames for part in (row.keep, row.drop)
             if row.change_id in fresh | others | self.voided}, group)
        touched = sorted({(member, locker, lot)
                          for part, locker, lot in self.deltas.keys() | voided | unsure
                          for member in group.of(part)})
        self.cut_offs = read_cut_offs(self.session, self.vessel, touched)
        known = self._shifted({key for key in self.deltas.keys() | voided
                               if key not in unsure and key[0] not in group.members})
        left = [key for key in touched if key not in known]
        short = [key for key in left if key not in unsure and self._are_counted_behind(key)]
        for some in chunks(short, KEYS_AT_ONCE):
            known |= self._refold_behind(some)
        same_entries = self._entries({row.change_id for row in sames})
        for some in chunks([key for key in left if key not in known], KEYS_AT_ONCE):
            self._refold(some, same_entries, group)

    def _shifted(self, keys: set[Key]) -> dict[Key, Cell]:
        """Shift those of these cells that need not be folded."""
        shifts = dict(self.deltas)
        if self.voided:
            again = self._settlements("of", "of", self.voided, but=self.fresh.keys())
            keys -= self._keys_of(again)
            undone = taken_back(self._entries(self.voided))
            uncounted = (keys & undone.keys()) - self.cut_offs.keys()
            keys -= uncounted - still_touched(self.session, self.vessel, sorted(uncounted))
            for key, some in undone.items():
                shifts[key] = [*shifts.get(key, ()), *some]
        known = grown(self.session, self.vessel, self.epochs, shifts, keys, self.cut_offs)
        shift_rows(self.session, self.vessel, known)
        return known

    def entries_of(self, key: Key) -> list[Entry]:
        """Give what concerns a cell, under any of the names merged into its part."""
        sames = self.session.execute(
            select(Sameness).where(col(Sameness.vessel) == self.vessel)).scalars().all()
        keys = [(part, *key[1:]) for part in sorted(Groups(sames).of(key[0]))]
        return self._concerning(keys, self._entries({row.change_id for row in sames}))

    def _concerning(self, keys: list[Key], sames: list[Entry]) -> list[Entry]:
        ids = set(self._ids_touching(keys))
        about = self._ids_about(ids | {one.id for one in sames})
        return [*self._entries(ids | about), *sames]

    def _are_counted_behind(self, key: Key) -> bool:
        """Say whether a cell has a cut-off, and all who counted it now had seen the log so far."""
        cut = self.cut_offs.get(key)
        return cut is not None and all(is_behind(entry, cut, self.epochs)
                                       for entry, delta in self.deltas.get(key, ())
                                       if delta is None)

    def _refold_behind(self, keys: list[Key]) -> dict[Key, Cell]:
        """Fold cells from what lies behind their cut-offs, where that is enough."""
        ids = {ident for ident, in behind(self.session, self.vessel, keys, self.cut_offs,
                                          [col(Effect.change_id)])}
        entries = self._entries(ids | self._ids_about(ids))
        found = {key: cut for key, cut in self._cut_offs_of(keys, entries, self.cut_offs).items()
                 if cut is not None}
        cells = fold(entries)
        self._write(list(found), cells)
        write_cut_offs(self.session, self.vessel, self.cut_offs, found)
        return {key: cells[key] for key in found}

    def _refold(self, keys: list[Key], sames: list[Entry], group: Groups) -> None:
        entries = self._concerning(keys, sames)
        self._write(keys, fold(entries))
        write_cut_offs(self.session, self.vessel, self.cut_offs, dict.fromkeys(keys)
                       | self._cut_offs_of([key for key in keys if key[0] not in group.members],
                                           entries, {}))

    def _cut_offs_of(self, keys: Sequence[Key], entries: Iterable[Entry],
                     before: Mapping[Key, CutOff]) -> dict[Key, CutOff | None]:
        """Find the cut-offs of cells of unmerged parts by what concerns them behind *before*."""
        rows: dict[Key, list[Row]] = {key: [] for key in keys}
        counts: dict[Key, set[str]] = {}
        epoch = self.epochs[-1][0]
        places = {entry.id: entry.pos[epoch] for entry in entries}
        joined = one_per_id(entries)
        undone = {entry.body["of"] for entry in joined if entry.kind == "void"}
        answers = {(entry.body["of"], entry.body["count"]) for entry in joined
                   if entry.kind == "settle" and entry.id not in undone}
        for entry in joined:
            for one in effects(entry):
                key = one.part, one.locker, one.lot
                if key not in rows or key in before and places[entry.id] <= before[key].seq:
                    continue
                rows[key].append(Row(places[entry.id], entry))
                if one.count is not None and entry.id not in undone:
                    counts.setdefault(key, set()).add(entry.id)
        displaced = {entry.body["of"] for entry in joined if entry.kind == "restamp" and any(
            place > places.get(entry.body["of"], 0)
            for place in entry.body.get("pos", {}).values())}
        return {key: cut_off(rows[key], counts.get(key, ()), answers, self.epochs,
                             before.get(key), displaced) for key in keys}

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

    def _spoken_of_otherwise(self) -> set[str]:
        """Give the changes of which more is said than that they are undone now."""
        named = self.spoken_of | self._settlements("of", "of", self.fresh.keys(),
                                                   but=self.fresh.keys())
        # An answer that is taken back opens the doubt about its movement again.
        return named | self._settlements("of", "change_id", named | self.voided)

    def _keys_of(self, changes: Iterable[str]) -> set[Key]:
        keys: set[Key] = set()
        for some in chunks(sorted(changes), 500):
            keys |= {tuple(row) for row in self.session.execute(
                select(Effect.part, Effect.locker, Effect.lot).where(
                    col(Effect.vessel) == self.vessel,
                    is_among(self.session, Effect.change_id, some)))}
        return keys

    def _keys_of_parts(self, parts: set[str], group: Groups) -> set[Key]:
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

    def _settlements(self, wanted: str, by: str, ids: Iterable[str],
                     but: Collection[str] = ()) -> set[str]:
        """Give one column of the voids, settles and restamps whose column *by* is among ids.

        Those whose own ids are among *but* are left out.
        """
        found: set[str] = set()
        for some in chunks(sorted(ids), 500):
            found |= {value for ident, value in self.session.execute(
                select(Settlement.change_id, getattr(Settlement, wanted)).where(
                    col(Settlement.vessel) == self.vessel,
                    is_among(self.session, getattr(Settlement, by), some))) if ident not in but}
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
