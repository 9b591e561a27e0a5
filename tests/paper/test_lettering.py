"""Type on paper stays in its box and never turns into something else."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from spares.paper import lettering
from spares.paper.language import ENGLISH
from spares.paper.lettering import BOLD, PLAIN, Row

sizes = st.floats(4, 20)


@settings(max_examples=50)
@given(st.text(max_size=80), sizes, st.floats(30, 200))
def test_wrapped_lines_fit_the_width_and_lose_nothing(text, size, room):
    lines = lettering.wrap(text, PLAIN, size, room)
    assert "".join("".join(lines).split()) == "".join(lettering.readable(text).split())
    for line in lines:
        assert lettering.width_pt(line, PLAIN, size) <= room + 0.001 or len(line) == 1


@settings(max_examples=50)
@given(st.lists(st.text(max_size=120), max_size=5), st.floats(40, 200), st.floats(0, 120))
def test_a_stack_never_leaves_its_box(texts, room, height):
    rows = [Row(text, PLAIN, 12, 5) for text in texts]
    stack = lettering.set_stack(rows, room, height)
    assert sum(row.height_pt for row in stack) <= height
    assert all(lettering.width_pt(line, PLAIN, row.size_pt) <= room + 0.001
               for row in stack for line in row.lines)


def test_a_text_with_room_is_set_at_its_largest():
    assert lettering.set_stack([Row("Bilge pump", BOLD, 12, 5)], 200, 20)[0].size_pt == 12


def test_a_long_text_shrinks_before_anything_is_cut():
    long = "Impeller for the bilge and fire pump"
    row = lettering.set_stack([Row(long, BOLD, 12, 5)], 100, 20)[0]
    assert 5 <= row.size_pt < 12
    assert " ".join(row.lines) == long


def test_what_must_be_cut_shows_that_it_was_cut():
    row = lettering.set_stack([Row("Impeller " * 50, BOLD, 12, 5)], 100, 20)[0]
    assert row.lines[-1].endswith("…")


def test_a_number_stays_with_its_unit():
    assert lettering.wrap("Seal 10 mm", PLAIN, 10, 45) == ("Seal", "10 mm")


@pytest.mark.parametrize("text", ["水", "🛟", "\u05d0", "\x07", "\u200b"])
def test_what_the_fonts_lack_is_shown_as_a_question_mark_and_named(text):
    assert lettering.readable(f"a{text}b") == "a?b"
    assert lettering.missing_characters([text, "abc"]) == text


def test_an_accent_apart_from_its_letter_is_joined_to_it():
    assert lettering.readable("e\u0301 A\u030a") == "é Å"


@given(st.text(alphabet=st.characters(min_codepoint=0xA1, max_codepoint=0x24F)))
def test_every_latin_letter_can_be_shown(text):
    assert lettering.missing_characters([text]) == ""


@pytest.mark.parametrize(
    ("date", "shown"),
    [("2031-06-30", "30 Jun 2031"), ("2031-06", "Jun 2031"), ("2023", "2023"),
     ("2027-03-05", "5 Mar 2027"), ("no date", "no date"), ("2027-13-01", "2027-13-01")],
)
def test_a_date_is_shown_as_far_as_it_is_known(date, shown):
    assert ENGLISH.day(date) == shown


def test_a_moment_is_shown_to_the_minute():
    assert ENGLISH.moment(datetime(2027, 3, 15, 8, 5)) == "15 Mar 2027, 08:05"
    assert ENGLISH.moment(datetime(2027, 3, 15, 8, 5, tzinfo=UTC)) == "15 Mar 2027, 08:05 UTC"
