"""Who took a thing off the books, and what others wrote of it without knowing.

Which changes these are, `spares/db/gone.py` finds by the pure rule of `spares/sync/merge.py`;
here they are looked up. Nothing is written.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping
from typing import TYPE_CHECKING, NamedTuple

from spares.db.apart import Head
from spares.db.asking import ask, is_in, listed, reads_json

if TYPE_CHECKING:
    from spares.db.asking import Reader


class WhileGone(NamedTuple):
    """The last deletion of a thing, and by field what its author had not seen, the oldest first."""

    gone: Head
    wrote: list[tuple[str, Head]]


def while_gone(reader: Reader, vessel: str, unseen: Mapping[str, Collection[str]],
               back: Mapping[str, Collection[str]]) -> dict[str, WhileGone]:
    """Give, by document, its deletion and what else was written.

    Args:
        reader: What is asked.
        vessel: The vessel's id [-].
        unseen: By document that is off the books, the changes that its deletion had not seen.
        back: By such a document, the changes that brought it back beside its deletion.
    """
    docs = sorted({*unseen, *back})
    if not docs:
        return {}
    read, found = reads_json(reader), {}
    for doc, field, change, at, value in ask(
            reader, "SELECT doc, field, change_id, at, value FROM field_version "
            f"WHERE vessel = :vessel AND doc {is_in(reader, 'docs')} ORDER BY at, field",
            vessel=vessel, docs=listed(docs)):
        head = Head(change, at, read(value))
        wrote = found[doc].wrote if doc in found else []
        if field == "gone" and head.value is True:
            found[doc] = WhileGone(head, wrote)
            continue
        found.setdefault(doc, WhileGone(head, wrote))
        if change in (back if field == "gone" else unseen).get(doc, ()):
            wrote.append((field, head))
    return found
