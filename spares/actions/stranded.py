"""Stranded: what lies aboard and fits nothing as she is fitted today."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, left_over_of, part_head, where
from spares.domain.tree import fits_not_recorded, stranded_parts


def stranded(ctx: Context) -> dict[str, Any]:
    """List stranded parts with what they belonged to, and those whose fits nobody wrote down."""
    aboard = ctx.aboard()
    lines = []
    for one in sorted(stranded_parts(aboard), key=lambda one: aboard.label(one.part)):
        lying = [lot for lot in aboard.lying_of.get(one.part, []) if lot.quantity]
        of = part_head(aboard, one.of_part) if one.of_part else None
        lines.append({
            "part": aboard.label(one.part), "name": part_head(aboard, one.part)["name"],
            "quantity": plain(sum(lot.quantity for lot in lying)),
            "where": [where(aboard, lot) for lot in in_walking_order(aboard, lying)],
            "belongs_to": aboard.label(one.point) if one.point else None,
            "taken_out": one.taken_out or None,
            "left_over": left_over_of(aboard.get(one.part)),
            "of": {"part": of["no"], "name": of["name"]} if of else None})
    return {"stranded": [line for line in lines if line["quantity"]],
            "none_left": [line["part"] for line in lines if not line["quantity"]],
            "fits_not_recorded": [
                {"part": aboard.label(name), "name": part_head(aboard, name)["name"]}
                for name in fits_not_recorded(aboard)]}
