"""Lay-up list: where water is let out or treated; backwards for spring."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.lay_up import lay_up as lay_up_now
from spares.actions.lay_up import lay_up_hazards
from spares.actions.papers.frame import head, locker_name, maker_number, titled
from spares.domain.gauges import limits_text
from spares.paper.dates import date_text
from spares.paper.first_run_card import FirstRunCard
from spares.paper.lay_up_list import DrainPoint, lay_up_list_pdf
from spares.paper.lists import LockerName, StowedLine


def lay_up(ctx: Context, *, page: str = "A4", spring: bool = False) -> bytes:
    """Print the drain points with boxes to tick, and what lies aboard for the work."""
    found = lay_up_now(ctx, spring=spring)
    silent = [f"{one['machine']} {one['name']}" for one in found["says_nothing"]]
    title = "Fitting-out list" if spring else "Lay-up list"
    points = drain_points(ctx, spring=spring)
    return lay_up_list_pdf(head(ctx, title), points, spring=spring, page=page,
                           first_runs=[_first_run(one) for one in found["first_runs"]],
                           stock=[line for one in found["parts"] for line in _stock(one)],
                           says_nothing=silent, hazards=lay_up_hazards(ctx.aboard()))


def drain_points(ctx: Context, *, named: bool = True,
                 spring: bool = False) -> tuple[DrainPoint, ...]:
    """Give the drain points in walking order, machines by name or by number alone.

    In spring with what the autumn left.
    """
    found = lay_up_now(ctx, spring=spring)["points"]
    if spring:
        found = found[::-1]     # the paper turns them round itself
    machines = [f"{one['machine']} {one['machine_name']}" if named else one["machine"]
                for one in found]
    return tuple(DrainPoint(_upper(one["point"]),
                            ", ".join(filter(None, [machine, one["place"]])),
                            one["plug"] or "", one["treated"], one["how"] or "",
                        recorded_words(one))
                 for one, machine in zip(found, machines, strict=True))


def recorded_words(point: dict[str, Any]) -> str:
    """Say what was recorded at a point this turn, and in spring what the autumn left."""
    now, autumn = point["record"], point["autumn"]
    return ". ".join(filter(None, [
        _record_words(now) if now else "", f"Autumn: {_record_words(autumn)}" if autumn else ""]))


def _record_words(one: dict[str, Any]) -> str:
    done = {"drained": "drained" + (", seen to run" if one["seen_to_run"] else ""),
            "treated": "treated", "not-done": "not done"}.get(one["done"] or "", "")
    closed = [word for key, word in (("plug_in", "plug in"), ("seal_renewed", "seal renewed"),
                                     ("no_leak", "no leak")) if one[key]]
    strength = one["protects_to_c"]
    return ", ".join(filter(None, [
        date_text(one["on"]), done, *closed,
        f"tested down to {strength:g} °C" if strength is not None else "",
        f"cock {one['cock']}" if one["cock"] else "", one["by"] or "", one["note"] or ""]))


def _first_run(one: dict[str, Any]) -> FirstRunCard:
    return FirstRunCard(
        f"{one['machine']} {one['name']}", tuple(one["hazards"]), tuple(one["minutes"]),
        tuple((line["what"], line["unit"], limits_text(line)) for line in one["readings"]),
        tuple(one["leaks"]),
        one["last"] or "", tuple(one["besides"]))


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _stock(one: dict[str, Any]) -> list[StowedLine]:
    if not one["where"]:
        return [StowedLine(LockerName("", ""), titled(one), 0, maker_number(one), one["unit"])]
    return [StowedLine(locker_name(place), titled(one),
                       place["quantity"] if place["counted"] else None, maker_number(one),
                       one["unit"], use_by=place["expires"]) for place in one["where"]]
