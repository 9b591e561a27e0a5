"""What was set of documents by who did not know that they had been taken off the books."""

from __future__ import annotations

from typing import TYPE_CHECKING

from spares.db.asking import ask, first_column, is_in, listed, reads_json
from spares.db.logbook import epochs
from spares.sync.change import read_envelope
from spares.sync.merge import read_document
from spares.sync.store import entries_of

if TYPE_CHECKING:
    from spares.db.asking import Reader

AT_ONCE = 500


def edited_while_gone(reader: Reader, vessel: str) -> dict[str, tuple[str, ...]]:
    """Give, by document that is off the books, the changes that its deletion had not seen."""
    read = reads_json(reader)
    gone = sorted({doc for doc, value in ask(
        reader, "SELECT doc, value FROM field_version WHERE vessel = :vessel "
        "AND field = 'gone' AND is_head", vessel=vessel) if read(value) is True})
    found: dict[str, tuple[str, ...]] = {}
    for start in range(0, len(gone), AT_ONCE):
        docs = gone[start:start + AT_ONCE]
        wrote = set(first_column(
            reader, "SELECT change_id FROM field_version WHERE vessel = :vessel "
            f"AND doc {is_in(reader, 'docs')}", vessel=vessel, docs=listed(docs)))
        rows = ask(reader, "SELECT seq, raw FROM log WHERE vessel = :vessel "
                   f"AND id {is_in(reader, 'ids')}", vessel=vessel, ids=listed(sorted(wrote)))
        entries = entries_of([(seq, read_envelope(raw)) for seq, raw in rows],
                             epochs(reader, vessel))
        by_doc: dict[str, list] = {doc: [] for doc in docs}
        for entry in entries:
            by_doc[entry.body["doc"]].append(entry)
        for doc, settings in by_doc.items():
            document = read_document(settings, doc)
            if document is not None and document.edited_while_gone:
                found[doc] = document.edited_while_gone
    return found
