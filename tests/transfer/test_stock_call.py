"""What the call `stock` takes and what it refuses."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.errors import InvalidInput


def took(q: Any = 1000, **other: Any) -> dict[str, Any]:
    return {"id": "t", "dev": "A", "n": 1, "kind": "took", "at": "0000000003e8.0000.A",
            "seen": None, "pos": {"e": 1}, "body": {"part": "P", "locker": "K", "lot": "", "q": q},
            **other}


def moved(**body: Any) -> dict[str, Any]:
    return took(kind="moved", body={"part": "P", "from": "K", "q": 1, **body})


def test_nothing_recorded_leaves_nothing_on_hand() -> None:
    assert compute("stock", {"changes": []}) == {"on_hand": []}


def test_whole_envelope_may_be_given_with_the_fields_that_do_not_bear_on_it() -> None:
    found = compute("stock", {"changes": [took(v=1, t=5, after="", mac="00", g=0)]})
    assert found["on_hand"] == [{
        "part": "P", "locker": "K", "lot": "", "quantity": -1000, "low": -1000, "high": -1000,
        "doubts": [], "rivals": [], "flags": ["negative"]}]


def test_pieces_may_move_to_another_lot_in_the_same_locker() -> None:
    found = compute("stock", {"changes": [moved(to="K", to_lot="new")]})
    assert [(one["lot"], one["quantity"]) for one in found["on_hand"]] == [("", -1), ("new", 1)]


@pytest.mark.parametrize(("change", "pointer"), [
    (took(colour="red"), "#/changes/0/colour"),
    (took(kind="teleported"), "#/changes/0/kind"),
    (took(at="yesterday"), "#/changes/0/at"),
    (took(n=0), "#/changes/0/n"),
    (took(g=2), "#/changes/0/g"),
    (took(seen={"epoch": "e"}), "#/changes/0/seen/seq"),
    (took(body={"part": "P", "q": 1}), "#/changes/0/body/locker"),
    (took(body={"part": "P", "locker": "K", "q": 1, "colour": 1}), "#/changes/0/body/colour"),
    (moved(to="K"), "#/changes/0/body/to"),
    (moved(to="K", to_lot=""), "#/changes/0/body/to"),
    *[(took(q), "#/changes/0/body/q") for q in (0, -1, 1.0, 1.5, "1", True, None, 10**9 + 1)],
])
def test_malformed_envelope_is_refused_by_its_place(change: dict, pointer: str) -> None:
    with pytest.raises(InvalidInput) as caught:
        compute("stock", {"changes": [change]})
    assert pointer in [error["pointer"] for error in caught.value.facts["errors"]]


@pytest.mark.parametrize("request_", [{}, {"changes": {}}, {"changes": [1]}, {"changes": None},
                                      {"changes": [], "more": 1}, [], None])
def test_request_of_another_shape_is_refused(request_: Any) -> None:
    with pytest.raises(InvalidInput):
        compute("stock", request_)
