"""Tables that come in and go out, when somebody made them to do harm."""

from __future__ import annotations

import csv
import io
import zipfile
from random import Random

import pytest
from flask import Flask

from tests.problems import is_problem
from tests.web.crew import PART, Crew, changes_nothing, here

COLUMNS = b"no;name;note\n"
GOOD = COLUMNS + b"P900;Belt;\nP901;Hose;\n"


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


def bring(app: Flask, data: bytes, **more):
    return here(app).post("/api/import?name=parts.csv", data=data, content_type="text/csv", **more)


@pytest.mark.parametrize(("data", "says"), [
    (b";".join([b"c"] * 10**6) + b"\n", "more than 100 columns"),
    (GOOD + b'P902;"Clip;\nP903;Nut;\n', "line 4"),
    (GOOD + b"P902;Gar\xe7on;\n", "line 4"),
    (GOOD.decode().encode("utf-16"), "line 1"),
    (b"\x89PNG\r\n\x1a\n" + Random(1).randbytes(5000), "line 1"),
    (GOOD + b"P902;a\x00b;\n", "row 4"), (GOOD + b"P902;;\n", "row 4"),
    (GOOD + b"P902;x;" + b"x" * 4001 + b"\n", "row 4")],
    ids=["a million columns", "quote without end", "mixed encodings", "UTF-16", "a picture",
         "NUL", "no name", "long"])
def test_s25_table_that_is_none_names_its_line_and_nothing_of_it_is_taken(app, data, says):
    with changes_nothing(app, Crew(app)):
        body = is_problem(bring(app, data), 422)
        assert says in body["detail"]
    assert here(app).get("/api/parts/P900").status_code == 404


def test_s25_table_of_a_hundred_megabytes_is_refused_before_it_is_read(app):
    class Never(io.RawIOBase):
        def readable(self):
            return True

        def readinto(self, into):
            raise AssertionError("the body was read")

    with changes_nothing(app, Crew(app)):
        answer = bring(app, b"", environ_overrides={
            "CONTENT_LENGTH": "100000000", "wsgi.input": io.BufferedReader(Never())})
        assert is_problem(answer, 413)["stop"] == "too_big"


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "\r=1", "\n=1",
                                  "=HYPERLINK(\"http://evil.example\")", "-"])
def test_s26_text_that_a_spreadsheet_would_run_goes_out_as_text_and_comes_back(app, text):
    crew = Crew(app, "skipper")
    assert crew.codes(crew.op("set", {"doc": PART, "f": {"note": text}, "base": {}})) == ["ok"]
    sent = here(app).get("/api/export/csv").get_data()
    with zipfile.ZipFile(io.BytesIO(sent)) as archive:
        table = archive.read("parts.csv").decode()
    lines = list(csv.DictReader(io.StringIO(table, newline=""), strict=True))
    note = next(line["note"] for line in lines if line["no"] == "P001")
    assert note == "'" + text
    assert all(not cell.startswith(tuple("=+-@\t\r\n")) for line in lines
               for cell in line.values())
    back = here(app).post("/api/import", data=sent, content_type="application/zip")
    assert back.status_code == 200, back.get_data(as_text=True)
    assert here(app).get("/api/parts/P001").json["note"] == text.strip()


def test_s26_nul_reaches_no_table(app):
    crew = Crew(app, "skipper")
    with changes_nothing(app, crew):
        assert crew.codes(crew.op("set", {"doc": PART, "f": {"note": "\x00=1"}, "base": {}})) == [
            "bad_value"]
