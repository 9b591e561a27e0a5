"""Classes of strength: of several each serves, and only stainless that pits is warned of.

A2 pits in sea water, A4 and A5 do not (ISO 3506-1, from memory); proof stress by class as tabled.
"""

from __future__ import annotations

from itertools import permutations

import pytest

from spares.actions.compute import compute


def ask(attr, asked, offered, **more):
    answer = compute("fit", {"kind": "fastener", "offers": {attr: offered},
                             "requires": [{"attr": attr, "value": asked, **more}]})
    return answer["rows"][0]["outcome"], [one["advisory"] for one in answer["advisories"]]


@pytest.mark.parametrize(("attr", "asked", "offered", "outcome"), [
    ("property_class", ["8.8", "12.9"], "10.9", "match"),
    ("property_class", ["10.9", "12.9"], "8.8", "stop"),
    ("property_class", ["8.8", "no such class"], "10.9", "match"),
    ("property_class", ["12.9", "no such class"], "8.8", "unknown"),
    ("nut_class", ["8", "12"], "10", "match"), ("nut_class", ["10", "12"], "8", "stop"),
    ("nut_class", ["12", "thick"], "8", "unknown"),
])
def test_of_several_classes_each_serves_in_whatever_order(attr, asked, offered, outcome):
    for order in permutations(asked):
        assert ask(attr, list(order), offered, cmp="at-least")[0] == outcome


def test_no_class_above_the_highest_asked_serves_where_none_may_be_above():
    for order in permutations(["8.8", "10.9"]):
        assert ask("property_class", list(order), "9.8", cmp="at-most")[0] == "match"
        assert ask("property_class", list(order), "12.9", cmp="at-most")[0] == "stop"


@pytest.mark.parametrize(("asked", "warned"), [
    (["A4-70", "A5-70"], True), (["A4-70", "A1-70"], False), (["A4-70"], True)])
def test_stainless_that_pits_is_warned_of_where_all_that_are_asked_do_not(asked, warned):
    outcome, advisories = ask("property_class", asked, "A2-70", cmp="at-least")
    assert outcome in ("match", "advisory")
    assert any("pits in sea water" in one for one in advisories) == warned
