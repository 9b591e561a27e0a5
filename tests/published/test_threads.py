"""Threads against printed tables, read from packages that have nothing to do with us."""

from __future__ import annotations

import math
import re
from fractions import Fraction

import pytest

from spares.domain.fit.designations.threads import parse_thread, standard_threads
from spares.domain.fit.judges.holes import clearance
from spares.domain.fit.judges.threads import look_alikes, mate
from spares.domain.torque import stress_area
from spares.standards import table
from spares.units import INCH_MM, exact
from tests.tables import bd_rows, bosl2_text, package_file

INCH = float(INCH_MM)

# ISO 965-1 6H limits of the pitch diameter, rows of FreeCAD 0.20.2
# (Mod/Path/Data/Threads/metric-internal-6H.csv), typed.
PITCH_DIAMETER_6H_LEAST = {"M10x1.25": 9.188, "M10x1.5": 9.026, "M8x1": 7.350, "M12x1.5": 11.026,
                           "M20x2": 18.701}

# FreeCAD, src/Mod/PartDesign/App/FeatureHole.cpp, threadDescription: major and pitch in mm.
FREECAD = {
    "M3": (3.0, 0.5), "M5": (5.0, 0.8), "M8": (8.0, 1.25), "M14": (14.0, 2.0), "M30": (30.0, 3.5),
    "#8-32 UNC": (4.166, 0.794), "1/4 UNC": (6.350, 1.270), "1/2 UNC": (12.700, 1.954),
    "1 1/8 UNC": (28.575, 3.628), "2 UNC": (50.800, 5.644), "#10-32 UNF": (4.826, 0.794),
    "3/8 UNF": (9.525, 1.058), "7/16 UNF": (11.113, 1.270), "3/4 UNF": (19.050, 1.588),
    "1/2 BSW": (12.700, 2.117), "5/8 BSW": (15.876, 2.309), "3/8 BSF": (9.525, 1.270),
    "1/8 NPT": (10.287, 0.941), "1/2 NPT": (21.336, 1.814), "1 NPT": (33.401, 2.209),
    "G 1/2": (20.955, 1.814), "G 1 1/4": (41.910, 2.309), "G 1/8": (9.728, 0.907),
}


@pytest.mark.parametrize("text", list(FREECAD))
def test_thread_has_the_printed_major_diameter_and_pitch(text):
    (thread,) = parse_thread(text)
    assert float(thread.major_mm) == pytest.approx(FREECAD[text][0], abs=0.0011)
    assert float(thread.pitch_mm) == pytest.approx(FREECAD[text][1], abs=0.0015)


def test_metric_table_is_that_of_bosl2():
    block = bosl2_text("screws.scad").split("ISO_thread = [")[1].split("tentry")[0]
    printed = {(float(d), float(p)) for d, pitches in
               re.findall(r"\[\s*([\d.]+)\s*,\s*\[([^\]]*)\]\]", block)
               for p in re.findall(r"[\d.]+", pitches) if float(d) <= 72}
    ours = {(float(r["d_mm"]), float(r["pitch_mm"])) for r in table("iso_metric_threads").records()}
    assert ours == printed and len(ours) > 100


def test_bare_metric_size_means_the_coarse_pitch_of_head_tables():
    sizes = [row["Size"] for row in bd_rows("hex_head_parameters.csv") if row["Size"][0] == "M"]
    assert len(sizes) == 29
    for size in sizes:
        d, pitch = size[1:].split("-")
        (thread,) = parse_thread(f"M{d}")
        assert float(thread.pitch_mm) == float(pitch) or size == "M42-4.5"


def test_unified_sizes_of_the_tap_table_are_known_with_their_counts():
    names = [row["Size"] for row in bd_rows("tap_hole_sizes.csv") if row["Size"][0] != "M"]
    # special pitches that belong to no series of ours
    special = {"11/16-24", "13/16-20", "15/16-20"}
    read = {name: parse_thread(name) for name in names if name not in special}
    assert len(names) == 53 and len(read) == 50
    for name, threads in read.items():
        assert len(threads) == 1, name
        assert INCH_MM / threads[0].pitch_mm == int(name.rsplit("-", 1)[1])


def test_unified_majors_and_counts_are_those_of_asme():
    module: dict[str, dict] = {}
    path = package_file("screw_thread_lib", "data", "ASME.py")
    exec(compile(path.read_text("utf-8"), str(path), "exec"), module)      # a file of two dicts
    for name, row in module["ASME_UN_2A2B_dict"].items():
        threads = parse_thread(f"{name} {'UN' if row['series'] == 'UNS' else row['series']}")
        assert len(threads) == 1, name
        assert float(threads[0].major_mm) == pytest.approx(row["dbsc"] * INCH, abs=0.002)
        assert float(INCH_MM / threads[0].pitch_mm) == row["n"]


@pytest.mark.parametrize(("text", "printed"), list(PITCH_DIAMETER_6H_LEAST.items()))
def test_pitch_diameter_follows_from_major_and_pitch(text, printed):
    (thread,) = parse_thread(text)
    assert float(thread.major_mm - exact("0.649519") * thread.pitch_mm) == pytest.approx(
        printed, abs=0.0006)


def test_all_parallel_pipe_threads_are_those_of_iso_228():
    rows = bd_rows("iso_228_1.csv")
    assert len(rows) == 24
    for row in rows:
        (thread,) = parse_thread(f"G {row['size']}")
        assert float(thread.major_mm) == float(row["major_diameter"])
        assert float(INCH_MM / thread.pitch_mm) == float(row["tpi"])
        # 55 degree form: pitch diameter = major - 0.640327 P
        assert float(thread.major_mm) - 0.640327 * float(thread.pitch_mm) == pytest.approx(
            float(row["pitch_diameter"]), abs=0.0011)


def test_npt_diameter_is_the_outside_of_the_pipe():
    from fluids.piping import NPS40, S40o
    pipes = dict(zip(NPS40, S40o, strict=True))
    for nps, name in ((0.125, "1/8"), (0.25, "1/4"), (0.375, "3/8"), (0.5, "1/2"), (0.75, "3/4"),
                      (1.0, "1"), (1.25, "1 1/4"), (1.5, "1 1/2"), (2.0, "2"), (3.0, "3")):
        (thread,) = parse_thread(f"{name} NPT")
        assert float(thread.major_mm) == pytest.approx(pipes[nps], abs=0.06)   # printed to 0.1


def test_npt_counts_are_those_of_bosl2():
    text = bosl2_text("threading.scad").split("info_table = [")[1].split("];")[0]
    found = re.findall(r"\[\s*([\d/+ ]+),\s*\[\s*[\d.]+,\s*[\d.]+,\s*([\d.]+)\s*\]\]", text)
    assert len(found) == 10
    for size, tpi in found:
        name = size.strip().replace("+", " ")
        (thread,) = parse_thread(f"{name} NPT")
        assert float(INCH_MM / thread.pitch_mm) == float(tpi)


def test_clearance_holes_are_those_of_iso_273():
    """Two packages; bd-warehouse prints 14/15, 15... for M12, M14 and M16, ISO 273 has halves."""
    odd = {"M12", "M14", "M16"}
    halves = {"M12": (13, 13.5, 14.5), "M14": (15, 15.5, 16.5), "M16": (17, 17.5, 18.5)}
    compared = 0
    for row in bd_rows("clearance_hole_sizes.csv"):
        size = row["Size"]
        if size[0] != "M" or (ours := clearance(size)) is None:
            continue
        printed = halves[size] if size in odd else tuple(
            float(row[n]) for n in ("Close", "Normal", "Loose"))
        assert tuple(map(float, ours)) == printed, size
        compared += 1
    assert compared > 20


def test_stress_area_is_that_of_a_machine_design_package():
    from me_toolbox.fasteners import Bolt
    for d, pitch in ((3, 0.5), (6, 1), (8, 1.25), (10, 1.25), (12, 1.75), (20, 2.5), (30, 3.5)):
        bolt = Bolt(d, pitch, 40, 20, 640, 800, 580, 205e3)
        assert stress_area(Fraction(d), exact(pitch)) == pytest.approx(bolt.stress_area, rel=1e-9)


# Computed by hand from the printed majors and pitches: within 0.6 mm and 0.12 mm.
@pytest.mark.parametrize(("one", "other"), [
    ("M5x0.8", "#10-32 UNF"), ("G 1/2", "1/2 NPT"), ("G 3/4", "3/4 NPT"), ("M10x1", "3/8-24 UNF"),
    ("M8x1", "5/16-24 UNF"), ("G 1/8", "M10x1"), ("M6x1", "1/4-28 UNF"), ("M16x1.5", "5/8-18 UNF"),
    ("M10x1.5", "3/8-16 UNC"), ("9/16-18 UNF", "1/4 NPT"), ("M4x0.7", "#8-32 UNC")])
def test_look_alikes_are_named_and_do_not_mate(one, other):
    (first,), (second,) = parse_thread(one), parse_thread(other)
    assert second.text in {t.text for t in look_alikes(first)}
    assert mate(first, second, "external")[0] == mate(second, first, "external")[0] == "no"


@pytest.mark.parametrize(("one", "other"), [
    ("M8", "5/16-18 UNC"), ("M6", "1/4-20 UNC"), ("M12", "1/2-13 UNC"), ("M10x1.25", "M10x1.5")])
def test_near_misses_are_not_alike(one, other):
    (first,), (second,) = parse_thread(one), parse_thread(other)
    assert second.text not in {t.text for t in look_alikes(first)}
    assert mate(first, second, "external")[0] == "no"


def test_every_standard_thread_reads_back_to_itself():
    for thread in standard_threads():
        again = parse_thread(thread.text)
        assert [t.text for t in again] == [thread.text]
        assert math.isclose(again[0].major_mm, thread.major_mm, abs_tol=0.002)
