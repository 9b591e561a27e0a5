"""A pump is exchanged: what is inside comes and goes, and the spares are judged again."""

from __future__ import annotations

import pytest

from spares.actions.context import Context
from spares.actions.exchange import exchange
from spares.actions.show import show
from spares.actions.stranded import stranded
from spares.actions.undo import undo
from spares.errors import InvalidInput


def test_the_inner_points_retire_and_appear_with_the_part(ctx: Context) -> None:
    answer = exchange(ctx, "ENG-01", "P02", from_locker="L02", old_to="L03")
    assert [one["no"] for one in answer["retired"]] == ["ENG-03"]
    assert [one["name"] for one in answer["appeared"]] == ["impeller"]
    assert [one["no"] for one in answer["stranded"]] == ["P03"]
    assert [one["no"] for one in answer["fits_again"]] == ["P04"]
    lines = stranded(ctx)["stranded"]
    assert [(one["part"], one["quantity"], one["belongs_to"], one["taken_out"]) for one in lines] \
        == [("P03", 6, "ENG-03", "2027-03-15")]


def test_the_new_one_leaves_its_locker_and_the_old_is_suspect(ctx: Context) -> None:
    exchange(ctx, "ENG-01", "P02", from_locker="L02", old_to="L03")
    assert show(ctx, "P02")["where"] == []
    old, = show(ctx, "P01")["where"]
    assert (old["locker"], old["quantity"], old["condition"]) == ("L03", 1, "suspect")


def test_putting_the_old_pump_back_revives_its_points(ctx: Context) -> None:
    exchange(ctx, "ENG-01", "P02", at="2027-03-14")
    answer = exchange(ctx, "ENG-01", "P01")
    assert [one["no"] for one in answer["appeared"]] == ["ENG-03"]
    assert [one["no"] for one in answer["fits_again"]] == ["P03"]


def test_undo_puts_everything_back(ctx: Context) -> None:
    def parts() -> list[str]:
        return [one["part"] for one in stranded(ctx)["stranded"]]

    before = show(ctx, "ENG-01"), show(ctx, "P02"), parts()
    done = exchange(ctx, "ENG-01", "P02", from_locker="L02", old_to="L03")
    undo(ctx, done["change"])
    assert (show(ctx, "ENG-01"), show(ctx, "P02"), parts()) == before
    assert parts() == ["P04"], "a spare for a pump that is not fitted fits nothing"


def test_a_retired_point_takes_nothing(ctx: Context) -> None:
    exchange(ctx, "ENG-01", "P02")
    with pytest.raises(InvalidInput, match="gone"):
        exchange(ctx, "ENG-03", "P03")


def test_what_sat_there_before_stays_readable(ctx: Context) -> None:
    exchange(ctx, "ENG-01", "P02")
    point = show(ctx, "ENG-01")
    assert point["fitted"] == {"part": "P02", "name": "New pump", "since": "2027-03-15"}
    assert point["before"] == [{"part": "P01", "name": "Old pump", "until": "2027-03-15"}]
