"""Readings that are asked about, services done, and taking things back."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from spares.actions.changes import changes
from spares.actions.check import check
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.done import done
from spares.actions.due import due
from spares.actions.put import put
from spares.actions.reading import reading
from spares.actions.same import same
from spares.actions.show import show
from spares.actions.took import took
from spares.actions.undo import undo
from spares.domain.draft import Draft
from spares.errors import AskFirst, Conflict, InvalidInput, NotFound

WITHOUT_INTERVAL = json.loads((
    Path(__file__).parents[1] / "vectors/due/told.json").read_text("utf-8"))["without_interval"]


def quantity(ctx: Context, part: str) -> float:
    """Give how many of a part there are in all."""
    return sum(one["quantity"] for one in show(ctx, part)["where"])


def test_a_plain_reading_is_taken(ctx: Context) -> None:
    assert reading(ctx, "ENG", "352,5")["hours"] == 352.5
    assert show(ctx, "ENG")["hours"] == 352.5


def test_a_machine_without_counter_of_its_own_reads_the_others(ctx: Context) -> None:
    assert reading(ctx, "GBX", 360)["machine"] == "ENG"


@pytest.mark.parametrize(("value", "code"), [
    (349, "lower"), (3500, "above-24-h-a-day"), (600, "five-times-usual")])
def test_a_doubtful_reading_is_asked_about_and_then_used_nowhere(
        ctx: Context, value: float, code: str) -> None:
    with pytest.raises(AskFirst) as said:
        reading(ctx, "ENG", value)
    assert said.value.facts["asks"] == code
    assert said.value.facts["last"] == {"date": "2027-03-01", "hours": 350.0}
    reading(ctx, "ENG", value, because="read twice, it is so")
    shown = show(ctx, "ENG")
    assert shown["hours"] == 350.0
    assert shown["readings"][-1]["hours"] == value and shown["readings"][-1]["doubt"]


def test_a_new_counter_begins_anew(ctx: Context) -> None:
    reading(ctx, "ENG", 3, because="New counter fitted")
    assert show(ctx, "ENG")["hours"] == 3.0


@pytest.mark.parametrize(("machine", "value", "at", "pointer"), [
    ("WIN", 5, None, "#/machine"), ("ENG", "much", None, "#/hours"), ("ENG", -1, None, "#/hours"),
    ("ENG", 360, "2027-02-30", "#/at"), ("ENG", 360, "2027-04-01", "#/at")])
def test_a_reading_that_cannot_be_says_where(ctx: Context, machine: str, value: object,
                                             at: str | None, pointer: str) -> None:
    with pytest.raises(InvalidInput) as said:
        reading(ctx, machine, value, at=at)
    assert said.value.facts["errors"][0]["pointer"] == pointer


def test_done_may_be_dated_to_the_month_where_no_more_is_known(ctx: Context) -> None:
    found = done(ctx, "S01", at="2027-02", kit=False)
    assert found["date"] == "2027-02"
    assert ctx.aboard().done[-1].date == "2027-02"
    with pytest.raises(InvalidInput):
        done(ctx, "S01", at="2027-04", kit=False)


@pytest.mark.parametrize("case", WITHOUT_INTERVAL, ids=lambda case: case["what"])
def test_a_service_without_an_interval_is_told_as_the_phone_tells_it(
        ctx: Context, case: dict[str, Any]) -> None:
    made = write_document(ctx, "service", {"what": "look", "machine": ctx.named(
        "ENG", "machine", "machine")})
    if "baseline_on" in case:
        write_document(ctx, "vessel", {"baseline_on": case["baseline_on"]},
                       doc=f"vessel/{ctx.vessel}")
    if "done" in case:
        done(ctx, made["no"], at=case["done"]["on"], kit=False)
    line = next(one for one in due(ctx)["services"] if one["service"] == made["no"])
    names = {"due_at_h": "due_at_hours"}
    assert {name: line[names.get(name, name)] for name in case["told"]} == case["told"]


def test_done_takes_the_kit_and_undo_brings_it_back(ctx: Context) -> None:
    answer = done(ctx, "S01", run=350)
    assert answer["used"] == [{"part": "P05", "locker": "L01", "quantity": 1}]
    assert quantity(ctx, "P05") == 3
    undo(ctx, answer["change"])
    assert quantity(ctx, "P05") == 4
    assert show(ctx, "S01")["done"] == []


def test_a_kit_that_is_not_aboard_is_named_as_missing(ctx: Context) -> None:
    took(ctx, "P05", "L01", 4)
    answer = done(ctx, "S01")
    assert (answer["used"], answer["missing"]) == ([], [{"part": "P05", "quantity": 1}])


def test_undo_takes_back_one_act_after_another(ctx: Context) -> None:
    put(ctx, "P05", "L01", 1)
    took(ctx, "P03", "L01", 4)
    assert undo(ctx)["changes"] == 2, "a taking from two lots goes back as one"
    assert quantity(ctx, "P03") == 6
    assert undo(ctx)["text"] == "Undid: Put 1 of P05 into L01"
    assert quantity(ctx, "P05") == 4


def test_taking_back_an_act_of_several_changes_is_one_line_of_the_list(ctx: Context) -> None:
    took(ctx, "P03", "L01", 4)
    before = len(changes(ctx)["changes"])
    undo(ctx)
    lines = changes(ctx)["changes"]
    assert len(lines) == before + 1
    assert lines[0]["text"] == "Undid 2 changes" and not lines[0]["can_undo"]
    assert [line["undone"] for line in lines[1:3]] == [True, True]
    # a page that ends inside the taking back still has as many lines as were asked for
    assert len(changes(ctx, 2)["changes"]) == 2
    assert [line["id"] for line in changes(ctx, 2, lines[0]["seq"])["changes"]] == [
        line["id"] for line in lines[1:3]]


def test_a_change_is_taken_back_once(ctx: Context) -> None:
    change = put(ctx, "P05", "L01", 1)["change"]
    undo(ctx, change)
    with pytest.raises(Conflict):
        undo(ctx, change)


def test_a_field_goes_back_to_what_it_was(ctx: Context) -> None:
    doc = ctx.named("P05", "part", "part")
    write_document(ctx, "part", {"name": "Filtre"}, doc=doc)
    undo(ctx)
    assert show(ctx, "P05")["name"] == "Filter"


def test_the_list_calls_a_thing_by_its_number_or_by_what_it_is_about(ctx: Context) -> None:
    """Never by its id, which nobody has seen."""
    doc = ctx.named("P05", "part", "part")
    write_document(ctx, "spec", {"part": doc, "attribute": "bore", "claim": {"value": "16"}})
    write_document(ctx, "part", {"name": "Filtre"}, doc=doc)
    told = [line["text"] for line in changes(ctx, 2)["changes"]]
    assert told == ["Set name of part P05", "Set attribute, claim, part of spec P05"]


def test_a_field_that_was_set_again_is_not_taken_back(ctx: Context) -> None:
    doc = ctx.named("P05", "part", "part")
    write_document(ctx, "part", {"name": "Filtre"}, doc=doc)
    first = changes(ctx, 1)["changes"][0]["id"]
    write_document(ctx, "part", {"name": "Oil filter"}, doc=doc)
    with pytest.raises(Conflict, match="set again since"):
        undo(ctx, first)


def test_a_new_thing_taken_back_is_gone(ctx: Context) -> None:
    made = write_document(ctx, "locker", {"name": "New box"})
    assert made["no"] == "L04" and len(made["fields"]["code"]) == 4
    undo(ctx)
    with pytest.raises(NotFound):
        show(ctx, "L04")


def test_a_thing_taken_off_the_books_comes_back_when_that_is_undone(ctx: Context) -> None:
    doc = ctx.named("L03", "locker", "locker")
    off = write_document(ctx, "locker", {"gone": True}, doc=doc)["change"]
    undo(ctx, off)
    assert show(ctx, "L03")["no"] == "L03"


def test_two_records_of_one_part_add_up(ctx: Context) -> None:
    put(ctx, "P06", "L02", 2)
    answer = same(ctx, "P05", "P06")
    assert sum(one["quantity"] for one in answer["part"]["where"]) == 6


def test_a_number_that_is_taken_is_refused(ctx: Context) -> None:
    with pytest.raises(Conflict, match="P05"):
        write_document(ctx, "part", {"no": "P05", "name": "Another"})


def test_an_undo_sent_twice_takes_back_one_act(ctx: Context) -> None:
    put(ctx, "P05", "L01", 1)
    put(ctx, "P05", "L01", 2)
    ident = "00000000-0000-4000-8000-000000000001"
    first = undo(ctx, change_id=ident)
    again = undo(ctx, change_id=ident)
    assert (first["was_new"], again["was_new"]) == (True, False)
    assert first["undone"] == again["undone"]
    assert quantity(ctx, "P05") == 5


def test_a_reading_below_what_the_last_service_noted_is_asked_about(ctx: Context) -> None:
    done(ctx, "S01", at="2027-03-05", run=360)
    with pytest.raises(AskFirst, match="lower than the 360 h of 2027-03-05") as said:
        reading(ctx, "ENG", 355, at="2027-03-10")
    assert said.value.facts["last"] == {"date": "2027-03-05", "hours": 360.0}
    reading(ctx, "ENG", 365, at="2027-03-10")


@pytest.mark.parametrize("changed", ["2027-03-05", "2027-03-06"])
def test_a_service_before_the_counter_was_changed_keeps_its_hours(
        ctx: Context, changed: str) -> None:
    done(ctx, "S01", at="2027-03-05", run=360)
    reading(ctx, "ENG", 0, at=changed, because="new counter")
    reading(ctx, "ENG", 4, at="2027-03-12")
    line = due(ctx)["services"][0]
    # 250 h from the service on; the new counter, begun then, shows 4
    assert (line["hours_left"], line["due_at_hours"]) == (246, 250)


def test_hours_that_two_phones_noted_against_each_other_stop_no_list(ctx: Context) -> None:
    """Neither phone knew of the other: the lower reading is stored, nobody was asked."""
    done(ctx, "S01", at="2027-03-05", run=360)
    ctx.write([Draft("reading", {"machine": ctx.named("ENG", "machine", "machine"),
                                 "minutes": 355 * 60, "date": "2027-03-10"})])
    line = due(ctx)["services"][0]
    # 350 h on the 1st, 355 h on the 10th: 4 of 9 days are 2 h 13 min, in whole minutes
    assert (line["hours_left"], line["estimated"]) == (247.2167, True)
    assert any(said.startswith("360 h at the service of 2027-03-05 not used: 360 h")
               for said in line["remarks"])
    assert any("360 h on 2027-03-05 is above" in str(one) for one in check(ctx)["faults"])


def test_hours_that_the_meter_cannot_have_shown_are_refused(ctx: Context) -> None:
    with pytest.raises(InvalidInput, match="hours"):
        done(ctx, "S01", run=90_000)
    assert show(ctx, "S01")["done"] == []
