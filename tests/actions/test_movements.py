"""Took, put, moved, counted, landed, lent: what the lockers say afterwards."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from spares.actions.context import Context
from spares.actions.counted import counted
from spares.actions.landed import landed
from spares.actions.lent import lent
from spares.actions.moved import moved
from spares.actions.put import put
from spares.actions.took import took
from spares.errors import Ambiguous, Conflict, InvalidInput, NotFound

pytestmark = pytest.mark.both


def lots(answer: dict[str, Any]) -> list[tuple[str, str, str | None, float]]:
    """Give where the part of an answer lies: locker, condition, expiry, quantity."""
    return sorted((one["locker"], one["condition"], one["expires"], one["quantity"])
                  for one in answer["part"]["where"])


def test_what_goes_out_of_date_first_is_taken_first(ctx: Context) -> None:
    answer = took(ctx, "P03", "L01", 3)
    assert lots(answer) == [("L01", "new", "2030-06-30", 2), ("L01", "used-good", None, 1)]
    assert answer["text"] == "Took 3 of P03 from L01"


def test_a_used_piece_is_taken_after_the_new_ones(ctx: Context) -> None:
    assert lots(took(ctx, "P03", "L01", 5)) == [("L01", "used-good", None, 1)]


def test_more_than_is_there_is_recorded_and_shown_below_zero(ctx: Context) -> None:
    answer = took(ctx, "P05", "L01", 6)
    assert lots(answer) == [("L01", "new", None, -2)]
    assert "negative" in answer["part"]["tags"]


def test_a_doubled_request_is_one_change(ctx: Context) -> None:
    ident = str(uuid4())
    first = took(ctx, "P03", "L01", 3, change_id=ident)
    again = took(ctx, "P03", "L01", 3, change_id=ident)
    assert (first["was_new"], again["was_new"]) == (True, False)
    assert lots(first) == lots(again)


def test_put_with_a_date_begins_a_lot_and_the_next_joins_it(ctx: Context) -> None:
    put(ctx, "P05", "L02", 1, expires="2031-01-31")
    answer = put(ctx, "P05", "L02", "2", expires="2031-01-31")
    assert lots(answer) == [("L01", "new", None, 4), ("L02", "new", "2031-01-31", 3)]


def test_moved_keeps_the_sum(ctx: Context) -> None:
    answer = moved(ctx, "P05", "L01", "L02", 3)
    assert lots(answer) == [("L01", "new", None, 1), ("L02", "new", None, 3)]


def test_moved_to_suspect_takes_pieces_out_of_the_usable(ctx: Context) -> None:
    answer = moved(ctx, "P05", "L01", "L01", 2, to_condition="suspect")
    assert lots(answer) == [("L01", "new", None, 2), ("L01", "suspect", None, 2)]
    assert (answer["part"]["usable"], answer["part"]["aboard"]) == (2, 4)


def test_ashore_counts_neither_as_aboard_nor_as_usable(ctx: Context) -> None:
    answer = moved(ctx, "P05", "L01", "L03", 4)
    assert (answer["part"]["aboard"], answer["part"]["usable"]) == (0, 0)
    assert (answer["part"]["state"], "ashore" in answer["part"]["tags"]) == ("none", True)


def test_lent_pieces_stand_with_the_borrower_and_come_back(ctx: Context) -> None:
    answer = lent(ctx, "P05", "L01", "Neighbour on the quay", 2)
    place = next(one for one in answer["part"]["where"] if one["lent_to"])
    assert (place["quantity"], place["lent_to"]) == (2, "Neighbour on the quay")
    assert answer["part"]["usable"] == 2
    lent(ctx, "P05", "L01", "neighbour ON the quay", 1)
    back = moved(ctx, "P05", place["locker"], "L01", 3)
    assert lots(back) == [("L01", "new", None, 4)]


def test_landed_is_out_of_the_count(ctx: Context) -> None:
    assert lots(landed(ctx, "P05", "L01", 4)) == []


@pytest.mark.parametrize(("found", "after"), [
    (6, [("L01", "new", "2028-06-30", 2), ("L01", "new", "2030-06-30", 3),
         ("L01", "used-good", None, 1)]),
    (3, [("L01", "new", "2030-06-30", 2), ("L01", "used-good", None, 1)]),
    (8, [("L01", "new", "2028-06-30", 2), ("L01", "new", "2030-06-30", 3),
         ("L01", "used-good", None, 3)]),
    (0, [])])
def test_a_count_of_all_lots_takes_off_what_is_used_first(
        ctx: Context, found: int, after: list[Any]) -> None:
    assert lots(counted(ctx, "P03", "L01", found)) == after


@pytest.mark.parametrize(("quantity", "say"), [
    (0, "more than 0"), (-1, "more than 0"), ("one", "not a number"), ("nan", "not a number"),
    (True, "number is needed"), ("1e30", "too large"), ("0,0001", "three decimals"),
    (None, "number is needed"), ("9" * 5000, "not a number")])
def test_no_quantity_is_no_movement(ctx: Context, quantity: Any, say: str) -> None:
    with pytest.raises(InvalidInput, match=say) as said:
        took(ctx, "P05", "L01", quantity)
    assert said.value.facts["errors"][0]["pointer"] == "#/quantity"


def test_a_part_may_be_called_by_its_makers_number(ctx: Context) -> None:
    assert took(ctx, "fh-5", "nn h9", 1)["text"] == "Took 1 of P05 from L01"


def test_a_number_of_two_parts_is_asked_about(ctx: Context) -> None:
    from spares.actions.documents import write_document
    doc = ctx.named("P06", "part", "part")
    write_document(ctx, "number", {"part": doc, "maker": "Fennholt", "number": "FH 5"})
    with pytest.raises(Ambiguous) as said:
        took(ctx, "FH 5", "L01")
    assert {one["no"] for one in said.value.facts["candidates"]} == {"P05", "P06"}


@pytest.mark.parametrize(("part", "locker", "pointer"), [
    ("P99", "L01", "#/part"), ("P05", "L99", "#/locker"), ("P05", "ENG", "#/locker")])
def test_an_unknown_thing_is_named(ctx: Context, part: str, locker: str, pointer: str) -> None:
    with pytest.raises(NotFound) as said:
        took(ctx, part, locker)
    assert said.value.facts["errors"][0]["pointer"] == pointer


def test_an_id_used_for_something_else_is_refused(ctx: Context) -> None:
    ident = str(uuid4())
    took(ctx, "P03", "L01", 3, change_id=ident)
    for again in (lambda: took(ctx, "P03", "L01", 2, change_id=ident),
                  lambda: took(ctx, "P05", "L01", 3, change_id=ident),
                  lambda: put(ctx, "P03", "L01", 3, change_id=ident)):
        with pytest.raises(Conflict) as said:
            again()
        assert said.value.facts["stop"] == "id_reused"
