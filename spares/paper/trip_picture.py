"""Pictures of a trip for paper: the time line of services, and protection against money.

One ink; shapes and dashes tell things apart, so that they survive a copier.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportlab.graphics.shapes import Circle, Drawing, Group, Line, Rect, String
from reportlab.lib.colors import black, white

from spares.paper.language import Words
from spares.paper.lettering import BOLD, PLAIN, load_fonts, readable
from spares.paper.points import POINTS_PER_MM

_LANE_PT, _HEAD_PT, _FRONT_PT, _MARK_PT = 26.0, 34.0, 34.0, 8.0
_NEAR_PT, _LANES = 10.0, 12
_PLOT_PT, _LEFT_PT, _FOOT_PT = 150.0, 40.0, 34.0
Place = Callable[[int | None], float]


@dataclass(frozen=True, slots=True)
class Doing:
    """A service at one time: `day` counts from leaving, None is before leaving.

    `kind` is trip, before, unknown or arrival.
    """

    machine: str
    service: str
    what: str
    day: int | None
    on: date
    kind: str


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """A kit: what it costs, and what it protects [1]."""

    cost: float
    protection: float


def time_line(say: Words, doings: Sequence[Doing], leave: date, days: int,
              stops: Sequence[tuple[int, str]], width_mm: float) -> list[Drawing]:
    """Draw one lane a machine with its services as squares on their days.

    A picture holds twelve lanes at most, so that each finds room on a page.

    Args:
        say: The words of the paper.
        doings: What is done, in any order.
        leave: The day of leaving.
        days: Length of the trip [day].
        stops: Day from leaving [day] and name of each supply harbour.
        width_mm: Room on the page [mm].
    """
    load_fonts()
    every = sorted({one.machine for one in doings})
    return [_lanes(say, doings, every[at:at + _LANES], leave, days, stops, width_mm)
            for at in range(0, len(every), _LANES)]


def _lanes(say: Words, doings: Sequence[Doing], machines: Sequence[str], leave: date, days: int,
           stops: Sequence[tuple[int, str]], width_mm: float) -> Drawing:
    width = width_mm * POINTS_PER_MM
    height = _HEAD_PT + _LANE_PT * len(machines) + 8
    drawing = Drawing(width, height)
    scale = (width - _FRONT_PT - 12) / max(days, 1)

    def place(day: int | None) -> float:
        return _FRONT_PT / 2 if day is None else _FRONT_PT + day * scale

    _frame(say, drawing, place, leave, days, stops, height)
    for lane, machine in enumerate(machines):
        level = height - _HEAD_PT - lane * _LANE_PT - 20
        drawing.add(Line(4, level, place(days), level, strokeWidth=0.6))
        _words(drawing, place(0) + 4, level + 8, machine, 8)
        own = sorted((one for one in doings if one.machine == machine),
                     key=lambda one: -1 if one.day is None else one.day)
        for x, group in _grouped(own, place):
            drawing.add(_mark(x, level, group))
    return drawing


def protection_plot(say: Words, curve: Sequence[CurvePoint], chosen: CurvePoint | None,
                    bound: float | None, unit: str, width_mm: float) -> Drawing:
    """Draw protection against money as stairs; a ring is the kit chosen, dashes its bound.

    Args:
        say: The words of the paper.
        curve: The kits on the way, dearer to the right; at least one.
        chosen: The kit that was chosen.
        bound: What no kit of that price can pass [1].
        unit: The currency.
        width_mm: Room on the page [mm].
    """
    load_fonts()
    width = min(width_mm, 120) * POINTS_PER_MM
    drawing = Drawing(width, _PLOT_PT)
    least = min(point.cost for point in curve)
    most = max(point.cost for point in [*curve, *([chosen] if chosen else [])])
    low = max(0.0, int(curve[0].protection * 20) / 20)

    def at(cost: float, level: float) -> tuple[float, float]:
        return (_LEFT_PT + (cost - least) / ((most - least) or 1) * (width - _LEFT_PT - 16),
                _FOOT_PT + (level - low) / ((1 - low) or 1) * (_PLOT_PT - _FOOT_PT - 10))

    left, foot = at(least, low)
    drawing.add(Line(left, foot, width, foot, strokeWidth=1))
    for step in range(5):
        level = low + (1 - low) * step / 4
        y = at(least, level)[1]
        drawing.add(Line(left, y, width, y, strokeWidth=0.3, strokeDashArray=[1, 3]))
        _words(drawing, left - 4, y - 3, say.number(round(level * 100, 1)), 8, anchor="end")
    for cost in sorted({least, (least + most) / 2, most}):
        _words(drawing, at(cost, low)[0], foot - 12, say.number(round(cost)), 8,
               anchor="middle")
    _words(drawing, width, 4, unit, 8, anchor="end")
    _stairs(drawing, curve, at)
    if chosen is not None:
        x, y = at(chosen.cost, chosen.protection)
        drawing.add(Circle(x, y, 5, strokeWidth=1.8, fillColor=None))
        if bound is not None:
            y = at(chosen.cost, bound)[1]
            drawing.add(Line(x - 9, y, x + 9, y, strokeWidth=1.4, strokeDashArray=[3, 2]))
    return drawing


def _stairs(drawing: Drawing, curve: Sequence[CurvePoint],
            at: Callable[[float, float], tuple[float, float]]) -> None:
    for before, after in zip(curve, curve[1:], strict=False):
        (x1, y1), (x2, y2) = at(before.cost, before.protection), at(after.cost, after.protection)
        drawing.add(Line(x1, y1, x2, y1, strokeWidth=1.5))
        drawing.add(Line(x2, y1, x2, y2, strokeWidth=1.5))
    for point in curve:
        drawing.add(Circle(*at(point.cost, point.protection), 2, fillColor=black))


def _frame(say: Words, drawing: Drawing, place: Place, leave: date, days: int,
           stops: Sequence[tuple[int, str]], height: float) -> None:
    top, rule = height - 10, height - _HEAD_PT + 2
    back = leave + timedelta(days=days)
    for day, title, on, anchor in ((0, say("trip.leave"), leave, "start"),
                                   (days, say("trip.back"), back, "end")):
        drawing.add(Line(place(day), 0, place(day), rule, strokeWidth=1.2))
        _words(drawing, place(day), top, title, 9, bold=True, anchor=anchor)
        _words(drawing, place(day), top - 11, say.day(on.isoformat()), 8, anchor=anchor)
    for day in range(1, days):
        if (leave + timedelta(days=day)).day == 1:
            drawing.add(Line(place(day), 0, place(day), rule, strokeWidth=0.4,
                             strokeDashArray=[1, 3]))
    for day, name in stops:
        drawing.add(Line(place(day), 0, place(day), rule, strokeWidth=0.8, strokeDashArray=[5, 3]))
        _words(drawing, place(day), rule + 1, name, 8, anchor="middle")


def _grouped(doings: Sequence[Doing], place: Place) -> list[tuple[float, list[Doing]]]:
    """Put marks that would lie on one another together."""
    groups: list[tuple[float, list[Doing]]] = []
    for one in doings:
        x = place(one.day)
        if groups and x - groups[-1][0] < _NEAR_PT:
            groups[-1][1].append(one)
        else:
            groups.append((x, [one]))
    return groups


def _mark(x: float, y: float, group: Sequence[Doing]) -> Group:
    mark, half = Group(), _MARK_PT / 2
    dashes = [1.5, 1.5] if any(one.kind == "unknown" for one in group) else None
    if len(group) > 1:
        mark.add(Rect(x - half - 2, y - half - 2, _MARK_PT + 4, _MARK_PT + 4, fillColor=white,
                      strokeWidth=1, strokeDashArray=dashes))
        _words(mark, x, y - 3, str(len(group)), 8, bold=True, anchor="middle")
        return mark
    kind = group[0].kind
    mark.add(Rect(x - half, y - half, _MARK_PT, _MARK_PT, strokeWidth=2 if kind == "before" else 1,
                  fillColor=black if kind == "trip" else white, strokeDashArray=dashes))
    if kind == "arrival":
        mark.add(Rect(x - 2, y - 2, 4, 4, strokeWidth=1, fillColor=white))
    return mark


def _words(drawing: Drawing | Group, x: float, y: float, words: str, size_pt: float, *,
           bold: bool = False, anchor: str = "start") -> None:
    drawing.add(String(x, y, readable(words), fontName=BOLD if bold else PLAIN, fontSize=size_pt,
                       textAnchor=anchor))
