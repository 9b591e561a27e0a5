"""How typed words find a line."""

from __future__ import annotations

import string
import unicodedata

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from spares.domain import search_text
from spares.domain.search_text import search, search_line

LINES = [
    search_line("P037", "Impeller, neoprene, 6 vanes Harbour set pump impeller",
                ["QS I-40", "Quillsund"]),
    search_line("P061", "Impeller for G80 Bilge and fire pump impeller", ["QS G80-I"]),
    search_line("P001", "Lube oil filter, spin-on Main engine", ["KR 40-118"]),
    search_line("P003", "Fuel fine filter Main engine", ["KR 40-203"]),
    search_line("P013", "Thermostat gasket Main engine", ["KR 61-080"]),
    search_line("P087", "Bolt 5/16-22 BSF x 1 in", ["FH B516-1"]),
    search_line("P092", "Hose tail NPT 1¼ x 32 mm", ["FH HT-N"]),
]


@pytest.mark.parametrize(
    ("text", "folded"),
    [
        ("Kühlwasser", "kuhlwasser"),
        ("GROẞE Straße", "grosse strasse"),
        ("Ærø Ålborg smørefedt", "aero alborg smorefedt"),
        ("Đuro łódź þak", "duro lodz thak"),
        ("ΣΩΛΗΝΑΣ", "σωληνασ"),
        ("İstanbul ısı", "istanbul isi"),
        ("1½ in", "1 1⁄2 in"),
        ("10 µm ﬁlter", "10 μm filter"),
    ],
)
def test_folding_takes_case_and_accents_away(text, folded):
    assert search_text.fold(text) == folded


@given(st.text())
def test_folding_twice_is_folding_once(text):
    once = search_text.fold(text)
    assert search_text.fold(once) == once


@given(st.text())
def test_composed_and_decomposed_text_fold_alike(text):
    composed, apart = (unicodedata.normalize(form, text) for form in ("NFC", "NFD"))
    assert search_text.fold(composed) == search_text.fold(apart)


def test_a_number_is_one_however_it_is_written():
    for written in ("KR 40-118", "kr40.118", "KR40118", "k r-40 118"):
        assert search_text.number_key(written) == "kr40118"


def test_two_typed_beginnings_find_the_impeller_of_the_harbour_set():
    assert search("imp har", LINES) == ["P037"]


def test_a_whole_word_stands_before_a_mere_beginning():
    lines = [search_line("A", "pumpkin"), search_line("B", "bilge pump")]
    assert search("pump", lines) == ["B", "A"]


@pytest.mark.parametrize("typed", ["KR 40-118", "kr40118", "40-118", "0-11"])
def test_a_part_is_found_by_its_number_whole_or_in_part(typed):
    assert search(typed, LINES)[0] == "P001"


def test_a_number_with_a_word_finds_the_part():
    assert search("118 filt", LINES) == ["P001"]
    assert search("kr40118 filt", LINES) == ["P001"]


def test_the_very_number_stands_before_one_that_begins_with_it():
    lines = [search_line("A", "long", ["X 100-1"]), search_line("B", "short", ["X 100"])]
    assert search("x100", lines) == ["B", "A"]


def test_a_fraction_typed_with_a_slash_finds_the_printed_one():
    assert search("npt 1 1/4", LINES) == ["P092"]


@pytest.mark.parametrize(
    ("typed", "key"),
    [
        ("gaskt", "P013"),  # a letter missed
        ("gasekt", "P013"),  # neighbours swapped
        ("thermostst", "P013"),  # a wrong letter in a long word
        ("tehrmostta", "P013"),  # two swaps in a long word
        ("impeler harbur", "P037"),
    ],
)
def test_a_slip_of_the_finger_still_finds_the_part(typed, key):
    assert search(typed, LINES)[0] == key


@pytest.mark.parametrize(
    "typed", ["40-119", "G81", "kr40117", "bolt 5/17", "lob", "xyz", "", " - "])
def test_numbers_and_short_words_are_never_bent(typed):
    assert search(typed, LINES) == []


def test_a_line_that_answers_exactly_hides_those_that_only_resemble():
    lines = [search_line("A", "seat"), search_line("B", "seal")]
    assert search("seal", lines) == ["B"]


@given(st.permutations(LINES))
def test_the_order_of_the_lines_does_not_change_the_answer(lines):
    assert search("filter engine", lines) == ["P003", "P001"]


def one_slip_away(word: str) -> set[str]:
    """Every text one slip from `word`, made by making the slips."""
    cuts = [(word[:i], word[i:]) for i in range(len(word) + 1)]
    missed = {a + b[1:] for a, b in cuts if b}
    swapped = {a + b[1] + b[0] + b[2:] for a, b in cuts if len(b) > 1}
    wrong = {a + c + b[1:] for a, b in cuts if b for c in string.ascii_lowercase}
    added = {a + c + b for a, b in cuts for c in string.ascii_lowercase}
    return {word} | missed | swapped | wrong | added


letters = st.text(alphabet="abcd", min_size=4, max_size=7)


@given(letters, letters)
def test_one_slip_is_counted_as_making_every_slip_shows(asked, word):
    near = any(word.startswith(text) for text in one_slip_away(asked))
    assert (search_text.edits_to_prefix(asked, word, 1) is not None) == near


@given(st.text(alphabet="abcde", min_size=8, max_size=10), st.data())
def test_two_slips_made_are_two_slips_allowed(word, data):
    typed = word
    for _ in range(2):
        place = data.draw(st.integers(0, len(typed) - 1))
        typed = typed[:place] + data.draw(st.sampled_from("abcde")) + typed[place + 1 :]
    assume(typed != word)
    counted = search_text.edits_to_prefix(typed, word, 2)
    assert counted is not None and counted <= 2


@given(st.text(max_size=30))
def test_every_line_is_found_by_its_own_words(text):
    assume(search_text.words(text))
    assert search(text, [*LINES, search_line("own", text)], limit=1000).count("own") == 1
