"""Lay-up: what is drained or treated before frost, place by place, and what lies aboard for it."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.claims import caution_lines
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.lay_up import water_points
from spares.domain.stowage import usable_on
from spares.paper.lay_up_list import HAZARDS

USE = "lay-up"


def lay_up(ctx: Context, *, spring: bool = False) -> dict[str, Any]:
    """List the drain points that the notes on machines name; backwards for spring.

    Machines that stand in the same place come together. Those whose notes say nothing of
    lay-up are named, because nobody may read silence as nothing to do.
    """
    aboard = ctx.aboard()
    machines = sorted(aboard.all("machine"), key=lambda one: (one.place or "~", one.no or ""))
    points = [_point(machine, one) for machine in machines for one in water_points(machine.note)]
    return {
        "spring": spring, "points": points[::-1] if spring else points,
        "says_nothing": [{"machine": one.no, "name": one.name, "place": one.place}
                         for one in machines if not water_points(one.note)],
        "parts": [_part(aboard, name, ctx.today.isoformat()) for name in _for_lay_up(aboard)],
        "cautions": caution_lines(HAZARDS)}


def _point(machine: Record, one: Any) -> dict[str, Any]:
    return {"point": one.place or machine.name, "treated": one.treated, "how": one.how or None,
            "machine": machine.no, "machine_name": machine.name, "place": machine.place}


def _for_lay_up(aboard: Aboard) -> list[str]:
    used = {one.part for one in aboard.all("link") if one.use == USE}
    used |= {name_of("part", one) for one in aboard.all("part") if one.use == USE}
    return sorted((one for one in used if aboard.get(one) is not None), key=aboard.label)


def _part(aboard: Aboard, name: str, today: str) -> dict[str, Any]:
    part: Record = aboard.get(name)
    lying = [one for one in aboard.lying_of.get(name, []) if one.quantity or not one.counted]
    head = part_head(aboard, name)
    return {"part": head["no"], "name": head["name"], "maker": head["maker"],
            "number": head["number"], "unit": part.unit or "pcs",
            "usable": plain(sum(one.quantity for one in lying if usable_on(aboard, one, today))),
            "where": [where(aboard, one) for one in in_walking_order(aboard, lying)]}
