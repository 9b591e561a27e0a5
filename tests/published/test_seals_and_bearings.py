"""O-rings, bearings and keys against printed tables in packages."""

from __future__ import annotations

import pytest

from spares.domain.fit.designations import bearings, keys, orings
from spares.standards import table
from tests.tables import bd_rows, bosl2_bearings


def test_all_349_o_rings_are_those_of_iso_3601():
    rows = bd_rows("o-ring_parameters.csv")
    assert len(rows) == 349
    for row in rows:
        read = orings.read(f"AS568-{row['Size']}")
        assert read is not None
        assert read.attributes["inside_diameter"] == float(row["iso3601:id"])
        assert read.attributes["section"] == float(row["iso3601:w"])
        assert orings.section_tolerance(row["iso3601:w"]) == float(row["iso3601:w_tol"])
        assert orings.read(read.text) == read


# AS568 series by dash number: 001, 002, 003 are single sizes (common knowledge of the standard,
# from memory, agreeing with the package).
@pytest.mark.parametrize(("first", "last", "section"), [
    (4, 50, 1.78), (102, 178, 2.62), (201, 284, 3.53), (309, 395, 5.33), (425, 475, 6.99)])
def test_dash_numbers_of_a_series_share_one_section(first, last, section):
    rows = [r for r in table("orings_as568").records() if first <= int(r["dash"]) <= last]
    assert rows and {r["section_mm"] for r in rows} == {section}


@pytest.mark.parametrize(("dash", "size"), [
    ("214", (24.99, 3.53)), ("010", (6.07, 1.78)), ("325", (37.47, 5.33)), ("116", (18.72, 2.62))])
def test_o_ring_has_its_printed_size(dash, size):
    read = orings.read(f"AS568-{dash}")
    assert read and (read.attributes["inside_diameter"], read.attributes["section"]) == size


def test_gland_depths_are_those_of_the_makers_guide():
    printed = {(float(r["w"]), float(r["d_r_min"]), float(r["d_r_max"]))
               for r in bd_rows("o-ring_static_gland_parameters.csv")}
    assert {tuple(r.values()) for r in table("oring_static_glands").records()} == printed


def test_bearings_are_those_of_two_packages():
    """BOSL2 prints 22 mm for the outside of 16002; the 02 bore of series 0 has 32 mm (ISO 15)."""
    printed = bosl2_bearings()
    assert len(printed) > 50
    assert printed["16002"] == (15, 22, 8)
    printed["16002"] = (15, printed["6002"][1], 8)
    for code, size in printed.items():
        read = bearings.read(code)
        assert read is not None, code
        assert tuple(read.attributes[n] for n in ("bore", "outside_diameter", "width")) == size


def test_small_bearings_have_the_sizes_of_bd_warehouse():
    rows = bd_rows("single_row_deep_groove_ball_bearing_parameters.csv")
    sizes = {tuple(float(n) for n in list(row.values())[1:4]) for row in rows}
    for code in ("607", "608", "609", "625", "626", "629", "6000", "6200", "6300"):
        read = bearings.read(code)
        assert read and tuple(float(read.attributes[n]) for n in (
            "bore", "outside_diameter", "width")) in sizes, code


@pytest.mark.parametrize(("code", "bore"), [
    ("6000", 10), ("6201", 12), ("6302", 15), ("6203", 17), ("6204", 20), ("6306", 30)])
def test_bore_number_gives_the_bore(code, bore):
    """00 to 03 are 10, 12, 15 and 17 mm, from 04 on five times the number (ISO 15)."""
    read = bearings.read(code)
    assert read and read.attributes["bore"] == bore


def test_keys_are_those_of_din_6885():
    rows = bd_rows("shaft_key_parameters.csv")
    assert len(rows) == 31
    for row in rows:
        key = keys.key_of_shaft(row["Size"])
        assert key and (key["width_mm"], key["height_mm"]) == (
            float(row["din6885:b"]), float(row["din6885:h"]))
        assert key["shaft_depth_mm"] + key["hub_depth_mm"] > key["height_mm"]
