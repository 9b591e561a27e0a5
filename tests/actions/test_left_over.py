"""What shall become of what an exchange left over: recorded, undone, carried along, printed."""

from __future__ import annotations

import json
from uuid import uuid4

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.exchange import exchange
from spares.actions.export import export_csv, export_json
from spares.actions.left_over import left_over
from spares.actions.papers.paper import paper
from spares.actions.show import show
from spares.actions.stranded import stranded
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import Conflict, InvalidInput, NotFound
from tests.paper import reading

NOTE = "boatyard at the fjord, 20 EUR"


@pytest.fixture
def exchanged(ctx):
    """The new pump is in; three, one and two impellers of the old one are left over in L01."""
    answer = exchange(ctx, "ENG-01", "P02", from_locker="L02", old_to="landed")
    assert [one["no"] for one in answer["stranded"]] == ["P03"]
    return ctx


def _choice(ctx):
    line, = [one for one in stranded(ctx)["stranded"] if one["part"] == "P03"]
    return line["left_over"]


def test_a_left_over_waits_undecided_and_then_bears_the_choice(exchanged):
    assert _choice(exchanged) is None
    answer = left_over(exchanged, "P03", "sell", note=NOTE)
    assert answer["text"] == "P03, left over: sell it"
    assert _choice(exchanged) == {"choice": "sell", "note": NOTE} == show(
        exchanged, "P03")["left_over"]
    assert stranded(exchanged)["stranded"][0]["quantity"] == 6      # no count changes by it


def test_a_choice_can_be_changed_taken_back_and_left_open(exchanged):
    left_over(exchanged, "P03", "keep")
    left_over(exchanged, "P03", "give", note="the launch")
    undo(exchanged)
    assert _choice(exchanged) == {"choice": "keep", "note": None}
    left_over(exchanged, "P03", "open")
    assert _choice(exchanged) is None


def test_a_choice_sent_twice_is_one(exchanged):
    ident = str(uuid4())
    assert left_over(exchanged, "P03", "give", change_id=ident)["was_new"] is True
    assert left_over(exchanged, "P03", "give", change_id=ident)["was_new"] is False
    with pytest.raises(Conflict):
        left_over(exchanged, "P04", "give", change_id=ident)


def test_what_cannot_be_chosen_names_the_field(exchanged):
    with pytest.raises(InvalidInput) as told:
        left_over(exchanged, "P03", "burn")
    assert told.value.facts["errors"][0]["pointer"] == "#/choice"
    with pytest.raises(NotFound):
        left_over(exchanged, "P99", "keep")


@pytest.mark.parametrize("form", ["csv", "json"])
def test_a_choice_goes_out_and_comes_back(exchanged, tmp_path, form):
    left_over(exchanged, "P03", "sell", note=NOTE)
    file = tmp_path / ("all.zip" if form == "csv" else "all.json")
    file.write_bytes(export_csv(exchanged) if form == "csv"
                     else json.dumps(export_json(exchanged)).encode())
    store = open_store(tmp_path / "other.sqlite")
    bring_in(store, file)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    there = Context(store, vessel, exchanged.today)
    assert show(there, "P03")["left_over"] == {"choice": "sell", "note": NOTE}
    store.close()


def test_the_paper_ticks_what_was_chosen(exchanged):
    left_over(exchanged, "P03", "sell", note=NOTE)
    text = " ".join(reading.texts(paper(exchanged, "stranded")))
    assert "☒ sell" in text and "☐ keep" in text and "boatyard at the" in text
