"""Designations read, print and read back to the same; what looks alike is kept apart."""

from __future__ import annotations

import pytest

from spares.domain.fit.designations import bearings, belts, fuses, keys, read_designation
from spares.domain.fit.designations.threads import parse_thread

CODES = [
    ("bearing", "6203-2RS C3"), ("bearing", "6203 ZZ/C3"), ("bearing", "608-Z"),
    ("bearing", "6305"),
    ("bearing", "62203-2RS"), ("bearing", "6204 NR"), ("bearing", "6203-2RSC3"),
    ("o-ring", "AS568-214"), ("o-ring", "25x3.5"), ("o-ring", "AS568-325 FKM 75"),
    ("o-ring", "25 × 3,5 NBR"), ("drive-belt", "A38"), ("drive-belt", "AX38"),
    ("drive-belt", "SPA1000"), ("drive-belt", "XPZ 987"), ("drive-belt", "13x1000 Li"),
    ("drive-belt", "17x11x1200 La"), ("drive-belt", "3V500"), ("drive-belt", "5VX800"),
    ("drive-belt", "6PK1200"), ("drive-belt", "640-8M-30"), ("drive-belt", "AVX13x1000"),
    ("pump", "82-2"), ("pump", "SAE B"), ("pump-seal", "16x28x7 AS"),
    ("pump-seal", "70 x 90 x 10 NBR"), ("hose", "25 mm"), ("hose", "1 1/4 in"), ("hose", "25x35"),
    ("clamp", "32-50 W4"), ("clamp", "16-27/9 W5"), ("fuse", "5x20 T 2 A 250 V"),
    ("fuse", "blade-mini 15 A"), ("fuse", "F 500 mA")]


@pytest.mark.parametrize(("kind", "text"), CODES)
def test_code_reads_back_to_the_same(kind, text):
    read = read_designation(kind, text)
    assert read is not None and read.attributes
    again = read_designation(kind, read.text)
    assert again is not None and again.attributes == read.attributes and again.text == read.text


@pytest.mark.parametrize(("kind", "text"), [
    ("bearing", "9999"), ("bearing", "6203 of some maker"), ("o-ring", "214"),
    ("o-ring", "AS568-999"),
    ("o-ring", "25x3.5 something"), ("drive-belt", "Q38"), ("drive-belt", "A"), ("pump", "B"),
    ("pump", "82-9"), ("pump-seal", "28x16x7"), ("pump-seal", "16x28"), ("clamp", "50-32"),
    ("fuse", "15"), ("hose", "fat"), ("impeller", "IMP-1"), ("fastener", "M8x20")])
def test_code_that_means_nothing_certain_is_not_read(kind, text):
    read = read_designation(kind, text)
    assert read is None or (kind, text) == ("bearing", "6203 of some maker") \
        and "closure" not in read.attributes


@pytest.mark.parametrize(("text", "closure", "clearance"), [
    ("6203", "open", "CN"), ("6203-2RS1", "seal-both", "CN"), ("6203 2RSR C3", "seal-both", "C3"),
    ("6203LLU", "seal-both", "CN"), ("6203DDU C3", "seal-both", "C3"),
    ("6203-RS", "seal-one", "CN"),
    ("6203ZZ", "shield-both", "CN"), ("6203-2Z", "shield-both", "CN"),
    ("6203-Z", "shield-one", "CN"),
    ("6203 VV", "shield-both", "CN"), ("6203-2RS/C3", "seal-both", "C3")])
def test_suffixes_of_different_makers_say_the_same(text, closure, clearance):
    read = bearings.read(text)
    assert read and (read.attributes["closure"], read.attributes["clearance"]) == (
        closure, clearance)


def test_code_from_remembered_table_says_so():
    assert bearings.read("62203").rests_on
    assert not bearings.read("6203").rests_on


@pytest.mark.parametrize(("text", "system", "value"), [
    ("A38", "datum", 1000), ("13x1000 Li", "inside", 1000), ("SPZ 987", "datum", 987),
    ("6PK1200", "effective", 1200), ("3V500", "effective", 1270), ("A 1000 La", "outside", 1000)])
def test_belt_code_gives_a_length_in_its_system(text, system, value):
    length = belts.read(text).attributes["length"]
    assert (length["system"], float(length["value"])) == (system, value)


def test_belt_without_system_has_none():
    assert "system" not in belts.read("13x1000").attributes["length"]


@pytest.mark.parametrize(("text", "amps"), [("5x20 F 500 mA", "0.5"), ("5x20 T 2A", "2"),
                                            ("6.3x32 T 10 A 250V", "10")])
def test_fuse_marking_gives_its_rating(text, amps):
    assert fuses.read(text).attributes["rating_a"] == amps


def test_key_is_read_and_found_by_its_shaft():
    assert keys.read("5x5x20").attributes == {"key_width": "5", "key_height": "5",
                                              "key_length": "20"}
    assert keys.key_of_shaft("17")["width_mm"] == 5
    assert keys.key_of_shaft("200") is None and keys.key_of_shaft("3") is None


@pytest.mark.parametrize(("text", "meant"), [
    ("M10", ["M10x1.5"]), ("M10 × 1,25 LH", ["M10x1.25 LH"]), ("3/8-16", ["3/8-16 UNC"]),
    ("1 1/4-7 UNC", ["1 1/4-7 UNC"]), ("1-1/4-7 UNC", ["1 1/4-7 UNC"]), ("2-56 UNC", ["#2-56 UNC"]),
    ("2-4.5 UNC", ["2-4.5 UNC"]), ("No. 10-32 UNF", ["#10-32 UNF"]), ("1/2 BSW", ["1/2-12 BSW"]),
    ("G1/2A", ["G 1/2"]), ('3/4" NPT', ["3/4 NPT"]), ("Rc 1/2", ["Rc 1/2"]),
    ("G 1 1/4 female", ["G 1 1/4"]), ("1/2 BSPT male", ["R 1/2"]),
    ("1/2 BSP", ["G 1/2", "R 1/2", "Rp 1/2", "Rc 1/2"])])
def test_thread_text_means_these_threads(text, meant):
    assert [thread.text for thread in parse_thread(text)] == meant


@pytest.mark.parametrize("text", ["3/8", "1/2-12", "M10x40", "M", "", "NPT", "G 7", "M7.3",
                                  "R 1/2 female",
                                  "3/8-17 UNC", "half inch gas", "0 UNC-"])
def test_thread_text_that_is_not_certain_means_nothing(text):
    assert parse_thread(text) == ()
