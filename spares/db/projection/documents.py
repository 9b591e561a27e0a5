"""Documents: every version of every field, and a row with the values shown.

The value shown is the version with the greatest stamp; a version that another
names as its base has been replaced. Two that nobody replaced stay side by side.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.rows import chunks, insert_all, is_among, update_all
from spares.db.tables import DOCUMENT_TABLES, FieldVersion
from spares.domain.documents import DOCUMENTS
from spares.domain.identity import id_of, kind_of
from spares.sync.change import Envelope


class DocumentProjection:
    """Follows `set` changes."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self.versions: list[dict[str, Any]] = []
        self.touched: dict[str, None] = {}

    def add(self, envelope: Envelope, _seq: int) -> None:
        if envelope.kind != "set":
            return
        body = envelope.body
        self.touched[body["doc"]] = None
        for name, value in body["f"].items():
            self.versions.append({
                "vessel": self.vessel, "doc": body["doc"], "field": name,
                "change_id": envelope.id, "at": envelope.at, "is_head": True, "value": value,
                "base": body["base"].get(name, [])})

    def finish(self) -> None:
        insert_all(self.session, FieldVersion, self.versions)
        for docs in chunks(list(self.touched), 500):
            self._show(docs)

    def show_again(self, docs: list[str]) -> None:
        """Show documents of which a version holds from another time than it was taken at."""
        self.touched |= dict.fromkeys(docs)
        self._show(docs)

    def _show(self, docs: list[str]) -> None:
        rows = self.session.execute(
            select(FieldVersion).where(
                col(FieldVersion.vessel) == self.vessel,
                is_among(self.session, FieldVersion.doc, docs))).scalars().all()
        by_field: dict[tuple[str, str], list[FieldVersion]] = {}
        for row in rows:
            by_field.setdefault((row.doc, row.field), []).append(row)
        shown: dict[str, dict[str, Any]] = {doc: {} for doc in docs}
        for (doc, name), versions in by_field.items():
            shown[doc][name] = self._settle(versions)
        self.session.flush()
        for kind, of_kind in _by_kind(shown).items():
            self._write(kind, of_kind)

    def _settle(self, versions: list[FieldVersion]) -> Any:
        """Mark the versions that were replaced; give the value of the latest."""
        replaced = {one for version in versions for one in version.base}
        for version in versions:
            head = version.change_id not in replaced
            if version.is_head != head:
                version.is_head = head
        return max(versions, key=lambda version: version.at).value

    def _write(self, kind: str, shown: dict[str, dict[str, Any]]) -> None:
        table = DOCUMENT_TABLES[kind]
        there = set(self.session.execute(
            select(table.id).where(
                table.vessel == self.vessel,
                is_among(self.session, table.id, [id_of(doc) for doc in shown]))).scalars())
        rows = [{"id": id_of(doc), "vessel": self.vessel, "gone": values.get("gone") is True,
                 **{name: _column(values.get(name)) for name in DOCUMENTS[kind]}}
                for doc, values in shown.items()]
        if fresh := [row for row in rows if row["id"] not in there]:
            insert_all(self.session, table, fresh)
        update_all(self.session, table, [row for row in rows if row["id"] in there],
                   ("vessel", "id"))


def _column(value: Any) -> Any:
    """An emptied field and a field never set read the same: not known."""
    return None if value == "" else value


def _by_kind(shown: dict[str, dict[str, Any]]) -> dict[str, dict[str, dict[str, Any]]]:
    kinds: dict[str, dict[str, dict[str, Any]]] = {}
    for doc, values in shown.items():
        if kind_of(doc) in DOCUMENT_TABLES:
            kinds.setdefault(kind_of(doc), {})[doc] = values
    return kinds


def touched_ids(projection: DocumentProjection, kinds: Iterable[str]) -> dict[str, list[str]]:
    """Give the ids of the touched documents of these kinds, by kind."""
    found: dict[str, list[str]] = {kind: [] for kind in kinds}
    for doc in projection.touched:
        if kind_of(doc) in found:
            found[kind_of(doc)].append(id_of(doc))
    return found
