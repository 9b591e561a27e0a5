"""The trip plan: how well she is protected, what is done when, and what more money would buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable

from spares.paper.cells import framed, gap, heading, stop_lines, table, text
from spares.paper.hours_picture import HoursCurve, hours_pictures
from spares.paper.language import Words
from spares.paper.pages import Head, paper_pdf, room_mm
from spares.paper.trip_picture import CurvePoint, Doing, protection_plot, time_line
from spares.paper.trip_words import hundred_text


@dataclass(frozen=True, slots=True)
class Kits:
    """The kits against breakdown: from what is aboard to the one chosen, and the bound [1]."""

    curve: tuple[CurvePoint, ...]
    chosen: CurvePoint | None
    bound: float | None
    currency: str
    until: str | None = None        # harbour up to which the protection goes


@dataclass(frozen=True, slots=True)
class TripPlan:
    """What the paper shows of a plan; `protection` are sentences, the first the largest."""

    leave: date
    days: int
    protection: tuple[str, ...]
    running: tuple[tuple[str, str, str], ...]
    doings: tuple[Doing, ...]
    stops: tuple[tuple[int, str], ...] = ()
    kits: Kits | None = None
    remarks: tuple[str, ...] = ()
    hours: tuple[HoursCurve, ...] = ()
    stopped: tuple[tuple[str, str], ...] = ()       # machine, and why it must not run


def trip_plan_pdf(head: Head, plan: TripPlan, *, page: str = "A4") -> bytes:
    """Draw the plan of a trip with its pictures, each above the table of its numbers."""
    room, say = room_mm(page), head.say
    story: list[Flowable] = [text(head.note, 11), gap(2)] if head.note else []
    for machine, why in plan.stopped:
        story += [framed(stop_lines(say, machine, why), room, 3), gap(2)]
    for place, sentence in enumerate(plan.protection):
        story.append(text(sentence, 10 if place else 13, bold=not place))
    story += heading(say("trip.time_line"))
    if plan.doings:
        story += time_line(say, plan.doings, plan.leave, plan.days, plan.stops, room)
        story += [gap(1), text(say("trip.key"), 9), gap(2), _services(say, plan.doings, room)]
    else:
        story.append(text(say("trip.nothing_due")))
    if plan.kits and len(plan.kits.curve) > 1:
        story += _kits(say, plan.kits, room)
    if panels := hours_pictures(say, plan.hours, plan.leave, plan.days, room):
        story += [*heading(say("trip.hours")), *panels, gap(1),
                  text(say("trip.hours_key"), 9), gap(2), _due_hours(say, plan.hours, room)]
    if plan.running:
        story += heading(say("trip.running"))
        story.append(table(say.listed("trip.running_titles"), plan.running,
                           [room * 0.35, room * 0.15, room * 0.5]))
    story += [text(remark, 9) for remark in plan.remarks]
    return paper_pdf(head, story, page, plan)


def _services(say: Words, doings: Sequence[Doing], room: float) -> Flowable:
    ordered = sorted(doings, key=lambda one: (one.day is not None, one.on, one.machine,
                                              one.service))
    rows = [[one.machine, f"{one.service} {one.what}",
             say("trip.before") if one.day is None else say.day(one.on.isoformat()),
             say.word("due_kind", one.kind)] for one in ordered]
    return table(say.listed("trip.service_titles"), rows,
                 [room * 0.25, room * 0.38, room * 0.19, room * 0.18])


def _due_hours(say: Words, curves: Sequence[HoursCurve], room: float) -> Flowable:
    rows = [[curve.machine, due.service, f"{say.number(due.every_h)} h",
             ", ".join([*([say("trip.before")] if due.before else []),
                        *(f"{say.number(hours, 1)} h" for hours in due.at_h)])
             or say("trip.not_in_trip")] for curve in curves for due in curve.due]
    return table(say.listed("trip.due_titles"), rows,
                 [room * 0.3, room * 0.14, room * 0.14, room * 0.42])


def _kits(say: Words, kits: Kits, room: float) -> list[Flowable]:
    rows = [[say.decimal(f"{point.cost:.2f}"), hundred_text(say, point.protection)]
            for point in kits.curve]
    return [*heading(say("trip.protection")),
            protection_plot(say, kits.curve, kits.chosen, kits.bound, kits.currency, room), gap(1),
            text(say("trip.upright_until", until=kits.until) if kits.until
                 else say("trip.upright"), 9), gap(2),
            table([say("trip.cost", currency=kits.currency), say("trip.of_hundred")], rows,
                  [room * 0.2, room * 0.2])]
