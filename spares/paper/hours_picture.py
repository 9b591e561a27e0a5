"""Picture of a trip for paper: each machine's hours over its days, and where services fall due."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from reportlab.graphics.shapes import Circle, Drawing, Line, String

from spares.paper.language import Words
from spares.paper.lettering import BOLD, PLAIN, load_fonts, readable
from spares.paper.points import POINTS_PER_MM

_PANEL_PT, _LEFT_PT, _HEAD_PT, _FOOT_PT, _NEAR_PT = 92.0, 40.0, 16.0, 16.0, 22.0


@dataclass(frozen=True, slots=True)
class Due:
    """A service by hours: its interval [h], and the hours of the machine at which it is due [h]."""

    service: str
    every_h: float
    at_h: tuple[float, ...]
    before: bool = False        # done before leaving


@dataclass(frozen=True, slots=True)
class HoursCurve:
    """A machine's hours [h] at days of the trip [day], by its counter or from leaving on."""

    machine: str
    counter: bool
    points: tuple[tuple[int, float], ...]
    due: tuple[Due, ...]


def hours_pictures(say: Words, curves: Sequence[HoursCurve], leave: date, days: int,
                   width_mm: float) -> list[Drawing]:
    """Draw one panel a machine that runs: its hours as a line, a ring where a service falls due.

    Args:
        say: The words of the paper.
        curves: The machines, in order.
        leave: The day of leaving.
        days: Length of the trip [day].
        width_mm: Room on the page [mm].
    """
    load_fonts()
    return [_panel(say, one, leave, days, width_mm) for one in curves
            if len(one.points) > 1 and one.points[-1][1] > one.points[0][1]]


def _panel(say: Words, curve: HoursCurve, leave: date, days: int, width_mm: float) -> Drawing:
    width = width_mm * POINTS_PER_MM
    drawing = Drawing(width, _PANEL_PT)
    low, high = curve.points[0][1], curve.points[-1][1]
    top, foot, right = _PANEL_PT - _HEAD_PT - 6, _FOOT_PT, width - 40

    def at(day: float, hours: float) -> tuple[float, float]:
        return (_LEFT_PT + day / max(days, 1) * (right - _LEFT_PT),
                foot + (hours - low) / (high - low) * (top - foot))

    _words(drawing, 4, _PANEL_PT - 11, curve.machine, 9, bold=True)
    for hours in (low, high):
        _words(drawing, _LEFT_PT - 4, at(0, hours)[1] - 3, say.number(hours, 1), 8, "end")
    drawing.add(Line(_LEFT_PT, foot, right, foot, strokeWidth=0.6))
    for day, anchor in ((0, "start"), (days, "end")):
        _words(drawing, at(day, low)[0], 3, say.day((leave + timedelta(days=day)).isoformat()),
               8, anchor)
    for (d1, h1), (d2, h2) in zip(curve.points, curve.points[1:], strict=False):
        drawing.add(Line(*at(d1, h1), *at(d2, h2), strokeWidth=1.4))
    ends: list[float] = []
    for hours, service in sorted((at_h, due.service) for due in curve.due for at_h in due.at_h):
        x, y = at(_day_at(curve, hours), hours)
        drawing.add(Circle(x, y, 3.2, strokeWidth=1.4, fillColor=None))
        row = next((n for n, end in enumerate(ends) if x - end > _NEAR_PT), len(ends))
        ends[row:row + 1] = [x]
        _words(drawing, x, min(y + 6 + 9 * row, _PANEL_PT - 8), service, 8, "middle")
    return drawing


def _day_at(curve: HoursCurve, hours: float) -> float:
    """Give the day on which the line meets these hours; its ends beyond them."""
    for (d1, h1), (d2, h2) in zip(curve.points, curve.points[1:], strict=False):
        if h1 <= hours <= h2 and h2 > h1:
            return d1 + (d2 - d1) * (hours - h1) / (h2 - h1)
    return curve.points[-1][0] if hours > curve.points[-1][1] else curve.points[0][0]


def _words(drawing: Drawing, x: float, y: float, words: str, size_pt: float,
           anchor: str = "start", *, bold: bool = False) -> None:
    drawing.add(String(x, y, readable(words), fontName=BOLD if bold else PLAIN, fontSize=size_pt,
                       textAnchor=anchor))
