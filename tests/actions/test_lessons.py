"""A child learns a job: what was seen, confirmed by an adult."""

from __future__ import annotations

import pytest

from spares.actions.card import card
from spares.actions.lessons import lesson
from spares.errors import InvalidInput


def test_what_a_child_saw_is_kept_and_an_adult_confirms_it(ctx):
    lesson(ctx, "S01", "Mia", seen="where the filter sits")
    assert card(ctx, "S01")["lessons"][0]["confirmed_by"] is None
    lesson(ctx, "S01", "Mia", seen="where the filter sits", confirmed_by="Anna")
    lesson(ctx, "S01", "Jon", seen="three filters", confirmed_by="Anna", at="2027-03-14")
    assert [(one["learner"], one["seen"], one["confirmed_by"]) for one in card(
        ctx, "S01")["lessons"]] == [("Mia", "where the filter sits", "Anna"),
                                    ("Jon", "three filters", "Anna")]


def test_nobody_confirms_what_he_learned_himself(ctx):
    for learner, more in ((" ", {}), ("Mia", {"confirmed_by": "mia "}),
                          ("Mia", {"at": "2027-03-16"})):
        with pytest.raises(InvalidInput):
            lesson(ctx, "S01", learner, **more)
