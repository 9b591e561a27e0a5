"""A person's own spreadsheet over the API: looked at, brought in, undone, the rest given back."""

from __future__ import annotations

import json

import pytest

from spares.web.schemas import sheets
from spares.web.sheets import CSV
from tests.problems import is_problem
from tests.stores import as_before
from tests.web.crew import Crew

SHEET = (b"Item;Maker;Number;Where;Qty\nBelt;Kallbrook;KB 7;Forward hold;2\n"
         b"Seal;;;Forward hold;lots of\nLamp;;;Forward hold;ca. 3\n")


def post(client, path, data=SHEET, kind=CSV, **query):
    return client.post(f"/api/sheet/{path}", data=data, content_type=kind, query_string=query)


def test_a_sheet_is_looked_at_brought_in_told_of_and_undone(demo, own_surroundings):
    with as_before(own_surroundings):
        looked = post(demo, "look")
        assert looked.status_code == 200
        assert sheets.LookedAnswer().validate(looked.get_json()) == {}
        told = looked.get_json()
        assert (told["good"], told["look_at"], told["skip"]) == (1, 1, 1)
        assert told["new_lockers"] == ["Forward hold"]
        assert [(line["row"], line["verdict"]) for line in told["lines"]] == [
            (3, "skip"), (4, "look-at")]
    before = demo.get("/api/parts?limit=1000").get_json()
    answer = post(demo, "bring", suggestions="true", progress="mine")
    assert answer.status_code == 200 and answer.get_json()["rows"] == 2
    assert sheets.BroughtAnswer().validate(answer.get_json()) == {}
    far = demo.get("/api/bringing?progress=mine").get_json()
    assert far["done"] == far["of"] > 0
    assert demo.get("/api/find?q=KB 7").get_json()["hits"][0]["aboard"] == 2
    rest = post(demo, "left-out", suggestions="true")
    assert rest.mimetype == CSV and b"Seal" in rest.data and b"Lamp" not in rest.data
    undone = demo.post("/api/do/undo", json={"change": answer.get_json()["batch"]})
    assert undone.status_code == 200
    assert demo.get("/api/parts?limit=1000").get_json() == before


def test_columns_are_put_right_by_the_person(demo):
    columns = [{"field": "name"}, {"field": None}, {}, {"field": "note"}, {}]
    told = post(demo, "look", columns=json.dumps(columns)).get_json()
    assert [one["field"] for one in told["columns"]] == [
        "name", None, "number", "note", "quantity"]


@pytest.mark.parametrize("columns", [
    "no json", "{}", "[1]", '[{"colour": "red"}]', '[{"field": 1}, {}, {}, {}, {}]', "[]",
    '[{"field": "name"}, {"field": "name"}, {}, {}, {}]'])
def test_columns_that_cannot_be_are_refused(demo, own_surroundings, columns):
    with as_before(own_surroundings):
        for path in ("look", "bring", "left-out"):
            is_problem(post(demo, path, columns=columns), 422)


@pytest.mark.parametrize(("data", "kind", "status"), [
    (b"", CSV, 422), (b"PK\x03\x04 nothing", CSV, 422), (SHEET, "application/json", 415)])
def test_what_is_no_sheet_is_refused(demo, own_surroundings, data, kind, status):
    with as_before(own_surroundings):
        is_problem(post(demo, "bring", data=data, kind=kind), status)


def test_no_phone_brings_a_sheet_in(boat):
    skipper = Crew(boat, "skipper")
    for path in ("look", "bring", "left-out"):
        is_problem(post(skipper.client, path), 403)
