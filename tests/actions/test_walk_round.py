"""Taking over a vessel of unknown history: what is asked, what was seen, told or guessed."""

from __future__ import annotations

import json
from uuid import uuid4

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.export import export_csv, export_json
from spares.actions.found import baseline, found
from spares.actions.show import show
from spares.actions.undo import undo
from spares.actions.walk_round import walk_round
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import Conflict, InvalidInput, NotFound


def _question(ctx, machine, question, about=None):
    line, = walk_round(ctx, machine)["machines"]
    found_ones = [one for one in line["questions"] if one["question"] == question
                  and about in (None, one["about"])]
    return found_ones[0]


def _due(ctx, service="S01"):
    line, = [one for one in due(ctx)["services"] if one["service"] == service]
    return line


def test_what_is_asked_of_a_machine_is_plate_counter_points_and_services(ctx):
    line, = walk_round(ctx, "ENG")["machines"]
    assert [(one["question"], one["about"]) for one in line["questions"]] == [
        ("plate", "ENG"), ("counter", "ENG"), ("fit", "ENG-01"), ("fit", "ENG-02"),
        ("fit", "ENG-03"), ("history", "S01")]
    assert line["progress"] == {"asked": 6, "answered": 4, "seen": 2, "on_record": 0, "told": 2,
                                "guessed": 0, "open": 2}
    assert [one["next_step"] for one in line["questions"]] == [
        "read-plate", None, None, "measure", "measure", "first-look"]
    assert _question(ctx, "ENG", "history")["look"] == "filter"


def test_a_machine_without_a_counter_of_its_own_is_not_asked_for_one(ctx):
    for machine in ("GBX", "WIN"):
        line, = walk_round(ctx, machine)["machines"]
        assert [one["question"] for one in line["questions"]] == ["plate"]


def test_told_stays_told_beside_what_was_seen_later(ctx):
    found(ctx, "plate", "ENG", "told", answer="a K6, they say", by="the owner before")
    asked = _question(ctx, "ENG", "plate")
    assert (asked["state"], asked["next_step"]) == ("told", "read-plate")
    found(ctx, "plate", "ENG", "seen", model="K6-162", serial="KR6-1", by="Anna", at="2027-03-10")
    asked = _question(ctx, "ENG", "plate")
    assert (asked["state"], asked["next_step"]) == ("seen", None)
    assert [(one["origin"], one["answer"], one["by"], one["on"]) for one in asked["answers"]] == [
        ("seen", "K6-162, serial KR6-1", "Anna", "2027-03-10"),
        ("told", "a K6, they say", "the owner before", "2027-03-15")]
    assert show(ctx, "ENG")["serial"] == "KR6-1"


def test_a_serial_that_nobody_accounts_for_is_on_record_until_somebody_saw_or_told_it(ctx):
    found(ctx, "plate", "ENG", "guessed", serial="KR6-1")
    assert _question(ctx, "ENG", "plate")["state"] == "guessed"


def test_a_service_that_somebody_told_of_is_counted_and_marked_as_an_estimate(ctx):
    found(ctx, "history", "S01", "told", done_on="2026-11", run="260", by="the owner before")
    line = _due(ctx)
    assert line["last"] == {"date": "2026-11", "hours": 260}
    assert line["estimated"] and line["due_at_hours"] == 510       # 260 + 250
    assert "last done is the owner's estimate" in line["remarks"]
    assert _question(ctx, "ENG", "history")["state"] == "told"


def test_a_first_look_without_a_date_leaves_the_history_unknown(ctx):
    found(ctx, "history", "S01", "seen", answer="clean, no water in the bowl")
    assert _question(ctx, "ENG", "history")["state"] == "seen"
    assert _due(ctx)["state"] == "history-unknown"


def test_an_answer_goes_back_whole(ctx):
    found(ctx, "history", "S01", "told", done_on="2026-11")
    undo(ctx)
    assert _question(ctx, "ENG", "history")["state"] == "open"
    assert _due(ctx)["last"] is None


def test_an_answer_sent_twice_is_one(ctx):
    ident = str(uuid4())
    assert found(ctx, "fit", "ENG-02", "seen", answer="76 mm", change_id=ident)["was_new"]
    assert not found(ctx, "fit", "ENG-02", "seen", answer="76 mm", change_id=ident)["was_new"]
    with pytest.raises(Conflict):
        found(ctx, "fit", "ENG-01", "seen", answer="76 mm", change_id=ident)


@pytest.mark.parametrize(("fields", "pointer"), [
    ({"question": "colour"}, "#/question"), ({"origin": "heard"}, "#/origin"),
    ({"answer": " "}, "#/answer"), ({"at": "2027-03-16"}, "#/at"),
    ({"serial": "x", "question": "fit", "about": "ENG-01"}, "#/serial"),
    ({"done_on": "2027-04"}, "#/done_on"), ({"run": "200"}, "#/done_on"),
    ({"done_on": "2026-11", "run": "9000"}, "#/hours"),
    ({"done_on": "2026", "question": "plate", "about": "ENG"}, "#/done_on")])
def test_an_answer_that_makes_no_sense_names_its_field(ctx, fields, pointer):
    asked = {"question": "history", "about": "S01", "origin": "told", "answer": "said so", **fields}
    with pytest.raises(InvalidInput) as told:
        found(ctx, asked.pop("question"), asked.pop("about"), asked.pop("origin"), **asked)
    assert told.value.facts["errors"][0]["pointer"] == pointer
    with pytest.raises(NotFound):
        found(ctx, "plate", "XYZ", "seen", answer="x")


def test_a_baseline_gives_a_day_to_what_nobody_can_date_and_no_good_state(ctx):
    assert (_due(ctx)["due_on"], _due(ctx)["from_baseline"]) == (None, False)
    baseline(ctx, at="2027-03-01")
    line = _due(ctx)
    # 350 h on 1 March by the readings, + 250 h; 12 months to 1 March 2028; the usual running
    # from 2026-05-01 on is 250 h in 304 days, so 250 h more last until about the end of 2027
    assert (line["state"], line["from_baseline"], line["last"]) == ("history-unknown", True, None)
    assert line["due_at_hours"] == 600 and line["due_on"].startswith("2027-12")
    assert "counted from the baseline of 2027-03-01, not from a known service" in line["remarks"]
    baseline(ctx, taken_back=True)
    assert _due(ctx)["due_on"] is None


def test_a_baseline_before_any_reading_counts_nothing_and_a_known_service_goes_before_it(ctx):
    baseline(ctx, at="2026-03-01")      # what the counter showed then, nobody knows
    assert (_due(ctx)["state"], _due(ctx)["due_on"]) == ("history-unknown", None)
    found(ctx, "history", "S01", "seen", done_on="2027-03-01", run="350")
    assert (_due(ctx)["state"], _due(ctx)["from_baseline"]) == ("done", False)
    with pytest.raises(InvalidInput):
        baseline(ctx, at="2027-03-16")


@pytest.mark.parametrize("form", ["csv", "json"])
def test_findings_and_baseline_go_out_and_come_back(ctx, tmp_path, form):
    found(ctx, "fit", "ENG-02", "told", answer="76 mm, thread 3/4", by="yard", note="old list")
    baseline(ctx, at="2027-03-01")
    file = tmp_path / ("all.zip" if form == "csv" else "all.json")
    file.write_bytes(export_csv(ctx) if form == "csv" else json.dumps(export_json(ctx)).encode())
    store = open_store(tmp_path / "other.sqlite")
    bring_in(store, file)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    there = Context(store, vessel, ctx.today)
    assert walk_round(there) == walk_round(ctx) | {"machines": [
        one | {"id": show(there, one["machine"])["id"]}
        for one in walk_round(ctx)["machines"]]}
    store.close()
