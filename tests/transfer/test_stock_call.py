"""What the calls `stock` and `history` take and what they refuse."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.compute import compute
from spares.errors import InvalidInput
from spares.sync.bodies import check_body

ID = "00000000-0000-4000-8000-00000000000a"
PART, LOCKER, LOT, ANY = (f"{kind}/{ID}" for kind in ("part", "locker", "lot", "vessel"))
CELL = {"part": PART, "locker": LOCKER, "lot": LOT, "q": 1000}
DAY, SAID = "2027-03-15", {"note": "in the rain", "batch": "b"}
#: A body of each kind that bears on the count, with every field that the log may hold of it.
WHOLE_BODIES = [
    *((kind, {**CELL, "machine": f"machine/{ID}", "to": ANY, "date": DAY, **SAID})
      for kind in ("took", "put", "landed")),
    ("moved", {"part": PART, "from": LOCKER, "to": LOCKER, "lot": "", "to_lot": LOT, "q": 1000,
               "date": DAY, "back_by": "2027-04-15", **SAID}),
    ("counted", {**CELL, "shown": 2000, **SAID}),
    ("convert", {"out": [CELL], "in": [{**CELL, "lot": ""}], **SAID}),
    ("service", {"service": ANY, "machine": f"machine/{ID}", "date": DAY, "minutes": 60,
                 "proof": "seen", "by": "me", "failed": [PART], "lines": [CELL], **SAID}),
    ("exchange", {"point": ANY, "part": PART, "from": LOCKER, "date": DAY, "lot": LOT,
                  "old_part": PART, "old_to": "landed", "old_lot": "", "q": 1000, "why": "worn",
                  **SAID}),
    ("void", {"of": ID, **SAID}),
    ("settle", {"of": ID, "count": ID, "side": "after", **SAID}),
    ("same", {"keep": PART, "drop": f"part/{ID[:-1]}b", **SAID}),
    ("restamp", {"of": ID, "at": f"{1:012x}.0000.aaaaaaaa", "g": 1, "pos": {"e" * 16: 1}})]


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


@pytest.mark.parametrize(("kind", "body"), WHOLE_BODIES, ids=[kind for kind, _ in WHOLE_BODIES])
def test_every_field_that_the_log_holds_may_stand_in_an_envelope(kind: str, body: dict) -> None:
    check_body(kind, body)
    assert "on_hand" in compute("stock", {"changes": [took(kind=kind, body=body)]})


def test_service_may_say_hours() -> None:
    body = {"machine": "M", "hours": 250.5, "lines": [{"part": "P", "locker": "K", "q": 5}]}
    found = compute("stock", {"changes": [took(kind="service", body=body)]})
    assert found["on_hand"][0]["quantity"] == -5


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
    (took(pos={"e": "1"}), "#/changes/0/pos/e"),
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


@pytest.mark.parametrize(("step", "name"), [
    ([1, "A", "sync", {"x": 1}], "x"), ([1, "A", "clock", {"step_min": 5, "x": 1}], "x"),
    ([1, "A", "phone_copy", {"as": "c", "a/b": 1}], "a~1b"),
    ([1, "server", "backup", {"as": "b", "min": 1}], "min"),
    ([1, "server", "lost_time", {"min": 5, "step_min": 1}], "step_min")])
def test_field_that_a_step_of_a_story_does_not_have_is_refused_by_name(step: list, name: str
                                                                       ) -> None:
    with pytest.raises(InvalidInput) as caught:
        compute("history", {"devices": {"A": 0}, "steps": [step]})
    assert [e["pointer"] for e in caught.value.facts["errors"]] == [f"#/steps/0/3/{name}"]


@pytest.mark.parametrize(("by", "doubts"), [("1,9", []), ("2.5", ["t"]), (2.5, ["t"])])
def test_minutes_of_a_story_may_be_text(by: Any, doubts: list) -> None:
    """A clock that moved by more than 2 minutes cannot say what was before a count 40 min on."""
    cell = {"part": "P", "locker": "K"}
    told = compute("history", {"devices": {"A": 0, "B": 0}, "steps": [
        [0, "A", "put", {**cell, "q": 10}], [1, "A", "sync"], [2, "B", "sync"],
        [10, "B", "clock", {"step_min": by}], [20, "B", "took", {**cell, "as": "t", "q": 2}],
        [60, "A", "counted", {**cell, "q": 10}], [80, "B", "sync"], [81, "A", "sync"],
        [90, "server", "lost_time", {"min": by}]]})
    assert told["on_hand"]["P@K"]["doubts"] == doubts
