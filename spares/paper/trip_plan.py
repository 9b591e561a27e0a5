"""The trip plan: how well she is protected, what is done when, and what more money would buy."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from reportlab.platypus import Flowable

from spares.domain.trip.words import of_hundred
from spares.paper.cells import framed, gap, heading, stop_lines, table, text
from spares.paper.dates import date_text
from spares.paper.hours_picture import HoursCurve, hours_pictures
from spares.paper.pages import Head, paper_pdf, room_mm
from spares.paper.trip_picture import KINDS, CurvePoint, Doing, protection_plot, time_line
from spares.units import format_number

KEY = ("Full square: in the trip. Thick frame: before leaving. Dotted: before leaving, history "
       "unknown. Double: due on arrival. A number: so many at once.")


HOURS_KEY = ("A ring: the service falls due at these hours of the machine, by its counter; where "
             "it has none, or nobody read it, from leaving on.")


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
    room = room_mm(page)
    story: list[Flowable] = [text(head.note, 11), gap(2)] if head.note else []
    for machine, why in plan.stopped:
        story += [framed(stop_lines(machine, why), room, 3), gap(2)]
    for place, sentence in enumerate(plan.protection):
        story.append(text(sentence, 10 if place else 13, bold=not place))
    story += heading("Services on the time line, by machine")
    if plan.doings:
        story += time_line(plan.doings, plan.leave, plan.days, plan.stops, room)
        story += [gap(1), text(KEY, 9), gap(2), _services(plan.doings, room)]
    else:
        story.append(text("No service falls due."))
    if plan.kits and len(plan.kits.curve) > 1:
        story += _kits(plan.kits, room)
    if panels := hours_pictures(plan.hours, plan.leave, plan.days, room):
        story += [*heading("Hours of the machines, and where services fall due"), *panels, gap(1),
                  text(HOURS_KEY, 9), gap(2), _due_hours(plan.hours, room)]
    if plan.running:
        story += heading("Running hours")
        story.append(table(["Machine", "Hours", "Worked out from"], plan.running,
                           [room * 0.35, room * 0.15, room * 0.5]))
    story += [text(remark, 9) for remark in plan.remarks]
    return paper_pdf(head, story, page, plan)


def _services(doings: Sequence[Doing], room: float) -> Flowable:
    ordered = sorted(doings, key=lambda one: (one.day is not None, one.on, one.machine,
                                              one.service))
    rows = [[one.machine, f"{one.service} {one.what}",
             "before leaving" if one.day is None else date_text(one.on.isoformat()),
             KINDS[one.kind]] for one in ordered]
    return table(["Machine", "Service", "When", "Why"], rows,
                 [room * 0.25, room * 0.38, room * 0.19, room * 0.18])


def _due_hours(curves: Sequence[HoursCurve], room: float) -> Flowable:
    rows = [[curve.machine, due.service, f"{format_number(due.every_h)} h",
             ", ".join([*(["before leaving"] if due.before else []),
                        *(f"{format_number(hours, 1)} h" for hours in due.at_h)])
             or "not in this trip"] for curve in curves for due in curve.due]
    return table(["Machine", "Service", "Every", "Due at"], rows,
                 [room * 0.3, room * 0.14, room * 0.14, room * 0.42])


def _kits(kits: Kits, room: float) -> list[Flowable]:
    rows = [[f"{point.cost:.2f}", of_hundred(point.protection)] for point in kits.curve]
    return [*heading("Protection against money"),
            protection_plot(kits.curve, kits.chosen, kits.bound, kits.currency, room), gap(1),
            text("Upright: of 100 trips, those that need nothing against breakdown"
                 f"{f' until {kits.until}' if kits.until else ''} that is not aboard. The ring is "
                 "the kit chosen; no kit of its price passes the dashes. Costs include what is "
                 "due.", 9), gap(2),
            table([f"Cost ({kits.currency})", "Of 100 trips"], rows, [room * 0.2, room * 0.2])]
