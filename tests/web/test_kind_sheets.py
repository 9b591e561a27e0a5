"""A person's own kind sheets reach every caller of the API, and a faulty one stops none."""

from __future__ import annotations

import json

import pytest

from spares.web.schemas.plans import FitData, Kinds
from tests.domain.test_own_kind_sheets import GOOD
from tests.problems import is_problem

ASKED = {"kind": "winch-pawl", "requires": [{"attr": "length", "value": "18 mm"}],
         "offers": {"length": "18.1 mm"}}


@pytest.fixture
def folder(demo, tmp_path, monkeypatch):
    """The folder beside the demo's store."""
    found = demo.application.extensions["spares_store"].settings.sheets_folder
    found.mkdir()
    yield found
    for file in found.iterdir():
        file.unlink()
    found.rmdir()


def test_a_sheet_beside_the_store_is_listed_judged_by_and_copied_to_the_phone(demo, folder):
    before = demo.get("/api/fit/sheets.json").headers["ETag"]
    is_problem(demo.post("/api/compute/fit", json=ASKED), 422, field="#/kind")
    (folder / "pawl.toml").write_text(GOOD, encoding="utf-8")
    listed = demo.get("/api/fit/kinds").get_json()
    assert Kinds().validate(listed) == {} and listed["faults"] == []
    assert {one["kind"]: one["file"] for one in listed["kinds"]}["winch-pawl"] == "pawl.toml"
    assert demo.post("/api/compute/fit", json=ASKED).get_json()["verdict"] == "fits"
    copy = demo.get("/api/fit/sheets.json")
    assert copy.headers["ETag"] != before
    assert "winch-pawl" in copy.get_json()["sheets"]
    assert FitData().validate(copy.get_json()) == {}


def test_a_faulty_sheet_leaves_the_rest_at_work(demo, folder):
    (folder / "pawl.toml").write_text(GOOD.replace('unit = "mm"', 'unit = "furlong"'),
                                      encoding="utf-8")
    fault, = demo.get("/api/fit/kinds").get_json()["faults"]
    assert (fault["file"], fault["key"]) == ("pawl.toml", "attributes/length")
    assert "furlong" in fault["detail"]
    told = is_problem(demo.post("/api/compute/fit", json=ASKED), 422, field="#/kind")
    assert "furlong" in told["detail"]
    assert json.loads(demo.get("/api/fit/sheets.json").get_data())["faults"] == [fault]
    answer = demo.post("/api/fit", json={"point": "ENG-04", "part": "P008"}).get_json()
    assert answer["verdict"] == "fits-with-changes"
