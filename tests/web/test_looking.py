"""Every address that answers something: its status, its documented shape, its meaning."""

from __future__ import annotations

import pytest

from spares.web.schemas import (
    across,
    counts,
    files,
    orders,
    papers,
    parts,
    photos,
    plans,
    readings,
    records,
    things,
    trails,
    trips,
    upkeep,
)
from spares.web.schemas.apart import UnsettledAnswer
from tests.problems import is_problem

SHAPES = {
    "find?q=imp+har": things.FindAnswer, "find?q=EMJR": things.FindAnswer,
    "find?q=zzzz": things.FindAnswer, "find?q=HBR-04": things.FindAnswer,
    "things/P034": parts.PartLine, "things/L17": things.Locker, "things/HBR": things.Machine,
    "things/HBR-04": things.PointLine, "things/S22": things.Service, "things/T1": trips.Trip,
    "parts": parts.PartsAnswer, "parts?limit=3&after=P010": parts.PartsAnswer,
    "parts/P034": parts.PartLine, "lockers": things.LockersAnswer, "lockers/EMJR": things.Locker,
    "machines": things.MachinesAnswer, "machines/ENG": things.Machine,
    "points/ENG-04": things.PointLine, "services": things.ServicesAnswer,
    "trips": trips.TripsAnswer, "trips/T1": trips.Trip, "trips/T1/restock": trips.RestockAnswer,
    "trips/T1/restock/P034": trips.WhyAnswer, "vessels": records.VesselsAnswer,
    "summary": records.Summary, "due": records.DueAnswer,
    "due?until=2027-07-05": records.DueAnswer, "stranded": records.StrandedAnswer,
    "unsettled": UnsettledAnswer,
    "changes?limit=500": records.ChangesAnswer, "check": records.CheckAnswer,
    "services/S07/card": papers.Card, "layup": papers.LayUp, "layup?spring=true": papers.LayUp,
    "orders": orders.OrdersAnswer, "orders/put-away": orders.PutAwayAnswer,
    "photos?of=P034": photos.PhotosAnswer, "photos/missing": photos.MissingAnswer,
    "labels": files.LabelsThere, "loans": records.LoansAnswer, "walk-round": upkeep.WalkRound,
    "walk-round?machine=WIN": upkeep.WalkRound, "joints": upkeep.Joints, "joints/J1": upkeep.Joint,
    "gauges": readings.GaugesAnswer, "gauges?machine=HBR": readings.GaugesAnswer,
    "trips/T2/days": readings.DaysAnswer, "counts": counts.CountsAnswer,
    "batches?mark=LOT+47": counts.BatchAnswer,
    "vessels/part?part=P034": across.WhoHasAnswer, "vessels/out-of-date": across.OutOfDateAnswer,
    "vessels/wanted": across.WantedAnswer,
    "trails": trails.TrailsAnswer, "machines/HBR/trail-start": trails.TrailStart,
    f"photo/{'a' * 64}/state": photos.PieceAnswer,
}

NOBODY = "00000000-0000-4000-8000-000000000009"
#: What is looked at beside: files, what else tests hold, and what is not there.
OTHERS = [
    "openapi.json", "docs", "docs.css", "fit/sheets.json", "fit/kinds", "fit/points.json",
    "trips/prefill", "trips/T1/kit?level=0.9", "labels/lockers.pdf?only=L17", "export/json",
    "export/csv", "export/photos", "export/ics", "bringing?progress=x",
    "papers/card.pdf?service=S07", "devices/me", "devices", "held", "trails/none", "plan",
    "starter-sets", f"photo/{'a' * 64}", f"loans/{NOBODY}/slip", f"pairings/{NOBODY}"]


@pytest.mark.parametrize("address", SHAPES)
def test_every_answer_has_its_documented_shape(looking, address):
    answer = looking.get("/api/" + address)
    assert answer.status_code == 200, answer.get_data(as_text=True)[:300]
    assert SHAPES[address]().validate(answer.get_json()) == {}


def test_every_address_of_the_document_is_asked_in_these_tests(looking):
    paths = looking.get("/api/openapi.json").get_json()["paths"]
    asked = {path.split("{")[0].strip("/").removeprefix("api/").split("/")[0] for path in paths}
    assert asked == {"find", "things", "parts", "lockers", "machines", "points", "fit", "trips",
                     "vessels", "summary", "services", "due", "stranded", "changes", "check",
                     "do", "documents", "orders", "devices", "codes", "pair", "sync", "handover",
                     "held", "pairings", "labels", "papers", "layup", "export", "import", "compute",
                     "photo", "photos", "trails", "loans", "walk-round", "joints", "sheet",
                     "gauges", "counts", "batches", "begin", "starter-sets", "plan", "unsettled",
                     "bringing"}


def test_a_part_is_found_by_words_with_its_places(looking):
    hits = looking.get("/api/find?q=imp har").get_json()["hits"]
    impeller = next(hit for hit in hits if hit["no"] == "P037")
    assert [(place["locker"], place["quantity"]) for place in impeller["where"]] == [
        ("L03", 1), ("L17", 1)]


def test_pages_of_parts_follow_each_other_without_a_gap(looking):
    seen, after = [], ""
    while after is not None:
        query = f"?limit=50&after={after}" if after else "?limit=50"
        page = looking.get("/api/parts" + query).get_json()
        seen += [part["no"] for part in page["parts"]]
        after = page["after"]
    assert len(seen) == page["total"] == len(set(seen)) == 120
    assert seen == sorted(seen)


def test_each_vessel_answers_for_herself(looking):
    names = {mark: looking.get(f"/api/summary?vessel={mark}").get_json()["vessel"]["name"]
             for mark in ("TGL", "hre")}
    assert names == {"TGL": "TANGLOPPE", "hre": "HESTEREJE"}
    is_problem(looking.get("/api/summary?vessel=XXX"), 404, field="#/vessel")


def test_a_store_without_a_vessel_says_what_to_do(client):
    assert client.get("/api/vessels").get_json() == {"vessels": []}
    assert "import" in is_problem(client.get("/api/summary"), 404)["detail"]


@pytest.mark.parametrize(("body", "verdict"), [
    ({"point": "HBR-04", "part": "P037"}, "fits"),
    ({"point": "ENG-04", "part": "P008"}, "fits-with-changes"),
    ({"point": "ENG-04", "offers": {"bolt_count": 3}}, "does-not-fit"),
    ({"point": "ENG-04", "offers": {"bolt_count": 4}}, "not-known-yet")])
def test_fit_is_judged_from_the_catalogue_or_from_the_hand(looking, body, verdict):
    answer = looking.post("/api/fit", json=body)
    assert answer.status_code == 200
    assert plans.FitAnswer().validate(answer.get_json()) == {}
    assert answer.get_json()["verdict"] == verdict


@pytest.mark.parametrize(("address", "kind", "begins"), [
    ("labels/lockers.pdf", "application/pdf", b"%PDF-"),
    ("labels/machines.pdf?size=S&sheet=a4&outline=true&start=3", "application/pdf", b"%PDF-"),
    ("labels/lockers.pdf?only=L17,EMJR&sheet=letter&rows=2&columns=1&address=true",
     "application/pdf", b"%PDF-"),
    ("export/csv", "application/zip", b"PK\x03\x04"),
    ("export/photos", "application/zip", b"PK\x05\x06"),
    ("export/json", "application/json", b"{"),
    ("export/ics", "text/calendar", b"BEGIN:VCALENDAR\r\n")])
def test_files_have_their_type_and_begin_as_such(looking, address, kind, begins):
    answer = looking.get("/api/" + address)
    assert answer.status_code == 200, answer.data[:300]
    assert answer.mimetype == kind
    assert answer.data.startswith(begins)
    assert "filename=" in answer.headers["Content-Disposition"]


def test_labels_fill_the_sheet_unless_rows_are_said(looking):
    from io import BytesIO

    from pypdf import PdfReader

    def pages(query: str) -> int:
        data = looking.get("/api/labels/lockers.pdf?" + query).data
        return len(PdfReader(BytesIO(data)).pages)
    assert pages("") == 25                          # one a page; the demo has 25 lockers
    assert pages("sheet=a4&size=M") == 2            # 70 x 36 mm: 2 across, 7 down on A4
    assert pages("sheet=a4&size=M&rows=1&columns=1") == 25


def test_looking_never_writes(looking, demo_file):
    from tests.stores import as_before
    with as_before(demo_file):
        for address in (*SHAPES, *OTHERS):
            looking.get("/api/" + address)


def test_every_address_that_is_only_looked_at_is_among_those_that_never_write(looking):
    map_of = looking.application.url_map
    asked = {map_of.bind("x").match("/api/" + one.partition("?")[0])[0]
             for one in (*SHAPES, *OTHERS)}
    rules = {rule.endpoint: rule.rule for rule in map_of.iter_rules()
             if "GET" in rule.methods and rule.rule.startswith("/api")}
    assert {rule for endpoint, rule in rules.items() if endpoint not in asked} == set()


def test_lists_across_vessels_are_for_who_sits_at_the_server(looking):
    has = looking.get("/api/vessels/part?part=P034").json
    assert [one["vessel"] for one in has["vessels"]] == ["TGL", "HRE"]
    assert looking.get("/api/vessels/out-of-date").json["until"] == "2027-03-15"
    assert looking.get("/api/vessels/wanted").json == {"sellers": []}
    assert looking.get("/api/vessels/out-of-date?until=soon").status_code == 422
    assert looking.get("/api/vessels/part").status_code == 422
