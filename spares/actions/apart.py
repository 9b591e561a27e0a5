"""Fields that people set without knowing of each other: what each wrote, who, and when.

Both values stay until somebody sets the field anew: the door lets that stand on all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spares.actions.amounts import hours, moment, money, plain
from spares.actions.context import Context
from spares.db.apart import authors, heads_apart
from spares.domain.aboard import Aboard
from spares.domain.document_kinds import DOCUMENTS, Field
from spares.domain.identity import kind_of


def apart(ctx: Context, names: Sequence[str]) -> dict[str, list[dict[str, Any]]]:
    """List, by document, the fields that stand apart; what stands together is left out.

    Args:
        ctx: Where it happens.
        names: The documents' names [-].

    Returns:
        Of each field the values in the order of their stamps: as stored, and as text
        (None where it was emptied), with the change, its time (ISO, UTC), the device and
        the name of that device (None at the server itself).
    """
    with ctx.store.looking() as reader:
        found = heads_apart(reader, ctx.vessel, names)
        if not found:
            return {}
        hands = authors(reader, ctx.vessel, [head.change for fields in found.values()
                                             for heads in fields.values() for head in heads])
    aboard = ctx.aboard()
    return {doc: [{"field": name, "values": [
        {"change": head.change, "value": head.value, "at": moment(head.at),
         "text": _text(aboard, DOCUMENTS[kind_of(doc)].get(name), head.value),
         "device": hands[head.change][0], "by": hands[head.change][1] or None}
        for head in heads]} for name, heads in sorted(fields.items())]
        for doc, fields in found.items()}


def _text(aboard: Aboard, spec: Field | None, value: Any) -> str | None:
    """Write a stored value as people read it; the screens say yes and no in their language."""
    if value is None or value == "":
        return None
    if isinstance(value, bool):
        return "yes" if value else "no"
    if spec is not None and spec.type == "ref":
        return aboard.label(value)
    if spec is not None and spec.type == "minutes":
        return f"{hours(value):g} h"
    if spec is not None and spec.type == "q":
        return str(plain(value))
    if spec is not None and spec.type == "money":
        return " ".join((money(value) or {}).values())
    return _plainly(value)


def _plainly(value: Any) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {_plainly(one)}" for name, one in sorted(value.items())
                         if one is not None)
    if isinstance(value, list):
        return "; ".join(map(_plainly, value))
    return str(value)
