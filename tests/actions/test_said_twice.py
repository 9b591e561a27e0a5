"""The same request again, a day later or after something was undone, and places of two pieces."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from uuid import uuid4

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.done import done
from spares.actions.exchange import exchange
from spares.actions.put import put
from spares.actions.reading import reading
from spares.actions.show import show


def tomorrow(ctx: Context) -> Context:
    return replace(ctx, today=ctx.today + timedelta(days=1))


def test_a_service_sent_again_next_day_is_the_same(ctx: Context) -> None:
    ident = str(uuid4())
    first = done(ctx, "S01", change_id=ident)
    again = done(tomorrow(ctx), "S01", change_id=ident)
    assert first["was_new"] and not again["was_new"]
    assert {**first, "was_new": False, "missing": []} == {**again, "missing": []}


def test_a_reading_sent_again_next_day_keeps_its_day(ctx: Context) -> None:
    ident = str(uuid4())
    first = reading(ctx, "ENG", 2000, because="new counter", change_id=ident)
    again = reading(tomorrow(ctx), "ENG", 2000, because="new counter", change_id=ident)
    assert (again["was_new"], again["date"]) == (False, first["date"])


def test_a_place_of_two_pieces_takes_two_and_gives_two(ctx: Context) -> None:
    point = show(ctx, "ENG-01")
    write_document(ctx, "point", {"pieces": 2}, doc=f"point/{point['id']}")
    put(ctx, "P02", "L02", 3, expires="2030-01")
    before = show(ctx, "P02")["aboard"]
    exchange(ctx, "ENG-01", "P02", from_locker="L02", old_to="L03")
    assert show(ctx, "P02")["aboard"] == before - 2
    assert [one["quantity"] for one in show(ctx, "P02")["where"]] == [1, 1], \
        "both come from the one lot that holds two, the single piece stays"
    assert [one["quantity"] for one in show(ctx, "P01")["where"]] == [2]
