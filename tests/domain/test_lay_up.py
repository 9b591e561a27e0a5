"""Drain points as the notes on machines name them."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.lay_up import WaterPoint, water_points


def drained(*places: str) -> tuple[WaterPoint, ...]:
    return tuple(WaterPoint(place) for place in places)


@pytest.mark.parametrize(("note", "points"), [
    (None, ()), ("", ()), ("Plate not yet read.", ()), ("Drain points:", ()),
    ("Drain point: condensate cock.", drained("condensate cock")),
    ("DRAIN POINTS: a; b ; ; c", drained("a", "b", "c")),
    ("Cooler of 1.4 L. Drain points: G 1.5 plug; pump cover. Watch it.",
     drained("G 1.5 plug", "pump cover")),
    ("Drain points: a\nDrain points: b. Own note", drained("a", "b")),
    ("Drain points: sump: from below; keel cooler: not drained, strength tested.",
     (WaterPoint("sump", False, "from below"),
      WaterPoint("keel cooler", True, "not drained, strength tested"))),
    ("Lay-up: hung upright.", (WaterPoint("", True, "hung upright"),)),
    ("layup: pickled with P052", (WaterPoint("", True, "pickled with P052"),))])
def test_a_note_names_its_points_in_its_own_order(note, points):
    assert water_points(note) == points


@given(st.text(max_size=200))
def test_any_note_can_be_read(note):
    assert all(point.place or point.how for point in water_points(note))
