"""A batch turned out bad: where its pieces lie, and where one of them was fitted."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.db.history import exchanges_from
from spares.domain.aboard import Aboard, name_of
from spares.errors import InvalidInput


def batch(ctx: Context, mark: str) -> dict[str, Any]:
    """Look for the mark of a batch, whatever its case.

    Raises:
        InvalidInput: no mark was given.
    """
    asked = " ".join((mark or "").split())
    if not asked:
        raise InvalidInput.at("#/mark", "the mark of the batch is missing")
    aboard = ctx.aboard()
    lots = lots_of_batch(aboard, asked)
    lying = [one for one in aboard.lying if one.lot in lots and one.is_listed]
    return {"mark": asked,
            "lots": [{"lot": lot, "batch": aboard.get(lot).batch,
                      **_part(aboard, aboard.get(lot).part)} for lot in lots],
            "where": [{**_part(aboard, one.part), **where(aboard, one)}
                      for one in in_walking_order(aboard, lying)],
            "fitted": _fitted(ctx, aboard, lots)}


def lots_of_batch(aboard: Aboard, asked: str) -> list[str]:
    """Name the lots that bear a batch mark, whatever its case."""
    return [name_of("lot", one) for one in aboard.all("lot")
            if one.batch and one.batch.strip().casefold() == asked.casefold()]


def _part(aboard: Aboard, name: str) -> dict[str, Any]:
    head = part_head(aboard, name)
    return {"part": head["no"], "part_name": head["name"]}


def _fitted(ctx: Context, aboard: Aboard, lots: list[str]) -> list[dict[str, Any]]:
    """Give the fit points into which a piece of these lots went, and whether it sits there."""
    with ctx.store.looking() as reader:
        changes = exchanges_from(reader, ctx.vessel, lots)
    found = []
    for point, all_here in aboard.fitted_at.items():
        for one in all_here:
            if one.change in changes:
                head = aboard.get(point)
                found.append({"point": aboard.label(point), "name": head.name if head else None,
                              "on": one.date or None, "still": one is all_here[-1],
                              **_part(aboard, one.part)})
    return sorted(found, key=lambda one: (not one["still"], one["point"]))
