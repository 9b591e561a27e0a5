"""What the trip "Skagerrak round" needs, line by line against what was worked out by hand."""

from __future__ import annotations

from decimal import Decimal

import pytest

from spares.actions.trip.restock import restock, why
from tests.demo import expected


@pytest.fixture(scope="module")
def plan(demo):
    return restock(demo, expected.TRIP)


@pytest.fixture(scope="module")
def lines(plan):
    return {line["part"]: line for line in plan["lines"]}


def test_the_trip_is_the_described_one(plan):
    trip = plan["trip"]
    assert (trip["departs_on"], trip["returns_on"], trip["days"]) == (
        expected.DEPARTS, expected.RETURNS, expected.DAYS)
    assert {no: Decimal(str(h)) for no, h in trip["hours"].items()} == expected.TRIP_HOURS


def test_every_service_falls_as_often_as_worked_out(plan):
    uses = {one["service"]: one["uses"] for one in plan["services"]}
    assert uses == expected.USES


def test_due_before_leaving_and_unknown_history_are_told_apart(plan):
    assert sorted(plan["due_before_leaving"]) == expected.DUE_BEFORE_LEAVING
    assert sorted(plan["history_unknown"]) == expected.HISTORY_UNKNOWN
    before = {one["service"] for one in plan["services"] if one["before"]}
    assert before == {*expected.DUE_BEFORE_LEAVING, *expected.HISTORY_UNKNOWN}


def test_what_is_enough_says_need_and_usable(lines):
    enough = {part: (line["minimum"], line["usable"]) for part, line in lines.items()
              if line["state"] == "enough" and line["minimum"]}
    assert enough == expected.ENOUGH


def test_what_is_short_says_how_many_to_buy_and_by_when(lines):
    short = {part: (line["minimum"], line["usable"], line["buy"], line["order_by"])
             for part, line in lines.items() if line["short"]}
    assert short == expected.SHORT


def test_only_the_nozzles_come_too_late(lines):
    states = {part: lines[part]["state"] for part in expected.SHORT}
    assert {part for part, state in states.items() if state == "too-late"} == {*expected.TOO_LATE}
    assert {state for part, state in states.items() if part not in expected.TOO_LATE} == {
        "order-by"}
    assert lines["P014"]["late_days"] == 5      # 10 March to 15 March


def test_what_is_short_stands_by_order_date(plan):
    short = [line["part"] for line in plan["lines"] if line["short"]]
    assert [expected.SHORT[part][3] for part in short] == sorted(
        order_by for *_, order_by in expected.SHORT.values())


def test_cost_is_pieces_to_buy_at_list_price(lines):
    def cost(part: str) -> Decimal:
        found = lines[part]["cost"]
        return Decimal(str(found["amount"] if isinstance(found, dict) else found))
    assert (cost("P014"), cost("P112"), cost("P017")) == (
        Decimal("368.00"), Decimal("192.00"), Decimal("3.60"))


def test_every_line_says_why(lines):
    for part in (*expected.ENOUGH, *expected.SHORT):
        assert lines[part]["why"], part
    assert any("S07" in reason for reason in lines["P014"]["why"])


def test_out_of_date_is_told_for_today_and_for_the_way(plan):
    for when, told in (("today", expected.OUT_OF_DATE_TODAY),
                       ("before_return", expected.OUT_OF_DATE_BEFORE_RETURN)):
        assert {one["part"]: one["expires"] for one in plan["out_of_date"][when]} == told


def test_what_cannot_be_reached_or_is_ashore_or_stranded_is_told(plan):
    hidden = {one["part"]: one["locker"] for one in plan["not_reachable"]}
    assert hidden == {**expected.NOT_REACHABLE, "P007": "L05"}
    assert tuple(sorted(one["part"] for one in plan["ashore"])) == expected.ASHORE
    assert {one["part"]: one["quantity"] for one in plan["stranded"]} == expected.STRANDED
    assert plan["lent"] == []


def test_the_stand_in_counts_and_is_named(lines):
    assert lines["P001"]["usable"] == 3
    assert [one["part"] for one in lines["P001"]["stand_ins"]] == ["P002"]


def test_one_line_can_be_asked_why(demo):
    answer = why(demo, expected.TRIP, "P040")
    assert (answer["line"]["part"], answer["line"]["short"]) == ("P040", 1)


def test_the_command_line_and_the_api_say_the_same(spares, api, plan):
    code, told = spares("restock", expected.TRIP)
    assert code == 3        # short
    status, answer = api("GET", "trips/T1/restock")
    assert status == 200
    assert told == answer
    assert [line["part"] for line in told["lines"]] == [line["part"] for line in plan["lines"]]
