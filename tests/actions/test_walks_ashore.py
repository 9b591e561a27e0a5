"""Short walks of buying, lending, carrying away and handing on: what is seen, what is recorded."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from spares.actions.accepting import accept
from spares.actions.changes import changes
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.due import due
from spares.actions.find import find
from spares.actions.fit import fit
from spares.actions.landed import landed
from spares.actions.lent import lent
from spares.actions.loans import loans
from spares.actions.moved import moved
from spares.actions.ordering import arrived, ordered, stowed, want, want_trip
from spares.actions.orders import orders, put_away
from spares.actions.put import put
from spares.actions.show import show
from spares.actions.trip.restock import restock
from spares.db.find import vessels
from spares.errors import InvalidInput


def lots(thing: dict[str, Any]) -> list[tuple[str, float, str, str | None]]:
    """Give where pieces lie: locker, quantity, condition, expiry."""
    return [(one["locker"], one["quantity"], one["condition"], one["expires"])
            for one in thing["where"]]


def line(ctx: Context, part: str) -> dict[str, Any]:
    return next(one for one in restock(ctx, "T1")["lines"] if one["part"] == part)


def test_at_the_counter_another_make_is_bought_and_stays_to_be_proved(demo: Context) -> None:
    """The shop has no filter of the maker; a stand-in counts only once it was measured."""
    wanted = line(demo, "P001")
    assert (wanted["maker"], wanted["number"]) == ("Krustrand", "KR 40-118")
    assert [(one["part"], one["proof"]) for one in show(demo, "P001")["stand_ins"]] == [
        ("P002", "measured")]
    assert "10 mm too long" in [one["note"] for one in show(demo, "ENG-06")["tried"]][0]
    new = write_document(demo, "part", {
        "name": "Lube oil filter, spin-on", "maker": "Tarnhelm", "number": "TH 118",
        "kind": "filter", "price": {"minor": 990, "currency": "EUR"}})
    write_document(demo, "link", {"part": new["doc"], "to": demo.named("ENG-01", "p", "point"),
                                  "role": "takes", "proof": "hearsay",
                                  "note": "to be proved aboard: the shop says so"})
    put(demo, new["no"], "L01", 2, note="bought at the counter in Lemvig")
    bought = find(demo, "TH 118")["hits"][0]
    assert (bought["aboard"], bought["price"]["amount"]) == (2, "9.90")
    assert [(one["point"], one["proof"]) for one in bought["fits"]] == [("ENG-01", "hearsay")]
    assert fit(demo, "ENG-01", new["no"])["verdict"] == "not-known-yet"
    assert line(demo, "P001")["usable"] == wanted["usable"], "hearsay is no stand-in"


def test_what_goes_out_of_date_is_found_by_locker_landed_and_replaced(demo: Context) -> None:
    dates = restock(demo, "T1")["out_of_date"]
    assert ("P117", "L24", "2027-02-28") in [
        (one["part"], one["locker"], one["expires"]) for one in dates["today"]]
    assert ("P112", "L16", "2027-06-30") in [
        (one["part"], one["locker"], one["expires"]) for one in dates["before_return"]]
    landed(demo, "P117", "L24", note="out of date, to the pharmacy")
    put(demo, "P117", "L24", expires="2029-11-30")
    assert lots(show(demo, "P117")) == [("L24", 1, "new", "2029-11-30")]
    assert "P117" not in [one["part"] for one in restock(demo, "T1")["out_of_date"]["today"]]


def test_weeks_ahead_orders_go_by_seller_and_what_is_too_late_is_said(demo: Context) -> None:
    late = [one for one in restock(demo, "T1")["lines"] if one["state"] == "too-late"]
    assert [(one["part"], one["order_by"], one["late_days"]) for one in late] == [
        ("P014", "2027-03-10", 5)]
    want_trip(demo, "T1")
    by_seller = {one["seller"]: one["orders"] for one in orders(demo)["sellers"]}
    assert len(by_seller) > 3 and set(by_seller["Krustrand"]) == {
        one["no"] for one in orders(demo)["orders"] if one["seller"] == "Krustrand"}
    no = next(one["no"] for one in orders(demo)["orders"] if one["part"] == "P017")
    ordered(demo, [no], at="2027-03-16", promised_on="2027-03-22")
    arrived(demo, no, at="2027-03-20", quantity=1)      # one nut of two, the other is to come
    assert sorted((one["state"], one["quantity"]) for one in orders(demo)["orders"]
                  if one["part"] == "P017") == [("arrived", 1), ("promised", 1)]


def test_parcels_on_the_quay_are_ticked_and_put_away_by_locker(demo: Context) -> None:
    want(demo, "P017", 2, price={"amount": "1.80", "currency": "EUR"})
    ordered(demo, ["O1"], at="2027-03-16")
    arrived(demo, "O1", at="2027-03-20")
    assert [(one["part"], one["quantity"], one["locker"]) for one in put_away(demo)["lines"]] == [
        ("P017", 2, "L07")]
    stowed(demo, "O1", "L07", at="2027-03-20")
    there, = orders(demo)["orders"]
    assert (there["state"], there["arrived_on"], there["stowed_on"], there["locker"],
            there["cost"]["amount"]) == ("stowed", "2027-03-20", "2027-03-20", "L07", "3.60")
    assert lots(show(demo, "P017")) == [("L07", 12, "new", None)]


def test_part_carried_to_a_shop_as_a_pattern_is_ashore_and_counts_no_more(demo: Context) -> None:
    assert line(demo, "P009")["usable"] == 1
    moved(demo, "P009", "L03", "L25", note="as a pattern with the bearing shop in Thisted")
    seal = show(demo, "P009")
    assert (seal["aboard"], "ashore" in seal["tags"]) == (0, True)
    assert line(demo, "P009")["usable"] == 0
    assert "P009" in [one["part"] for one in restock(demo, "T1")["ashore"]]
    last = changes(demo, 1)["changes"][0]
    assert "bearing shop in Thisted" in last["note"] and last["at"]


def test_what_a_neighbour_borrowed_counts_no_more_until_it_is_back(demo: Context) -> None:
    lent(demo, "P035", "L17", "Neighbour, red cutter", note="for the regatta", back_by="2027-05-01")
    with pytest.raises(InvalidInput):
        lent(demo, "P035", "L17", "Neighbour, red cutter", back_by="2027-03-14")
    assert [(one["who"], one["back_by"]) for one in loans(demo)["lent"]] == [
        ("Neighbour, red cutter", "2027-05-01")]
    there = {one["lent_to"]: one["quantity"] for one in show(demo, "P035")["where"]}
    assert there == {None: 1, "Neighbour, red cutter": 1}
    assert line(demo, "P035")["usable"] == 1
    away, = [one for one in restock(demo, "T1")["lent"] if one["part"] == "P035"]
    assert changes(demo, 1)["changes"][0]["note"] == "for the regatta"
    moved(demo, "P035", away["locker"], "L17")
    assert restock(demo, "T1")["lent"] == [] and line(demo, "P035")["usable"] == 2


def test_a_loan_asked_for_again_after_midnight_is_the_one_that_was_taken(demo: Context) -> None:
    asked = {"part": "P035", "locker": "L17", "who": "Neighbour", "back_by": "2027-03-15",
             "change_id": "7d1f2a40-0000-4000-8000-000000000001"}
    assert lent(demo, **asked)["was_new"]
    assert not lent(replace(demo, today=date(2027, 3, 16)), **asked)["was_new"]
    assert [one["quantity"] for one in loans(demo)["lent"]] == [1]


def test_other_vessel_has_three_and_lends_one(demo: Context) -> None:
    """Asked by telephone: what the launch had when her records were last met."""
    with demo.store.reading() as session:
        hers = replace(demo, vessel=next(one for one, mark in vessels(session) if mark == "HRE"))
    filters = show(hers, "P035")
    (stern, three, *_), = lots(filters)
    assert three == filters["aboard"] == 3
    lent(hers, "P035", stern, "TANGLOPPE", back_by="2027-06-30")
    assert show(hers, "P035")["aboard"] == 2
    assert [one["lent_to"] for one in show(hers, "P035")["where"] if one["lent_to"]] == [
        "TANGLOPPE"]
    put(demo, "P035", "L17", note="lent by HESTEREJE, back by June")
    assert show(demo, "P035")["aboard"] == 3


def test_evening_before_leaving_one_answer_says_all_and_a_name_takes_the_risk(
        demo: Context) -> None:
    plan = restock(demo, "T1")
    short_a = [one["part"] for one in plan["lines"] if one["weight"] == "A" and one["short"]]
    assert short_a == ["P014", "P061", "P021"]
    unknown = {one["service"] for one in due(demo)["services"]
               if one["state"] == "history-unknown" and one["weight"] == "A"}
    assert {"S04", "S05", "S11"} <= unknown <= set(plan["history_unknown"])
    assert [one["machine_name"] for one in due(demo)["services"] if one["service"] == "S12"] == [
        "Hydraulic power pack"]
    overdue = {one["service"] for one in due(demo)["services"] if one["state"] == "overdue"}
    assert overdue <= set(plan["due_before_leaving"])
    for key, part in (("not_reachable", "P007"), ("ashore", "P119")):
        assert part in [one["part"] for one in plan[key]]
    assert plan["out_of_date"]["today"] and plan["out_of_date"]["before_return"]
    accept(demo, "T1", "P014", by="Skipper", note="injectors were tested in January")
    assert line(demo, "P014")["accepted"] == {
        "by": "Skipper", "on": "2027-03-15", "note": "injectors were tested in January"}


def test_bad_pieces_become_suspect_with_the_reason_and_their_place_is_known(ctx: Context) -> None:
    where = show(ctx, "P03")
    assert sum(one["quantity"] for one in where["where"]) == 6
    assert [one["point"] for one in where["fits"]] == ["ENG-03"]
    assert show(ctx, "ENG-03")["fitted"]["part"] == "P03", "one of them sits in the pump"
    moved(ctx, "P03", "L01", "L01", 6, to_condition="suspect", note="vanes came loose, recalled")
    after = show(ctx, "P03")
    assert {one["condition"] for one in after["where"]} == {"suspect"}
    assert (after["usable"], "suspect" in after["tags"]) == (0, True)
    assert changes(ctx, 1)["changes"][0]["note"] == "vanes came loose, recalled"


def test_bolt_of_unknown_thread_is_told_from_its_look_alike(ctx: Context) -> None:
    """7.9 mm over the crests and 18 to the inch: BSW (55 degrees) and UNC (60 degrees) both do.

    5/16 in is 7.9375 mm exactly; 25.4 / 18 is 1.411 mm, and M8 has 1.25 mm (ISO 261, from memory).
    """
    point = ctx.named("ENG-02", "point", "point")
    write_document(ctx, "point", {"kind": "fastener"}, doc=point)
    write_document(ctx, "requirement", {"subject": point, "attribute": "thread",
                                        "claim": {"value": "5/16-18 UNC"}})

    def judged(thread: Any) -> tuple[str, str]:
        answer = fit(ctx, "ENG-02", None, {"thread": thread})
        return answer["verdict"], answer["rows"][0].get("reason") or ""

    assert judged({"major": "7.9 mm", "pitch": "1.25 mm"})[0] == "does-not-fit"
    verdict, reason = judged({"major": "7.9 mm", "tpi": "18"})
    assert verdict == "not-known-yet"
    assert "look alike" in reason and "5/16-18 BSW" in reason and "5/16-18 UNC" in reason
    assert judged("5/16-18 UNC")[0] == "fits"
    bolt = write_document(ctx, "part", {"name": "Bolt 5/16-18 UNC", "kind": "fastener",
                                        "note": "from the drum guard of the winch"})
    write_document(ctx, "spec", {"part": bolt["doc"], "attribute": "thread", "claim": {
        "value": "5/16-18 UNC", "origin": {"how": "measured", "when": "2027-03-15"}}})
    assert fit(ctx, "ENG-02", bolt["no"])["rows"][0]["offered"].startswith("5/16-18 UNC")
    assert show(ctx, bolt["no"])["note"] == "from the drum guard of the winch"
