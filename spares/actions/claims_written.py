"""What is written down of a fit point or a part can be read again when it is compared."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.fit import as_asked, as_offered, kind_at
from spares.actions.kind_sheets import sheets_here
from spares.domain.aboard import Aboard, Record
from spares.domain.identity import kind_of
from spares.errors import InvalidInput

_OF = {"requirement": "subject", "spec": "part"}


def check_claim(ctx: Context, kind: str, fields: Mapping[str, Any], record: Record | None) -> None:
    """Read a requirement or a spec as the fit check will.

    One value that cannot be read would stop every later verdict at that place.

    Args:
        ctx: Where it happens.
        kind: Kind of the document; of others nothing is asked [-].
        fields: What is written down now [-].
        record: The document as it was, where it is there already.

    Raises:
        InvalidInput: the sheet has no such line, or the value is none of its kind.
    """
    if kind not in _OF or fields.get("gone") or not {"claim", "attribute", _OF[kind]} & set(fields):
        return
    of, attribute, claim = (fields.get(name, getattr(record, name, None))
                            for name in (_OF[kind], "attribute", "claim"))
    sheets, found = sheets_here(ctx), _kind(ctx.aboard(), of) if of else None
    if not attribute or found not in sheets:
        return      # of a kind that nobody told, or whose sheet is not here
    if attribute not in sheets[found].attributes:
        raise InvalidInput.at("#/fields/attribute", f"the kind sheet {found!r} has no such line",
                              known=list(sheets[found].attributes))
    try:
        compute("fit", {"kind": found, "requires": [as_asked(attribute, claim)],
                        "offers": {attribute: as_offered(_one_of(claim))}}, sheets)
    except InvalidInput as err:
        told = (err.facts.get("errors") or [{"pointer": "", "detail": err.detail}])[0]
        raise InvalidInput.at(_where(told["pointer"]), told["detail"]) from err


def _kind(aboard: Aboard, of: str) -> str | None:
    return kind_at(aboard, of) if kind_of(of) == "point" else aboard.get(of).kind


def _one_of(claim: Mapping[str, Any] | None) -> dict[str, Any]:
    """Give a claim that the claim itself meets: of a range its lower end, else its upper one."""
    value = (claim or {}).get("value")
    if isinstance(value, Mapping) and {"min", "max"} & set(value):
        value = value.get("max") if value.get("min") is None else value["min"]
    return {**(claim or {}), "value": value}


def _where(pointer: str) -> str:
    """Point at the document's field where the computation points at its request."""
    steps = pointer.split("/")[1:]
    if steps[:1] == ["offers"]:
        return "#/fields/claim/value"
    return "/".join(("#/fields/claim", *steps[2:]))
