"""Cooling and torque at their very limits; expected values by hand from the formulas."""

from __future__ import annotations

from fractions import Fraction

import pytest

from spares.domain.cooling import check_cooling, driven_speed, flow_given, flow_needed
from spares.domain.torque import estimate_torque, proof_stress, stress_area
from spares.errors import InvalidInput, OutOfRange

F = Fraction
NEEDED = flow_needed(F(60), F(15), "sea")
ONE_POINT = "from one rated point"


def checked(curve=(), pump_rpm=None, max_rpm=None):
    return check_cooling(F(60), F(15), "sea", curve=curve, pump_rpm=pump_rpm, max_rpm=max_rpm)


def test_a_pump_that_gives_just_what_is_needed_is_enough():
    assert checked([(F(1000), NEEDED)], F(1000)).enough is True
    assert checked([(F(1000), NEEDED - F(1, 10**6))], F(1000)).enough is False


def test_a_pump_at_its_highest_speed_is_not_above_it():
    assert checked([(F(1000), NEEDED)], F(1000), F(1000)).enough is True
    found = checked([(F(1000), NEEDED)], F(1001), F(1000))
    assert found.enough is False and any("above its highest" in r for r in found.remarks)


@pytest.mark.parametrize(("curve", "rpm", "said", "given"), [
    ([], None, "no flow of the pump is known", None),
    ([], F(1000), "no flow of the pump is known", None),
    ([(F(1000), F(30))], None, "the speed of the pump is not known", None),
    ([(F(1000), F(30)), (F(2000), F(50))], F(2001), "outside the rated points", None),
    ([(F(1000), F(30))], F(1500), ONE_POINT, 45),
    ([(F(1000), F(30))], F(1000), None, 30),
    ([(F(1000), F(30)), (F(2000), F(50))], F(1500), None, 40)])
def test_what_is_not_known_of_a_pump_is_said(curve, rpm, said, given):
    found = checked(curve, rpm)
    first = found.remarks[0]
    assert first.startswith(said) if said else first.startswith("check at rated load")
    assert found.given_l_min == given and (found.enough is None) is (given is None)


def test_flow_is_read_at_both_ends_of_the_rated_points():
    curve = [(F(1000), F(30)), (F(2000), F(50)), (F(3000), F(60))]
    assert [flow_given(curve, F(rpm)) for rpm in (999, 1000, 2000, 3000, 3001)] == [
        None, 30, 50, 60, None]
    with pytest.raises(InvalidInput):
        flow_given([(F(1000), F(30)), (F(2000), F(-1))], F(1500))


def test_heat_ends_where_no_small_vessel_is():
    assert flow_needed(F(2000), F(15), "sea") == NEEDED * 2000 / 60
    with pytest.raises(OutOfRange):
        flow_needed(F(2000) + F(1, 1000), F(15), "sea")


@pytest.mark.parametrize(("given", "speed"), [
    ((2600, 110, 100, F(0)), 2860), ((2600, 110, 100, F("0.02")), F("2802.8")),
    ((1, 1, 2, F("0.1999")), F("0.40005"))])
def test_driven_speed_is_the_ratio_less_the_slip(given, speed):
    assert driven_speed(*map(F, given)) == speed


@pytest.mark.parametrize(("given", "field"), [
    ((0, 1, 1, 0), "engine_rpm"), ((1, 0, 1, 0), "drive_pulley_mm"),
    ((1, 1, 0, 0), "driven_pulley_mm"), ((-1, 1, 1, 0), "engine_rpm"),
    ((1, 1, 1, F("0.2")), "slip"), ((1, 1, 1, F("-0.01")), "slip")])
def test_speed_diameter_and_slip_that_cannot_be_are_refused(given, field):
    with pytest.raises(OutOfRange) as caught:
        driven_speed(*map(F, given))
    assert [one["pointer"] for one in caught.value.facts["errors"]] == [f"#/{field}"]


@pytest.mark.parametrize(("thread", "holds"), [("M3", True), ("M39", True), ("M2.5", False),
                                               ("M42", False)])
def test_torque_is_estimated_from_m3_to_m39(thread, holds):
    if holds:
        assert estimate_torque(thread, "8.8", "oil").high_nm > 0
    else:
        with pytest.raises(OutOfRange):
            estimate_torque(thread, "8.8", "oil")


@pytest.mark.parametrize("pitch", [F(0), F(10), F(11), F(-1)])
def test_a_pitch_as_large_as_the_screw_has_no_stress_area(pitch):
    with pytest.raises(OutOfRange):
        stress_area(F(10), pitch)


def test_into_plastic_and_aluminium_no_torque_is_estimated():
    for metal in ("plastic", "Aluminium"):
        assert estimate_torque("M8", "8.8", metal).high_nm is None


def test_stress_from_memory_says_so():
    assert proof_stress("A4-70", F(8)) == (450, True)
    assert proof_stress("8.8", F(16)) == (580, False) and proof_stress("8.8", F(17))[0] == 600
    assert any("from memory" in r for r in estimate_torque("M8", "A4-70", "oil").remarks)
    assert not any("from memory" in r for r in estimate_torque("M8", "8.8", "oil").remarks)
