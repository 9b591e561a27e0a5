"""Every row of every table that somebody else prints, cell by cell, beside the printed one."""

from __future__ import annotations

import re
import tomllib
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from spares.actions.compute import compute
from spares.standards import table
from spares.units import INCH_MM, exact
from tests.published.test_belts import printed as printed_belts
from tests.tables import bd_rows, bosl2_bearings, bosl2_text

PRINTED = tomllib.loads((Path(__file__).parent / "printed.toml").read_text(encoding="utf-8"))
FREECAD, BOLTS = PRINTED["freecad"], PRINTED["bolts"]


def rows(name: str) -> list[tuple[Any, ...]]:
    return [tuple(r.values()) for r in table(name).records()]


def by_first(name: str) -> dict[Any, tuple[Any, ...]]:
    return {row[0]: row[1:] for row in rows(name)}


def mm_of(tpi: float) -> float:
    return float(INCH_MM / exact(tpi))


def test_o_rings_are_those_of_iso_3601_with_both_tolerances():
    """bd-warehouse, o-ring_parameters.csv: 349 rows of ISO 3601-1."""
    columns = ("iso3601:id", "iso3601:w", "iso3601:id_tol", "iso3601:w_tol")
    printed = [(r["Size"], *(float(r[c]) for c in columns)) for r in bd_rows(
        "o-ring_parameters.csv")]
    assert len(printed) == 349 and rows("orings_as568") == printed


def test_coarse_metric_pitches_stand_first_in_bosl2_and_are_those_of_freecad():
    """BOSL2, screws.scad, ISO_thread, gives the coarse pitch first; FreeCAD gives it alone."""
    block = bosl2_text("screws.scad").split("ISO_thread = [")[1].split("tentry")[0]
    printed = []
    for d, listed in re.findall(r"\[\s*([\d.]+)\s*,\s*\[([^\]]*)\]\]", block):
        pitches = [p.strip() for p in listed.split(",") if p.strip()]
        printed += [(float(d), float(p), "fine" if n else "coarse")
                    for n, p in enumerate(pitches) if p != "undef" and float(d) <= 72]
    ours = [(float(d), float(p), series) for d, p, series in rows("iso_metric_threads")]
    # M8 to M18 etc. may list a pitch twice; as sets they are the same
    assert set(ours) == set(printed) and len(ours) == len(set(ours))
    coarse = {f"M{d:g}": p for d, p, series in ours if series == "coarse"}
    assert {s: p for s, p in coarse.items() if s in FREECAD["coarse"]} == {
        s: p for s, p in FREECAD["coarse"].items() if s in coarse}
    assert len(coarse) > 30


def test_further_metric_pitches_are_those_of_freecad():
    fine = {(int(size[1:]), p) for size, pitches in FREECAD["fine"].items() for p in pitches}
    ours = {(d, p) for d, p, series in rows("iso_metric_threads_more") if series == "fine"}
    assert ours - fine in ({(26, 1.5), (35, 1.5)}, {(26, 1.5)}, {(35, 1.5)}, set())
    assert fine <= ours
    assert (35, 1.5) in ours and (26, 1.5) in ours      # ISO 261, from memory
    coarse = [row for row in rows("iso_metric_threads_more") if row[2] != "fine"]
    assert coarse == [(4.5, FREECAD["coarse"]["M4.5"], "coarse")]


def test_unified_threads_are_those_of_bosl2():
    """BOSL2, screws.scad, UTS_thread: columns UNC, UNF, UNEF."""
    block = bosl2_text("screws.scad").split("UTS_thread = [")[1].split("tentry")[0]
    printed = {}
    for size, listed in re.findall(r'\["?(#?[\d./]+)"?\s*,\s*\[([^\]]*)\]\]', block):
        inches = size if size[0] == "#" else Fraction(size)
        for series, tpi in zip(("UNC", "UNF", "UNEF"), listed.split(","), strict=True):
            if tpi.strip() != "undef":
                printed[inches, series] = float(tpi)

    def inches(size: str) -> Any:
        return size if size[0] == "#" else sum(map(Fraction, size.split()))
    ours = {(inches(size), series): float(tpi) for size, tpi, series in rows("unified_threads")}
    assert ours == printed and len(rows("unified_threads")) == len(ours)


@pytest.mark.parametrize("series", ["BSW", "BSF"])
def test_whitworth_threads_are_those_of_freecad(series):
    ours = {size: tpi for size, tpi, s in rows("whitworth_threads") if s == series}
    assert set(ours) == set(FREECAD[series])
    for size, tpi in ours.items():
        assert mm_of(tpi) == pytest.approx(FREECAD[series][size], abs=0.0012), size


def test_whitworth_threads_are_of_two_series():
    assert {s for _, _, s in rows("whitworth_threads")} == {"BSW", "BSF"}


def test_npt_threads_are_those_of_freecad():
    assert set(by_first("npt_threads")) == set(FREECAD["NPT"])
    for size, (major, tpi) in by_first("npt_threads").items():
        assert major == FREECAD["NPT"][size][0]
        assert mm_of(tpi) == pytest.approx(FREECAD["NPT"][size][1], abs=0.0006)


def test_parallel_pipe_threads_are_those_of_iso_228_with_their_minor_diameters():
    """bd-warehouse, iso_228_1.csv."""
    printed = [(r["size"], float(r["tpi"]), float(r["major_diameter"]),
                float(r["minor_diameter"])) for r in bd_rows("iso_228_1.csv")]
    assert [(s, float(t), float(a), float(i)) for s, t, a, i in rows("pipe_threads_55")] == printed


def test_clearance_holes_are_those_of_freecad():
    ours = {f"{d:g}": list(map(float, holes)) for d, *holes in rows("clearance_holes")}
    assert len(ours) == 27 == len(rows("clearance_holes"))
    assert ours == {d: FREECAD["holes_iso_273"].get(d) for d in ours}
    assert [(size, *map(float, holes)) for size, *holes in rows("clearance_holes_inch")] == [
        (size, *holes) for size, holes in FREECAD["holes_asme"].items()]


def test_hole_as_wide_as_the_washer_of_its_screw_is_a_stop():
    """bd-warehouse, plain_washer_parameters.csv: outside of washers of ISO 7089, M1.6 to M36."""
    washers = {r["Size"]: float(r["iso7089:d2"]) for r in bd_rows("plain_washer_parameters.csv")
               if r["iso7089:d2"]}
    seen = 0
    for d, *holes in rows("clearance_holes"):
        if f"M{d:g}" not in washers:
            continue
        seen += 1
        for hole, outcome in ((float(holes[2]), "match"), (washers[f"M{d:g}"], "stop")):
            answer = compute("fit", {"kind": "pump", "offers": {"bolt_hole": hole},
                                     "requires": [{"attr": "bolt_thread", "value": f"M{d:g}"}]})
            assert answer["rows"][0]["outcome"] == outcome, (d, hole)
    assert seen >= 20


def test_keys_are_those_of_din_6885_with_both_depths():
    """bd-warehouse, shaft_key_parameters.csv: t2 stands for the hub, t4 for the shaft."""
    columns = ("Size", "din6885:b", "din6885:h", "din6885:t4", "din6885:t2")
    printed = [tuple(float(r[c]) for c in columns) for r in bd_rows("shaft_key_parameters.csv")]
    assert [tuple(map(float, row)) for row in rows("keys")] == printed


def test_bearings_are_those_of_bosl2_and_bolts():
    """BOSL2 prints 22 mm for the outside of 16002; BOLTS has 32 mm."""
    printed = bosl2_bearings()
    assert printed["16002"] == (15, 22, 8)
    printed["16002"] = tuple(BOLTS["bearings"]["16002"])
    assert {code: tuple(map(float, size)) for code, size in by_first("bearings").items()} == printed
    for name in ("bearings", "bearings_more"):
        for code, size in by_first(name).items():
            assert size == tuple(BOLTS["bearings"].get(code, size)), code


def test_further_bearings_are_those_of_bolts_or_of_a_makers_list():
    """bd-warehouse, single_row_deep_groove_ball_bearing_parameters.csv, column SKT:Designation."""
    makers = {r["SKT:Designation"].removeprefix("* "): tuple(
        float(r[c]) for c in ("SKT:d", "SKT:D", "SKT:B")) for r in bd_rows(
            "single_row_deep_groove_ball_bearing_parameters.csv")}
    assert set(by_first("bearings_more")) == {
        "607", "609", "625", "626", "6004", "6005", "6006", "6300"}
    for code, size in by_first("bearings_more").items():
        assert size == tuple(BOLTS["bearings"][code] if code in BOLTS["bearings"]
                             else makers[code]), code
    for code in ("604", "623", "624", "627", "628"):
        assert tuple(map(float, by_first("bearings_remembered")[code])) == makers[code]
    assert by_first("bearings_remembered")["16003"] == tuple(BOLTS["bearings"]["16003"])


def test_wide_bearings_have_the_dimensions_of_their_series():
    """622 shares dimension series 22 (BOLTS); 623 has bore and outside of 63 (BOSL2)."""
    ours, narrow = by_first("bearings_remembered"), bosl2_bearings()
    narrow["6300"] = tuple(map(float, BOLTS["bearings"]["6300"]))
    wide = {code for code in ours if code.startswith("622") and len(code) == 5}
    assert {f"622{n}" for n in BOLTS["dimension_series_22"]} == wide
    for number, size in BOLTS["dimension_series_22"].items():
        assert ours[f"622{number}"] == tuple(size)
    # widths of the dimension series 23, from memory
    widths = {"00": 17, "01": 17, "02": 17, "03": 19, "04": 21, "05": 24, "06": 27}
    assert {code[3:] for code in ours if code.startswith("623") and len(code) == 5} == set(widths)
    for number, width in widths.items():
        assert ours[f"623{number}"] == (*narrow[f"63{number}"][:2], width)


def test_belts_have_their_section_and_length_as_printed():
    """vbelts, length.py. Classical belts by datum, narrow inch belts by effective length."""
    ours = {code: (section, length) for name in ("belt_lengths_classical", "belt_lengths_narrow")
            for code, section, length in rows(name)}
    assert ours == {code: (code[:2] if code[1] == "V" else code[0], length)
                    for code, length in printed_belts().items()}


def test_glands_and_squeeze_are_those_of_a_seal_makers_guide():
    """bd-warehouse, o-ring_static_gland_parameters.csv; squeeze of radial glands from its rows."""
    guide = bd_rows("o-ring_static_gland_parameters.csv")
    assert rows("oring_static_glands") == [
        tuple(float(r[c]) for c in ("w", "d_r_min", "d_r_max")) for r in guide]
    (static,) = rows("oring_squeeze")
    # the guide's own percentages go wider for the thinnest sections; those of 2.62 mm and more
    shares = [float(r[c]) for r in guide for c in ("sq_r_p_min", "sq_r_p_max")
              if float(r["w"]) >= 2.62]
    assert static == ("static", 8, 30)      # rounded outwards, as makers write it; from memory
    assert static[1] <= min(shares) and max(shares) <= static[2]


def test_heat_of_water_is_that_of_teos_10():
    """gsw 3.6: sea water of practical salinity 35 at 20 °C in mid-ocean; fresh water likewise."""
    import gsw
    for water, sa in (("sea", gsw.SA_from_SP(35, 0, -20, 40)), ("fresh", 0)):
        density, heat = by_first("water_heat")[water]
        assert density == pytest.approx(gsw.rho(sa, gsw.CT_from_t(sa, 20, 0), 0), abs=0.06)
        assert heat == pytest.approx(gsw.cp_t_exact(sa, 20, 0), abs=0.9)
    assert set(by_first("water_heat")) == {"sea", "fresh"}


def test_proof_stress_is_that_of_iso_898():
    """ISO 898-1:1999 as mem50212.com has it (8.8 by size: vibromera.eu); the rest from memory."""
    read = [("4.6", None, 225), ("4.8", None, 310), ("5.8", None, 380), ("8.8", 16, 580),
            ("8.8", None, 600), ("9.8", None, 650), ("10.9", None, 830), ("12.9", None, 970)]
    steel = [("A2-50", None, 210), ("A4-50", None, 210), ("A2-70", None, 450),
             ("A4-70", None, 450), ("A2-80", None, 600), ("A4-80", None, 600),
             ("SAE 2", None, 380), ("SAE 5", None, 585), ("SAE 8", None, 827)]
    assert rows("proof_stress") == [(*row, "read") for row in read] + [
        (*row, "memory") for row in steel]


def test_rubber_keeps_as_long_as_its_group():
    """ISO 2230:2002 as two makers quote it: A 5 + 2, B 7 + 3, C 10 + 5 years."""
    groups = {"A": (5, 2), "B": (7, 3), "C": (10, 5)}
    of = {"NR": "A", "SBR": "A", "PU": "A", "NBR": "B", "HNBR": "B", "CR": "B", "IIR": "B",
          "FKM": "C", "VMQ": "C", "EPDM": "C"}
    assert rows("shelf_life") == [(rubber, group, *groups[group]) for rubber, group in of.items()]
