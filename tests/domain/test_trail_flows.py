"""Flow orders: the machine's own note first, cut where the piece came out; starters as data."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest

from spares.domain.trail_flows import downstream, fitting_first, noted_flows, starters
from tests.structure.layers import TOP

POINTS = [f"HBR-0{n}" for n in range(1, 8)]


def _machines() -> dict[str, dict[str, str]]:
    file = Path(TOP) / "seed" / "tangloppe" / "machines.csv"
    with file.open(encoding="utf-8", newline="") as rows:
        return {row["no"]: row for row in csv.DictReader(rows, delimiter=";")}


def test_the_note_of_the_harbour_set_is_her_flow_order():
    flow, = noted_flows(_machines()["HBR"]["note"], POINTS)
    assert (flow.name, flow.source) == ("Sea-water trail", "the machine's note")
    assert [(one.name, one.point) for one in flow.places] == [
        ("strainer", ""), ("pump HBR-03", "HBR-03"), ("oil cooler inlet", ""),
        ("heat exchanger inlet cap HBR-06", "HBR-06"), ("zinc HBR-07", "HBR-07"),
        ("injection elbow", ""), ("water lock", "")]
    cap = flow.places[3]
    assert (cap.opens, cap.seal) == ("end-cap screws", "end-cap gasket")    # as a starter has it


@pytest.mark.parametrize(("points", "first"), [
    ([], "oil cooler inlet"),                       # after the pump, wherever it came out
    (["HBR-04", "HBR-03"], "oil cooler inlet"),     # the impeller sits in the pump
    (["HBR-06"], "zinc HBR-07"), (["HBR-01"], "oil cooler inlet")])
def test_a_piece_is_looked_for_downstream_of_where_it_came_out(points, first):
    flow, = noted_flows(_machines()["HBR"]["note"], POINTS)
    assert downstream(flow.places, points)[0].name == first


@pytest.mark.parametrize(("machine", "flow"), [
    ("HBR", "sea-water-exchanger"), ("HYD", "hydraulic"), ("AIR", "air"), ("WMK", "watermaker"),
    ("TND", "sea-water-direct"), ("BLG", "pumped-water"), ("GBX", "lubricating-oil"),
    ("ENG", "fresh-water-circuit")])
def test_each_sort_of_machine_is_offered_its_own_starter_first(machine, flow):
    row = _machines()[machine]
    words = [row["name"], row["model"], row["note"], row["hazards"]]
    assert fitting_first(words)[0].id == flow


def test_a_note_without_a_trail_gives_none():
    for note in (None, "", "Old. The trail ends here.", _machines()["ENG"]["note"]):
        assert noted_flows(note) == ()


def test_every_starter_has_places_that_open_and_says_that_it_has_no_source():
    assert len({one.id for one in starters()}) == len(starters()) >= 8
    for flow in starters():
        assert flow.source == "common practice, no source"
        assert len(flow.places) >= 4 and all(one.name and one.opens for one in flow.places)
        assert len({one.name for one in flow.places}) == len(flow.places)
