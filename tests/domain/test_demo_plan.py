"""The demo vessel's voyage, against tables that were worked out by hand before the program."""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from tests.domain.demo_vessel import trip_request

USES = {
    "S01": 2, "S02": 1, "S03": 2, "S04": 1, "S05": 1, "S06": 0, "S07": 1, "S08": 1, "S09": 1,
    "S10": 1, "S11": 1, "S12": 1, "S13": 1, "S14": 1, "S15": 1, "S16": 1, "S17": 1, "S18": 1,
    "S19": 1, "S20": 2, "S21": 1, "S22": 1, "S23": 1, "S24": 1, "S25": 1, "S26": 0, "S27": 1,
    "S28": 0, "S29": 1, "S30": 3, "S31": 0, "S32": 0, "S33": 1, "S34": 1, "S35": 1}
BEFORE = "S03 S07 S08 S09 S10 S15 S16 S18 S21 S25 S27 S30 S34"
UNKNOWN = "S04 S05 S11 S13 S17 S23 S29 S33"
ENOUGH = """P001 3/3, P003 2/3, P005 3/4, P009 1/1, P010 2/2, P011 1/1, P015 6/14,
P016 1/1, P018 12/22, P020 1/1, P022 1/4, P023 1/1, P026 1/1, P027 2/8, P030 1/2, P031 1/1,
P032 1/1, P034 2/2, P035 1/2, P037 2/2, P038 2/2, P039 1/1, P041 1/3, P045 1/4, P047 1/1,
P049 3/6, P050 3/4, P062 1/1, P063 2/3, P066 2/3, P067 2/2, P068 2/2, P070 4/4, P071 1/2,
P103 10/15, P104 4/4, P105 1/1, P113 6/6, P114 1/1, P116 4/4"""
SHORT = {   # part: need, usable, buy, order by
    "P014": (6, 2, 4, "2027-03-10"), "P040": (2, 1, 1, "2027-04-17"),
    "P058": (1, 0, 1, "2027-04-19"), "P024": (1, 0, 1, "2027-04-21"),
    "P017": (12, 10, 2, "2027-04-26"), "P061": (2, 1, 1, "2027-04-26"),
    "P112": (4, 0, 4, "2027-04-26"), "P115": (1, 0, 1, "2027-04-26"),
    "P021": (1, 0, 1, "2027-04-27"), "P117": (1, 0, 1, "2027-04-28"),
    "P074": (1, 0, 1, "2027-04-29"), "P094": (1, 0, 1, "2027-04-29")}


@pytest.fixture(scope="module")
def plan():
    return compute("trip", trip_request())


def test_uses_of_every_service(plan):
    assert {s["task"]: s["before"] + len(s["days"]) for s in plan["services"]} == USES


def test_services_due_before_leaving_and_of_unknown_history(plan):
    before = {s["task"] for s in plan["services"] if s["before"]}
    assert plan["history_unknown"] == UNKNOWN.split()
    assert before - set(plan["history_unknown"]) == set(BEFORE.split())


def test_what_is_enough(plan):
    found = {line["part"]: (line["minimum"], line["usable"]) for line in plan["lines"]
             if line["state"] == "enough"}
    asked = {part: tuple(map(int, counts.split("/"))) for part, counts in
             (row.split() for row in ENOUGH.split(","))}
    assert found == asked


def test_what_is_short_and_by_when_to_order(plan):
    found = {line["part"]: (line["minimum"], line["usable"], line["buy"], line["order_by"])
             for line in plan["lines"] if line["short"]}
    assert found == SHORT


def test_nozzles_are_too_late_and_move_the_departure(plan):
    late = {line["part"]: line["late_days"] for line in plan["lines"]
            if line["state"] == "too-late"}
    assert late == {"P014": 5}
    assert plan["earliest_departure"] == "2027-05-08"   # 15 March + 52 days + 2 days


def test_stranded_out_of_date_and_out_of_reach(plan):
    assert plan["stranded"] == [{"part": "P056", "quantity": 3}, {"part": "P057", "quantity": 4}]
    assert {row["part"] for row in plan["out_of_date"]} == {
        "P021", "P100", "P117", "P074", "P094", "P112", "P115"}
    assert plan["not_reachable"] == [{"part": "P014", "quantity": 2},
                                     {"part": "P031", "quantity": 1}]


def test_doubtful_readings_are_used_nowhere(plan):
    services = {s["task"]: s for s in plan["services"]}
    assert services["S30"]["days"] == [28, 57]      # 110 h in 63 days, every 50 h
    assert services["S31"]["days"] == []            # not at 960 h
    assert services["S12"]["before"] == 0           # 640 h, not 603 h


def test_a_boiler_nobody_read_since_november_is_remarked(plan):
    remarks = {s["task"]: s["remarks"] for s in plan["services"]}
    assert "last trusted reading is of 2026-11-02, 133 days old" in remarks["S26"]
