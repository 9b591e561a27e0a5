"""Whether a request that writes documents came before."""

from __future__ import annotations

from spares.actions.context import Context
from spares.db.history import body_of, entry
from spares.domain.identity import kind_of
from spares.errors import Conflict


def written_before(ctx: Context, ident: str, *docs_or_kinds: str) -> str | None:
    """Give the document that the change with this id set, None if there is no such change.

    Args:
        ctx: Where it happens.
        ident: The change's id [-].
        docs_or_kinds: Documents, or kinds of document, that it may have set [-].

    Raises:
        Conflict: the id was used before for something else.
    """
    with ctx.store.reading() as session:
        row = entry(session, ctx.vessel, ident)
        if row is None:
            return None
        body = body_of(row.raw)
    doc = str(body.get("doc") or "") if row.kind == "set" else ""
    if not doc or not {doc, kind_of(doc)} & set(docs_or_kinds):
        raise Conflict("this change's id was used before for another change", stop="id_reused",
                       change=ident)
    return doc
