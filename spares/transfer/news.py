"""Of what files say, only what the vessel does not say already."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting


def news(drafts: Iterable[Draft], aboard: Aboard) -> Iterator[Draft]:
    """Leave out fields that stand so already; bring back what is gone and named again.

    A count of what is there already, what sits there already, a reading or a service that
    is recorded already say nothing new. Other changes pass: the door knows them by their ids.
    """
    there = _known(aboard)
    for draft in drafts:
        if draft.kind != "set":
            if _said(draft) not in there:
                yield draft
            continue
        doc, fields = draft.body["doc"], draft.body["f"]
        record = aboard.get(doc)
        if record is not None:
            fields = {k: v for k, v in fields.items() if getattr(record, k, None) != v}
            fields |= {"gone": False} if record.gone else {}
        if fields:
            yield setting(doc, **fields)


def _said(draft: Draft) -> tuple[Any, ...]:
    """Give what a happening says, in a form that can be looked up."""
    body, kind = draft.body, draft.kind
    if kind == "counted":
        return kind, body["part"], body["locker"], body["lot"], body["q"]
    if kind == "exchange":
        return kind, body.get("point"), body["part"], body.get("date", "")
    if kind == "reading":
        return kind, body.get("machine"), body.get("date"), body.get("minutes")
    if kind == "service" and not body["lines"]:
        return kind, body.get("service", ""), body.get("date", ""), body.get("minutes")
    return kind, draft.id


def _known(aboard: Aboard) -> set[tuple[Any, ...]]:
    found: set[tuple[Any, ...]] = {
        ("counted", one.part, one.locker, one.lot, one.quantity)
        for one in aboard.lying if one.counted and one.low == one.high}
    found |= {("exchange", one.point, one.part, one.date) for one in aboard.fitted}
    found |= {("reading", one.machine, one.date, one.minutes) for one in aboard.readings}
    found |= {("service", one.service, one.date, one.minutes) for one in aboard.done}
    return found
