"""What is recorded aboard becomes a request that the trip computation takes."""

from __future__ import annotations

from typing import Any

import pytest

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.due import due
from spares.actions.trip.preview import draft_restock
from spares.actions.trip.restock import restock
from spares.actions.trip.write import new_trip
from spares.domain.draft import setting
from spares.errors import InvalidInput


def test_stand_ins_in_a_chain_and_of_the_same_part_stop_no_plan(ctx: Context) -> None:
    """One part stands in for the kit's, a second one for that one, and one for itself."""
    first = ctx.named("P05", "part", "part")
    second, third = (write_document(ctx, "part", {"name": name})["doc"] for name in ("B", "C"))
    for part, whose in ((second, first), (third, second), (first, first)):
        write_document(ctx, "stand-in", {"part": part, "for_part": whose, "proof": "measured"})
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert restock(ctx, "T1")["lines"]


def test_a_kit_line_without_a_quantity_or_of_a_part_nobody_recorded_stops_no_plan(
        ctx: Context) -> None:
    service = ctx.named("S01", "service", "service")
    ctx.write([setting("kit-line/00000000-0000-4000-8000-000000000002", service=service,
                       part="part/00000000-0000-4000-8000-000000000001", q=1000)])
    write_document(ctx, "kit-line", {"service": service,
                                     "part": ctx.named("P05", "part", "part")})
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert restock(ctx, "T1")["lines"]


@pytest.mark.parametrize("interval", [{}, {"every_minutes": 0, "every_months": 0}])
def test_a_service_without_an_interval_stops_no_plan_and_no_due_list(
        ctx: Context, interval: dict[str, Any], monkeypatch: pytest.MonkeyPatch) -> None:
    """One that is done when it is wanted; an interval of 0 may have been taken elsewhere."""
    monkeypatch.setattr("spares.db.door.check_fields", lambda doc, fields: None)
    ctx.write([setting("service/00000000-0000-4000-8000-000000000003", no="S77", what="look",
                       machine=ctx.named("ENG", "machine", "machine"), **interval)])
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    plan = restock(ctx, "T1")
    assert plan["services"] and "S77" not in {one["service"] for one in plan["services"]}
    assert "S77 look: no interval recorded, so not counted here" in plan["remarks"]
    line = next(one for one in due(ctx)["services"] if one["service"] == "S77")
    assert (line["state"], line["remarks"]) == ("history-unknown", ["no interval recorded"])


#: Figures that an older version took: what they stop now, and what is said of them.
IMPOSSIBLE = [
    ("service", {"every_months": 1500}, "S01 change filter, interval of 1500 months: must be 1200 "
                                        "or less; left out"),
    ("kit-line", {"share": "1.5"}, "S01 change filter, P05 in its kit, share of 1.5: a share "
                                   "lies between 0 and 1; left out"),
    ("part", {"lead_days": 5000}, "P05 Filter, lead time of 5000 days: must be 3660 or less; "
                                  "taken as not known"),
    ("part", {"pack": -1000}, "P05 Filter, pack of -1: must be above 0; taken as not known"),
    ("keep", {"q": -1000}, "P05, keep level of -1: must be 0 or more; left out"),
    ("trip", {"ready_days": 5000}, "5000 days to get ready: must lie between 0 and 3660; the "
                                   "usual ones are taken"),
    ("failure", {"figures": {"mtbf_h": "0.001"}}, None)]


@pytest.mark.parametrize(("kind", "fields", "said"), IMPOSSIBLE)
def test_a_figure_that_todays_limits_refuse_is_left_out_and_named(
        ctx: Context, kind: str, fields: dict[str, Any], said: str | None,
        monkeypatch: pytest.MonkeyPatch) -> None:
    part, service = ctx.named("P05", "p", "part"), ctx.named("S01", "s", "service")
    write_document(ctx, "failure", {"part": part, "machine": ctx.named("ENG", "m", "machine"),
                                    "figures": {"mtbf_h": 5000}, "origin": {"how": "maker"}})
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    monkeypatch.setattr("spares.db.door.check_fields", lambda doc, fields: None)
    docs = {"service": service, "part": part, "trip": ctx.named("T1", "t", "trip")}
    for one in ("kit-line", "keep", "failure"):
        docs[one] = f"{one}/{ctx.aboard().all(one)[0].id}"
    ctx.write([setting(docs[kind], **fields)])
    plan = restock(ctx, "T1")
    assert plan["lines"] and due(ctx)["services"][0]["service"] == "S01"
    if said is None:    # 200 h at one failure in 0.001 h
        said = ("P05 on ENG, its failure figure: P05: 200000 failures expected in one window; "
                "look at the figure again; left out")
    assert said in plan["remarks"]
    if kind == "service":
        assert due(ctx)["services"][0]["remarks"] == [said.removesuffix("; left out")]
        assert "S01" not in {one["service"] for one in plan["services"]}


def test_a_service_of_a_machine_that_nobody_recorded_is_said_in_plan_and_due_list(
        ctx: Context) -> None:
    ctx.write([setting("service/00000000-0000-4000-8000-000000000004", no="S78", what="look",
                       machine="machine/00000000-0000-4000-8000-000000000005", every_months=6)])
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    assert "S78 look: no machine recorded, so not counted here" in restock(ctx, "T1")["remarks"]
    line = next(one for one in due(ctx)["services"] if one["service"] == "S78")
    assert (line["state"], line["remarks"]) == ("history-unknown", ["no machine recorded"])
    write_document(ctx, "machine", {"gone": True}, doc=ctx.named("ENG", "m", "machine"))
    line = next(one for one in due(ctx)["services"] if one["service"] == "S01")
    assert line["state"] == "not-wanted"        # nobody serves an engine that is no longer there


@pytest.mark.parametrize(("kind", "field", "value", "fine"), [
    ("service", "every_minutes", 0, 6000), ("service", "every_months", 0, 1),
    ("service", "every_months", 1201, 1200), ("service", "first_minutes", 0, 3000),
    ("part", "lead_days", 3661, 3660), ("trip", "ready_days", 3661, 3660),
    ("kit-line", "share", "1.01", "1"), ("kit-line", "share", "-0.1", "0")])
def test_what_no_plan_can_count_is_refused_when_it_is_written(
        ctx: Context, kind: str, field: str, value: Any, fine: Any) -> None:
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
    doc = {"service": ctx.named("S01", "service", "service"),
           "part": ctx.named("P05", "part", "part"), "trip": ctx.named("T1", "trip", "trip"),
           "kit-line": None}[kind]
    more = {} if doc else {"service": ctx.named("S01", "service", "service"), "q": 1000,
                           "part": ctx.named("P05", "part", "part")}
    with pytest.raises(InvalidInput) as refused:
        write_document(ctx, kind, {field: value, **more}, doc=doc)
    assert refused.value.facts["errors"][0]["pointer"] == f"#/fields/{field}"
    write_document(ctx, kind, {field: fine, **more}, doc=doc)
    assert restock(ctx, "T1")["lines"]


def test_machines_that_count_by_one_another_stop_no_plan(ctx: Context) -> None:
    """Two phones that were apart can bring in a ring; its hours are then nobody's."""
    engine = ctx.named("ENG", "machine", "machine")
    other = write_document(ctx, "machine", {"no": "PTO", "name": "Power take-off", "counter": "of",
                                            "counter_of": engine})["doc"]
    for whose in (other, None, engine):
        write_document(ctx, "machine", {"counter": "of", "counter_of": whose}, doc=engine)
        if whose == other:
            new_trip(ctx, "Round", "2027-04-01", "2027-04-30", run={"ENG": 200})
        assert restock(ctx, "T1")["history_unknown"] == ["S01"]
        assert due(ctx)["services"][0]["state"] == "history-unknown"


LEG = {"distance_nm": 60, "speed_kn": 6, "machines": ["ENG"]}


@pytest.mark.parametrize(("fields", "pointer"), [
    # 29 days have 696 h
    ({"legs": [{**LEG, "distance_nm": 4174}]}, "#/legs/0/distance_nm"),     # 695.7 + 0.5 h
    ({"legs": [LEG, {**LEG, "distance_nm": 60, "day": 28, "speed_kn": 2.5}]},
     "#/legs/1/distance_nm"),                                               # 24.5 h in a day
    ({"legs": [{"hours": 697, "machines": ["ENG"]}]}, "#/legs/0/hours"),
    ({"legs": [{"hours": 400, "machines": ["ENG"]}, {"hours": 297, "machines": ["ENG"]}]},
     "#/legs"),
    ({"at_anchor": {"days": 9, "run": [{"machine": "GBX", "hours_per_day": 1}]},
      "legs": [{"hours": 400, "machines": ["ENG"]}, {"hours": 297, "machines": ["ENG"]}]},
     "#/legs"),
    ({"at_anchor": {"days": 29, "run": [{"machine": "ENG", "hours_per_day": 24}]}, "legs": [LEG]},
     "#/at_anchor/days")])
def test_running_that_the_days_have_no_room_for_is_refused_with_its_field(
        ctx: Context, fields: dict[str, Any], pointer: str) -> None:
    for ask in (new_trip, lambda ctx, name, *days, **more: draft_restock(
            ctx, departs_on=days[0], returns_on=days[1], **more)):
        with pytest.raises(InvalidInput) as refused:
            ask(ctx, "Round", "2027-04-01", "2027-04-30", **fields)
        assert [one["pointer"] for one in refused.value.facts["errors"]] == [pointer]


def test_a_leg_there_and_back_on_one_day_is_taken(ctx: Context) -> None:
    legs = [{"distance_nm": 5, "speed_kn": 5, "machines": ["ENG"]}]
    write_document(ctx, "machine", {"burns": {"at_kn": 5, "l_per_h": 3}},
                   doc=ctx.named("ENG", "m", "machine"))
    write_document(ctx, "failure", {
        "part": ctx.named("P05", "p", "part"), "machine": ctx.named("ENG", "m", "machine"),
        "figures": {"mtbf_h": "15"}, "origin": {"how": "maker"}})
    new_trip(ctx, "Day", "2027-04-01", "2027-04-01", legs=legs)
    plan = restock(ctx, "T1")
    # 1 h and half an hour of manoeuvring; 0.1 failures expected, so one spare against them
    assert (plan["hours"]["ENG"], plan["fuel"]["fuel_l"]) == (1.5, 4.5)
    assert [one["for_failure"] for one in plan["lines"] if one["part"] == "P05"] == [1]
    assert plan["remarks"][0] == (
        "out and back on one day: planned as one day of running, until 2027-04-02")
    with pytest.raises(InvalidInput):
        new_trip(ctx, "Day", "2027-04-01", "2027-04-01", legs=[{**legs[0], "distance_nm": 150}])


@pytest.mark.parametrize(("legs", "pointers"), [
    ([{**LEG, "day": 3, "speed_kn": 3}] * 2, []),       # 20.5 h each, the second over night
    ([{**LEG, "day": 3, "speed_kn": 3}] * 3, ["#/legs/2/day"]),     # 41 h before the third
    ([{**LEG, "day": 28, "speed_kn": 3}] * 2, ["#/legs/1/day"]),    # 41 h on the last day
    ([{"machines": ["ENG"], "day": 3, "hours": 6},
      {"machines": ["ENG"], "day": 3, "hours": 20}], []),
    ([{**LEG, "day": 3, "speed_kn": 3}, {**LEG, "day": 4, "speed_kn": 3}], []),
    ([{**LEG, "day": 3}, {**LEG, "day": 3, "speed_kn": 2}], []),    # 10.5 h, then over night
    ([{**LEG, "manoeuvring_h": 24, "day": 28}], ["#/legs/0/manoeuvring_h"]),    # 10 h alone fit
    ([{"hours": 10, "machines": ["ENG"], "manoeuvring_h": 24, "day": 28}],
     ["#/legs/0/manoeuvring_h"])])
def test_legs_of_one_day_have_24_hours(ctx: Context, legs: list[Any], pointers: list[str]) -> None:
    found = []
    try:
        draft_restock(ctx, departs_on="2027-04-01", returns_on="2027-04-30", legs=legs)
    except InvalidInput as err:
        found = [one["pointer"] for one in err.facts["errors"]]
    assert found == pointers


def test_a_return_before_a_leg_is_refused_however_it_is_written(ctx: Context) -> None:
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", legs=[{**LEG, "day": 20}])
    trip = ctx.named("T1", "t", "trip")
    for back, said in (("2027-04-10", "legs/0/day: day 20 is outside the trip"),
                       ("2027-03-20", "is before the leaving day")):
        with pytest.raises(InvalidInput) as refused:
            write_document(ctx, "trip", {"returns_on": back}, doc=trip)
        (fault,) = refused.value.facts["errors"]
        assert (fault["pointer"], fault["detail"]) == ("#/fields/returns_on", said)
    write_document(ctx, "trip", {"returns_on": "2027-04-22"}, doc=trip)
    with pytest.raises(InvalidInput) as refused:
        write_document(ctx, "trip", {"legs": [{**LEG, "day": 21}]}, doc=trip)
    assert refused.value.facts["errors"][0]["pointer"] == "#/fields/legs/0/day"


def test_days_that_two_phones_moved_apart_leave_out_what_they_cannot_hold(ctx: Context) -> None:
    """One makes the trip shorter, the other gives it a leg, a stop and hours; both are kept."""
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", legs=[{**LEG, "day": 20}],
             stops=[{"name": "Grimvik", "arrives_on": "2027-04-20", "bunkers": True}])
    trip, engine = ctx.named("T1", "t", "trip"), ctx.named("ENG", "m", "machine")
    ctx.write([setting(trip, returns_on="2027-04-10"), setting(
        "trip-hours/00000000-0000-4000-8000-000000000009", trip=trip, machine=engine, minutes=60)])
    plan = restock(ctx, "T1")
    assert (plan["hours"]["ENG"], plan["stops"], plan["timeline"]["stops"]) == (10.5, [], [])
    for said in ("stop Grimvik: 2027-04-20 is outside the trip, so not counted",
                 "leg 1: day 20 is outside the trip; its hours are spread over the trip",
                 "ENG: 1 h are given for it and legs too; the legs are counted"):
        assert said in plan["remarks"]
    ctx.write([setting(trip, returns_on="2027-03-10")])
    with pytest.raises(InvalidInput, match="T1 returns before it leaves"):
        restock(ctx, "T1")


def test_running_that_just_fills_the_days_is_taken(ctx: Context) -> None:
    legs = [{**LEG, "distance_nm": 4173}]       # 695.5 + 0.5 h
    new_trip(ctx, "Round", "2027-04-01", "2027-04-30", legs=legs)
    assert restock(ctx, "T1")["hours"]["ENG"] == 696
