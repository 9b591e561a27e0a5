"""An order line goes from wanted to stowed, day by day; a risk is taken with a name."""

from __future__ import annotations

from uuid import uuid4

import pytest

from spares.actions.accepting import accept
from spares.actions.ordering import arrived, cancel_order, ordered, stowed, want, want_trip
from spares.actions.orders import orders, put_away
from spares.actions.show import show
from spares.actions.took import took
from spares.actions.trip.restock import restock
from spares.actions.trip.write import new_trip
from spares.actions.undo import undo
from spares.errors import Conflict, InvalidInput, NotFound

DAYS = {"departs_on": "2027-04-01", "returns_on": "2027-06-01"}


@pytest.fixture
def short(ctx):
    """A trip of 600 h with a filter every 250 h, and none left aboard."""
    new_trip(ctx, "Round", **DAYS, run={"ENG": 600})
    took(ctx, "P05", "L01", 4)
    return ctx


def _line(ctx, part="P05"):
    return next(line for line in restock(ctx, "T1")["lines"] if line["part"] == part)


def _states(ctx, **asked):
    return [(one["no"], one["state"], one["quantity"]) for one in orders(ctx, **asked)["orders"]]


def _here(ctx, part="P05"):
    return sum(place["quantity"] for place in show(ctx, part, "part")["where"])


def test_an_order_goes_through_its_steps_and_counts_only_when_stowed(ctx):
    before = _here(ctx)
    want(ctx, "P05", 2, seller="Fennholt", price={"amount": "12.50", "currency": "EUR"})
    assert _states(ctx) == [("O1", "wanted", 2)]
    assert orders(ctx)["orders"][0]["cost"] == {"amount": "25.00", "currency": "EUR"}
    ordered(ctx, ["O1"], at="2027-03-16", promised_on="2027-03-30")
    assert _states(ctx) == [("O1", "promised", 2)]
    arrived(ctx, "O1", at="2027-03-29")
    assert [(one["order"], one["locker"]) for one in put_away(ctx)["lines"]] == [("O1", "L01")]
    assert _here(ctx) == before
    stowed(ctx, "O1", "L02")
    assert _states(ctx) == [("O1", "stowed", 2)]
    assert _here(ctx) == before + 2
    assert put_away(ctx)["lines"] == []


def test_stowing_is_one_act_and_goes_back_as_one(ctx):
    before = _here(ctx)
    want(ctx, "P05", 2)
    arrived(ctx, "O1")
    done = stowed(ctx, "O1", "L02", expires="2031-06")
    assert any(place["expires"] == "2031-06" for place in show(ctx, "P05", "part")["where"])
    undo(ctx, done["change"])
    assert (_states(ctx), _here(ctx)) == ([("O1", "arrived", 2)], before)


def test_what_comes_in_two_parcels_becomes_two_lines(ctx):
    want(ctx, "P05", 5)
    ordered(ctx, ["O1"], promised_on="2027-03-30")
    arrived(ctx, "O1", quantity=3)
    assert sorted(_states(ctx)) == [("O1", "arrived", 3), ("O2", "promised", 2)]
    stowed(ctx, "O1", "L01", quantity=1)
    assert sorted(_states(ctx)) == [("O1", "stowed", 1), ("O2", "promised", 2),
                                    ("O3", "arrived", 2)]


def test_a_parcel_may_hold_more_than_was_ordered(ctx):
    want(ctx, "P05", 2)
    arrived(ctx, "O1", quantity=3)
    assert _states(ctx) == [("O1", "arrived", 3)]


def test_all_that_is_short_is_wanted_once(short):
    line = _line(short)
    assert line["buy"] > 0
    want(short, "P05", 1, trip="T1")
    want_trip(short, "T1")
    listed = [one["quantity"] for one in orders(short, trip="T1")["orders"] if one["part"] == "P05"]
    assert sum(listed) == line["buy"]
    numbers = [one["no"] for one in orders(short)["orders"]]
    assert len(set(numbers)) == len(numbers)
    again = want_trip(short, "T1")
    assert (again["was_new"], again["text"]) == (False, "Nothing to order")


def test_few_order_lines_are_named_and_many_only_counted(ctx):
    for part in ("P05", "P06", "P05", "P06"):
        want(ctx, part, 1)
    named = ordered(ctx, ["O1", "O2"])
    assert named["text"] == "O1: 1 of P05 ordered; O2: 1 of P06 ordered"
    assert ordered(ctx, ["O1", "O2", "O3", "O4"])["text"] == "4 order lines, O1 to O4: ordered"


def test_a_doubled_request_is_one(ctx):
    ident = str(uuid4())
    assert want(ctx, "P05", 2, change_id=ident)["was_new"]
    assert not want(ctx, "P05", 2, change_id=ident)["was_new"]
    assert _states(ctx) == [("O1", "wanted", 2)]
    stow = str(uuid4())
    before = _here(ctx)
    assert stowed(ctx, "O1", "L01", change_id=stow)["was_new"]
    assert not stowed(ctx, "O1", "L01", change_id=stow)["was_new"]
    assert _here(ctx) == before + 2


def test_what_is_over_takes_no_further_step(ctx):
    want(ctx, "P05", 2)
    cancel_order(ctx, "O1", note="found two")
    for step in (lambda: ordered(ctx, ["O1"]), lambda: arrived(ctx, "O1"),
                 lambda: stowed(ctx, "O1", "L01"), lambda: cancel_order(ctx, "O1")):
        with pytest.raises(Conflict, match="O1 is cancelled already"):
            step()


@pytest.mark.parametrize(("act", "pointer"), [
    (lambda ctx: want(ctx, "P05", 0), "#/quantity"),
    (lambda ctx: want(ctx, "P05", 1, price={"amount": "1.005", "currency": "EUR"}),
     "#/price/amount"),
    (lambda ctx: ordered(ctx, []), "#/orders"),
    (lambda ctx: accept(ctx, "T1", "P05", at="2027-02-30"), "#/at"),
])
def test_what_cannot_be_names_its_field(short, act, pointer):
    with pytest.raises(InvalidInput) as refused:
        act(short)
    assert refused.value.facts["errors"][0]["pointer"] == pointer


def test_an_unknown_order_is_not_found(ctx):
    with pytest.raises(NotFound):
        arrived(ctx, "O9")


def test_a_risk_is_accepted_by_name_and_taken_back(short):
    state = _line(short)["state"]
    done = accept(short, "T1", "P05", by="Anna", note="the old ones wash out")
    line = _line(short)
    assert (line["state"], line["accepted"]["by"], line["accepted"]["on"]) == (
        "accepted", "Anna", "2027-03-15")
    assert "Anna" in done["text"]
    undo(short, done["change"])
    assert _line(short)["state"] == state
    assert accept(short, "T1", "P05", by="Ben")["was_new"]
    assert _line(short)["accepted"]["by"] == "Ben"
    accept(short, "T1", "P05", taken_back=True)
    assert (_line(short)["state"], _line(short)["accepted"]) == (state, None)
    with pytest.raises(InvalidInput, match="nobody has accepted"):
        accept(short, "T1", "P05", taken_back=True)
