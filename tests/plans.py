"""Short ways to ask for a plan: a test names only what matters."""

from __future__ import annotations

import os
from typing import Any

from spares.actions.compute import compute

LONG = os.environ.get("SPARES_LONG") == "1"
TODAY, LEAVES = "2027-03-15", "2027-04-01"


def ask(
    *, days: int = 30, hours: dict[str, Any] | None = None, trip: dict[str, Any] | None = None,
    today: str = TODAY, **more: Any,
) -> dict[str, Any]:
    """Give a trip request: leaves 2027-04-01, level 0.95, ready at once, counters as they are."""
    voyage = {"departs_on": LEAVES, "days": days, "hours": hours or {}, "ready_days": 0,
              "protection": 0.95, "hours_before_departure": "none", **(trip or {})}
    machines = more.pop("machines", None) or [
        {"id": m} for m in dict.fromkeys([*voyage["hours"], *voyage.get("hours_per_day", {}), "m"])]
    return {"today": today, "trip": voyage, "machines": machines, **more}


def plan(**given: Any) -> dict[str, Any]:
    """Ask for a plan."""
    return compute("trip", ask(**given))


def task(every_h: Any = None, every_months: Any = None, used_h: Any = None, *,
         id: str = "t", machine: str = "m", **more: Any) -> dict[str, Any]:
    """Give a task."""
    return {"id": id, "machine": machine, "every_h": every_h, "every_months": every_months,
            "used_h": used_h, **more}


def line(answer: dict[str, Any], part: str = "p") -> dict[str, Any]:
    """Pick the line of a part."""
    return next(row for row in answer["lines"] if row["part"] == part)


def failure(**given: Any) -> dict[str, Any]:
    """Give a failure figure of part p on machine m."""
    return {"part": "p", "machine": "m", **given}
