"""Fields that people set without knowing of each other: what each wrote, who, and when.

Both values stay until somebody sets the field anew: the door lets that stand on all of them.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spares.actions.amounts import hours, moment, money, plain
from spares.actions.context import Context
from spares.db.apart import Head, authors, heads_apart
from spares.domain.aboard import Aboard
from spares.domain.document_kinds import DOCUMENTS, Field
from spares.domain.identity import kind_of

#: By change, the number and the name of the device that made it.
Hands = dict[str, tuple[str, str]]


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
    return {doc: [{"field": name, "values": [written(aboard, doc, name, head, hands)
                                             for head in heads]}
                  for name, heads in sorted(fields.items())] for doc, fields in found.items()}


def written(aboard: Aboard, doc: str, field: str, head: Head, hands: Hands) -> dict[str, Any]:
    """Describe what one change wrote into a field: the value, whose hand, and when."""
    return {"value": head.value, **by_hand(head, hands),
            "text": _text(aboard, DOCUMENTS[kind_of(doc)].get(field), head.value)}


def by_hand(head: Head, hands: Hands) -> dict[str, Any]:
    """Say which change it was, when it holds (ISO, UTC), and from which device."""
    device, name = hands[head.change]
    return {"change": head.change, "at": moment(head.at), "device": device, "by": name or None}


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
