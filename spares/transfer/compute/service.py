"""What is due, from a request as `service_shape` loads it."""

from __future__ import annotations

from typing import Any

from spares.domain.service import TaskDue, due_tasks
from spares.domain.trip import Trip, TripRequest
from spares.domain.trip.check import check
from spares.transfer.compute.built import (
    fit_point_of,
    machine_of,
    readings_of,
    records_of,
    task_of,
)
from spares.transfer.compute.figures import hours, iso


def answer(loaded: dict[str, Any]) -> dict[str, Any]:
    """Give the state of every task.

    Raises:
        InvalidInput: a field that makes no sense.
    """
    if not loaded["fit_points"]:    # without the places, none of them has retired
        loaded = {**loaded, "tasks": [{**t, "fit_point": None} for t in loaded["tasks"]]}
    asked = TripRequest(
        loaded["today"], Trip(loaded["today"], 0), tuple(map(machine_of, loaded["machines"])),
        tuple(map(fit_point_of, loaded["fit_points"])), tuple(map(task_of, loaded["tasks"])),
        records_of(loaded["records"]), readings_of(loaded["readings"]))
    check(asked)
    found = due_tasks(asked.today, asked.machines, asked.tasks, asked.records, asked.readings,
                      asked.fit_points, loaded["baseline_on"])
    return {"tasks": [_row(due) for due in found]}


def _row(due: TaskDue) -> dict[str, Any]:
    return {"task": due.task, "state": due.state, "due_on": iso(due.due_on),
            "due_at_h": hours(due.due_at_min), "hours_left": hours(due.left_min),
            "days_left": due.days_left, "estimated": due.estimated,
            "remarks": list(due.remarks),
            **({"from_baseline": True} if due.from_baseline else {})}
