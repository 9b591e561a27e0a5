"""What is known of a vessel at a glance."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import moment
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.needs import needs, next_trip, plan_fault
from spares.actions.nightly import age
from spares.actions.stranded import stranded
from spares.actions.unsettled import how_many
from spares.db.logbook import log_end
from spares.domain.aboard import Aboard, name_of

#: How the description of an invented vessel ends.
DEMO_MARK = "(invented)"


def summary(ctx: Context) -> dict[str, Any]:
    """Say at a glance what is aboard and what asks to be looked at."""
    aboard, wanted, fault = ctx.aboard(), needs(ctx), plan_fault(ctx)
    trip = next_trip(aboard, ctx.today.isoformat())
    services = due(ctx)["services"]
    with ctx.store.looking() as reader:
        seq, last_at = log_end(reader, ctx.vessel)
    return {
        "vessel": {"mark": aboard.vessel.mark, "name": aboard.vessel.name,
                   "about": aboard.vessel.about, "base": aboard.vessel.base},
        "today": ctx.today.isoformat(), "demo": _is_demo(aboard),
        "counts": {kind: len(aboard.all(kind))
                   for kind in ("machine", "point", "part", "locker", "service", "trip")},
        "short": None if fault else sum(1 for one in wanted.values() if one.usable < one.need),
        "plan_fault": fault,
        "due": _how_many(services), "stranded": len(stranded(ctx)["stranded"]),
        "not_counted": sum(1 for one in aboard.lying if not one.counted),
        "in_doubt": sum(1 for one in aboard.lying if one.doubts or one.rivals or one.quantity < 0),
        "unsettled": how_many(ctx),
        "next_trip": None if trip is None else {
            "no": trip.no, "name": trip.name, "departs_on": trip.departs_on,
            "id": name_of("trip", trip)},
        "backup": age(ctx.store, ctx.vessel, seq, ctx.today),
        "not_writing": ctx.store.stopped[0] if ctx.store.stopped else None,
        "changes": seq, "last_change": moment(last_at) if last_at else None}


def _is_demo(aboard: Aboard) -> bool:
    """Say whether this is the invented vessel: every page marks her, lest she be taken for real."""
    return (aboard.vessel.about or "").rstrip().endswith(DEMO_MARK)


def _how_many(services: list[dict[str, Any]]) -> dict[str, int]:
    found: dict[str, int] = {}
    for one in services:
        found[one["state"]] = found.get(one["state"], 0) + 1
    return found
