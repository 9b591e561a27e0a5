"""Belt lengths and pulleys against a package of makers' tables."""

from __future__ import annotations

from fractions import Fraction

import pytest

from spares.actions.compute import compute
from spares.domain.cooling import driven_speed
from spares.domain.fit.designations import belts
from spares.units import INCH_MM
from tests.tables import package_file

INCH = float(INCH_MM)


def printed() -> dict[str, int]:
    """Lengths by code. The package prints 1320 mm for C-120; its neighbours give about 3120."""
    from vbelts.length import HiPower_length, SuperHC_length
    rows = {r["type"].replace("-", ""): int(r["length"]) for r in (*HiPower_length,
                                                                   *SuperHC_length)}
    assert rows.pop("C120") == 1320
    return rows


def test_every_belt_of_the_package_has_its_printed_length():
    rows = printed()
    assert len(rows) == 239
    for code, length in rows.items():
        read = belts.read(code)
        assert read is not None, code
        assert float(read.attributes["length"]["value"]) == length
        assert read.attributes["section"] == code.rstrip("0123456789")[:2].rstrip("0123456789") \
            or code[1] == "V"


def test_files_of_the_package_differ_where_it_is_known():
    """Its CSV labels 850 mm as 3V355 and quotes some rows wrongly; its tuples are right."""
    text = package_file("vbelts", "data", "SuperHC_length.csv").read_text("utf-8")
    assert '850,"3V355"' in text.replace(" ", "")
    assert printed()["3V335"] == 850


def test_offset_of_section_a_is_one_and_that_of_b_is_not():
    """A-n is 31 to 35 mm above n inches; B-n 44 to 48 mm up to B-210, then 6 to 10 mm; rounded."""
    offsets = {code: length - int(code[1:]) * INCH for code, length in printed().items()
               if code[0] in "AB"}
    assert all(30.5 <= off <= 35.5 for code, off in offsets.items() if code[0] == "A")
    for code, off in offsets.items():
        if code[0] == "B":
            assert 43 <= off <= 48.5 if int(code[1:]) <= 210 else 6 <= off <= 10.5


@pytest.mark.parametrize("code", ["A26", "A38", "A60", "A96", "A144", "B46", "B112", "B210",
                                  "B240", "B300"])
def test_inside_length_in_inches_fits_for_its_code(code):
    """The number in the code is the inside length in inches."""
    inside = round(int(code[1:]) * INCH)
    answer = compute("fit", {
        "kind": "drive-belt", "requires": [{"attr": "code", "value": code, "tol": 20}],
        "offers": {"section": code[0], "construction": "wrapped", "belt_kind": "v",
                   "length": {"value": inside, "system": "inside"}}})
    assert answer["verdict"] == "fits", answer["rows"]


def test_datum_length_offered_as_inside_does_not_fit():
    for code in ("A38", "A60", "B46", "B112"):
        answer = compute("fit", {
            "kind": "drive-belt", "requires": [{"attr": "code", "value": code, "tol": 20}],
            "offers": {"section": code[0], "length": {"value": printed()[code],
                                                      "system": "inside"}}})
        assert answer["verdict"] == "does-not-fit"


def test_speed_of_a_driven_pulley_is_that_of_the_package():
    from vbelts.pulley import Driven
    found = Driven(240, "a", 3, 1750, 1.846).commercial(130, 120)
    assert found[:3] == [240, pytest.approx(240 / 130), 1750]
    ours = driven_speed(Fraction(1750), Fraction(130), Fraction(240))
    assert float(ours) == pytest.approx(found[3])


def test_speed_of_a_lip_is_the_peripheral_speed_of_the_package():
    """240 mm at 1750 1/min is 21.99 m/s: a seal for 21.9 does not bear it, one for 22.1 does."""
    from vbelts.speed import peripheral
    assert peripheral(240, 1750) == pytest.approx(21.99, abs=0.005)
    for limit, verdict in ((21.9, "does-not-fit"), (22.1, "fits")):
        answer = compute("fit", {
            "kind": "pump-seal", "requires": [{"attr": "shaft_diameter", "value": 240}],
            "offers": {"shaft_diameter": 240, "max_speed_m_s": limit},
            "place": {"engine_speed_rpm": 1750, "drive_pulley_mm": 1, "driven_pulley_mm": 1}})
        assert answer["verdict"] == verdict


@pytest.mark.parametrize(("d", "D", "centre", "length"), [(112, 140, 300, 996.5)])
def test_two_pulley_length_lies_beside_the_belt_of_the_table(d, D, centre, length):
    """Handbook formula L = 2C + pi (D + d) / 2 + (D - d)^2 / (4 C)."""
    assert 2 * centre + 3.14159265 * (D + d) / 2 + (D - d) ** 2 / (4 * centre) == pytest.approx(
        length, abs=0.1)
    assert printed()["A38"] == pytest.approx(length, abs=5)
