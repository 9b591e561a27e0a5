"""What counts as usable, what is short, in which packs, by when: cases worked out by hand."""

from __future__ import annotations

import pytest

from spares.actions.compute import compute
from tests.plans import ask, line, plan, task

POINTS = [{"id": "new", "machine": "m", "takes": ["p"]},
          {"id": "old", "machine": "m", "takes": ["dead"], "retired": True}]


def _keep(quantity, lots, *, part=None, trip=None, days=30, **more):
    return plan(days=days, keep={"p": quantity}, lots=[{"part": "p", **lot} for lot in lots],
                parts=[{"id": "p", **(part or {})}], trip=trip, **more)


@pytest.mark.parametrize(("pack", "buy"), [(1, 2), (5, 5)])
def test_netting_packs_and_dates_of_six_pieces(pack, buy):
    lots = [{"part": "dead", "quantity": 2}, {"part": "p", "quantity": 1, "expires": "2027-03-20"},
            {"part": "p", "quantity": 1, "condition": "suspect"},
            {"part": "p", "quantity": 2, "reserved": 1}]
    found = plan(keep={"p": 3}, lots=lots, fit_points=POINTS, trip={"ready_days": 3},
                 parts=[{"id": "p", "lead_days": 21, "pack": pack, "stand_ins": ["dead"]}])
    row = line(found)
    assert (row["usable"], row["short"], row["buy"]) == (1, 2, buy)
    assert (row["state"], row["order_by"], row["late_days"]) == ("too-late", "2027-03-08", 7)
    assert found["stranded"] == [{"part": "dead", "quantity": 2}]
    assert found["earliest_departure"] == "2027-04-08"


@pytest.mark.parametrize(("lead", "state"), [
    (None, "short"), (14, "order-by"), (17, "order-by"), (18, "too-late")])
def test_the_state_of_a_short_line_follows_the_lead_time(lead, state):
    assert line(_keep(1, [], part={"lead_days": lead}))["state"] == state


def test_a_piece_is_usable_through_its_expiry_day():
    last = "2027-05-01"     # arrival
    assert line(_keep(1, [{"quantity": 1, "expires": last}]))["usable"] == 1
    assert line(_keep(1, [{"quantity": 1, "expires": "2027-04-30"}]))["usable"] == 0


def test_an_expiry_known_to_the_month_is_its_first_day():
    assert line(_keep(1, [{"quantity": 1, "expires": "2027-05"}]))["usable"] == 1
    assert line(_keep(1, [{"quantity": 1, "expires": "2027-04"}]))["usable"] == 0


def test_a_piece_that_expires_under_way_still_serves_an_earlier_service():
    early = task(100, used_h=60, kit=[{"part": "p"}])       # day 11, and again beyond the trip
    lots = [{"part": "p", "quantity": 1, "expires": "2027-04-20"}]
    found = plan(hours={"m": 100}, tasks=[early], lots=lots)
    assert (line(found)["usable"], line(found)["short"]) == (1, 0)
    found = plan(hours={"m": 100}, tasks=[early], lots=lots, keep={"p": 2})
    assert (line(found)["usable"], line(found)["short"]) == (1, 1)


def test_early_expiry_goes_first_so_that_nothing_is_short():
    tasks = [task(100, used_h=60, kit=[{"part": "p"}], id="early"),
             task(100, used_h=5, kit=[{"part": "p"}], id="late")]
    lots = [{"part": "p", "quantity": 1},
            {"part": "p", "quantity": 1, "expires": "2027-04-20"}]
    assert line(plan(hours={"m": 100}, tasks=tasks, lots=lots))["short"] == 0


def test_two_pieces_that_expire_early_do_not_cover_a_late_need():
    tasks = [task(100, used_h=60, kit=[{"part": "p"}], id="early"),
             task(100, used_h=5, kit=[{"part": "p"}], id="late")]
    lots = [{"part": "p", "quantity": 2, "expires": "2027-04-20"}]
    row = line(plan(hours={"m": 100}, tasks=tasks, lots=lots))
    assert (row["minimum"], row["usable"], row["short"]) == (2, 1, 1)


@pytest.mark.parametrize("lot", [
    {"aboard": False}, {"condition": "suspect"}, {"reserved": 2}, {"counted": False}])
def test_what_is_ashore_suspect_reserved_or_uncounted_is_not_usable(lot):
    assert line(_keep(1, [{"quantity": 2, **lot}]))["usable"] == 0


def test_used_good_and_out_of_reach_pieces_count_and_are_remarked():
    found = _keep(2, [{"quantity": 1, "condition": "used-good", "locker": "L1"},
                      {"quantity": 1, "reachable": False, "locker": "L14"}])
    assert line(found)["usable"] == 2
    assert {"1 in L1 used, good", "1 in L14 not reachable under way"} <= set(
        line(found)["remarks"])
    assert found["not_reachable"] == [{"part": "p", "quantity": 1}]


@pytest.mark.parametrize(("lot", "listed", "remarked"), [
    ({}, 2, True), ({"reserved": 1}, 1, True), ({"reserved": 2}, None, True),
    ({"condition": "suspect"}, None, False), ({"aboard": False}, None, False),
    ({"counted": False}, None, False), ({"expires": "2027-05-01"}, 2, True),
    ({"expires": "2027-04-01"}, 2, True), ({"expires": "2027-03-31"}, None, False)])
def test_out_of_reach_is_told_of_pieces_that_count(lot, listed, remarked):
    """One service is due before leaving on 1 April, one on arrival on 1 May."""
    kit = [{"part": "p", "quantity": 1}]
    found = plan(tasks=[task(every_months=1, kit=kit)], parts=[{"id": "p"}],
                 records=[{"task": "t", "on": "2026-12-01"}],
                 lots=[{"part": "p", "quantity": 2, "reachable": False, **lot}])
    assert found["not_reachable"] == ([{"part": "p", "quantity": listed}] if listed else [])
    assert ("2 not reachable under way" in line(found)["remarks"]) is remarked


def test_out_of_reach_is_silent_where_nothing_is_needed():
    found = plan(lots=[{"part": "p", "quantity": 1, "reachable": False}], parts=[{"id": "p"}])
    assert found["not_reachable"] == []


@pytest.mark.parametrize(("quantity", "state"), [(None, "cannot-say"), (0, "cannot-say"),
                                                 (3, "cannot-say"), (2, "order-by")])
def test_an_uncounted_lot_decides_if_it_could_end_the_shortage(quantity, state):
    lots = [{"quantity": 1}, {"quantity": quantity, "counted": False, "locker": "L10"}]
    row = line(_keep(4, lots, part={"lead_days": 3}))
    assert row["state"] == state
    assert "not counted in L10" in row["remarks"]


def test_more_reserved_than_there_is_takes_nothing_from_another_lot():
    lots = [{"quantity": 1, "reserved": 5, "counted": False, "locker": "L1"},
            {"quantity": 1, "counted": False, "locker": "L2"}]
    row = line(_keep(1, lots))
    assert row["state"] == "cannot-say"
    reserved = line(_keep(2, [{"quantity": 1, "reserved": 3, "locker": "L1"}]))
    assert "1 in L1 reserved" in reserved["remarks"]


def test_enough_without_the_uncounted_lot_is_enough():
    lots = [{"quantity": 4}, {"quantity": None, "counted": False}]
    assert line(_keep(4, lots))["state"] == "enough"


def test_a_shortage_a_person_accepted_is_not_bought_and_moves_no_date():
    found = _keep(1, [], part={"lead_days": 60}, trip={"accepted": ["p"]})
    row = line(found)
    assert (row["state"], row["short"], row["buy"]) == ("accepted", 1, 0)
    assert found["earliest_departure"] is None


def test_a_part_whose_points_all_retired_never_counts_even_if_a_kit_names_it():
    found = plan(hours={"m": 100}, fit_points=POINTS,
                 tasks=[task(100, used_h=60, kit=[{"part": "dead"}])],
                 lots=[{"part": "dead", "quantity": 5}])
    assert (line(found, "dead")["usable"], line(found, "dead")["short"]) == (0, 1)


def test_a_part_nobody_recorded_a_place_for_serves_its_keep_level_and_kits():
    found = plan(hours={"m": 100}, fit_points=POINTS, keep={"x": 1},
                 tasks=[task(100, used_h=60, kit=[{"part": "y"}])],
                 lots=[{"part": "x", "quantity": 1}, {"part": "y", "quantity": 1}])
    assert [line(found, part)["state"] for part in ("x", "y")] == ["enough", "enough"]
    assert found["stranded"] == []


def test_set_aside_counts_without_the_service_while_its_place_lives():
    kit = [{"part": "p", "set_aside": True}]
    not_due = task(1000, used_h=0, fit_point="new", kit=kit)
    row = line(plan(hours={"m": 100}, tasks=[not_due], fit_points=POINTS))
    assert (row["for_service"], row["set_aside"], row["minimum"]) == (0, 1, 1)


@pytest.mark.parametrize(("keep", "minimum"), [(0, 3), (3, 3), (4, 4)])
def test_minimum_is_the_keep_level_or_services_with_the_larger_reserve(keep, minimum):
    # two services, one set aside, one failure spare (mean .36): max(keep, 2 + max(1, 1))
    tasks = [task(100, used_h=60, kit=[{"part": "p", "quantity": 2, "set_aside": False}]),
             task(1000, used_h=0, id="other", kit=[{"part": "p", "set_aside": True}])]
    row = line(plan(hours={"m": 100}, tasks=tasks, keep={"p": keep},
                    failures=[{"part": "p", "machine": "m", "mtbf_h": 400}]))
    assert (row["for_service"], row["set_aside"], row["for_failure"]) == (2, 1, 1)
    assert row["minimum"] == minimum


def test_decimal_quantities_stay_exact():
    tasks = [task(100, used_h=60, id=f"t{i}", kit=[{"part": "p", "quantity": "0,1"}])
             for i in range(3)]
    row = line(plan(hours={"m": 100}, tasks=tasks, lots=[{"part": "p", "quantity": 0.3}]))
    assert (row["for_service"], row["short"]) == (0.3, 0)


def test_cost_and_mass_are_those_of_the_packs_bought():
    row = line(_keep(3, [{"quantity": 1}], part={"cost": "1,45", "mass_kg": 0.35, "pack": 5}))
    assert (row["buy"], row["cost"], row["mass_kg"]) == (5, 7.25, 1.75)


def test_an_unknown_price_is_not_nothing():
    row = line(_keep(1, []))
    assert row["cost"] is None
    assert "price not known" in row["remarks"]


def test_out_of_date_lists_all_that_expires_before_the_return():
    lots = [{"part": "x", "quantity": 2, "expires": "2027-03-20"},
            {"part": "y", "quantity": 1, "expires": "2027-05-01"},
            {"part": "z", "quantity": 1, "expires": "2020", "aboard": False}]
    assert plan(lots=lots)["out_of_date"] == [
        {"part": "x", "quantity": 2, "expires": "2027-03-20"}]


# ------------------------------------------------------------------ stops

GEN = {"hours_per_day": {"gen": 4}}


def _with_stop(sells, **more):
    return plan(days=90, trip={**GEN, "stops": [{"day": 40, "sells": sells}]},
                tasks=[task(100, used_h=20, machine="gen", kit=[{"part": "p"}])],
                failures=[{"part": "p", "machine": "gen", "mtbf_h": 1500, "units": 2}], **more)


def test_a_part_sold_at_a_stop_is_needed_only_until_there():
    found = _with_stop(["p"])
    assert found["services"][0]["days"] == [19, 44, 69]
    row, stop = line(found), found["stops"][0]
    assert (row["for_service"], row["for_failure"], row["minimum"]) == (1, 1, 2)
    at_stop = stop["lines"][0]
    assert (stop["day"], at_stop["for_service"], at_stop["for_failure"], at_stop["buy"]) == (
        40, 2, 1, 3)
    assert at_stop["protection"] == pytest.approx(0.9702, abs=5e-5)         # mean .2667
    assert row["protection_bought"] == pytest.approx(0.9802, abs=5e-5)      # mean .2133


@pytest.mark.parametrize(("held", "reached"), [(4, 0.9158), (5, 0.9871)])   # mean .48
def test_a_part_not_sold_at_the_stop_is_needed_for_the_whole_trip(held, reached):
    found = _with_stop(["other"], lots=[{"part": "p", "quantity": held}])
    assert (line(found)["for_service"], line(found)["for_failure"]) == (3, 2)
    assert line(found)["protection"] == pytest.approx(reached, abs=5e-5)
    assert found["stops"][0]["lines"] == []


def test_what_is_left_over_is_not_bought_again_at_the_stop():
    at_stop = _with_stop(["p"], lots=[{"part": "p", "quantity": 4}])["stops"][0]["lines"][0]
    assert (at_stop["minimum"], at_stop["left_over"], at_stop["buy"]) == (3, 2, 1)


def test_a_pack_bought_at_departure_is_left_over_at_the_stop():
    at_stop = _with_stop(["p"], parts=[{"id": "p", "pack": 10}])["stops"][0]["lines"][0]
    assert (at_stop["left_over"], at_stop["buy"]) == (8, 0)


def test_left_over_pieces_out_of_date_by_then_do_not_count():
    lots = [{"part": "p", "quantity": 2}, {"part": "p", "quantity": 2, "expires": "2027-05-12"}]
    found = _with_stop(["p"], lots=lots)
    assert found["stops"][0]["lines"][0]["left_over"] == 2


def test_keep_and_set_aside_are_topped_up_at_a_stop_only_if_used():
    kept = plan(days=90, trip={"stops": [{"day": 40, "sells": ["p"]}]}, keep={"p": 2})
    assert (line(kept)["buy"], kept["stops"][0]["lines"][0]["buy"]) == (2, 0)
    used = plan(days=90, trip={**GEN, "stops": [{"day": 40, "sells": ["p"]}]}, keep={"p": 2},
                tasks=[task(240, used_h=220, machine="gen", kit=[{"part": "p"}])])
    # day 4 takes one of the two; day 64 takes one more
    assert used["services"][0]["days"] == [4, 64]
    assert (line(used)["buy"], used["stops"][0]["lines"][0]["buy"]) == (2, 1)


def test_work_due_by_the_calendar_on_the_day_of_a_stop_belongs_before_it():
    found = plan(days=90, trip={"stops": [{"day": 40, "sells": ["p"]}]},
                 tasks=[task(every_months=12, kit=[{"part": "p"}])],
                 records=[{"task": "t", "on": "2026-05-11"}])      # due on day 40
    assert found["services"][0]["days"] == [40]
    assert line(found)["for_service"] == 1


def test_a_harbour_on_the_leaving_day_leaves_only_what_is_due_before_it():
    found = plan(days=90, trip={**GEN, "stops": [{"day": 0, "sells": ["p"]}]},
                 tasks=[task(100, used_h=120, machine="gen", kit=[{"part": "p"}])],
                 failures=[{"part": "p", "machine": "gen", "mtbf_h": 1500}])
    # Overdue: one before leaving; 4 h a day, so three more on days 24, 49 and 74, and a spare.
    assert (line(found)["for_service"], line(found)["for_failure"]) == (1, 0)
    at_stop, = found["stops"][0]["lines"]
    assert (at_stop["for_service"], at_stop["for_failure"]) == (3, 1)
    assert found["protection"]["until_day"] == 0


def test_two_harbours_on_one_day_are_one_stop():
    stops = [{"day": 40, "sells": ["other"]}, {"day": 40, "sells": ["p"]}]
    two = plan(days=90, trip={**GEN, "stops": stops},
               tasks=[task(100, used_h=20, machine="gen", kit=[{"part": "p"}])],
               failures=[{"part": "p", "machine": "gen", "mtbf_h": 1500, "units": 2}])
    one = _with_stop(["p", "other"])
    assert (two["stops"], two["lines"]) == (one["stops"], one["lines"])


@pytest.mark.parametrize(("stops", "until"), [
    ([], None), ([(20, ["other"]), (40, ["p"]), (60, ["p"])], 40), ([(90, ["p"])], None)])
def test_protection_goes_to_the_first_stop_that_sells_what_may_fail(stops, until):
    found = plan(days=90, trip={**GEN, "stops": [
        {"day": day, "sells": sells} for day, sells in stops]},
        failures=[{"part": "p", "machine": "gen", "mtbf_h": 1500}], keep={"other": 1})
    assert found["protection"]["until_day"] == until


# -------------------------------------------------------------- stand-ins

def _stand_in(points, lots, parts, tasks, **more):
    return plan(hours={"m": 100}, fit_points=points, lots=lots, parts=parts, tasks=tasks, **more)


def test_a_stand_in_counts_where_it_may_sit():
    points = [{"id": "x", "machine": "m", "takes": ["p", "q"]}]
    found = _stand_in(points, [{"part": "p", "quantity": 1}, {"part": "q", "quantity": 1}],
                      [{"id": "p", "stand_ins": ["q"]}],
                      [task(100, used_h=60, fit_point="x", kit=[{"part": "p", "quantity": 2}])])
    assert (line(found)["usable"], line(found)["state"]) == (2, "enough")
    assert "counts 1 of q as stand-in" in line(found)["remarks"]


def test_a_stand_in_does_not_count_at_a_point_it_cannot_sit_at():
    points = [{"id": "x", "machine": "m", "takes": ["p"]},
              {"id": "y", "machine": "m", "takes": ["p", "q"]}]
    found = _stand_in(points, [{"part": "q", "quantity": 5}], [{"id": "p", "stand_ins": ["q"]}],
                      [task(100, used_h=60, fit_point="x", kit=[{"part": "p"}])])
    assert (line(found)["usable"], line(found)["short"]) == (0, 1)


@pytest.mark.parametrize(("retired", "why"), [
    (False, "no place here that takes p is known to take it"),
    (True, "it fits nothing as fitted today")])
def test_a_stand_in_that_fits_elsewhere_only_is_not_counted_and_named(retired, why):
    found = line(plan(
        hours={"m": 100}, tasks=[task(100, used_h=0, fit_point="f", kit=[{"part": "p"}])],
        fit_points=[{"id": "f", "machine": "m", "takes": ["p"]},
                    {"id": "g", "machine": "m", "takes": ["q"], "retired": retired}],
        parts=[{"id": "p", "stand_ins": ["q"]}, {"id": "q"}],
        lots=[{"part": "q", "quantity": 2}]))
    assert (found["usable"], found["short"]) == (0, 1)
    assert f"2 of q not counted as stand-in: {why}" in found["remarks"]


def test_a_stand_in_is_counted_once_for_two_lines():
    points = [{"id": "x", "machine": "m", "takes": ["p", "q"]},
              {"id": "y", "machine": "m", "takes": ["r", "q"]}]
    found = _stand_in(points, [{"part": "q", "quantity": 1}],
                      [{"id": "p", "stand_ins": ["q"]}, {"id": "r", "stand_ins": ["q"]}],
                      [task(100, used_h=60, fit_point="x", kit=[{"part": "p"}]),
                       task(100, used_h=60, fit_point="y", id="u", kit=[{"part": "r"}])])
    assert line(found, "p")["usable"] + line(found, "r")["usable"] == 1


def test_pieces_are_shared_out_so_that_as_many_needs_as_possible_are_met():
    # q may serve both p and r, s only p: p must take s so that r gets q
    points = [{"id": "x", "machine": "m", "takes": ["p", "q", "s"]},
              {"id": "y", "machine": "m", "takes": ["r", "q"]}]
    found = _stand_in(points, [{"part": "q", "quantity": 1}, {"part": "s", "quantity": 1}],
                      [{"id": "p", "stand_ins": ["q", "s"]}, {"id": "r", "stand_ins": ["q"]}],
                      [task(100, used_h=60, fit_point="x", kit=[{"part": "p"}]),
                       task(100, used_h=60, fit_point="y", id="u", kit=[{"part": "r"}])])
    assert (line(found, "p")["short"], line(found, "r")["short"]) == (0, 0)


# ----------------------------------------------------------------- limits

def test_under_a_limit_services_are_bought_before_failure_spares():
    found = plan(hours={"m": 100}, trip={"limits": {"cost": 50}},
                 tasks=[task(100, used_h=60, kit=[{"part": "p"}])],
                 failures=[{"part": "q", "machine": "m", "mtbf_h": 100}],
                 parts=[{"id": "p", "cost": 40}, {"id": "q", "cost": 20}])
    assert (line(found)["buy"], line(found, "q")["buy"]) == (1, 0)
    assert any("left out by the limit" in r for r in line(found, "q")["remarks"])


def test_under_a_limit_services_are_bought_by_the_day_they_are_due():
    """p is due on days 4 and 54, q on 9 and 59: money for two buys the first of each."""
    run = {"m": 60, "n": 60}        # 1 h a day
    tasks = [task(50, used_h=45, kit=[{"part": "p"}]),
             task(50, used_h=40, id="u", machine="n", kit=[{"part": "q"}])]
    found = plan(days=60, hours=run, tasks=tasks, trip={"limits": {"cost": 20}},
                 machines=[{"id": "m"}, {"id": "n"}],
                 parts=[{"id": "p", "cost": 10}, {"id": "q", "cost": 10}])
    assert [(one["part"], one["short"], one["buy"]) for one in found["lines"]] == [
        ("p", 2, 1), ("q", 2, 1)]


def test_a_limit_that_does_not_reach_buys_the_failure_spares_that_protect_best():
    rows = [{"part": p, "machine": "m", "mtbf_h": mtbf} for p, mtbf in (("a", 200), ("b", 1000))]
    parts = [{"id": "a", "cost": 30}, {"id": "b", "cost": 30}]
    found = plan(hours={"m": 100}, trip={"limits": {"cost": 30}}, failures=rows, parts=parts)
    assert (line(found, "a")["buy"], line(found, "b")["buy"]) == (1, 0)
    assert sum(row["cost"] for row in found["lines"]) <= 30


def test_a_limit_that_reaches_changes_nothing():
    free = ask(keep={"p": 3}, parts=[{"id": "p", "cost": 10, "mass_kg": 1}])
    tight = {**free, "trip": {**free["trip"], "limits": {"cost": 30, "mass_kg": 3}}}
    assert compute("trip", free)["lines"] == compute("trip", tight)["lines"]


def test_a_keep_level_of_a_billion_buys_what_mass_and_money_reach_for():
    # 0.3 kg each: 10 of them weigh 3 kg, and 3 more in packs of 5 would be 4.5 kg
    part = {"id": "p", "cost": 2, "mass_kg": "0,3", "pack": 5}
    found = line(plan(keep={"p": 10**9}, parts=[part],
                      trip={"limits": {"cost": 100, "mass_kg": 4}}))
    assert (found["short"], found["buy"], found["cost"]) == (10**9, 10, 20)
