"""The first hour by requests, as the page makes them."""

from __future__ import annotations


def test_an_empty_store_comes_to_lockers_machines_and_a_trip(client):
    ask = client.post
    assert client.get("/api/summary").status_code == 404
    begun = ask("/api/begin/vessel", json={"mark": "abc", "name": "Maagen"})
    assert (begun.status_code, begun.json) == (200, {"vessel": "ABC", "name": "Maagen"})
    named = ask("/api/begin/lockers", json={"names": ["Forepeak", "Lazarette"]}).json
    assert [one["no"] for one in named["lockers"]] == ["L01", "L02"]
    sets = client.get("/api/starter-sets").json["sets"]
    assert {"common practice, no source"} == {one["source"] for one in sets}
    machine = ask("/api/begin/machine", json={"starter": sets[0]["id"], "points": [1, 2]})
    assert machine.json["machine"] == "ENG"
    points = client.get("/api/machines/ENG").json["points"]
    assert [one["name"] for one in points] == ["oil filter", "fuel fine filter"]
    labels = client.get("/api/labels/lockers.pdf?size=M")
    assert labels.status_code == 200 and labels.data.startswith(b"%PDF")
    trip = ask("/api/documents", json={"kind": "trip", "fields": {
        "name": "First", "departs_on": "2027-04-01", "returns_on": "2027-04-05"}})
    assert trip.status_code == 200
    due = client.get(f"/api/trips/{trip.json['no']}")
    assert due.status_code == 200


def test_what_cannot_be_begun_is_refused_at_its_field(client):
    wrong = client.post("/api/begin/vessel", json={"mark": "?", "name": "Maagen"})
    assert wrong.status_code == 422
    assert wrong.json["errors"][0]["pointer"] == "#/mark"
    assert client.post("/api/begin/lockers", json={"names": ["x"]}).status_code == 404
