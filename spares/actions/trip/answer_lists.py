"""Lists beside a plan's lines: what lies ashore, is lent, out of date, out of reach, stranded."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.context import Context
from spares.actions.lines import part_head
from spares.actions.stranded import stranded
from spares.domain.aboard import Aboard, Lying
from spares.domain.stowage import (
    condition_of,
    counts_as_aboard,
    earliest_expiry,
    expires_of,
    is_lent,
    is_reachable,
)
from spares.domain.tree import GOOD_PROOF, live_points, points_taking


def lists_of(ctx: Context, aboard: Aboard, back: str, wanted: set[str]) -> dict[str, Any]:
    """Give the lists; *back* is the day of the return, *wanted* the parts with a need."""
    return {
        "stranded": _stranded(ctx),
        "out_of_date": _out_of_date(aboard, ctx.today.isoformat(), back),
        "not_reachable": [_place(aboard, one) for one in aboard.lying
                          if _not_reachable(aboard, one, wanted)],
        "ashore": [_place(aboard, one) for one in aboard.lying
                   if one.quantity and not counts_as_aboard(aboard, one)
                   and not is_lent(aboard, one)],
        "lent": [_place(aboard, one) for one in aboard.lying
                 if one.quantity and is_lent(aboard, one)]}


def _stranded(ctx: Context) -> list[dict[str, Any]]:
    return [{"part": one["part"], "name": one["name"], "quantity": one["quantity"]}
            for one in stranded(ctx)["stranded"]]


def _out_of_date(aboard: Aboard, today: str, back: str) -> dict[str, list[dict[str, Any]]]:
    found: dict[str, list[dict[str, Any]]] = {"today": [], "before_return": []}
    for one in aboard.lying:
        expires = expires_of(aboard, one)
        if not one.quantity or not expires or not counts_as_aboard(aboard, one):
            continue
        day = earliest_expiry(expires)
        if day < back:
            found["today" if day < today else "before_return"].append(
                {**_place(aboard, one), "expires": expires})
    return found


def _not_reachable(aboard: Aboard, one: Lying, wanted: set[str]) -> bool:
    """Say whether pieces that may be wanted lie where nobody gets at them under way."""
    if not one.quantity or is_reachable(aboard, one.locker) or not counts_as_aboard(aboard, one):
        return False
    sits = [point for point, proof in points_taking(aboard, one.part).items()
            if proof in GOOD_PROOF]
    return one.part in wanted or bool(set(sits) & live_points(aboard))


def _place(aboard: Aboard, one: Lying) -> dict[str, Any]:
    return {"part": aboard.label(one.part), "name": part_head(aboard, one.part)["name"],
            "quantity": plain(one.quantity), "locker": aboard.label(one.locker),
            "condition": condition_of(aboard, one)}
