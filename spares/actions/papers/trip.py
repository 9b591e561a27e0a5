"""Trip plan on paper: the answer about a trip, with its pictures."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta
from typing import Any

from spares.actions.context import Context
from spares.actions.papers.frame import head
from spares.actions.papers.protection import protection_words
from spares.actions.papers.shopping import trip_or_next, trip_words
from spares.actions.trip.restock import restock
from spares.paper.hours_picture import Due, HoursCurve
from spares.paper.language import ENGLISH, Words
from spares.paper.trip_picture import CurvePoint, Doing
from spares.paper.trip_plan import Kits, TripPlan, trip_plan_pdf


def trip_plan(ctx: Context, *, page: str = "A4", trip: str | None = None,
              say: Words = ENGLISH) -> bytes:
    """Print the plan of a trip; of the next one where none is named."""
    answer = restock(ctx, trip_or_next(ctx, trip))
    leave, days = date.fromisoformat(answer["trip"]["departs_on"]), answer["trip"]["days"]
    plan = TripPlan(
        leave, days, tuple(protection_words(answer, say)), tuple(_running(say, ctx, answer)),
        tuple(_doings(ctx, answer, leave)),
        tuple((stop["day"], stop.get("name") or "") for stop in answer["stops"]),
        _kits(answer.get("kit")), tuple(map(say.sentence, answer["remarks"])),
        tuple(_hours(answer)),
        tuple((f"{one['machine']} {one['name']}",
               say("trip.stopped", trails=", ".join(one["trails"])))
              for one in answer["do_not_run"]))
    title = say("title.trip", trip=answer["trip"]["name"])
    return trip_plan_pdf(head(ctx, say, title, trip_words(say, answer["trip"])), plan, page=page)


def _running(say: Words, ctx: Context, answer: dict[str, Any]) -> Iterator[tuple[str, str, str]]:
    names = _machine_names(ctx)
    why = {one["machine"]: say.told(one.get("why") or "")
           for one in answer.get("running") or ()}
    for machine, hours in answer["hours"].items():
        if float(hours):
            yield (names.get(machine, machine), say.number(hours), why.get(machine, ""))


def _hours(answer: dict[str, Any]) -> Iterator[HoursCurve]:
    for one in answer.get("curves") or ():
        yield HoursCurve(
            one["name"] or one["machine"], bool(one["counter"]),
            tuple((point["day"], float(point["hours"])) for point in one["points"]),
            tuple(Due(due["service"], float(due["every_h"]), tuple(map(float, due["at_h"])),
                      bool(due["before"]))
                  for due in one["services"]))


def _doings(ctx: Context, answer: dict[str, Any], leave: date) -> Iterator[Doing]:
    names, unknown = _machine_names(ctx), set(answer["history_unknown"])
    for one in answer["services"]:
        machine, service = names.get(one["machine"], one["machine"]), one["service"]
        what = one["what"] or ""
        if one["before"]:
            yield Doing(machine, service, what, None, leave,
                        "unknown" if service in unknown else "before")
        for place, day in enumerate(one["days"], start=1):
            last = one["due_on_arrival"] and place == len(one["days"])
            yield Doing(machine, service, what, day, leave + timedelta(days=day),
                        "arrival" if last else "trip")


def _kits(kit: dict[str, Any] | None) -> Kits | None:
    if not kit or not kit.get("curve"):
        return None
    spent = kit.get("spent") or {}
    chosen = CurvePoint(float(spent["cost"]), kit["reached"]) \
        if spent.get("cost") is not None else None
    return Kits(tuple(CurvePoint(float(one["cost"] or 0), one["protection"])
                      for one in kit["curve"]), chosen, kit.get("upper_bound"),
                spent.get("currency") or "", kit["until"])


def _machine_names(ctx: Context) -> dict[str, str]:
    return {one.no: (one.name or one.no).split(",")[0] for one in ctx.aboard().all("machine")}
