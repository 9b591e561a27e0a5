"""A trip is written with all that a plan takes, and a draft is answered before."""

from __future__ import annotations

from uuid import uuid4

import pytest

from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.trip.preview import draft_restock, kit_for
from spares.actions.trip.restock import restock
from spares.actions.trip.stored import trips
from spares.actions.trip.write import edit_trip, new_trip, prefill
from spares.errors import Conflict, InvalidInput

DAYS = {"departs_on": "2027-04-01", "returns_on": "2027-04-21"}     # 20 days
LEGS = [{"distance_nm": "60,5", "speed_kn": 5.5, "machines": ["ENG"], "day": 0},
        {"hours": 4, "machines": ["ENG"], "day": 19}]
ANCHOR = {"days": 12, "run": [{"machine": "ENG", "hours_per_day": "0.5"}]}
# 11 h and half an hour of manoeuvring, 4 h, 12 x 0.5 h
ENG_H = 11 + 0.5 + 4 + 6


def failing(ctx: Context, mtbf_h: float = 100, **origin: str) -> None:
    write_document(ctx, "failure", {
        "part": ctx.named("P05", "part", "part"), "machine": ctx.named("ENG", "m", "machine"),
        "figures": {"mtbf_h": mtbf_h}, **({"origin": origin} if origin else {})})


def test_hours_come_from_legs_and_days_at_anchor(ctx: Context) -> None:
    told = new_trip(ctx, "Round", **DAYS, legs=LEGS, at_anchor=ANCHOR)
    assert told["legs"][0] == {"distance_nm": 60.5, "speed_kn": 5.5, "machines": ["ENG"], "day": 0}
    plan = restock(ctx, "T1")
    assert plan["hours"]["ENG"] == ENG_H
    assert [(one["by"], one["hours"]) for one in plan["running"]
            if one["machine"] == "ENG"] == [("legs", ENG_H)]
    assert plan["curves"][0]["points"][-1]["day"] == 20


def test_a_doubled_request_is_one_trip(ctx: Context) -> None:
    ident = str(uuid4())
    first = new_trip(ctx, "Round", **DAYS, run={"ENG": 20}, change_id=ident)
    again = new_trip(ctx, "Round", **DAYS, run={"ENG": 20}, change_id=ident)
    assert (first["was_new"], again["was_new"], again["no"]) == (True, False, first["no"])
    assert len(trips(ctx)["trips"]) == 1
    write_document(ctx, "keep", {"part": ctx.named("P06", "p", "part"), "q": 1000})


def test_an_id_used_for_something_else_is_no_trip(ctx: Context) -> None:
    from spares.actions.took import took
    ident = took(ctx, "P05", "L01", 1)["change"]
    with pytest.raises(Conflict):
        new_trip(ctx, "Round", **DAYS, change_id=ident)


@pytest.mark.parametrize(("fields", "pointer"), [
    ({"legs": [{"distance_nm": 5, "speed_kn": 0, "machines": ["ENG"]}]}, "#/legs/0/speed_kn"),
    ({"legs": [{"hours": 5, "machines": ["XYZ"]}]}, "#/legs/0/machines/0"),
    ({"legs": [{"hours": 5, "machines": ["ENG"], "day": 20}]}, "#/legs/0/day"),
    ({"legs": LEGS, "run": {"ENG": 5}}, "#/legs/0/machines"),
    ({"at_anchor": {**ANCHOR, "days": 21}}, "#/at_anchor/days"),
    ({"water": {"machine": "WIN", "litres_per_person": 20, "output_l_per_h": 40}}, "#/crew"),
    ({"stops": [{"name": "Port", "arrives_on": "2027-05-01", "all": True}]},
     "#/stops/0/arrives_on"),
    ({"energy": {"machine": "WIN", "loads": [{"watts": 3000, "hours_per_day": 24}],
                 "bank": {"volts": 12, "ah": 100, "from": 0.5, "to": 0.8},
                 "charger": {"net_a": 10}}}, "#/energy/loads"),
    ({"returns_on": "2027-03-31"}, "#/returns_on"),
    ({"stops": [{"name": "Port", "arrives_on": "2027-04-10", "leaves_on": "2027-06-01"}]},
     "#/stops/0/leaves_on"),
])
def test_what_makes_no_sense_is_refused_with_its_field(ctx: Context, fields, pointer) -> None:
    with pytest.raises(InvalidInput) as refused:
        draft_restock(ctx, **{**DAYS, "name": "Round", **fields})
    assert pointer in [one["pointer"] for one in refused.value.facts["errors"]]
    with pytest.raises(InvalidInput):
        new_trip(ctx, **{**DAYS, "name": "Round", **fields})
    assert trips(ctx)["trips"] == []


def test_a_draft_says_what_changes_and_writes_nothing(ctx: Context) -> None:
    new_trip(ctx, "Round", **DAYS, run={"ENG": 200})
    was = restock(ctx, "T1")["sums"]
    drafted = draft_restock(ctx, trip="T1", run={"ENG": 400})
    assert (drafted["was"], drafted["hours"]["ENG"]) == (was, 400)
    assert drafted["sums"]["services"] > was["services"]        # every 250 h once more
    assert restock(ctx, "T1")["hours"]["ENG"] == 200
    alone = draft_restock(ctx, **DAYS, run={"ENG": 30})
    assert (alone["trip"]["no"], alone["was"]) == (None, None)


def test_fewer_days_still_have_to_hold_the_hours_that_were_given(ctx: Context) -> None:
    new_trip(ctx, "Round", **DAYS, run={"ENG": 200})
    with pytest.raises(InvalidInput) as refused:
        edit_trip(ctx, "T1", returns_on=DAYS["departs_on"])
    assert refused.value.facts["errors"] == [
        {"pointer": "#/hours/ENG", "detail": "there are 24 hours in 1 day"}]
    day_sail = {"departs_on": DAYS["departs_on"], "returns_on": DAYS["departs_on"]}
    assert edit_trip(ctx, "T1", **day_sail, run={"ENG": 3})["hours"] == {"ENG": 3}
    # twenty days with 200 h, then a day like those
    edit_trip(ctx, "T1", **DAYS, run={"ENG": 200})
    assert prefill(ctx, *day_sail.values())["fields"]["hours"] == {"ENG": 10}
    assert new_trip(ctx, "Day", **day_sail)["hours"] == {"ENG": 10}


def test_hours_and_lists_can_be_taken_away(ctx: Context) -> None:
    new_trip(ctx, "Round", **DAYS, run={"ENG": 200}, crew=3)
    told = edit_trip(ctx, "T1", run={"ENG": None}, crew=None, legs=LEGS)
    assert (told["hours"], told["crew"], len(told["legs"])) == ({}, None, 2)
    assert edit_trip(ctx, "T1", legs=LEGS)["was_new"] is False


def test_a_new_trip_starts_from_the_last_ones_figures(ctx: Context) -> None:
    assert prefill(ctx) == {"from": None, "fields": {}}
    new_trip(ctx, "Round", **DAYS, run={"GBX": 30}, legs=LEGS, at_anchor=ANCHOR, crew=4)
    found = prefill(ctx, "2027-06-01", "2027-06-11")["fields"]
    assert (found["crew"], found["hours"]) == (4, {"GBX": 15})          # half the days
    assert found["at_anchor"]["days"] == 6
    assert [leg.get("day") for leg in found["legs"]] == [0, None]       # day 19 is outside
    assert new_trip(ctx, "Next", "2027-06-01", "2027-06-11", run=found.pop("hours"),
                    **found)["no"] == "T2"


def test_energy_is_summed_up_day_by_day(ctx: Context) -> None:
    # 100 W x 24 h = 2.4 kWh a day. The engine puts back 50 A x 12 V x 1 h x 0.85 = 0.51 kWh on
    # each of ten days of twenty, so 0.255 kWh a day; 2.145 kWh are missing, 178.75 Ah.
    # 400 Ah from 50 % to 80 % at 80 A take 1.7647 h (120 Ah), so 2.6287 h a day, 52.57 h in all.
    energy = {"machine": "WIN", "loads": [{"name": "all", "watts": 100, "hours_per_day": 24}],
              "alternator": {"machine": "ENG", "net_a": 50},
              "bank": {"volts": 12, "ah": 400, "from": 0.5, "to": 0.8}, "charger": {"net_a": 80}}
    legs = [{"hours": 1, "machines": ["ENG"], "day": day} for day in range(10)]
    plan = draft_restock(ctx, **DAYS, legs=legs, energy=energy)
    assert plan["energy"]["motoring_kwh_per_day"] == pytest.approx(0.255)
    assert plan["energy"]["deficit_ah"] == pytest.approx(178.75)
    assert plan["hours"]["WIN"] == pytest.approx(52.57, abs=0.01)


def test_fuel_is_kept_back_by_the_rule_and_cut_where_she_bunkers(ctx: Context) -> None:
    # 12 h at 6 kn and 4 l/h, nothing for manoeuvring: 48 l; then 6 h: 24 l.
    write_document(ctx, "machine", {"burns": {
        "table": [[5, 3], [6, 4]], "manoeuvring_l_per_h": 0}}, doc=ctx.named("ENG", "m", "machine"))
    legs = [{"hours": 12, "speed_kn": 6, "machines": ["ENG"], "day": 0},
            {"hours": 6, "speed_kn": 6, "machines": ["ENG"], "day": 12}]
    stop = {"name": "Port", "arrives_on": "2027-04-11", "bunkers": True}
    whole = draft_restock(ctx, **DAYS, legs=legs, fuel={"tank_l": 100})["fuel"]
    assert (whole["fuel_l"], whole["needed_l"], whole["state"]) == (72, 108, "short")
    cut = draft_restock(ctx, **DAYS, legs=legs, stops=[stop], fuel={"tank_l": 100})["fuel"]
    assert ([one["fuel_l"] for one in cut["stretches"]], cut["needed_l"], cut["state"]) == (
        [48, 24], 72, "enough")
    fifth = draft_restock(ctx, **DAYS, legs=legs, fuel={"reserve": 0.2})["fuel"]
    assert (fifth["needed_l"], fifth["state"]) == (86.4, "not-known")


def test_fuel_that_nobody_can_tell_is_named_and_never_enough(ctx: Context) -> None:
    legs = [{"hours": 12, "speed_kn": 6, "machines": ["ENG", "WIN"], "day": 0}]
    unknown = draft_restock(ctx, **DAYS, legs=legs, fuel={"tank_l": 1000})
    assert (unknown["fuel"]["fuel_l"], unknown["fuel"]["missing"]) == (None, ["ENG", "WIN"])
    assert unknown["sums"]["fuel_l"] is None
    write_document(ctx, "machine", {"burns": {"at_kn": 6, "l_per_h": 4}},
                   doc=ctx.named("ENG", "m", "machine"))
    half = draft_restock(ctx, **DAYS, legs=legs, fuel={"tank_l": 1000})["fuel"]
    assert (half["fuel_l"], half["missing"], half["state"]) == (48, ["WIN"], "not-known")
    no_speed = [{"hours": 12, "machines": ["ENG"], "day": 0}]
    for given in ({"legs": no_speed}, {"run": {"ENG": 40}, "fuel": {"tank_l": 9}},
                  {"run": {"ENG": 40, "WIN": 3}}):      # of WIN no figure is recorded
        assert draft_restock(ctx, **DAYS, **given)["fuel"]["missing"] == ["ENG"]
    # Half an hour of manoeuvring counts at the one figure: 12 h and 0.5 h at 4 l/h.
    leg = [{"distance_nm": 72, "speed_kn": 6, "machines": ["ENG"], "day": 0}]
    assert draft_restock(ctx, **DAYS, legs=leg)["fuel"]["fuel_l"] == 50
    short = draft_restock(ctx, **DAYS, legs=legs, fuel={"tank_l": 10})["fuel"]
    assert short["state"] == "short"


def _burns(ctx: Context, **burns: object) -> None:
    write_document(ctx, "machine", {"burns": burns}, doc=ctx.named("ENG", "m", "machine"))


def test_a_leg_beyond_the_fuel_table_leaves_the_plan_and_is_named(ctx: Context) -> None:
    # Taken before the table was: 12 h at 6 kn and 4 l/h are 48 l; at 8 kn nobody knows.
    legs = [{"hours": 12, "speed_kn": 6, "machines": ["ENG"], "day": 0},
            {"hours": 6, "speed_kn": 8, "machines": ["ENG"], "day": 12}]
    new_trip(ctx, "Round", **DAYS, legs=legs, fuel={"tank_l": 1000})
    _burns(ctx, table=[[5, 3], [6, 4]], manoeuvring_l_per_h=0)
    plan = restock(ctx, "T1")
    fuel = plan["fuel"]
    assert (plan["hours"]["ENG"], fuel["machines"], fuel["fuel_l"]) == (18, {"ENG": 48}, 48)
    assert (fuel["missing"], fuel["state"]) == (["ENG"], "not-known")
    assert fuel["too_fast"] == [
        {"machine": "ENG", "leg": 2, "speed_kn": 8, "table_ends_kn": 6}]
    assert sum(one["fuel_l"] for one in fuel["stretches"]) == 48
    edit_trip(ctx, "T1", name="Renamed", legs=legs)       # an old leg does not hold up a new name
    assert restock(ctx, "T1")["trip"]["name"] == "Renamed"


def test_only_legs_beyond_the_fuel_table_give_no_litres(ctx: Context) -> None:
    legs = [{"hours": 6, "speed_kn": 8, "machines": ["ENG"]}]
    new_trip(ctx, "Round", **DAYS, legs=legs, fuel={"tank_l": 1000})
    _burns(ctx, table=[[5, 3], [6, 4]], manoeuvring_l_per_h=0)
    fuel = restock(ctx, "T1")["fuel"]
    assert (fuel["fuel_l"], fuel["missing"], fuel["state"]) == (None, ["ENG"], "not-known")


def test_a_new_leg_beyond_the_fuel_table_is_refused_at_its_speed(ctx: Context) -> None:
    _burns(ctx, table=[[5, 3], [6, 4]])
    legs = [{"hours": 1, "machines": ["ENG"]},
            {"distance_nm": 30, "speed_kn": "6,5", "machines": ["ENG"]}]
    for write in (draft_restock, lambda ctx, **asked: new_trip(ctx, "Fast", **asked)):
        with pytest.raises(InvalidInput) as caught:
            write(ctx, **DAYS, legs=legs)
        assert [one["pointer"] for one in caught.value.facts["errors"]] == ["#/legs/1/speed_kn"]
        assert "ENG, which ends at 6 kn" in caught.value.detail
    sailed = [legs[0], {**legs[1], "motor_share": 0}]
    assert draft_restock(ctx, **DAYS, legs=sailed)["fuel"]["too_fast"] == []


QUAY = {"name": "Grimvik", "arrives_on": "2027-04-11", "all": True}


def test_protection_is_said_up_to_the_first_harbour_that_sells_what_may_fail(
        ctx: Context) -> None:
    failing(ctx)
    fuel_only = {"name": "Fuel quay", "arrives_on": "2027-04-03", "bunkers": True}
    plan = draft_restock(ctx, **DAYS, run={"ENG": 20}, stops=[fuel_only, QUAY])
    assert plan["protection"]["until"] == plan["kit"]["until"] == "Grimvik"
    assert "against breakdown until Grimvik that is not aboard" in plan["protection"]["text"]
    whole = draft_restock(ctx, **DAYS, run={"ENG": 20}, stops=[fuel_only])
    assert whole["protection"]["until"] is whole["kit"]["until"] is None
    assert "until" not in whole["protection"]["text"]
    # One failure in 100 h: 10 h to the harbour, 20 h to the end, and no spare of P05 for it.
    assert plan["protection"]["reached"] > whole["protection"]["reached"]
    last_day = draft_restock(ctx, **DAYS, run={"ENG": 20}, stops=[
        {**QUAY, "arrives_on": DAYS["returns_on"]}])
    assert last_day["protection"]["until"] is None


def test_two_harbours_on_one_day_have_one_list_under_both_names(ctx: Context) -> None:
    failing(ctx)
    quay = {"name": "Fuel quay", "arrives_on": QUAY["arrives_on"], "bunkers": True}
    plan = draft_restock(ctx, **DAYS, run={"ENG": 20}, stops=[QUAY, quay])
    assert [(one["day"], one["name"], one["bunkers"]) for one in plan["stops"]] == [
        (10, "Grimvik and Fuel quay", True)]
    assert plan["protection"]["until"] == "Grimvik and Fuel quay"


def test_a_document_asked_for_twice_is_begun_once(ctx: Context) -> None:
    ident = str(uuid4())
    first, again = (write_document(ctx, "part", {"name": "Wick"}, change_id=ident)
                    for _ in range(2))
    assert (first["was_new"], again["was_new"]) == (True, False)
    assert first["doc"] == again["doc"]
    with pytest.raises(Conflict):
        write_document(ctx, "locker", {"name": "Forepeak"}, change_id=ident)


def test_a_figure_without_an_origin_is_assumed_and_none_is_said(ctx: Context) -> None:
    new_trip(ctx, "Round", **DAYS, run={"ENG": 200})
    assert restock(ctx, "T1")["protection"] is None
    failing(ctx)
    plan = restock(ctx, "T1")
    assert [(one["part"], one["assumed"]) for one in plan["failures"]] == [("P05", True)]
    assert plan["protection"]["text"].startswith("Of 100 such trips,")
    assert "P05" not in plan["no_figure"]
    told = edit_trip(ctx, "T1", count_failures=False)
    assert told["count_failures"] is False
    plan = restock(ctx, "T1")
    assert plan["protection"] is None and plan["kit"] is None
    assert any("without failures" in remark for remark in plan["remarks"])


def test_the_kit_says_what_more_money_buys(ctx: Context) -> None:
    # Mean 2 failures. Four aboard, one of them for the filter change that nobody can date:
    # F(3) = 0.857123 (Poisson, as scipy gives it); two more at 10.00 make F(5) = 0.983436.
    write_document(ctx, "part", {"price": {"minor": 1000, "currency": "EUR"}},
                   doc=ctx.named("P05", "p", "part"))
    failing(ctx, 10, how="maker")
    new_trip(ctx, "Round", "2027-03-16", "2027-03-21", run={"ENG": 20},
             hours_before_departure="none")
    kit = kit_for(ctx, "T1", level=0.98)
    assert [(one["part"], one["quantity"]) for one in kit["buy"]] == [("P05", 2)]
    assert kit["reached"] == pytest.approx(0.983436, abs=1e-6)
    assert (kit["spent"]["cost"], kit["spent"]["currency"]) == (20, "EUR")
    assert kit["curve"][0]["protection"] == pytest.approx(0.857123, abs=1e-6)
    assert kit_for(ctx, "T1", cost=9.99)["reached"] == pytest.approx(0.857123, abs=1e-6)
    with pytest.raises(InvalidInput):
        kit_for(ctx, "T1", level=0.9, cost=5)


def test_a_kit_that_nobody_weighed_has_no_mass_and_a_half_weighed_one_says_so(
        ctx: Context) -> None:
    write_document(ctx, "part", {"price": {"minor": 1000, "currency": "EUR"}},
                   doc=ctx.named("P05", "p", "part"))
    failing(ctx, 10, how="maker")
    new_trip(ctx, "Round", "2027-03-16", "2027-03-21", run={"ENG": 20},
             hours_before_departure="none")
    kit = kit_for(ctx, "T1", level=0.98)
    assert {kit["sure"]["mass_kg"], kit["spent"]["mass_kg"],
            *(point["mass_kg"] for point in kit["curve"])} == {None}
    assert kit_for(ctx, "T1", mass_kg=3)["remarks"] == [
        "P05: no mass is known, so the curve leaves it as it is",
        "no mass is known: nothing is counted against the limit of mass"]
    assert kit_for(ctx, "T1", cost=20, mass_kg=3)["remarks"] == [
        "no mass is known: nothing is counted against the limit of mass"]
    write_document(ctx, "part", {"mass_g": 400}, doc=ctx.named("P05", "p", "part"))
    kit = kit_for(ctx, "T1", level=0.98)
    # Two of 0.4 kg, as above; what is kept in store comes first and was never weighed.
    assert (kit["spent"]["mass_kg"], kit["remarks"]) == (0.8, [])
    write_document(ctx, "keep", {"part": ctx.named("P06", "p", "part"), "q": 9000})
    kit = kit_for(ctx, "T1", level=0.98)
    assert (kit["sure"]["mass_kg"], kit["spent"]["mass_kg"]) == (0, 0.8)
    assert kit["remarks"] == ["mass not known and not in the kilograms: P06"]


def test_two_currencies_are_never_added_together(ctx: Context) -> None:
    for no, price in (("P05", {"minor": 1000, "currency": "EUR"}),
                      ("P03", {"minor": 10000, "currency": "DKK"})):
        name = ctx.named(no, "p", "part")
        write_document(ctx, "part", {"price": price}, doc=name)
        write_document(ctx, "keep", {"part": name, "q": 9000})
    new_trip(ctx, "Round", **DAYS, run={"ENG": 0})
    plan = restock(ctx, "T1")
    assert plan["total"] is None
    assert {one["currency"] for one in plan["costs"]} == {"EUR", "DKK"}
    edit_trip(ctx, "T1", prices={"currency": "EUR", "rates": {"DKK": "0.134"}})
    plan = restock(ctx, "T1")
    by = {one["currency"]: float(one["amount"]) for one in plan["costs"]}
    assert float(plan["total"]["amount"]) == pytest.approx(by["EUR"] + 0.134 * by["DKK"])


def test_a_stop_sells_what_its_words_say(ctx: Context) -> None:
    new_trip(ctx, "Round", "2027-04-01", "2028-06-01", run={"ENG": 200}, stops=[
        {"name": "Port", "arrives_on": "2027-04-10", "kinds": ["filter"]}])
    stop = restock(ctx, "T1")["stops"][0]
    assert (stop["name"], stop["day"]) == ("Port", 9)
    assert {line["part"] for line in stop["lines"]} <= {"P05", "P06"}
    assert "P05" in {line["part"] for line in stop["lines"]}
