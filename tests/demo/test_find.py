"""Where is it: labels, words and numbers aboard TANGLOPPE."""

from __future__ import annotations

from itertools import pairwise

import pytest

from spares.actions.find import find
from spares.actions.show import show
from spares.actions.stranded import stranded
from spares.actions.took import took
from spares.actions.undo import undo
from tests.demo import expected


@pytest.mark.parametrize("typed", ["EMJR", "emjr", " em-jr ", "TGL:LEMJR", "TGL:Lemjr"])
def test_a_label_code_leads_to_its_locker(demo, typed):
    (hit,) = find(demo, typed)["hits"]
    assert (hit["type"], hit["no"], hit["code"]) == ("locker", "L17", "EMJR")
    assert {line["no"]: line["quantity"] for line in hit["lines"]} == expected.EMJR


@pytest.mark.parametrize("code", [*expected.LOCKER_CODES.values(),
                                  *expected.MACHINE_CODES.values()])
def test_a_code_with_two_neighbours_swapped_leads_nowhere(demo, code):
    for n, (one, other) in enumerate(pairwise(code)):
        if one == other:
            continue        # equal neighbours swapped are the same code
        swapped = code[:n] + other + one + code[n + 2:]
        answer = find(demo, swapped)
        assert answer["hits"] == []
        assert answer["message"].startswith("No such label")


@pytest.mark.parametrize(("codes", "type_"), [(expected.LOCKER_CODES, "locker"),
                                              (expected.MACHINE_CODES, "machine")])
def test_every_label_leads_to_its_own_thing(demo, codes, type_):
    for no, code in codes.items():
        assert [(hit["type"], hit["no"]) for hit in find(demo, code)["hits"]] == [(type_, no)]


def test_two_half_words_find_the_impeller_first_with_both_lockers(demo):
    first = find(demo, "imp har")["hits"][0]
    assert first["no"] == "P037"
    assert {place["locker"]: place["quantity"] for place in first["where"]} == expected.IMP_HAR
    assert [fit["point"] for fit in first["fits"]] == ["HBR-04"]


def test_parts_are_found_by_their_number_and_their_makers_number(demo):
    for part in demo.aboard().all("part")[::6]:
        for asked in filter(None, (part.no, part.number)):
            assert [hit["no"] for hit in find(demo, asked)["hits"]] == [part.no], asked


def test_fit_points_say_what_is_fitted_and_which_are_gone(demo):
    points = [point for machine in expected.MACHINE_CODES
              for point in show(demo, machine)["points"]]
    assert len(points) == expected.COUNTS["points"]
    assert {p["no"]: p["retired_on"] for p in points if not p["live"]} == expected.RETIRED
    fitted = {p["no"]: p["fitted"]["part"] for p in points if p["fitted"]}
    assert (fitted["SAN-01"], fitted["HBR-04"], fitted["ENG-05"]) == ("P055", "P037", "P009")
    san = next(p for p in points if p["no"] == "SAN-01")
    assert [(b["part"], b["until"]) for b in san["before"]] == [("P054", "2025-09-12")]


def test_what_is_stranded_is_said_with_the_pump_it_belonged_to(demo):
    answer = stranded(demo)
    assert {line["part"]: line["quantity"] for line in answer["stranded"]} == expected.STRANDED
    for line in answer["stranded"]:
        assert (line["of"]["part"], line["taken_out"]) == ("P054", "2025-09-12")
        assert line["belongs_to"] in expected.RETIRED
    assert [one["part"] for one in answer["fits_not_recorded"]] == expected.FITS_NOT_RECORDED


def test_a_part_whose_number_of_pieces_nobody_knows_is_not_counted(demo):
    line = find(demo, "P108")["hits"][0]
    assert line["state"] == "not-counted"
    assert [(place["locker"], place["counted"]) for place in line["where"]] == [("L10", False)]


def test_taking_one_and_taking_it_back_shows_in_the_locker(own_demo):
    def there() -> tuple[int, str]:
        line = find(own_demo, "P034")["hits"][0]
        return sum(place["quantity"] for place in line["where"]), line["state"]
    assert there() == (2, "enough")
    took(own_demo, "P034", "L17", 1)
    assert there() == (1, "low")
    undo(own_demo)
    assert there() == (2, "enough")
