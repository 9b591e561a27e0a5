"""What was set of documents by who did not know that they had been taken off the books."""

from __future__ import annotations

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.epochs import epochs
from spares.db.history import versions_of
from spares.db.rows import chunks, is_among, read_envelope
from spares.db.tables import FieldVersion, LogEntry
from spares.sync.merge import read_document
from spares.sync.store import entries_of

AT_ONCE = 500


def edited_while_gone(session: Session, vessel: str) -> dict[str, tuple[str, ...]]:
    """Give, by document that is off the books, the changes that its deletion had not seen."""
    gone = sorted({doc for doc, value in session.execute(
        select(col(FieldVersion.doc), col(FieldVersion.value)).where(
            col(FieldVersion.vessel) == vessel, col(FieldVersion.field) == "gone",
            col(FieldVersion.is_head))) if value is True})
    found: dict[str, tuple[str, ...]] = {}
    for docs in chunks(gone, AT_ONCE):
        wrote = {one.change_id for versions in versions_of(session, vessel, docs).values()
                 for one in versions}
        rows = session.execute(select(col(LogEntry.seq), col(LogEntry.raw)).where(
            col(LogEntry.vessel) == vessel, is_among(session, LogEntry.id, sorted(wrote))))
        entries = entries_of([(seq, read_envelope(raw)) for seq, raw in rows],
                             epochs(session, vessel))
        by_doc: dict[str, list] = {doc: [] for doc in docs}
        for entry in entries:
            by_doc[entry.body["doc"]].append(entry)
        for doc, settings in by_doc.items():
            document = read_document(settings, doc)
            if document is not None and document.edited_while_gone:
                found[doc] = document.edited_while_gone
    return found
