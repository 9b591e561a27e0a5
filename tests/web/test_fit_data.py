"""What the phone keeps of the fit check: whole, unchanged, and asked for again cheaply."""

from __future__ import annotations

import json

import pytest

from spares.actions.compute import compute
from spares.actions.fit_data import fit_data
from spares.web.schemas.plans import FitBook, FitData

ADDRESSES = ("/api/fit/sheets.json", "/api/fit/points.json")


@pytest.fixture(scope="module")
def book(looking):
    answer = looking.get("/api/fit/points.json")
    assert answer.status_code == 200
    return answer.get_json()


def test_sheets_are_those_of_the_program(looking):
    given = looking.get("/api/fit/sheets.json").get_json()
    assert FitData().validate(given) == {}
    assert given == json.loads(json.dumps(fit_data()))


@pytest.mark.parametrize("address", ADDRESSES)
def test_one_who_has_it_is_not_sent_it_again(looking, address):
    first = looking.get(address)
    again = looking.get(address, headers={"If-None-Match": first.headers["ETag"]})
    assert (again.status_code, again.get_data()) == (304, b"")
    assert first.headers["Cache-Control"] == "no-cache"
    other = looking.get(address, headers={"If-None-Match": '"of another day"'})
    assert other.status_code == 200


def test_book_has_the_documented_shape_and_every_point_and_part(looking, book):
    assert FitBook().validate(book) == {}
    assert book["as_of"] == "2027-03-15"
    counts = looking.get("/api/summary").get_json()["counts"]
    assert (len(book["points"]), len(book["parts"])) == (counts["point"], counts["part"])
    assert book["machines"] == looking.get("/api/machines").get_json()["machines"]


def test_a_request_put_together_from_the_book_is_judged_as_the_server_judges(looking, book):
    """Every part that is tied to a point of the demo, by the book and by the server."""
    parts = {part["no"]: part for part in book["parts"]}
    judged = 0
    for point in book["points"]:
        for tie in point["candidates"]:
            part = parts[tie["part"]]
            answer = looking.post("/api/fit", json={"point": point["no"], "part": part["no"]},
                                  headers={"X-Spares": "1"})
            request = {"kind": point["kind"] or part["kind"] or "general",
                       "recorded_as": part["kind"] or None, "place": point["place"],
                       "requires": point["asks"],
                       "offers": part["offers"], "links": tie["links"],
                       "companions": {a: [one["part"]] for a, one in tie["companions"].items()},
                       "today": book["as_of"]}
            if answer.status_code != 200:
                continue
            given, judged = answer.get_json(), judged + 1
            given["rows"] = [{name: said for name, said in row.items()
                              if name not in ("drawing", "offered_as")} for row in given["rows"]]
            own = compute("fit", request)
            assert {name: given[name] for name in ("verdict", "rows", "changes")} == {
                name: own[name] for name in ("verdict", "rows", "changes")}
            assert given["would_strand"] == tie["would_strand"]
            assert given["cautions"] == point["cautions"]
    assert judged > 50


def test_book_of_the_demo_stays_small_enough_for_a_phone(looking):
    packed = looking.get("/api/fit/points.json", headers={"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    assert len(packed.get_data()) < 100_000
