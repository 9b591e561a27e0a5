"""Lay-up list: where water is let out or treated; backwards for spring."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.lay_up import lay_up as lay_up_now
from spares.actions.papers.frame import head, locker_name, maker_number, titled
from spares.paper.lay_up_list import DrainPoint, lay_up_list_pdf
from spares.paper.lists import LockerName, StowedLine


def lay_up(ctx: Context, *, page: str = "A4", spring: bool = False) -> bytes:
    """Print the drain points with boxes to tick, and what lies aboard for the work."""
    found = lay_up_now(ctx)
    silent = [f"{one['machine']} {one['name']}" for one in found["says_nothing"]]
    title = "Fitting-out list" if spring else "Lay-up list"
    return lay_up_list_pdf(head(ctx, title), drain_points(ctx), spring=spring, page=page,
                           stock=[line for one in found["parts"] for line in _stock(one)],
                           says_nothing=silent)


def drain_points(ctx: Context, *, named: bool = True) -> tuple[DrainPoint, ...]:
    """Give the drain points as papers carry them, machines by name or by number alone.

    Plug sizes are not recorded.
    """
    found = lay_up_now(ctx)["points"]
    machines = [f"{one['machine']} {one['machine_name']}" if named else one["machine"]
                for one in found]
    return tuple(DrainPoint(_upper(one["point"]),
                            ", ".join(filter(None, [machine, one["place"]])),
                            treated=one["treated"], note=one["how"] or "")
                 for one, machine in zip(found, machines, strict=True))


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _stock(one: dict[str, Any]) -> list[StowedLine]:
    if not one["where"]:
        return [StowedLine(LockerName("", ""), titled(one), 0, maker_number(one), one["unit"])]
    return [StowedLine(locker_name(place), titled(one),
                       place["quantity"] if place["counted"] else None, maker_number(one),
                       one["unit"], use_by=place["expires"]) for place in one["where"]]
