"""Unsent changes of a phone that cannot come, brought aboard by another."""

from __future__ import annotations

from uuid import uuid4

import pytest
from flask import Flask

from tests.problems import is_problem
from tests.web.crew import CELL, NOW, PART, VESSEL, Crew, changes_nothing, head, here


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


def file_of(phone: Crew, *ops: dict, **more: object) -> dict:
    return {"vessel": VESSEL, "dev": phone.dev, "now": NOW, "ops": list(ops), **more}


def bring(bringer: Crew, given: dict) -> list[str]:
    answer = bringer.client.post("/api/handover", json=given)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    return [one.get("code", one["result"]) for one in answer.json["results"]]


def test_s38_what_the_crew_brings_waits_for_the_skipper(app):
    phone, bringer = Crew(app), Crew(app)
    ops = [phone.op(), phone.op("took")]
    with changes_nothing(app):
        assert bring(bringer, file_of(phone, *ops)) == ["held", "held"]
        assert bring(bringer, file_of(phone, *ops)) == ["dup", "dup"]
    waiting = [one for one in here(app).get("/api/held").json["held"] if one["id"] == ops[0]["id"]]
    assert waiting[0]["why"] == "handed over"
    here(app).post(f"/api/held/{ops[0]['id']}", json={"decide": "approve"})
    assert phone.codes(*ops) == ["dup", "dup"]
    again = phone.sync(*ops).json
    assert [one["was"] for one in again["results"]] == ["ok", "held"]
    assert again["results"][0]["sealed"] and again["held"] == [ops[1]["id"]]


def test_what_the_skipper_brings_is_taken_as_doubtful_and_counts_once(app):
    phone, skipper = Crew(app), Crew(app, "skipper")
    op = phone.op()
    before = head(app)[0]
    assert bring(skipper, file_of(phone, op)) == ["ok"]
    row = skipper.sync(cursor=None).json["changes"][-1]["envelope"]
    assert row["id"] == op["id"] and row["g"] == 1 and row["dev"] not in (phone.dev, skipper.dev)
    assert phone.codes(op) == ["dup"] and head(app)[0] == before + 1


def test_what_the_file_undoes_of_its_own_is_undone(app):
    phone, skipper = Crew(app), Crew(app, "skipper")
    took = phone.op("took")
    undone = phone.op("void", {"of": took["id"]})
    assert bring(skipper, file_of(phone, took, undone)) == ["ok", "ok"]
    others = phone.op("void", {"of": skipper_op(skipper)})
    assert bring(skipper, file_of(phone, others)) == ["not_allowed"]


def skipper_op(skipper: Crew) -> str:
    op = skipper.op()
    assert skipper.codes(op) == ["ok"]
    return op["id"]


def test_dated_bag_that_the_crew_began_comes_with_what_lies_in_it(app):
    phone, skipper, lot = Crew(app), Crew(app, "skipper"), f"lot/{uuid4()}"
    begun = phone.op("set", {"doc": lot, "f": {"expires": "2027-05"}, "base": {}})
    put = phone.op("put", {**CELL, "lot": lot, "q": 1000})
    assert bring(skipper, file_of(phone, begun, put)) == ["ok", "ok"]
    changed = phone.op("set", {"doc": lot, "f": {"expires": "2037-05"}, "base": {}})
    assert bring(skipper, file_of(phone, changed)) == ["not_allowed"]


def test_s38_altered_file_gives_nobody_rights_that_the_author_has_not(app):
    phone, guest, skipper = Crew(app), Crew(app, "guest"), Crew(app, "skipper")
    setting = phone.op("set", {"doc": PART, "f": {"name": "x"}, "base": {}})
    with changes_nothing(app):
        assert bring(skipper, file_of(phone, setting)) == ["not_allowed"]
        assert bring(skipper, file_of(guest, guest.op())) == ["not_allowed"]
        assert bring(skipper, file_of(phone, {**phone.op(), "id": "../x"},
                                      phone.op("put", {**CELL, "q": 0}))) == [
            "bad_shape", "bad_value"]
        is_problem(guest.client.post("/api/handover", json=file_of(phone, phone.op())), 403)


def test_s38_file_of_a_million_changes_is_too_big(app):
    phone, skipper = Crew(app), Crew(app, "skipper")
    with changes_nothing(app, skipper):
        heavy = [phone.op("put", {**CELL, "q": 1000, "note": "x" * 1900}) for _ in range(600)]
        too_many = skipper.client.post("/api/handover", json=file_of(phone, *heavy[:501]))
        is_problem(too_many, 422, field="#/ops")
        answer = skipper.client.post("/api/handover", data=b" " * (9 * 1024 * 1024),
                                     content_type="application/json")
        assert is_problem(answer, 413)["stop"] == "too_big"


def test_file_of_another_vessel_is_not_taken(app):
    phone, skipper = Crew(app), Crew(app, "skipper")
    other = "00000000-0000-4000-8000-0000000000ff"
    answer = skipper.client.post("/api/handover", json=file_of(phone, phone.op(), vessel=other))
    assert is_problem(answer, 409)["stop"] == "wrong_boat"
