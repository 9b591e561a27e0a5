"""Codes as they are printed and told: each word of them counts, and what is no code is none.

Sizes by hand: an inch is 25.4 mm (ISO 31-1); a numbered screw is 0.060 + 0.013 n inches (ASME
B1.1). Dimension series of bearings by ISO 15. Where nothing else is named: common practice.
"""

from __future__ import annotations

from fractions import Fraction

import pytest

from spares.domain.fit.designations import (
    bearings,
    belts,
    flanges,
    fuses,
    hoses,
    lip_seals,
    orings,
    read_designation,
)
from spares.domain.fit.designations.threads import parse_thread


@pytest.mark.parametrize(("text", "closure", "clearance", "groove"), [
    ("6203 N", "open", "CN", True), ("6203 NR", "open", "CN", True),
    ("6203 ZZNR", "shield-both", "CN", True), ("6203 2RSN", "seal-both", "CN", True),
    ("6203 C3 ZZNR", "shield-both", "C3", True), ("6203 ZZ C3NR", "shield-both", "C3", True),
    ("6203 N ZZC3", "shield-both", "C3", True), ("6203 NC3", "open", "C3", True),
    ("6203 C0", "open", "CN", False), ("6203 CN", "open", "CN", False)])
def test_suffixes_of_a_bearing_add_up_in_any_order(text, closure, clearance, groove):
    told = bearings.read(text).attributes
    assert (told["closure"], told["clearance"], told["snap_groove"]) == (closure, clearance, groove)


def test_usual_clearance_of_a_bearing_is_not_written():
    assert bearings.read("6203 CN").text == "6203" and bearings.read("6203 C0").text == "6203"
    assert bearings.read("6203 C3").text == "6203 C3"


def test_only_angular_contact_bearings_borrow_the_sizes_of_deep_groove_ones():
    """7203 is 17 x 40 x 12 as 6203; 2203, of two rows, is 16 wide (ISO 15)."""
    assert [bearings.read("7203").attributes[n] for n in ("bore", "outside_diameter", "width")] == [
        17, 40, 12]
    assert bearings.read("2203") is None


@pytest.mark.parametrize(("text", "length"), [
    ("3V476", "1209"), ("5V1006", "2555.2"), ("8V1003", "2547.6")])
def test_narrow_belt_of_no_table_has_its_length_in_tenths_of_an_inch(text, length):
    assert str(belts.read(text).attributes["length"]["value"]) == length


def test_classical_belt_of_no_table_has_its_inside_length_in_inches():
    """A 203 inches belt: 203 x 25.4 = 5156.2 mm inside."""
    length = belts.read("A203").attributes["length"]
    assert (str(length["value"]), length["system"]) == ("5156.2", "inside")


def test_belt_named_by_its_width_keeps_its_system_or_none():
    assert belts.read("13x1000 Li").attributes["length"]["system"] == "inside"
    assert "system" not in belts.read("13x1000").attributes["length"]


@pytest.mark.parametrize("text", ["32-32", "50-32"])
def test_clamp_of_no_range_is_none(text):
    assert read_designation("clamp", text) is None


@pytest.mark.parametrize(("text", "bore"), [("0 mm", None), ("0x5", None), ("25x25", None),
                                            ("35x25", None), ("25x25.5", "25"), ("1x2", "1"),
                                            ("0.5 mm", "0.5")])
def test_hose_has_a_wall_round_a_bore(text, bore):
    read = hoses.read(text)
    assert (read and read.attributes["bore"]) == bore


@pytest.mark.parametrize("rubber", ["NBR", "FKM", "EPDM", "CR", "VMQ", "ACM", "PTFE"])
def test_lip_seal_tells_its_rubber(rubber):
    assert lip_seals.read(f"16x28x7 {rubber}").attributes["material"] == rubber


def test_form_may_stand_after_a_comma():
    """So lists write it: size, form, rubber (common practice, no source)."""
    spaced = lip_seals.read("16x28x7 AS NBR")
    assert spaced.attributes["form"] == "AS"
    for text in ("16 × 28 × 7, AS, NBR", "16x28x7,AS,NBR"):
        assert lip_seals.read(text) == spaced
    assert lip_seals.read("16x16x7") is None


@pytest.mark.parametrize("rubber", ["NBR", "EPDM", "FKM", "CR", "VMQ", "HNBR", "PU"])
def test_oring_tells_its_rubber(rubber):
    assert orings.read(f"25x3.5 {rubber}").attributes["material"] == rubber


@pytest.mark.parametrize(("text", "read"), [("25x0", False), ("1x1", True), ("0.5x0.4", True),
                                            ("1x9.9", True), ("1x10", False), ("1x10.5", False)])
def test_oring_has_a_section_that_can_be(text, read):
    assert (orings.read(text) is not None) is read


@pytest.mark.parametrize(("section", "tol"), [("2.25", 0.08), ("2.26", 0.09), ("3.15", 0.09),
                                              ("8.4", 0.15), ("8.41", None)])
def test_tolerance_of_a_section_counts_up_to_its_end(section, tol):
    """ISO 3601-1 class B, from memory."""
    assert orings.section_tolerance(section) == tol


@pytest.mark.parametrize("text", ["SAE A", "J744 A", "SAE J744-A"])
def test_letter_of_a_pad_counts_beside_the_name_of_its_standard(text):
    assert flanges.read(text).text == "82-2" and flanges.read("A") is None


@pytest.mark.parametrize(("text", "form"), [
    ("6,3x32 F 2 A", "6.3x32"), ("6.3x32 F 2 A", "6.3x32"), ("bolt-down 100 A", "bolt-down"),
    ("bolt down 100 A", "bolt-down"), ("micro2 10 A", "blade-micro2"), ("maxi 40 A", "blade-maxi"),
    ("blade mini 10 A", "blade-mini"), ("regular 10 A", "blade-regular")])
def test_fuse_tells_its_form(text, form):
    assert fuses.read(text).attributes["form"] == form


@pytest.mark.parametrize("text", ["M10 LH", "M10 left-hand", "M10 left hand", "M10-LH", "M10lh",
                                  "M10 left", "LH M10", "left M10"])
def test_left_hand_is_read_however_it_is_written(text):
    thread, = parse_thread(text)
    assert thread.left and thread.major_mm == 10


@pytest.mark.parametrize("text", ["M10 RH", "M10 right-hand", "M10 right hand", "M10 thread"])
def test_right_hand_goes_without_saying(text):
    assert [t.left for t in parse_thread(text)] == [False]


@pytest.mark.parametrize(("text", "major", "tpi"), [
    ("1/4 UNEF", "6.35", 32), ("1/4-32 UNEF", "6.35", 32), ("1/4-20 UNC", "6.35", 20),
    ("1/4-28 UNF", "6.35", 28), ("1/4 UNC", "6.35", 20), ("10-24", "4.826", 24),
    ("#8-32 UNC", "4.1656", 32), ("8-32", "4.1656", 32), ("12-24", "5.4864", 24)])
def test_unified_thread_has_the_pitch_of_its_series(text, major, tpi):
    thread, = parse_thread(text)
    assert (thread.major_mm, Fraction("25.4") / thread.pitch_mm) == (Fraction(major), tpi)


@pytest.mark.parametrize("text", ["1/4-28 UNC", "1/4-20 UNF", "1/4-20 UNEF", "5/7 UNC", "1/4-0 BSW",
                                  "1/4-3 BSW", "5/7 NPT", "1/2-11 NPTF", "M15x6"])
def test_size_and_pitch_that_do_not_go_together_are_no_thread(text):
    assert parse_thread(text) == ()


def test_pipe_threads_on_a_taper_say_so():
    for text, taper in (("1/2 NPT", True), ("1/2 NPTF", True), ("1/2-14 NPTF", True),
                        ("R 1/2", True), ("Rc 1/2", True), ("Rp 1/2", False), ("G 1/2", False)):
        assert [t.taper for t in parse_thread(text)] == [taper], text
