"""Texts by which people say that they do not know; two of them are no match."""

from __future__ import annotations

import pytest

from spares.domain.fit.reading import is_unsaid

# common practice, no source: what is found on labels, in lists and in notes
UNSAID = ("", "?", "??", "unknown", "Unknown?", "not known", "not_stated", "not measured",
          "nobody knows", "TBD", "n/a", "N/A", "na", "n.a.", "not sure", "Unsure", "not given",
          "not specified", "unspecified", "dont know", "Don't know", "see photo", "See picture",
          "to be measured", "original", "Same", "same as old", "as old", "as the old one",
          "like the old one", "as before", "...", "…", "–", "-", "CR?", "CR (?)", "prob. CR",
          "probably NBR", "perhaps NBR", "maybe")


@pytest.mark.parametrize("text", UNSAID)
def test_text_that_says_nothing_is_no_value(text: str):
    assert is_unsaid(text)


@pytest.mark.parametrize("text", ["none", "no", "key", "NBR", "nail", "nautical", "M8 (coarse)",
                                  "improbable", 0, None, False])
def test_text_that_says_something_is_a_value(text):
    assert not is_unsaid(text)
