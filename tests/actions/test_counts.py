"""Counting on a rainy day, doubts, what is typed in later, and a batch that turns out bad."""

from __future__ import annotations

import json
import time
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest

from spares.actions.batches import batch
from spares.actions.changes import changes
from spares.actions.counted import counted
from spares.actions.counts import counts
from spares.actions.doubt import doubt
from spares.actions.exchange import exchange
from spares.actions.find import find
from spares.actions.moved import moved
from spares.actions.put import put
from spares.actions.show import show
from spares.actions.took import took
from spares.actions.undo import undo
from spares.errors import AskFirst, InvalidInput

pytestmark = pytest.mark.both

#: The clock is the store's; its own today has to follow it.
NOW = datetime.fromtimestamp(time.time(), UTC).date()


def _lies(ctx, part, locker):
    return sum(one["quantity"] for one in show(ctx, part, "part")["where"]
               if one["locker"] == locker)


def test_lockers_come_by_the_age_of_their_counts_and_the_number_expected_is_not_told(ctx):
    counted(ctx, "P05", "L01", 4)
    put(ctx, "P06", "L02", 2)                       # nobody has counted it
    found = counts(ctx)["lockers"]
    assert [one["locker"] for one in found] == ["L02", "L01"]       # L03 is ashore
    lines = {one["part"]: one for one in found[1]["lines"]}
    assert lines["P05"]["counted_on"] == NOW.isoformat()
    assert {one["part"]: one["counted_on"] for one in found[0]["lines"]}["P06"] is None
    assert "quantity" not in json.dumps(found)


def test_a_count_is_called_doubtful_in_one_tap_and_asked_again_first(ctx):
    put(ctx, "P06", "L02", 2)
    doubt(ctx, "P05", "L01", by="Ole", note="taken in a hurry")
    first = counts(ctx)["lockers"][0]
    assert (first["locker"], first["doubtful"]) == ("L01", 1)
    assert first["lines"][0]["doubted"]["note"] == "taken in a hurry"
    line = show(ctx, "P05", "part")
    assert "in-doubt" in line["tags"] and line["where"][0]["doubted"]["by"] == "Ole"
    answer = counted(ctx, "P05", "L01", 3, note="one was on the bench")
    assert counts(ctx)["lockers"][-1]["doubtful"] == 0
    assert "in-doubt" not in show(ctx, "P05", "part")["tags"]
    undo(ctx, answer["change"])                     # then it is in doubt as before
    assert "in-doubt" in show(ctx, "P05", "part")["tags"]
    doubt(ctx, "P05", "L01", taken_back=True)
    with pytest.raises(InvalidInput, match="nobody has called"):
        doubt(ctx, "P05", "L01", taken_back=True)


def test_what_is_typed_in_later_bears_its_day_and_is_asked_about_if_it_was_counted_since(ctx):
    """The counts of the store are of today; a slip of paper speaks of the week before."""
    here, week = replace(ctx, today=NOW), date.fromordinal(NOW.toordinal() - 7).isoformat()
    with pytest.raises(AskFirst) as caught:
        took(here, "P05", "L01", 1, at=week)
    assert caught.value.facts["asks"] == "counted-since"
    assert caught.value.facts["counted_on"] == NOW.isoformat()
    took(here, "P05", "L01", 1, at=week, counted_since="before")    # the count knew of it
    assert _lies(here, "P05", "L01") == 4
    took(here, "P05", "L01", 1, at=week, counted_since="after")
    assert _lies(here, "P05", "L01") == 3
    told = [one["text"] for one in changes(here, 3)["changes"]]
    assert told[0] == f"Took 1 of P05 from L01, on {week}"
    moved(here, "P05", "L01", "L02", 2, at=week, counted_since="before")
    assert (_lies(here, "P05", "L01"), _lies(here, "P05", "L02")) == (3, 2)
    with pytest.raises(InvalidInput, match="still to come"):
        took(here, "P05", "L01", 1, at=date.fromordinal(NOW.toordinal() + 1).isoformat())


def test_what_is_typed_in_later_goes_back_whole_and_today_needs_no_day(ctx):
    here, week = replace(ctx, today=NOW), date.fromordinal(NOW.toordinal() - 7).isoformat()
    answer = took(here, "P05", "L01", 2, at=week, counted_since="before")
    undo(here, answer["change"])
    took(here, "P05", "L01", 1, at=NOW.isoformat())
    assert _lies(here, "P05", "L01") == 3
    put(here, "P06", "L02", 1, at=week)             # nothing was ever counted there
    assert _lies(here, "P06", "L02") == 1


def test_a_batch_is_looked_for_by_its_mark_with_where_one_was_fitted(ctx):
    put(ctx, "P05", "L01", 2, batch="Lot 4711")
    put(ctx, "P06", "L02", 1, batch="4712")
    lot = next(one["lot"] for one in show(ctx, "P05", "part")["where"]
               if one["batch"] == "Lot 4711")
    exchange(ctx, "ENG-02", "P05", from_locker="L01", lot=lot, old_to="landed")
    found = batch(ctx, " lot 4711 ")
    assert [(one["part"], one["locker"], one["quantity"]) for one in found["where"]] == [
        ("P05", "L01", 1)]
    assert [(one["point"], one["still"]) for one in found["fitted"]] == [("ENG-02", True)]
    exchange(ctx, "ENG-02", "P06", from_locker="L02", old_to="landed")
    assert [one["still"] for one in batch(ctx, "LOT 4711")["fitted"]] == [False]
    assert [hit["no"] for hit in find(ctx, "lot 4711")["hits"]] == ["P05"]
    assert find(ctx, "lot 4711")["by"] == "batch" and batch(ctx, "none")["lots"] == []
