"""The smaller stamp holds of a change that was accepted on both sides of a restore.

The log keeps its rows as they were sealed; a restamp row says which stamp holds. Here
the tables that carry a stamp follow it. (The fold of counts reads restamps itself.)
"""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import select, update
from sqlmodel import Session, col

from spares.db.projection.documents import DocumentProjection
from spares.db.rows import chunks, is_among
from spares.db.tables import (
    FieldVersion,
    FitCheck,
    Fitting,
    LogEntry,
    Reading,
    Sameness,
    ServiceRecord,
    Settlement,
)
from spares.sync.change import Envelope

#: The table that carries the stamp of a change, by its kind.
STAMPED: dict[str, Any] = {"set": FieldVersion, "reading": Reading, "service": ServiceRecord,
                           "exchange": Fitting, "fit-check": FitCheck, "same": Sameness}


class RestampProjection:
    """Follows restamp rows, and changes that come after the row that restamps them."""

    def __init__(self, session: Session, vessel: str, documents: DocumentProjection) -> None:
        self.session, self.vessel, self.documents = session, vessel, documents
        self.ids: dict[str, None] = {}

    def add(self, envelope: Envelope, _seq: int) -> None:
        self.ids[envelope.body["of"] if envelope.kind == "restamp" else envelope.id] = None

    def finish(self) -> None:
        for some in chunks(list(self.ids), 500):
            for ident, at in self._stamps_of(some).items():
                self._hold(ident, at)

    def _stamps_of(self, ids: list[str]) -> dict[str, str]:
        """Give the smallest stamp that a restamp row gives each of these changes."""
        found: dict[str, str] = {}
        for raw in self.session.execute(
                select(col(LogEntry.raw)).join(Settlement, (
                    (col(Settlement.vessel) == LogEntry.vessel)
                    & (col(Settlement.change_id) == LogEntry.id)))
                .where(col(LogEntry.vessel) == self.vessel, col(Settlement.kind) == "restamp",
                       is_among(self.session, Settlement.of, ids))).scalars():
            body = json.loads(raw)["body"]
            found[body["of"]] = min(body["at"], found.get(body["of"], body["at"]))
        return found

    def _hold(self, ident: str, at: str) -> None:
        """Give a change's rows the stamp that holds; the change itself may be still to come."""
        found = self.session.execute(select(col(LogEntry.kind), col(LogEntry.raw)).where(
            col(LogEntry.vessel) == self.vessel, col(LogEntry.id) == ident)).first()
        if found is None or found[0] not in STAMPED:
            return
        table = STAMPED[found[0]]
        changed = update(table).where(table.vessel == self.vessel, table.change_id == ident,
                                      table.at > at).values(at=at)
        if table is not FieldVersion:
            self.session.execute(changed)
            return
        doc = json.loads(found[1])["body"]["doc"]
        self.session.execute(changed.where(table.doc == doc))
        self.documents.show_again([doc])
