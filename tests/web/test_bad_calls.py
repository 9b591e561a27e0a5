"""Calls that cannot be taken: each names its field, and the store stays as it was."""

from __future__ import annotations

import json
import shutil

import pytest

from spares.config import read_settings
from spares.web.app import create_app
from spares.web.store import store_of
from tests.problems import is_problem
from tests.stores import DAY_ZERO, heads_of, state_of
from tests.web.conftest import TOKEN, ReadingClient, writing

TOOK = {"part": "P034", "locker": "L17"}
LONG = "x" * 300
NIL = "00000000-0000-4000-8000-000000000000"


@pytest.fixture(scope="module")
def mine(demo_file, tmp_path_factory):
    """A client of this module's own copy of the demo, and the copy: at the end it must say
    in all its tables what it said in the beginning."""
    path = shutil.copy(demo_file, tmp_path_factory.mktemp("bad-calls") / "spares.sqlite")
    before = state_of(path)
    app = create_app(read_settings({"SPARES_STORE": str(path), "SPARES_TODAY": DAY_ZERO}),
                     token=TOKEN)
    app.test_client_class = ReadingClient
    yield writing(app), path
    store_of(app).close()
    assert state_of(path) == before


@pytest.fixture
def demo(mine):
    """The client; each test must leave the ends of all logs as they were."""
    client, path = mine
    before = heads_of(path)
    yield client
    assert heads_of(path) == before


# (address, body, status, the field that the problem names)
BODIES = [
    ("pair/collect", {"claim": "0" * 64, "bearer": 0}, 422, "#/bearer"),
    ("do/took", {}, 422, "#/part"),
    ("do/took", {"part": "P034"}, 422, "#/locker"),
    ("do/took", [], 422, None),
    ("do/took", "P034", 422, None),
    ("do/took", None, 422, None),
    ("do/took", {**TOOK, "quantity": -1}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": 0}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": True}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": "many"}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": "NaN"}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": "1e3"}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": 1e300}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": 0.0001}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": "1.2.3"}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": [1]}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": 1_000_001}, 422, "#/quantity"),
    ("do/took", {**TOOK, "quantity": "\u0661"}, 422, "#/quantity"),     # an Arabic-Indic digit
    ("do/took", {**TOOK, "part": "P999"}, 404, "#/part"),
    ("do/took", {**TOOK, "part": ""}, 422, "#/part"),
    ("do/took", {**TOOK, "part": 34}, 422, "#/part"),
    ("do/took", {**TOOK, "part": None}, 422, "#/part"),
    ("do/took", {**TOOK, "part": LONG}, 422, "#/part"),
    ("do/took", {**TOOK, "part": "L17"}, 404, "#/part"),
    ("do/took", {**TOOK, "part": "'; DROP TABLE part; --"}, 404, "#/part"),
    ("do/took", {**TOOK, "part": "../../etc/passwd"}, 404, "#/part"),
    ("do/took", {**TOOK, "locker": f"locker/{NIL}"}, 404, "#/locker"),
    ("do/took", {**TOOK, "locker": "EMJA"}, 404, "#/locker"),
    ("do/took", {**TOOK, "lot": "nothing"}, 404, "#/lot"),
    ("do/took", {**TOOK, "machine": "XXX"}, 404, "#/machine"),
    ("do/took", {**TOOK, "lokker": "L17"}, 422, "#/lokker"),
    ("do/took", {**TOOK, "change_id": "1"}, 422, "#/change_id"),
    ("do/took", {**TOOK, "note": "x" * 2001}, 422, "#/note"),
    ("do/took", {**TOOK, "note": "bell \u0007"}, 422, "#/note"),
    ("do/put", {**TOOK, "expires": "2027-02-30"}, 422, "#/expires"),
    ("do/put", {**TOOK, "expires": "2027-13"}, 422, "#/expires"),
    ("do/put", {**TOOK, "expires": "15.3.2027"}, 422, "#/expires"),
    ("do/put", {**TOOK, "expires": 2027}, 422, "#/expires"),
    ("do/put", {**TOOK, "condition": "shiny"}, 422, "#/condition"),
    ("do/counted", TOOK, 422, "#/quantity"),
    ("do/counted", {**TOOK, "quantity": -0.5}, 422, "#/quantity"),
    ("do/moved", {"part": "P034", "from": "L17", "to": "L17"}, 422, "#/to"),
    ("do/moved", {"part": "P034", "from_locker": "L17", "to": "L01"}, 422, "#/from"),
    ("do/lent", {**TOOK, "who": ""}, 422, "#/who"),
    ("do/lent", {**TOOK, "who": "  "}, 422, "#/who"),
    ("do/reading", {"machine": "HBR", "hours": -1}, 422, "#/hours"),
    ("do/reading", {"machine": "HBR", "hours": "abc"}, 422, "#/hours"),
    ("do/reading", {"machine": "HBR", "hours": 3106, "at": "2027-02-29"}, 422, "#/at"),
    ("do/reading", {"machine": "HBR", "hours": 3106, "at": "2027-03-16"}, 422, "#/at"),
    ("do/reading", {"machine": "BLG", "hours": 10}, 422, None),         # it has no counter
    ("do/exchange", {"point": "HBR-99", "part": "P037"}, 404, "#/point"),
    ("do/exchange", {"point": "HBR-04", "part": "P037", "old_to": "nowhere"}, 404, "#/old_to"),
    ("do/done", {"service": "S99"}, 404, "#/service"),
    ("do/done", {"service": "S22", "at": "2027-03-16"}, 422, "#/at"),
    ("do/done", {"service": "S22", "kit": "yes"}, 422, "#/kit"),
    ("do/settle", {"change": NIL, "side": "middle"}, 422, "#/side"),
    ("do/settle", {"change": NIL, "side": "before"}, 404, "#/change"),
    ("do/same", {"keep": "P001", "drop": "P001"}, 422, "#/drop"),
    ("do/undo", {"change": "last"}, 422, "#/change"),
    ("do/undo", {"change": NIL}, 404, "#/change"),
    ("documents", {"kind": "anchor", "fields": {"name": "x"}}, 422, "#/kind"),
    ("documents", {"kind": "locker", "fields": {}}, 422, "#/fields"),
    ("documents", {"kind": "locker", "fields": {"nam": "x"}}, 422, "#/fields/nam"),
    ("documents", {"kind": "locker", "fields": {"name": 5}}, 422, "#/fields/name"),
    ("documents", {"kind": "locker", "fields": {"no": "L17", "name": "x"}}, 409, "#/fields/no"),
    ("documents", {"kind": "locker", "fields": {"name": "x"}, "doc": f"part/{NIL}"}, 404, "#/doc"),
    ("documents", {"kind": "locker", "fields": {"name": "x", "__proto__": 1}}, 422,
     "#/fields/__proto__"),
    ("documents", {"kind": "part", "fields": {"name": "x", "lead_days": -1}}, 422,
     "#/fields/lead_days"),
    ("trips", {"name": "x", "departs_on": "2027-06-31", "returns_on": "2027-07-01"}, 422,
     "#/departs_on"),
    ("trips", {"name": "x", "departs_on": "2027-07-02", "returns_on": "2027-07-01"}, 422,
     "#/returns_on"),
    ("trips", {"name": "", "departs_on": "2027-07-02", "returns_on": "2027-07-03"}, 422, "#/name"),
    ("trips", {"name": "x", "departs_on": "2027-07-02", "returns_on": "2027-07-03",
               "hours": {"ENG": "a"}}, 422, "#/hours/ENG"),
    ("trips", {"name": "x", "departs_on": "2027-07-02", "returns_on": "2027-07-03",
               "hours": {"XXX": 1}}, 404, "#/hours/XXX"),
    ("fit", {"point": "HBR-04"}, 422, "#/part"),
    ("fit", {"point": "HBR-04", "part": "P999"}, 404, "#/part"),
    ("fit", {"point": "HBR-04", "offers": []}, 422, "#/offers"),
    ("check", {"rebuild": "yes"}, 422, "#/rebuild"),
]


@pytest.mark.parametrize(("address", "body", "status", "field"), BODIES, ids=range(len(BODIES)))
def test_a_body_that_cannot_be_taken_is_told_by_field(
        demo, address, body, status, field):
    answer = demo.post(f"/api/{address}", data=json.dumps(body),
                       content_type="application/json")
    is_problem(answer, status, field=field)


ADDRESSES = [
    ("find", 422, "#/q"), ("find?q=", 422, "#/q"), ("find?q=%20", 422, "#/q"),
    ("find?q=" + "x" * 201, 422, "#/q"), ("find?q=a&q2=b", 422, "#/q2"),
    ("find?q=%07", 422, "#/q"),
    ("parts?limit=0", 422, "#/limit"), ("parts?limit=1001", 422, "#/limit"),
    ("parts?limit=ten", 422, "#/limit"), ("parts?limit=-1", 422, "#/limit"),
    ("parts?limit=1e9", 422, "#/limit"), ("parts?limit=" + "9" * 5000, 422, "#/limit"),
    ("parts/P999", 404, None), ("parts/L17", 404, None),
    ("parts/..%2f..%2fetc%2fpasswd", 404, None),
    ("lockers/EMJA", 404, None), ("machines/%F0%9F%94%A7", 404, None),
    ("things/%3Cscript%3E", 404, None), ("things/" + "x" * 5000, 404, None),
    ("trips/T9/restock", 404, None), ("trips/T1/restock/P999", 404, None),
    ("due?until=2027-02-30", 422, "#/until"), ("due?until=soon", 422, "#/until"),
    ("due?until=20270315", 422, "#/until"), ("due?until=2027-W11-1", 422, "#/until"),
    ("changes?limit=0", 422, "#/limit"), ("changes?before=x", 422, "#/before"),
    ("changes?before=99999999999999999999999", 422, "#/before"),
    ("summary?vessel=", 422, "#/vessel"), ("summary?vessel=XYZ", 404, "#/vessel"),
    ("summary?vessel=TGL&vessel=HRE&x=1", 422, "#/x"),
    ("labels/anchors.pdf", 422, "#/kind"), ("labels/lockers.pdf?size=XL", 422, "#/size"),
    ("labels/lockers.pdf?sheet=a4&rows=0", 422, "#/rows"),
    ("labels/lockers.pdf?sheet=a4&rows=99", 422, "#/sheet/rows"),
    ("labels/lockers.pdf?dpi=72", 422, "#/dpi"), ("labels/lockers.pdf?only=XX", 404, "#/only"),
    ("labels/lockers.pdf?margin_left_mm=nan", 422, "#/margin_left_mm"),
    ("export/xml", 404, None), ("export/json?pretty=1", 422, "#/pretty"),
]


@pytest.mark.parametrize(("address", "status", "field"), ADDRESSES, ids=range(len(ADDRESSES)))
def test_an_address_that_cannot_be_answered_says_why(looking, address, status, field):
    is_problem(looking.get("/api/" + address), status, field=field)


FILES = [
    ("parts.csv", b"", 422), ("parts.csv", b"no;name\nP900", 422),
    ("parts.csv", b"no;nam\nP900;x\n", 422), ("parts.csv", b'no;name\nP900;"x\n', 422),
    ("parts.csv", b"no;name\nP900;\xff\xfe\n", 422), ("parts.csv", b"\x00\x01\x02\x03", 422),
    ("parts.csv", b"no;name\nP900;a\nP900;b\n", 422),
    ("parts.csv", b"no;name;lead_days\nP900;a;soon\n", 422),
    ("parts.csv", b"no;name;lead_days\nP900;a;-3\n", 422),
    ("stock.csv", b"part;locker;quantity\nP999;L17;1\n", 422),
    ("stock.csv", b"part;locker;quantity\nP034;L17;-1\n", 422),
    ("stock.csv", b"part;locker;quantity;expires\nP034;L17;1;2027-02-30\n", 422),
    ("parts.csv", ";".join(["c"] * 100_000).encode() + b"\n", 422),
    ("anchors.csv", b"no;name\n1;x\n", 422), ("../parts.csv", b"no;nam\n1;x\n", 422),
]


@pytest.mark.parametrize(("name", "data", "status"), FILES, ids=range(len(FILES)))
def test_a_table_that_cannot_be_read_is_told_by_row(demo, name, data, status):
    answer = demo.post(f"/api/import?vessel=TGL&name={name}", data=data,
                       content_type="text/csv")
    is_problem(answer, status)


def test_archives_and_other_files_that_are_not_ours_are_refused(demo):
    import io
    import zipfile

    def packed(name: str, data: bytes) -> bytes:
        file = io.BytesIO()
        with zipfile.ZipFile(file, "w", zipfile.ZIP_DEFLATED) as archive:
            archive.writestr(name, data)
        return file.getvalue()

    swollen = packed("parts.csv", bytes(60_000_000))
    files = [packed("../parts.csv", b"no;name\n1;x\n"), packed("/parts.csv", b"no;name\n1;x\n"),
             swollen, swollen[:-30], b"PK\x03\x04", b"%PDF-1.4", b"", b"{}"]
    for data in files:
        is_problem(demo.post("/api/import", data=data, content_type="application/zip"), 422)
    for data in (b"{}", b"[]", b'{"vessel": 1}', b'{"format": "other"}'):
        is_problem(demo.post("/api/import", data=data, content_type="application/json"), 422)
    is_problem(demo.post("/api/import", data=b"{", content_type="application/json"), 400)
    is_problem(demo.post("/api/import", data=b"x", content_type="text/plain"), 415)
    is_problem(demo.post("/api/import", data=b"x" * 9_000_000, content_type="text/csv"), 413)


def test_a_table_for_a_vessel_that_nobody_began_begins_none(client):
    for _ in range(2):
        is_problem(client.post("/api/import?vessel=NEW&name=parts.csv", data=b"no,name\nP1,x\n",
                               content_type="text/csv"), 422)
    assert client.get("/api/vessels").json["vessels"] == []


def test_an_odd_vessel_as_json_is_told_where(client):
    vessel = "00000000-0000-4000-8000-0000000000aa"
    for more in ({"documents": {"vessel": {vessel: {"mark": 5}}}}, {"lying": [{"quantity": "5"}]},
                 {"documents": {"locker": {vessel: {"code": ["EMJR"]}}}}, {"vessel": ""}):
        is_problem(client.post("/api/import", json={
            "format": "spares-vessel", "version": 1, "vessel": vessel, "documents": {
                "vessel": {vessel: {"mark": "TGL"}}}, **more}), 422)


def test_a_text_of_ten_megabytes_is_refused_before_it_is_read(demo):
    body = json.dumps({**TOOK, "note": "x" * 10_000_000})
    is_problem(demo.post("/api/do/took", data=body, content_type="application/json"), 413)


@pytest.mark.parametrize("verb", ["take", "TOOK", "../took", "took/", "__init__"])
def test_a_verb_that_does_not_exist_is_not_found(demo, verb):
    is_problem(demo.post(f"/api/do/{verb}", json=TOOK), 404)


def test_what_looks_like_a_command_is_kept_as_text_only(client):
    client.post("/api/import?name=vessel.csv", data=b"mark;name\nX;Small\n",
                content_type="text/csv")
    texts = ["<script>alert(1)</script>", "'; DROP TABLE part; --", "=1+1", "\u202egnp.exe",
             "../../etc/passwd"]
    for text in texts:
        new = client.post("/api/documents", json={"kind": "locker", "fields": {"name": text}})
        no = new.get_json()["no"]
        answer = client.get(f"/api/lockers/{no}")
        assert answer.get_json()["name"] == text
        assert answer.mimetype == "application/json"
