"""Kits are gathered into the bag of a job, told as complete or short, used from it, put back.

Counts of the demo vessel, from stock.csv: twelve nuts P017 are needed and ten lie in L07, one
gasket P016 lies in L04, 22 washers P018 in L07; impellers P037 lie one each in L17 and L03, two
gaskets P038 in L04.
"""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.deck_plan import deck_plan
from spares.actions.documents import write_document
from spares.actions.done import done
from spares.actions.find import find
from spares.actions.kits import pick, put_back
from spares.actions.labels import labels, labels_there
from spares.actions.lent import lent
from spares.actions.loans import loans
from spares.actions.moved import moved
from spares.actions.papers.paper import paper
from spares.actions.put import put
from spares.actions.show import lockers, show
from spares.actions.trip.restock import restock
from spares.actions.undo import undo
from spares.errors import Conflict, InvalidInput
from spares.web.verbs import perform
from tests.paper import reading as pages


def places(ctx: Context, part: str) -> dict[str, float]:
    return {one["locker"]: one["quantity"] for one in show(ctx, part)["where"] if one["quantity"]}


def bag(ctx: Context, no: str) -> dict[str, Any]:
    return card(ctx, no)["bag"]


def test_a_kit_of_which_something_is_missing_is_gathered_as_far_as_it_goes(demo: Context) -> None:
    assert bag(demo, "S08") == {"locker": None, "locker_id": None, "name": None, "code": None,
                                "state": "not-begun", "lines": []}
    told = pick(demo, "S08")
    assert told["text"] == "Gathered the kit of S08 into BAG-S08"
    assert bag(demo, "S08")["state"] == "short" and card(demo, "S08")["missing"] == ["P017"]
    assert {one["part"]: one["quantity"] for one in bag(demo, "S08")["lines"]} == {
        "P016": 1, "P017": 10, "P018": 12}
    assert places(demo, "P018") == {"BAG-S08": 12, "L07": 10}
    with pytest.raises(InvalidInput):
        pick(demo, "S08")
    put(demo, "P017", "L07", 5)
    assert bag(demo, "S08")["state"] == "begun"
    pick(demo, "S08")
    assert bag(demo, "S08")["state"] == "bagged" and card(demo, "S08")["missing"] == []
    assert places(demo, "P017") == {"BAG-S08": 12, "L07": 3}


def test_what_is_bagged_stays_aboard_and_is_found_in_its_bag(demo: Context) -> None:
    before = {one["part"]: one["usable"] for one in restock(demo, "T1")["lines"]}
    pick(demo, "S22")
    assert {one["part"]: one["usable"] for one in restock(demo, "T1")["lines"]} == before
    line = next(one for one in card(demo, "S22")["kit"] if one["part"] == "P038")
    assert [(one["locker"], one["quantity"]) for one in line["take"]] == [("BAG-S22", 1)]
    assert "BAG-S22" in " ".join(pages.texts(paper(demo, "card", service="S22")))
    found = find(demo, "BAG-S22")["hits"][0]
    assert {one["no"] for one in found["lines"]} == {"P037", "P038"}


def test_the_job_takes_from_its_own_bag_and_others_take_from_it_last(demo: Context) -> None:
    pick(demo, "S22")
    own = places(demo, "P037")["BAG-S22"]
    done(demo, "S22")
    assert own == 1 and "BAG-S22" not in places(demo, "P037") | places(demo, "P038")
    pick(demo, "S08")
    put(demo, "P017", "L07", 12)
    again = card(demo, "S08")["bag"]["lines"]
    used = {one["locker"] for one in done(demo, "S08")["used"]}
    assert len(again) == 3 and used == {"BAG-S08", "L07"}


def test_the_bag_is_put_back_to_where_its_pieces_came_from(demo: Context) -> None:
    before = {part: places(demo, part) for part in ("P016", "P017", "P018")}
    pick(demo, "S08")
    assert put_back(demo, "S08")["text"] == "Put the kit of S08 back from BAG-S08"
    assert {part: places(demo, part) for part in before} == before
    assert bag(demo, "S08")["state"] == "not-begun"
    with pytest.raises(InvalidInput):
        put_back(demo, "S08")


def test_what_was_laid_into_a_bag_by_hand_goes_to_its_like(demo: Context) -> None:
    pick(demo, "S22")
    put(demo, "P038", "BAG-S22", 3)             # bought, and laid straight into the bag
    put(demo, "P024", "BAG-S22", 1)             # lies nowhere else
    put_back(demo, "S22")
    assert places(demo, "P038") == {"L04": 5}
    assert places(demo, "P024") == {"BAG-S22": 1}


def test_pieces_of_two_lockers_go_back_to_both(demo: Context) -> None:
    pick(demo, "S22")
    moved(demo, "P037", next(place for place in places(demo, "P037") if place != "BAG-S22"),
          "BAG-S22")
    assert places(demo, "P037") == {"BAG-S22": 2}
    put_back(demo, "S22")
    assert places(demo, "P037") == {"L03": 1, "L17": 1}


def test_a_gathering_is_one_act_that_is_undone_whole_and_known_when_it_comes_twice(
        demo: Context) -> None:
    ident = "00000000-0000-4000-8000-00000000c0de"
    assert pick(demo, "S08", change_id=ident)["was_new"]
    assert not pick(demo, "S08", change_id=ident)["was_new"]
    undo(demo, ident)
    assert places(demo, "P017") == {"L07": 10} and places(demo, "P016") == {"L04": 1}


def test_what_no_label_can_show_is_told_with_their_number(demo: Context) -> None:
    assert labels_there(demo)["cannot_show"] == ""
    write_document(demo, "locker", {"name": "水 tank 🛟"},
                   doc=demo.named("L17", "locker", "locker"))
    assert labels_there(demo)["cannot_show"] == "水🛟"


def test_a_bag_is_labelled_with_a_code_of_its_own_that_finds_it(demo: Context) -> None:
    pick(demo, "S20")
    assert bag(demo, "S20")["code"] is None and labels_there(demo)["bags"] == 0
    had = labels_there(demo)["lockers"]
    asked = {"change_id": "00000000-0000-4000-8000-00000000c0d0"}     # as a phone asks for it
    assert "BAG-S20" in {one.get("locker") for one in perform(demo, "code-lots", asked)["coded"]}
    assert labels_there(demo)["bags"] > 0 and labels_there(demo)["lockers"] == had + 1
    code = bag(demo, "S20")["code"]
    assert len(code) == 4 and find(demo, code.lower())["hits"][0]["no"] == "BAG-S20"
    label = pages.pdfium_pages(labels(demo, "lockers", only=["BAG-S20"], size="M"), 300)[0]
    assert pages.zxing_texts(label) == [f"TGL:L{code}"]
    text = " ".join(pages.texts(labels(demo, "lockers", only=["BAG-S20"], size="M")))
    assert "Bag for S20 change oil and filter" in text


def of_book(ctx: Context, kind: str, called: str, **fields: Any) -> None:
    """Change a document that people so call."""
    write_document(ctx, kind, fields, doc=ctx.named(called, "doc", kind))


def test_what_came_back_from_a_loan_goes_to_its_locker_not_to_the_borrower(demo: Context) -> None:
    pick(demo, "S22")
    lent(demo, "P037", "BAG-S22", "Jörg")
    place = next(one for one in places(demo, "P037") if one.startswith("LENT"))
    moved(demo, "P037", place, "BAG-S22")
    put_back(demo, "S22")
    assert places(demo, "P037") == {"L17": 1, "L03": 1}
    assert len(loans(demo)["lent"]) == 1


def test_nothing_goes_back_into_a_locker_that_is_gone(demo: Context) -> None:
    pick(demo, "S08")
    assert places(demo, "P016") == {"BAG-S08": 1}
    of_book(demo, "locker", "L04", gone=True)           # where the gasket came from
    told = put_back(demo, "S08")["text"]
    assert told == ("Put the kit of S08 back from BAG-S08; P016 stays in it, "
                    "no locker of its own is known")
    assert places(demo, "P016") == {"BAG-S08": 1} and places(demo, "P018") == {"L07": 22}
    with pytest.raises(InvalidInput, match="no locker to go to"):
        put_back(demo, "S08")
    put(demo, "P016", "L07", 1)
    put_back(demo, "S08")
    assert places(demo, "P016") == {"L07": 2}


def test_a_bag_that_was_taken_off_the_books_is_begun_again(demo: Context) -> None:
    pick(demo, "S22")
    put_back(demo, "S22")
    of_book(demo, "locker", "BAG-S22", gone=True)
    assert bag(demo, "S22")["locker"] is None
    pick(demo, "S22")
    assert bag(demo, "S22")["locker"] == "BAG-S22" and bag(demo, "S22")["state"] == "bagged"
    assert {one["no"] for one in find(demo, "BAG-S22")["hits"][0]["lines"]} == {"P037", "P038"}


def test_a_bag_stays_with_its_service_whatever_number_that_bears(demo: Context) -> None:
    before = places(demo, "P037")
    pick(demo, "S22")
    other = demo.aboard().get(demo.named("S22", "doc", "service"))
    of_book(demo, "service", "S22", no="S99")
    assert bag(demo, "S99")["state"] == "bagged" and bag(demo, "S99")["locker"] == "BAG-S22"
    write_document(demo, "service", {"no": "S22", "what": "look", "machine": other.machine})
    part = demo.named("P038", "part", "part")
    write_document(demo, "kit-line", {"service": demo.named("S22", "doc", "service"),
                                      "part": part, "q": 1000})
    assert bag(demo, "S22") == {"locker": None, "locker_id": None, "name": None, "code": None,
                                "state": "not-begun", "lines": []}
    pick(demo, "S22")
    assert bag(demo, "S22")["locker"] == "BAG-S22-2"
    put_back(demo, "S99")
    assert places(demo, "P037") == before and places(demo, "P038") == {"BAG-S22-2": 1, "L04": 1}


def test_the_bag_of_a_service_off_the_books_is_put_back_by_its_own_name(demo: Context) -> None:
    before = places(demo, "P037")
    pick(demo, "S22")
    of_book(demo, "service", "S22", gone=True)
    assert put_back(demo, "bag-s22")["service"] == "S22"
    assert places(demo, "P037") == before
    with pytest.raises(InvalidInput, match="no job's bag"):
        put_back(demo, "L04")


def test_one_piece_in_the_bag_counts_for_one_line_of_the_kit(demo: Context) -> None:
    """Two lines, each wanting one piece that the same stand-in may replace: one is missing."""
    stand_in, wanted = (demo.named(no, "part", "part") for no in ("P016", "P055"))
    service = demo.named("S20", "doc", "service")
    for line in demo.aboard().kits_of[service]:
        write_document(demo, "kit-line", {"gone": True}, doc=f"kit-line/{line.id}")
    write_document(demo, "stand-in", {"part": stand_in, "for_part": wanted,
                                      "proof": "fitted-before"})
    for part in (stand_in, wanted):
        write_document(demo, "kit-line", {"service": service, "part": part, "q": 1000})
    assert not places(demo, "P055")
    pick(demo, "S20")
    assert bag(demo, "S20")["state"] == "short" and len(card(demo, "S20")["missing"]) == 1


def test_a_gathering_is_not_taken_back_once_the_job_used_of_it(demo: Context) -> None:
    ident, later = (f"00000000-0000-4000-8000-00000000c0d{end}" for end in "ef")
    pick(demo, "S22", change_id=ident)
    done(demo, "S22", change_id=later)
    with pytest.raises(Conflict, match="has left BAG-S22 since"):
        undo(demo, ident)
    assert set(places(demo, "P037").values()) == {1} and "BAG-S22" not in places(demo, "P037")
    undo(demo, later)
    undo(demo, ident)
    assert places(demo, "P037") == {"L03": 1, "L17": 1}


def test_a_bag_is_in_the_lists_of_lockers_while_something_lies_in_it(demo: Context) -> None:
    write_document(demo, "deck", {"no": "D1", "name": "Deck"})
    pick(demo, "S22")
    assert "BAG-S22" in {one["no"] for one in lockers(demo)["lockers"]}
    assert "BAG-S22" not in {one["locker"] for one in deck_plan(demo)["lockers"]}
    put_back(demo, "S22")
    assert "BAG-S22" not in {one["no"] for one in lockers(demo)["lockers"]}
    assert "BAG-S22" not in " ".join(pages.texts(paper(demo, "handover")))
    write_document(demo, "deck-place", {
        "locker": demo.named("BAG-S22", "locker", "locker"),
        "deck": deck_plan(demo)["decks"][0]["doc"], "x": 100, "y": 100})
    assert "BAG-S22" in {one["locker"] for one in deck_plan(demo)["lockers"]}
