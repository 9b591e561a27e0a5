"""Trails over the wire: who may do what, two phones on one trail, and the mark everywhere."""

from __future__ import annotations

import io
import re
from typing import Any

import pypdf
import pytest
from flask import Flask

from spares.db.door import submit
from spares.domain.draft import setting
from spares.domain.identity import numbered_id, ref
from spares.web.schemas import trails
from spares.web.store import store_of
from tests.web.crew import NOW, VESSEL, Crew, here

MACHINES = {no: ref("machine", f"00000000-0000-4000-8000-0000000000c{n}")
            for n, no in enumerate(("HBR", "ENG", "AIR", "WIN", "PMP"))}
PLACES = [{"name": "oil cooler inlet"}, {"name": "injection elbow"}]


@pytest.fixture(scope="module")
def vessel(boat: Flask) -> Flask:
    """The small vessel with five machines and a service on each."""
    drafts = []
    for place, (no, name) in enumerate(MACHINES.items()):
        drafts += [setting(name, no=no, name=f"Machine {no}", counter="own", hazards="hot"),
                   setting(ref("service", f"00000000-0000-4000-8000-0000000000d{place}"),
                           no=f"S0{place}", what="look at it", machine=name, every_months=12)]
    with store_of(boat).get().writing() as session:
        submit(session, VESSEL, drafts, wall_ms=NOW)
    return boat


def _begin(client: Any, machine: str, **said: Any) -> Any:
    return client.post("/api/do/trail-begin", json={
        "machine": machine, "what": "impeller blade", "missing": 1, "places": PLACES, **said})


def _trail(no: str) -> str:
    return ref("trail", numbered_id(VESSEL, "trail", no))


def _place(no: str) -> str:
    return ref("trail-place", numbered_id(VESSEL, "trail-place", no))


def test_crew_begins_and_looks_and_the_skipper_accepts(vessel: Flask) -> None:
    crew, guest, skipper = Crew(vessel), Crew(vessel, "guest"), Crew(vessel, "skipper")
    assert _begin(guest.client, "HBR").status_code == 403
    begun = _begin(crew.client, "HBR")
    assert begun.status_code == 200, begun.get_data(as_text=True)
    assert begun.json["trail"]["do_not_run"] is True
    look = {"trail": "HBR-T1", "place": "1", "found": 0, "by": "Ole"}
    assert guest.client.post("/api/do/trail-look", json=look).status_code == 403
    assert crew.client.post("/api/do/trail-look", json=look).json["trail"]["not_looked"] == 1
    assert crew.client.post("/api/do/trail-place", json={
        "trail": "HBR-T1", "name": "water lock"}).status_code == 200
    accept = {"trail": "HBR-T1", "by": "Tove", "why": "flushed, flow and heat as before"}
    for client in (crew.client, guest.client):
        assert client.post("/api/do/trail-accept", json=accept).status_code == 403
        assert client.post("/api/do/trail-count", json={
            "trail": "HBR-T1", "missing": 1}).status_code == 403
        assert client.get("/api/trails/HBR-T1").json["state"] == "open"
    assert skipper.client.post("/api/do/trail-accept", json=accept).json["trail"][
        "state"] == "accepted"
    after = {"trail": "HBR-T1", "flow": "as before", "temperature_c": "82,5", "by": "Ole"}
    assert guest.client.post("/api/do/trail-first-run", json=after).status_code == 403
    assert crew.client.post("/api/do/trail-first-run", json=after).status_code == 200
    assert "outlet water as before, 82.5 °C, Ole" in _text_of(
        guest.client.get("/api/papers/trail.pdf?trail=HBR-T1").data)
    shown = guest.client.get("/api/trails/HBR-T1").json
    assert trails.Trail().validate(shown) == {}
    assert trails.TrailsAnswer().validate(guest.client.get("/api/trails").json) == {}
    assert (shown["accepted"]["by"], shown["do_not_run"]) == ("Tove", False)


def test_crew_cannot_lift_the_mark_by_writing_the_document(vessel: Flask) -> None:
    crew = Crew(vessel)
    _begin(here(vessel), "AIR", missing=2)
    trail = _trail("AIR-T1")
    for fields in ({"missing": 1}, {"accepted": {"by": "x", "why": "y", "on": "2027-03-15"}},
                   {"gone": True}, {"machine": MACHINES["WIN"]}):
        assert crew.client.post("/api/documents", json={
            "kind": "trail", "doc": trail, "fields": fields}).status_code == 403
        heads = {name: [str(numbered_id(VESSEL, "x", "y"))] for name in fields}
        assert crew.codes(crew.op("set", {"doc": trail, "f": fields, "base": heads})) == [
            "not_allowed"]
    # Without a base it stands beside what is there, and the worse of the two holds.
    assert crew.codes(crew.op("set", {"doc": trail, "f": {"missing": 1}, "base": {}})) == ["ok"]
    here(vessel).post("/api/do/trail-look", json={"trail": "AIR-T1", "place": "1", "found": 1})
    shown = here(vessel).get("/api/trails/AIR-T1").json
    assert (shown["missing"], shown["found"], shown["state"]) == (2, 1, "open")
    assert shown["disputed"] == ["missing"]


def _begins(crew: Crew, no: str, missing: int) -> list[dict[str, Any]]:
    """What a phone apart writes that begins a trail with two places."""
    machine = no.partition("-")[0]
    docs = [(_trail(no), {"no": no, "machine": MACHINES[machine], "what": "impeller blade",
                          "missing": missing, "began_on": "2027-03-15"}),
            *((_place(f"{no}.{n}"), {"no": f"{no}.{n}", "trail": _trail(no), "position": n,
                                     "name": name}) for n, name in ((1, "cooler"), (2, "elbow")))]
    return [crew.op("set", {"doc": doc, "f": fields, "base": {}}) for doc, fields in docs]


def _looks(crew: Crew, place: str, found: int, by: str) -> dict[str, Any]:
    return crew.op("set", {"doc": _place(place), "base": {},
                           "f": {"look": {"found": found, "by": by, "on": "2027-03-15"}}})


def test_two_phones_apart_begin_the_same_trail_and_the_worse_count_holds(vessel: Flask) -> None:
    one, other = Crew(vessel), Crew(vessel)
    assert one.codes(*_begins(one, "ENG-T1", 1), _looks(one, "ENG-T1.1", 1, "Ole")) == ["ok"] * 4
    client = here(vessel)
    assert client.get("/api/trails/ENG-T1").json["state"] == "found"
    assert other.codes(*_begins(other, "ENG-T1", 2),
                       _looks(other, "ENG-T1.2", 0, "Tove")) == ["ok"] * 4
    shown = client.get("/api/trails/ENG-T1").json
    assert [place["state"] for place in shown["places"]] == ["found", "nothing"]
    assert (shown["missing"], shown["left"], shown["do_not_run"]) == (2, 1, True)
    # Both looked at the same place apart: the lower number counts until somebody settles it.
    assert one.codes(_looks(one, "ENG-T1.2", 1, "Ole")) == ["ok"]
    shown = client.get("/api/trails/ENG-T1").json
    assert shown["places"][1]["state"] == "in-doubt"
    assert {look["by"] for look in shown["places"][1]["looks"]} == {"Ole", "Tove"}
    assert shown["do_not_run"]
    client.post("/api/do/trail-look", json={"trail": "ENG-T1", "place": "2", "found": 1})
    assert client.get("/api/trails/ENG-T1").json["places"][1]["state"] == "found"
    assert client.get("/api/trails/ENG-T1").json["do_not_run"]     # 1 or 2 missing: not settled
    client.post("/api/do/trail-count", json={"trail": "ENG-T1", "missing": 2})
    assert client.get("/api/trails/ENG-T1").json["state"] == "found"


def test_the_mark_stands_wherever_the_machine_does(vessel: Flask) -> None:
    client = here(vessel)
    _begin(client, "WIN", what="pawl", missing=None)
    assert client.get("/api/machines/WIN").json["do_not_run"] == ["WIN-T1"]
    listed = {one["no"]: one["do_not_run"] for one in client.get("/api/machines").json["machines"]}
    assert listed["WIN"] == ["WIN-T1"]
    due = {one["service"]: one for one in client.get("/api/due").json["services"]}
    assert due["S03"]["do_not_run"] == ["WIN-T1"] and "pieces" in due["S03"]["cautions"]
    card = client.get("/api/services/S03/card").json
    assert card["do_not_run"] == [{"trail": "WIN-T1", "what": "pawl", "missing": None, "found": 0,
                                   "places": [one["name"] for one in PLACES]}]
    assert "Do not run before the trail is closed" in str(card["cautions"])
    for paper in ("card.pdf?service=S03", "trail.pdf?trail=WIN-T1"):
        text = _text_of(client.get(f"/api/papers/{paper}").data)
        assert "DO NOT RUN: WIN Machine WIN" in text
        assert "card" not in paper or "☒ no, open: WIN-T1" in text
        assert "oil cooler inlet" in text and "injection elbow" in text
        assert "Do not run before the trail is closed" in text
    book = _text_of(client.get("/api/papers/handover.pdf").data)
    assert "DO NOT RUN: WIN Machine WIN Trail WIN-T1, pawl: Nobody knows how many" in book
    client.post("/api/do/trail-accept", json={"trail": "WIN-T1", "by": "Tove", "why": "seen"})
    book = _text_of(client.get("/api/papers/handover.pdf").data)
    assert "DO NOT RUN: WIN" not in book and "WIN: pawl (WIN-T1)" in book
    for paper in ("card.pdf?service=S03", "trail.pdf?trail=WIN-T1"):
        assert "DO NOT RUN" not in _text_of(client.get(f"/api/papers/{paper}").data)
    assert client.get("/api/machines/WIN").json["do_not_run"] == []
    assert "Accepted with pieces missing: Tove" in _text_of(
        client.get("/api/papers/trail.pdf?trail=WIN-T1").data)


def _text_of(pdf: bytes) -> str:
    pages = pypdf.PdfReader(io.BytesIO(pdf)).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


@pytest.fixture(scope="module")
def begun(vessel: Flask) -> Flask:
    """The same vessel with a trail on a machine that no other test looks at."""
    assert _begin(here(vessel), "PMP").json["trail"]["no"] == "PMP-T1"
    return vessel


@pytest.mark.parametrize(("verb", "body", "pointer"), [
    ("trail-begin", {"machine": "HBR"}, "#/what"),
    ("trail-begin", {"machine": "HBR", "what": "blade", "missing": 0}, "#/missing"),
    ("trail-begin", {"machine": "HBR", "what": "blade", "missing": 1.5}, "#/missing"),
    ("trail-look", {"trail": "PMP-T1", "place": "1", "found": -1}, "#/found"),
    ("trail-accept", {"trail": "PMP-T1", "by": "Tove"}, "#/why")])
def test_a_wrong_request_names_its_field(begun: Flask, verb: str, body: dict[str, Any],
                                         pointer: str) -> None:
    answer = here(begun).post(f"/api/do/{verb}", json=body)
    assert answer.status_code == 422
    assert pointer in [one["pointer"] for one in answer.json["errors"]]
