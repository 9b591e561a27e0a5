"""The trip plan on paper: every square of its picture stands in its table too."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest
from reportlab.graphics.shapes import Circle, Line

from spares.paper.hours_picture import Due, HoursCurve, hours_pictures
from spares.paper.language import ENGLISH
from spares.paper.pages import Head
from spares.paper.trip_picture import CurvePoint, Doing
from spares.paper.trip_plan import Kits, TripPlan, trip_plan_pdf
from tests.paper import reading

LEAVE = date(2027, 5, 3)
HEAD = Head("TANGLOPPE", "TGL", "Trip plan: Round", datetime(2027, 3, 15, 9, 0))


def _doing(machine, service, day, kind="trip"):
    return Doing(machine, service, f"work of {service}", day,
                 LEAVE + timedelta(days=day or 0), kind)


PLAN = TripPlan(
    LEAVE, 63, ("Of 100 such trips, 97 need nothing against breakdown that is not aboard.",),
    (("Main engine", "210", "two legs"),),
    (_doing("Main engine", "S01", 8), _doing("Main engine", "S04", None, "unknown"),
     _doing("Harbour set", "S22", 63, "arrival")),
    stops=((30, "Farsund"),),
    kits=Kits((CurvePoint(0, 0.5), CurvePoint(40, 0.75), CurvePoint(100, 0.9)),
              CurvePoint(40, 0.75), 0.8, "EUR"))


def _text(plan, page="A4"):
    return " ".join(reading.texts(trip_plan_pdf(HEAD, plan, page=page)))


def test_every_service_of_the_picture_stands_in_the_table():
    text = _text(PLAN)
    for words in ("Of 100 such trips, 97 need nothing", "S01 work of S01 11 May 2027 due",
                  "S04 work of S04 before leaving history unknown",
                  "S22 work of S22 5 Jul 2027 due on arrival", "Farsund", "two legs"):
        assert words in text
    assert text.index("S04") < text.index("S01 work"), "before leaving comes first"


def test_the_kits_have_their_numbers_beside_the_picture():
    text = _text(PLAN)
    assert "Protection against money" in text
    for row in ("0.00 50", "40.00 75", "100.00 90"):
        assert row in text


def test_hours_of_the_machines_are_drawn_with_what_falls_due_and_its_table():
    """210 h in 63 days from 1000 h on; work every 100 h, is due at 1030.5 first."""
    curve = HoursCurve("Main engine", True, ((0, 1000.0), (63, 1210.0)), (
        Due("S01", 100, (1030.5, 1130.5), before=True), Due("S09", 1000, ())))
    still = HoursCurve("Windlass", False, ((0, 0.0), (63, 0.0)), ())
    text = _text(replace(PLAN, hours=(curve, still)))
    for words in ("Main engine S01 100 h before leaving, 1030.5 h, 1130.5 h",
                  "S09 1000 h not in this trip", "Hours of the machines", "1000", "1210"):
        assert words in text
    assert "Windlass" not in text, "what does not run has no picture"
    panel, = hours_pictures(ENGLISH, (curve, still), LEAVE, 63, 170)
    first, second = (shape for shape in panel.contents if isinstance(shape, Circle))
    line = [shape for shape in panel.contents if isinstance(shape, Line)][0]
    way = line.x2 - line.x1
    assert first.cx - line.x1 == pytest.approx(way * 30.5 / 210)
    assert second.cx - line.x1 == pytest.approx(way * 130.5 / 210)


@pytest.mark.parametrize("page", ["A4", "A5", "Letter"])
def test_a_vessel_of_many_machines_finds_room_on_every_page(page):
    many = replace(PLAN, doings=tuple(_doing(f"Machine {at:02}", "S01", at) for at in range(40)))
    text = _text(many, page)
    assert all(f"Machine {at:02}" in text for at in range(40))
    assert text.count("Leave") == 4, "forty lanes are four pictures"


def test_a_trip_without_a_day_or_a_service_is_still_a_paper():
    text = _text(TripPlan(LEAVE, 0, ("Nobody can say",), (), ()))
    assert "No service falls due." in text
    assert "Leave" in _text(replace(PLAN, days=0, doings=PLAN.doings[1:2], kits=None, stops=()))
