"""Of what files say, only what the vessel does not say already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting


def news(drafts: Iterable[Draft], aboard: Aboard) -> Iterator[Draft]:
    """Leave out fields that stand so already; bring back what is gone and named again.

    Changes other than settings pass: the door knows by their ids whether they are new.
    """
    for draft in drafts:
        if draft.kind != "set":
            yield draft
            continue
        doc, fields = draft.body["doc"], draft.body["f"]
        record = aboard.get(doc)
        if record is not None:
            fields = {k: v for k, v in fields.items() if getattr(record, k, None) != v}
            fields |= {"gone": False} if record.gone else {}
        if fields:
            yield setting(doc, **fields)
