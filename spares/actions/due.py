"""Due: which services are due, coming, or have a history that nobody knows."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import day, hours
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.jobs import job_hazards, service_points
from spares.actions.trip.left_out import answered
from spares.actions.trip.request import lacks, on_gone, service_request
from spares.domain.aboard import Aboard, name_of
from spares.domain.trail import do_not_run
from spares.domain.tree import is_live

ORDER = ("overdue", "due", "history-unknown", "coming", "done", "not-wanted")


def due(ctx: Context, until: str | None = None) -> dict[str, Any]:
    """List the services by urgency; with *until*, those that come due by that day.

    Raises:
        InvalidInput: there is no such day.
    """
    last = day(until, "until") if until else None
    return ctx.remembered(f"due {last or ''}", lambda: _due(ctx, last))


def _due(ctx: Context, until: str | None) -> dict[str, Any]:
    aboard = ctx.aboard()
    request = {"today": ctx.today.isoformat(), "baseline_on": aboard.vessel.baseline_on or None,
               **service_request(aboard, ctx.today)}
    told, _, left = answered(request, lambda one: compute("service", one))
    states = {one["task"]: one for one in told["tasks"]}
    lines = []
    for service in aboard.all("service"):
        name = name_of("service", service)
        points = service_points(aboard, name)
        state = states.get(service.no) or {}
        gone = points and not any(is_live(aboard, aboard.get(one)) for one in points)
        wanted = not service.not_wanted and not gone and not on_gone(aboard, service)
        lacking = [one for one in (lacks(aboard, service), left.services.get(service.no))
                   if one and wanted]
        lines.append({
            "service": service.no, "what": service.what, "weight": service.weight,
            "machine": aboard.label(service.machine) if service.machine else None,
            "machine_name": getattr(aboard.get(service.machine), "name", None),
            "points": [aboard.label(one) for one in points],
            "do_not_run": do_not_run(aboard, service.machine),
            "state": state.get("state", "history-unknown") if wanted else "not-wanted",
            "due_on": state.get("due_on"), "due_at_hours": state.get("due_at_h"),
            "hours_left": state.get("hours_left"), "days_left": state.get("days_left"),
            "estimated": state.get("estimated", False), "last": _last(aboard, name),
            "from_baseline": wanted and state.get("from_baseline", False),
            "every_hours": hours(service.every_minutes), "every_months": service.every_months,
            "cautions": list(job_hazards(aboard, service, points).all),
            "remarks": [*state.get("remarks", []), *lacking]})
    if until is not None:
        lines = [one for one in lines if one["state"] in ("overdue", "due", "history-unknown")
                 or one["due_on"] is not None and one["due_on"] <= until]
    lines.sort(key=lambda one: (ORDER.index(one["state"]), one["due_on"] or "9999",
                                one["service"]))
    return {"today": ctx.today.isoformat(), "until": until,
            "baseline_on": aboard.vessel.baseline_on or None, "services": lines}


def _last(aboard: Aboard, service: str) -> dict[str, Any] | None:
    done = aboard.done_of.get(service)
    if not done:
        return None
    last = max(done, key=lambda one: (one.date, one.at))
    return {"date": last.date or None, "hours": hours(last.minutes)}
