"""The tables that are made from the log, kept in step and made anew.

Each projection takes the envelopes of one transaction (`add`) and then writes
what follows from them (`finish`). What they write depends only on the set of
envelopes, not on their order, so a rebuilt table equals the live one.
"""

from __future__ import annotations

from sqlmodel import Session

from spares.db.projection.documents import DocumentProjection
from spares.db.projection.records import RecordProjection
from spares.db.projection.restamps import RestampProjection
from spares.db.projection.search import SearchProjection
from spares.db.projection.stock import StockProjection
from spares.sync.change import Envelope


class Projector:
    """All projections of one vessel, for the envelopes of one transaction."""

    def __init__(self, session: Session, vessel: str) -> None:
        documents = DocumentProjection(session, vessel)
        # Restamps after all that write rows with a stamp.
        self.parts = (documents, RecordProjection(session, vessel),
                      StockProjection(session, vessel),
                      RestampProjection(session, vessel, documents),
                      SearchProjection(session, vessel, documents))

    def add(self, envelope: Envelope, seq: int) -> None:
        """Note what the envelope in row *seq* of the log touches."""
        for part in self.parts:
            part.add(envelope, seq)

    def finish(self) -> None:
        """Write all that follows from the envelopes that were added."""
        for part in self.parts:
            part.finish()
