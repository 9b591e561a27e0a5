"""The text that a part is found by: its name, maker, numbers, and what it fits."""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, insert, select, text
from sqlmodel import Session, col

from spares.db.projection.documents import DocumentProjection, touched_ids
from spares.db.rows import chunks
from spares.db.tables import DOCUMENT_TABLES, FieldVersion, Search
from spares.domain.identity import id_of, ref
from spares.domain.search_text import search_line
from spares.sync.change import Envelope

PART, NUMBER, LINK = (DOCUMENT_TABLES[kind] for kind in ("part", "number", "link"))
POINT, INNER, MACHINE = (DOCUMENT_TABLES[kind] for kind in ("point", "inner", "machine"))


class SearchProjection:
    """Writes anew the line of each part whose own or whose machine's words changed."""

    def __init__(self, session: Session, vessel: str, documents: DocumentProjection) -> None:
        self.session, self.vessel, self.documents = session, vessel, documents

    def add(self, envelope: Envelope, _seq: int) -> None:
        """Nothing of its own: what is touched is known from the documents."""

    def finish(self) -> None:
        for parts in chunks(sorted(self._parts()), 400):
            self._write(parts)

    def _parts(self) -> set[str]:
        """Give the ids of all parts whose words may have changed."""
        touched = touched_ids(self.documents, ("part", "number", "link", "point", "inner",
                                               "machine"))
        points = {ref("point", one) for one in touched["point"]}
        machines = [ref("machine", one) for one in touched["machine"]]
        points |= {ref("point", one) for one in self._ids(POINT, POINT.machine, machines)}
        inner = {ref("inner", one) for one in touched["inner"]}
        inner |= {one for one in self._values(POINT.template, POINT.id,
                                              sorted(id_of(point) for point in points)) if one}
        ends = [*sorted(points), *machines, *sorted(inner)]
        parts = set(touched["part"]) | {
            id_of(name) for name in self._values(LINK.part, LINK.to, ends) if name}
        # A link or number that was set to another part leaves its old part to be written anew.
        docs = [ref(kind, one) for kind in ("number", "link") for one in touched[kind]]
        for some in chunks(docs, 500):
            parts |= {id_of(value) for value in self.session.execute(
                select(col(FieldVersion.value)).where(
                    col(FieldVersion.vessel) == self.vessel, col(FieldVersion.field) == "part",
                    col(FieldVersion.doc).in_(some))).scalars() if value}
        return parts

    def _ids(self, table: Any, column: Any, among: list[str]) -> list[str]:
        return self._values(table.id, column, among)

    def _values(self, wanted: Any, column: Any, among: list[str]) -> list[str]:
        found: list[str] = []
        for some in chunks(among, 500):
            found += self.session.execute(select(wanted).where(
                wanted.class_.vessel == self.vessel, column.in_(some))).scalars()
        return found

    def _write(self, parts: list[str]) -> None:
        rows = self.session.execute(select(PART).where(PART.vessel == self.vessel,
                                                       col(PART.id).in_(parts),
                                                       col(PART.gone).is_(False))).scalars().all()
        numbers = self._by_part(NUMBER, parts)
        fits = self._fits(parts)
        old = self.session.execute(
            select(col(Search.id)).where(col(Search.vessel) == self.vessel,
                                         col(Search.part).in_(parts))).scalars().all()
        self._forget(list(old))
        lines = []
        for row in rows:
            own = [row.number, *(one.number for one in numbers.get(ref("part", row.id), ()))]
            sits, goes = fits.get(ref("part", row.id), ([], []))
            # What sits there stands before what only goes with it: it is wanted more often.
            words = " ".join(filter(None, (row.name, *sits, row.maker, row.no, row.use, *goes)))
            line = search_line(row.id, words, [one for one in own if one])
            lines.append({"part": row.id, "vessel": self.vessel, "body": " ".join(line.words),
                          "numbers": " ".join(line.numbers)})
        if lines:
            self.session.execute(insert(Search), lines)
            self._index(parts)

    def _by_part(self, table: Any, parts: list[str]) -> dict[str, list[Any]]:
        found: dict[str, list[Any]] = {}
        names = [ref("part", one) for one in parts]
        for row in self.session.execute(select(table).where(
                table.vessel == self.vessel, col(table.part).in_(names),
                col(table.gone).is_(False)).order_by(col(table.id))).scalars():
            found.setdefault(row.part, []).append(row)
        return found

    def _fits(self, parts: list[str]) -> dict[str, tuple[list[str], list[str]]]:
        """Give, by part, the words of where it sits and of what it only goes with."""
        links = self._by_part(LINK, parts)
        ends = sorted({link.to for some in links.values() for link in some if link.to})
        words: dict[str, list[list[str | None]]] = {}
        for row in self._rows(INNER, INNER.id, _ids(ends, "inner")):
            words.setdefault(ref("inner", row.id), []).append([row.name, None, None])
        inner = [one for one in ends if one.startswith("inner/")]
        points = [*self._rows(POINT, POINT.id, _ids(ends, "point")),
                  *self._rows(POINT, POINT.template, inner)]
        for row in points:
            for end in {ref("point", row.id), row.template or ""}:
                words.setdefault(end, []).append([row.name, row.no, row.machine])
        machines = {row.machine for row in points if row.machine}
        machines |= {one for one in ends if one.startswith("machine/")}
        names = {ref("machine", row.id): (row.no, row.name) for row in self._rows(
            MACHINE, MACHINE.id, [id_of(one) for one in sorted(machines)])}
        words |= {one: [[None, None, one]] for one in machines}
        found: dict[str, tuple[list[str], list[str]]] = {}
        for part, some in links.items():
            both = found.setdefault(part, ([], []))
            for link in some:
                for name, no, machine in words.get(link.to, [[None, None, None]]):
                    both[link.role == "goes-with"].extend(
                        filter(None, (name, *names.get(machine, ()), no, link.use)))
        return found

    def _rows(self, table: Any, column: Any, among: list[str]) -> list[Any]:
        rows: list[Any] = []
        for some in chunks(among, 500):
            rows += self.session.execute(select(table).where(
                table.vessel == self.vessel, column.in_(some)).order_by(table.id)).scalars()
        return rows

    def _forget(self, ids: list[int]) -> None:
        if ids and self._sqlite():
            self.session.execute(text("DELETE FROM search_words WHERE rowid = :id"),
                                 [{"id": one} for one in ids])
        if ids:
            self.session.execute(delete(Search).where(col(Search.id).in_(ids)))

    def _index(self, parts: list[str]) -> None:
        if self._sqlite():
            rows = self.session.execute(select(col(Search.id), col(Search.body)).where(
                col(Search.vessel) == self.vessel, col(Search.part).in_(parts))).all()
            self.session.execute(text("INSERT INTO search_words (rowid, body) VALUES (:id, :body)"),
                                 [{"id": one, "body": body} for one, body in rows])

    def _sqlite(self) -> bool:
        return self.session.get_bind().dialect.name == "sqlite"


def _ids(ends: list[str], kind: str) -> list[str]:
    return [id_of(one) for one in ends if one.startswith(kind + "/")]
