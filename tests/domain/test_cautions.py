"""Cautions: every hazard that is named is said, and nothing is dropped in silence."""

from __future__ import annotations

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from spares.domain.cautions import (
    all_cautions,
    cautions_for,
    closing_sentence,
    hazard_words,
    known_words,
)
from spares.errors import InvalidInput

SEED = Path(__file__).parents[2] / "seed"


def test_the_closing_sentence_defers_to_rules_book_and_licensed_trade():
    assert closing_sentence() == (
        "Local rules and the maker's book decide; where a licence is required, "
        "leave it to the licensed trade.")


@pytest.mark.parametrize(
    ("word", "said"),
    [
        ("rotating", "Nobody starts it while a hand is in"),
        ("stored energy", "try that it is dead"),
        ("hot", "Pressure cap last, with a cloth, never hot"),
        ("sea-cock", "Re-open and look before leaving it"),
        ("pieces", "Do not run before the trail is closed"),
        ("petrol", "petrol vapour sinks"),
        ("gas", "never test with a flame"),
        ("fumes", "Carbon monoxide has no smell"),
        ("battery", "Charging gas can explode"),
        ("mains", "Unplug shore, stop the set, inverter off, prove dead"),
        ("lifting", "Nobody under or in line"),
        ("hydraulic", "Never feel for a leak by hand"),
        ("acid", "acid into water"),
        ("waste gas", "air first, never alone, no entry"),
        ("enclosed space", "Do not enter without tested air"),
        ("refrigerant", "Licensed trade"),
        ("torque", "Values only from the maker's book"),
        ("child", "an adult's hands"),
        ("stop values", "no outlet water, oil pressure gone"),
        ("dated safety gear", "The printed date and the flag's rules decide"),
    ],
)
def test_each_hazard_word_brings_its_own_text(word, said):
    (caution,) = cautions_for([word])
    assert said in caution.text


def test_two_words_for_one_caution_show_it_once():
    assert len(cautions_for(["hot", "pressure"])) == 1


@given(st.permutations(known_words()))
def test_the_order_of_showing_does_not_depend_on_the_order_of_naming(words):
    assert cautions_for(words) == all_cautions()


@pytest.mark.parametrize("word", ["Sea-cock", "sea cock", " SEA-COCK "])
def test_case_and_hyphen_do_not_matter(word):
    assert cautions_for([word])[0].mark == "sea-cock"


def test_an_unknown_hazard_is_an_error_that_names_it():
    with pytest.raises(InvalidInput, match="rotatting"):
        cautions_for(["hot", "rotatting"])


def test_no_word_calls_two_cautions():
    assert len(set(known_words())) == len(known_words())


@pytest.mark.parametrize(("file", "column"), [("services", "cautions"), ("machines", "hazards")])
def test_every_hazard_of_the_demo_is_known(file, column):
    found = []
    for path in SEED.glob(f"*/{file}.csv"):
        with path.open(encoding="utf-8", newline="") as lines:
            found += [row.get(column) for row in csv.DictReader(lines, delimiter=";")]
    called = [cautions_for(hazard_words(words)) for words in found]
    assert any(called)


def test_a_field_of_hazards_is_split_at_commas():
    assert hazard_words(" hot, waste gas;oil,") == ("hot", "waste gas", "oil")
    assert hazard_words(None) == hazard_words("") == ()


def test_every_caution_says_where_it_comes_from():
    assert all(caution.source and caution.text and caution.shown for caution in all_cautions())
