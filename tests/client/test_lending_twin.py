"""Does a phone lend, take slips in and give back as the server would?"""

from __future__ import annotations

import shutil
from typing import Any

import pytest

from spares.actions.loans import loans, slip_of
from spares.domain.slip import read_slip
from spares.errors import InvalidInput
from tests.client.kept_server import ID, Watched, made_by_server
from tests.client.lent_slips import (
    BELT,
    BORROWED,
    HER,
    LENT,
    back_from_her,
    slip_from_her,
)
from tests.client.node_process import Node
from tests.stores import DAY_ZERO

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

ANOTHER = "00000000-0000-4000-8000-0000000000d3"
CLIP = {"name": "Clip", "unit": "pcs"}
#: (verb, request, what becomes of it) about what is lent and borrowed.
LENDING = [
    ("give-back", {"loan": BORROWED}, "made"),
    ("give-back", {"loan": BORROWED, "quantity": 2.5}, "made"),
    ("give-back", {"loan": BORROWED, "quantity": 4}, "refused"),
    ("slip-in", {"slip": back_from_her(LENT, 1000)}, "made"),
    ("slip-in", {"slip": back_from_her(LENT, 3000), "locker": "L04"}, "made"),
    ("slip-in", {"slip": back_from_her(LENT, 1000, 500, 1500)}, "made"),
    ("slip-in", {"slip": back_from_her(LENT, 4000)}, "refused"),
    ("slip-in", {"slip": back_from_her(ANOTHER, 1000)}, "refused"),
    ("slip-in", {"slip": slip_from_her(ANOTHER, (1000,)), "locker": "L04"}, "made"),
    ("slip-in", {"slip": slip_from_her(ANOTHER, (1000, 3000, 500)), "locker": "L17"}, "made"),
    ("slip-in", {"slip": slip_from_her(ANOTHER, (1000,))}, "refused"),
]


@pytest.mark.parametrize("row", range(len(LENDING)))
def test_phone_lends_and_gives_back_as_the_server_would(
        server: Watched, phone: Node, row: int) -> None:
    verb, body, outcome = LENDING[row]
    try:
        ours = made_by_server(server, verb, body)
    except InvalidInput as err:
        assert outcome == "refused"
        told = phone.ask("drafts", path=f"do/{verb}", body=body, id=ID, today=DAY_ZERO)
        assert told == {"refused": err.code}
        return
    told = phone.ask("drafts", path=f"do/{verb}", body=body, id=ID, today=DAY_ZERO)["answer"]
    assert outcome == "made" and [one["body"] for one in told] == [one["body"] for one in ours]
    # Taken in on two devices it is done once: by the ids of all its movements.
    if verb == "slip-in":
        assert [one["id"] for one in told if one["kind"] != "set"] == [
            one.id for one in server.handed if one.kind != "set"]


def test_slip_that_was_taken_in_before_makes_nothing_on_either_side(
        server: Watched, phone: Node) -> None:
    body = {"slip": slip_from_her(BORROWED, (2000, 1000)), "locker": "L04"}
    assert made_by_server(server, "slip-in", body) == []
    told = phone.ask("drafts", path="do/slip-in", body=body, id=ID, today=DAY_ZERO)
    assert told == {"answer": []}


def test_slip_of_a_part_that_is_not_aboard_begins_it(server: Watched, phone: Node) -> None:
    body = {"slip": slip_from_her(ANOTHER, (1000,), CLIP), "locker": "L04"}
    told = phone.ask("drafts", path="do/slip-in", body=body, id=ID, today=DAY_ZERO,
                     dev="k3m9x2ab")["answer"]
    ours = made_by_server(server, "slip-in", body)
    assert [one["kind"] for one in told] == [one["kind"] for one in ours] == ["set", "set", "put"]
    named = told[0]["body"]["f"].pop("no")
    assert named == ours[0]["body"]["f"].pop("no") + "-K3M"     # no other phone's number
    assert told[0]["body"]["f"] == ours[0]["body"]["f"] == CLIP
    assert told[2]["body"]["part"] == told[0]["body"]["doc"] == told[1]["body"]["f"]["part"]


def test_loans_and_slips_are_the_same_on_phone_and_server(server: Watched, phone: Node) -> None:
    assert phone.ask("list", name="loans")["answer"] == loans(server)
    assert [len(some) for some in loans(server).values()] == [2, 1]
    assert [one["back"] for one in loans(server)["lent"]] == [0, 1]
    told = phone.ask("slip", loan=LENT, today=DAY_ZERO)
    assert told == {"answer": slip_of(server, LENT)}
    for unknown in (BORROWED, ANOTHER):         # nothing went back yet; no such loan
        assert phone.ask("slip", loan=unknown, today=DAY_ZERO) == {"refused": "not-found"}


def test_phone_and_server_refuse_the_same_slips(phone: Node) -> None:
    good = slip_from_her(ANOTHER, (1000,), {**BELT, "name": "Käfig\U0001f529"})
    assert phone.ask("read-slip", slip=good) == {"answer": read_slip(good)}
    late = {**good, "spares_slip": 2}
    wrong: list[Any] = [None, [], "slip", {}, late, {**good, "more": 1}, {**good, "on": "today"},
                        {**good, "seal": "0" * 64}]
    wrong += [slip_from_her(ANOTHER, (q,)) for q in (0, -1, 10**9 + 1)]
    wrong += [slip_from_her(ANOTHER, (1000,), {**BELT, "name": name}) for name in ("", "a\nb")]
    wrong += [slip_from_her(ANOTHER, ()), slip_from_her("no id", (1000,)),
              slip_from_her(ANOTHER, (1000,), BELT, {**HER, "name": "x" * 201})]
    for one in wrong:
        with pytest.raises(InvalidInput):
            read_slip(one)
        assert phone.ask("read-slip", slip=one) == {"refused": "invalid-input"}, one
