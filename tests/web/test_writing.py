"""Every verb that writes: what it answers, that it is there after, that twice is once."""

from __future__ import annotations

from uuid import uuid4

import pytest

from spares.config import seed_folder
from spares.web.schemas import records, trips
from tests.problems import is_problem
from tests.stores import as_before

# Every movement sees P034: two pieces, both in L17.
DEEDS = {
    "took": {"part": "P034", "locker": "L17"},
    "put": {"part": "P034", "locker": "L17", "quantity": "1,5", "expires": "2031-06"},
    "landed": {"part": "P034", "locker": "EMJR", "quantity": 2, "note": "worn"},
    "counted": {"part": "P034", "locker": "L17", "quantity": 0},
    "moved": {"part": "P034", "from": "L17", "to": "L01", "to_condition": "used-good"},
    "lent": {"part": "P034", "locker": "L17", "who": "launch"},
    "reading": {"machine": "HBR", "hours": 3106.1, "at": "2027-03-15"},
    "left-over": {"part": "P056", "choice": "sell", "note": "20 EUR"},
    "exchange": {"point": "HBR-04", "part": "P037", "from": "L17", "old_to": "landed"},
    "done": {"service": "S22", "at": "2027-03-14", "hours": 3105.6, "by": "Kaj"},
    "same": {"keep": "P001", "drop": "P002"},
}


def quantities(client, part="P034"):
    found = client.get(f"/api/parts/{part}").get_json()
    return {place["locker"]: place["quantity"] for place in found["where"]}


@pytest.mark.parametrize("verb", DEEDS)
def test_every_verb_is_recorded_once_however_often_it_is_sent(demo, own_surroundings, verb):
    body = {**DEEDS[verb], "change_id": str(uuid4())}
    first = demo.post(f"/api/do/{verb}", json=body)
    assert first.status_code == 200, first.get_data(as_text=True)[:300]
    assert records.DoneAnswer().validate(first.get_json()) == {}
    assert first.get_json()["was_new"] is True
    assert first.get_json()["change"] == body["change_id"]
    with as_before(own_surroundings):
        again = demo.post(f"/api/do/{verb}", json=body)
        assert (again.status_code, again.get_json()["was_new"]) == (200, False)


def test_slip_goes_to_another_vessel_and_a_damaged_one_is_refused(demo):
    loan = demo.post("/api/do/lent", json=DEEDS["lent"]).get_json()["change"]
    slip = demo.get(f"/api/loans/{loan}/slip").get_json()
    assert records.SlipAnswer().validate(slip) == {}
    place = demo.get("/api/lockers?vessel=HRE").get_json()["lockers"][0]["no"]
    bad = demo.post("/api/do/slip-in?vessel=HRE", json={
        "slip": {**slip, "borrower": "me"}, "locker": place})
    assert bad.status_code == 422 and bad.get_json()["errors"][0]["pointer"] == "#/slip/seal"
    came = demo.post("/api/do/slip-in?vessel=HRE", json={"slip": slip, "locker": place})
    assert came.status_code == 200 and came.get_json()["was_new"] is True
    [line] = demo.get("/api/loans?vessel=HRE").get_json()["borrowed"]
    assert (line["loan"], line["quantity"]) == (loan, 1)
    assert demo.get(f"/api/loans/{loan}/slip?vessel=HRE").status_code == 404    # nothing went back


@pytest.mark.parametrize(("verb", "left"), [
    ("took", {"L17": 1}), ("put", {"L17": 2}), ("landed", {}), ("counted", {}),
    ("moved", {"L01": 1, "L17": 1}), ("lent", {"L17": 1})])
def test_movements_change_the_counts(demo, verb, left):
    assert quantities(demo) == {"L17": 2}
    demo.post(f"/api/do/{verb}", json=DEEDS[verb])
    after = quantities(demo)
    if verb == "put":
        places = demo.get("/api/parts/P034").get_json()["where"]
        assert sorted(place["quantity"] for place in places) == [1.5, 2]
    else:
        assert {name: n for name, n in after.items() if not name.startswith("LENT")} == left


@pytest.mark.parametrize("verb", [verb for verb in DEEDS if verb != "same"])
def test_what_was_done_can_be_undone(demo, verb):
    def shown():
        return [demo.get("/api/" + address).get_json() for address in (
            "parts/P034", "parts/P037", "machines/HBR", "due", "stranded")]
    before = shown()
    done = demo.post(f"/api/do/{verb}", json=DEEDS[verb]).get_json()
    assert shown() != before
    answer = demo.post("/api/do/undo", json={"change": done["change"]})
    assert answer.status_code == 200, answer.get_data(as_text=True)[:300]
    assert shown() == before
    is_problem(demo.post("/api/do/undo", json={"change": done["change"]}), 409)


def test_a_doubt_can_be_settled_only_where_there_is_one(demo):
    change = demo.post("/api/do/took", json=DEEDS["took"]).get_json()["change"]
    is_problem(demo.post("/api/do/settle", json={"change": change, "side": "before"}), 404,
               field="#/change")


def test_an_unlikely_reading_is_asked_about_and_taken_with_a_reason(demo, own_surroundings):
    body = {"machine": "HBR", "hours": 3000}
    with as_before(own_surroundings):
        problem = is_problem(demo.post("/api/do/reading", json=body), 409)
        assert problem["type"] == "/problems/ask-first" and problem["asks"]
    answer = demo.post("/api/do/reading", json={**body, "because": "misread before"})
    assert answer.status_code == 200


def test_an_id_that_was_used_before_changes_nothing_more(demo, own_surroundings):
    ident = str(uuid4())
    demo.post("/api/do/took", json={**DEEDS["took"], "change_id": ident})
    with as_before(own_surroundings):
        demo.post("/api/do/landed", json={**DEEDS["landed"], "change_id": ident})


def test_a_document_is_begun_set_and_numbered(demo):
    new = demo.post("/api/documents", json={"kind": "locker", "fields": {"name": "Cockpit"}})
    assert new.status_code == 200
    assert records.DocumentAnswer().validate(new.get_json()) == {}
    locker = new.get_json()
    assert locker["no"] == "L26" and len(locker["fields"]["code"]) == 4
    named = demo.post("/api/documents", json={
        "doc": locker["doc"], "kind": "locker", "fields": {"name": "Cockpit, port"}})
    assert named.get_json()["fields"]["name"] == "Cockpit, port"
    assert demo.get("/api/lockers/L26").get_json()["name"] == "Cockpit, port"
    demo.post("/api/documents", json={"doc": locker["doc"], "kind": "locker",
                                      "fields": {"gone": True}})
    assert "L26" not in [one["no"] for one in demo.get("/api/lockers").get_json()["lockers"]]


def test_a_trip_is_planned_and_changed(demo):
    new = demo.post("/api/trips", json={"name": "Round", "departs_on": "2027-08-01",
                                        "returns_on": "2027-08-20", "hours": {"ENG": "60,5"}})
    assert new.status_code == 201
    assert trips.Trip().validate(new.get_json()) == {}
    no = new.get_json()["no"]
    changed = demo.patch(f"/api/trips/{no}", json={"returns_on": "2027-08-31",
                                                   "hours": {"HBR": 30}})
    assert changed.get_json()["days"] == 30
    assert changed.get_json()["hours"] == {"ENG": 60.5, "HBR": 30.0}
    assert demo.get(f"/api/trips/{no}/restock").status_code == 200


def test_tables_can_be_made_anew_from_the_log(demo, own_surroundings):
    with as_before(own_surroundings):
        answer = demo.post("/api/check", json={"rebuild": True})
    assert records.CheckAnswer().validate(answer.get_json()) == {}
    assert answer.get_json()["rebuilt"] and answer.get_json()["differences"] == []


def demo_zip() -> bytes:
    import io
    import zipfile
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w") as archive:
        for path in sorted((seed_folder() / "tangloppe").iterdir()):
            archive.write(path, path.name)
    return packed.getvalue()


def test_an_import_is_looked_at_brought_in_and_known_again(client, own_surroundings):
    data, kind = demo_zip(), "application/zip"
    look = client.post("/api/import?look=true", data=data, content_type=kind)
    assert look.status_code == 200, look.get_data(as_text=True)[:300]
    assert look.get_json()["look"] is True
    assert client.get("/api/vessels").get_json() == {"vessels": []}
    first = client.post("/api/import?day_zero=2027-03-15", data=data, content_type=kind).get_json()
    assert first["changes"] == look.get_json()["changes"] > 0
    with as_before(own_surroundings):
        again = client.post("/api/import?day_zero=2027-03-15", data=data, content_type=kind)
        assert again.get_json()["changes"] == 0


def test_an_import_is_taken_back_as_a_whole(demo):
    table = b"no;name\nP900;Spare key\nP901;Spare plug\n"
    answer = demo.post("/api/import?name=parts.csv&vessel=TGL", data=table,
                       content_type="text/csv")
    assert answer.status_code == 200, answer.get_data(as_text=True)[:300]
    assert demo.get("/api/parts/P901").status_code == 200
    demo.post("/api/do/undo", json={})     # a slip of the thumb takes back no file
    assert demo.get("/api/parts/P900").status_code == 200
    demo.post("/api/do/undo", json={"change": answer.get_json()["batch"]})
    is_problem(demo.get("/api/parts/P900"), 404)
    is_problem(demo.get("/api/parts/P901"), 404)


def test_a_vessel_goes_out_as_json_and_comes_in_elsewhere(looking, client):
    data = looking.get("/api/export/json").data
    answer = client.post("/api/import", data=data, content_type="application/json")
    assert answer.status_code == 200, answer.get_data(as_text=True)[:300]
    assert quantities(client) == quantities(looking)


def test_keeping_a_verdict_needs_our_own_page(app, demo, own_surroundings):
    body = {"point": "HBR-04", "part": "P037", "keep": True}
    stranger = demo.application.test_client()
    with as_before(own_surroundings):
        is_problem(stranger.post("/api/fit", json=body), 403)
    assert demo.post("/api/fit", json=body).status_code == 200
    assert demo.get("/api/changes?limit=1").get_json()["changes"][0]["kind"] == "fit-check"


def test_a_verdict_kept_twice_under_one_id_is_recorded_once(demo):
    body = {"point": "HBR-04", "part": "P037", "keep": True, "change_id": str(uuid4())}
    before = demo.get("/api/changes").get_json()["changes"]
    answers = [demo.post("/api/fit", json=body) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [200, 200]
    assert answers[0].get_json() == answers[1].get_json()
    after = demo.get("/api/changes").get_json()["changes"]
    kept = [one for one in after if one["kind"] == "fit-check"]
    assert len(kept) - len([one for one in before if one["kind"] == "fit-check"]) == 1
    other = demo.post("/api/fit", json=body | {"part": "P034"})
    is_problem(other, 409)
    took = demo.post("/api/do/took", json={"part": "P034", "locker": "L17"}).get_json()["change"]
    is_problem(demo.post("/api/fit", json=body | {"change_id": took}), 409)
