"""Lay-up: what is drained or treated before frost, place by place, and what lies aboard for it."""

from __future__ import annotations

from datetime import date
from typing import Any

from spares.actions.amounts import plain
from spares.actions.claims import caution_lines
from spares.actions.context import Context
from spares.actions.gauges import book_limits
from spares.actions.lines import in_walking_order, part_head, where
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import LAYING_UP, hazard_words, known_and_other
from spares.domain.drains import (
    FITTING_OUT,
    LAY_UP,
    STATES,
    Drain,
    drain_points,
    last_record,
    left_open,
    state_of,
)
from spares.domain.first_run import first_run
from spares.domain.stowage import usable_on

USE = "lay-up"
STOP = ("stop values",)
NO_LIMITS = {"low": None, "high": None}


def lay_up(ctx: Context, *, spring: bool = False) -> dict[str, Any]:
    """List the drain points in walking order, with what was recorded at each; backwards in spring.

    Machines of which nobody wrote down a point are named, because nobody may read silence as
    nothing to do. In spring it is said what the autumn left, and how each machine first runs.
    """
    aboard, turn = ctx.aboard(), FITTING_OUT if spring else LAY_UP
    points = [_point(aboard, one, turn, ctx.today) for one in drains(aboard)]
    named = {one["machine"] for one in points}
    states = [one["state"] for one in points]
    return {
        "spring": spring, "turn": turn, "today": ctx.today.isoformat(),
        "points": points[::-1] if spring else points,
        "progress": {"points": len(points), **{state: states.count(state) for state in STATES}},
        "says_nothing": [{"machine": one.no, "name": one.name, "place": one.place}
                         for one in _by_place(aboard) if one.no not in named],
        "parts": [_part(aboard, name, ctx.today.isoformat()) for name in _for_lay_up(aboard)],
        "first_runs": _first_runs(aboard) if spring else [],
        "cautions": caution_lines(lay_up_hazards(aboard))}


def lay_up_hazards(aboard: Aboard) -> list[str]:
    """Give the hazards of the work: those of every lay-up, and of the machines it touches."""
    machines = {one.machine.id: one.machine for one in drains(aboard)}
    return [*LAYING_UP, *(word for machine in machines.values()
                        for word in hazard_words(machine.hazards))]


def drains(aboard: Aboard) -> list[Drain]:
    """Give the drain points; worked out once for each state of the vessel."""
    if "drains" not in aboard.worked_out:
        aboard.worked_out["drains"] = drain_points(aboard)
    found: list[Drain] = aboard.worked_out["drains"]
    return found


def _by_place(aboard: Aboard) -> list[Record]:
    return sorted(aboard.all("machine"), key=lambda one: (one.place or "~", one.no or ""))


def _point(aboard: Aboard, one: Drain, turn: str, today: date) -> dict[str, Any]:
    records = [record for record in aboard.all("drain-record") if one.doc == record.point] \
        if one.doc else []
    now = last_record(records, turn, today)
    autumn = last_record(records, LAY_UP, today) if turn == FITTING_OUT else None
    return {"no": one.no or None, "doc": one.doc or None,
            "point": one.place or one.machine.name, "named": one.place,
            "treated": one.treated, "how": one.how or None, "plug": one.plug or None,
            "cock": one.cock or None, "walk": one.walk,
            "machine": one.machine.no, "machine_name": one.machine.name,
            "place": one.machine.place, "state": state_of(now, turn),
            "left_open": list(left_open(now, turn)), "record": _record(now),
            "autumn": _record(autumn)}


def _record(one: Record | None) -> dict[str, Any] | None:
    if one is None:
        return None
    flags = ("seen_to_run", "plug_in", "seal_renewed", "no_leak")
    return {"on": one.on, "done": one.done, "cock": one.cock, "by": one.by, "note": one.note,
            "protects_to_c": None if one.protects_to_c is None else float(one.protects_to_c),
            **{name: bool(getattr(one, name)) for name in flags}}


def _first_runs(aboard: Aboard) -> list[dict[str, Any]]:
    """Give the first-run cards of the machines that run, with the places to look for leaks."""
    found = []
    for machine in _by_place(aboard):
        card = first_run(hazard_words(machine.hazards))
        if card is not None:
            leaks = [one.place for one in drains(aboard)
                     if one.machine.id == machine.id and one.place and not one.treated]
            known, other = known_and_other(hazard_words(machine.hazards))
            found.append({
                "machine": machine.no, "name": machine.name, "place": machine.place,
                "minutes": list(card.minutes), "stop": card.stop, "last": card.last or None,
                "readings": [{"what": what, "unit": unit,
                              **(book_limits(aboard, name_of("machine", machine), what, unit)
                                 or NO_LIMITS)} for what, unit in card.readings],
                "leaks": leaks, "hazards": list(known), "besides": list(other),
                "cautions": caution_lines([*known, *other, *STOP])})
    return found


def _for_lay_up(aboard: Aboard) -> list[str]:
    used = {one.part for one in aboard.all("link") if one.use == USE}
    used |= {name_of("part", one) for one in aboard.all("part") if one.use == USE}
    return sorted((one for one in used if aboard.get(one) is not None), key=aboard.label)


def _part(aboard: Aboard, name: str, today: str) -> dict[str, Any]:
    part: Record = aboard.get(name)
    lying = [one for one in aboard.lying_of.get(name, []) if one.is_listed]
    head = part_head(aboard, name)
    return {"part": head["no"], "name": head["name"], "maker": head["maker"],
            "number": head["number"], "unit": part.unit or "pcs",
            "usable": plain(sum(one.quantity for one in lying if usable_on(aboard, one, today))),
            "where": [where(aboard, one) for one in in_walking_order(aboard, lying)]}
