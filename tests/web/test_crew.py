"""Phones on the boat's net: pairing, rights, leaving, and what they bring."""

from __future__ import annotations

from collections.abc import Iterator
from uuid import uuid4

import pytest
from flask import Flask

from spares.config import read_settings
from spares.db.tables import Device
from spares.web.app import create_app
from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import (
    ADDRESS,
    CELL,
    LOCKER,
    NAME,
    PART,
    SERVED,
    VESSEL,
    Crew,
    found,
    here,
    on_net,
)

pytestmark = pytest.mark.both


@pytest.fixture
def app() -> Iterator[Flask]:
    app = create_app(read_settings(), net=SERVED)
    found(app)
    yield app
    store_of(app).close()


def test_phone_pairs_by_a_code_and_both_screens_show_the_same_digits(app: Flask) -> None:
    server, phone = here(app), on_net(app)
    begun = server.post("/api/pairings", json={"role": "crew"}).json
    assert begun["url"] == f"https://{NAME}:8443/#/pair/{begun['secret']}"
    assert begun["qr_svg"].startswith("<svg")
    claimed = phone.post("/api/pair", json={"secret": begun["secret"], "name": "Anna's phone"})
    assert claimed.status_code == 202
    shown = server.get(f"/api/pairings/{begun['pairing']}").json
    assert shown["state"] == "claimed" and shown["name"] == "Anna's phone"
    assert shown["digits"] == claimed.json["digits"] and "code" not in shown
    claim = {"claim": claimed.json["claim"]}
    assert phone.post("/api/pair/collect", json=claim).json == {"state": "waiting"}
    server.post(f"/api/pairings/{begun['pairing']}/confirm")
    paired = phone.post("/api/pair/collect", json=claim)
    assert paired.status_code == 201 and "token" not in paired.json
    cookie = paired.headers["Set-Cookie"]
    assert cookie.startswith("__Host-spares=")
    for word in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/", "Max-Age=34560000"):
        assert word in cookie
    me = phone.get("/api/devices/me").json
    assert me == {"dev": paired.json["dev"], "name": "Anna's phone", "role": "crew", "grants": [],
                  "here": False, "vessel": {"id": VESSEL, "mark": "TGL", "name": "Tangloppe"},
                  "vessels": [{"id": VESSEL, "mark": "TGL", "name": "Tangloppe", "role": "crew"}],
                  "certificate_until": "2027-12-01"}
    assert is_problem(phone.post("/api/pair/collect", json=claim), 410)["stop"] == "pairing_over"


def test_this_computers_browser_takes_part_without_a_code(app: Flask) -> None:
    browser = here(app)
    assert browser.get("/api/devices/me").json["dev"] is None
    first = browser.post("/api/devices/here", json={"name": "Chart table"})
    assert first.status_code == 201 and first.json["role"] == "skipper" and first.json["here"]
    assert "Secure" not in first.headers["Set-Cookie"]
    again = browser.post("/api/devices/here", json={})
    assert again.status_code == 200 and again.json["dev"] == first.json["dev"]
    skipper = Crew(app, "skipper")
    is_problem(skipper.client.post("/api/devices/here", json={}), 403)


def test_browser_at_the_server_that_was_let_go_may_be_taken_in_anew(app: Flask) -> None:
    browser = here(app)
    first = browser.post("/api/devices/here", json={}).json["dev"]
    here(app).post(f"/api/devices/{first}/revoke", json={"how": "lost"})
    assert browser.get("/api/devices/me").json["dev"] is None
    again = browser.post("/api/devices/here", json={})
    assert again.status_code == 201 and again.json["dev"] != first


def test_crew_writes_by_the_verbs_under_a_number_apart_from_its_outbox(app: Flask) -> None:
    crew = Crew(app)
    put = crew.client.post("/api/do/put", json={"part": "P001", "locker": "L01", "quantity": 3})
    assert put.status_code == 200
    assert crew.codes(crew.op("took")) == ["ok"]
    (line,) = [one for one in here(app).get("/api/changes?limit=9").json["changes"]
               if one["id"] == put.json["change"]]
    assert line["device"] != crew.dev
    undone = crew.client.post("/api/do/undo", json={"change": put.json["change"]})
    assert undone.status_code == 200, undone.get_data(as_text=True)


def test_crew_may_begin_a_dated_lot_and_not_change_it_afterwards(app: Flask) -> None:
    crew = Crew(app)
    put = crew.client.post("/api/do/put", json={"part": "P001", "locker": "L01",
                                                "expires": "2029-05"})
    assert put.status_code == 200, put.get_data(as_text=True)
    lot = f"lot/{uuid4()}"
    begins = crew.op("set", {"doc": lot, "f": {"part": PART, "expires": "2028"}, "base": {}})
    changes = crew.op("set", {"doc": lot, "f": {"expires": "2099"}, "base": {}})
    assert crew.codes(begins, changes) == ["ok", "not_allowed"]


@pytest.mark.parametrize(("method", "address", "body"), [
    ("POST", "/api/documents", {"kind": "part", "fields": {"name": "Filter"}}),
    ("POST", "/api/trips", {"name": "Out", "departs_on": "2027-05-01",
                            "returns_on": "2027-05-09"}),
    ("POST", "/api/do/same", {"keep": "P001", "drop": "P002"}),
    ("POST", "/api/pairings", {"role": "guest"}),
    ("POST", "/api/codes", {"what": "locker"}),
    ("POST", "/api/check", {"rebuild": True}),
    ("GET", "/api/held", None)])
def test_crew_has_no_right_to_what_is_the_skippers(app: Flask, method: str, address: str,
                                                    body: dict | None) -> None:
    crew = Crew(app)
    size = here(app).get("/api/summary").json["changes"]
    answer = crew.client.open(address, method=method, json=body)
    assert is_problem(answer, 403)["stop"] == "not_allowed"
    assert here(app).get("/api/summary").json["changes"] == size


def test_guest_looks_and_takes_only_by_leave_of_the_skipper(app: Flask) -> None:
    guest, taker = Crew(app, "guest"), Crew(app, "guest", ("take",))
    assert guest.client.get("/api/find?q=impeller").status_code == 200
    taking = {"part": "P001", "locker": "L01"}
    is_problem(guest.client.post("/api/do/took", json=taking), 403)
    assert taker.client.post("/api/do/took", json=taking).status_code == 200
    is_problem(taker.client.post("/api/do/put", json=taking), 403)
    assert guest.codes(guest.op("took")) == ["not_allowed"]
    assert taker.codes(taker.op("took"), taker.op("put")) == ["ok", "not_allowed"]


def seen_of(skipper: Crew, phone: Crew) -> str:
    """Give the day on which a phone was seen last, as the skipper's list says."""
    (line,) = [one for one in skipper.client.get("/api/devices").json["devices"]
               if one["dev"] == phone.dev]
    return line["seen_at"][:10]


def test_paired_skipper_does_what_the_person_at_the_server_does(app: Flask) -> None:
    skipper, crew = Crew(app, "skipper"), Crew(app)
    assert len(skipper.client.get("/api/devices").json["devices"]) == 2
    assert len(crew.client.get("/api/devices").json["devices"]) == 1
    with store_of(app).get().writing() as session:
        session.get_one(Device, (VESSEL, crew.dev)).seen_ms = 1
    seen = [seen_of(skipper, crew), crew.sync().status_code, seen_of(skipper, crew)]
    assert seen[0] == "1970-01-01" and seen[2] > "2026"
    named = skipper.client.patch(f"/api/devices/{crew.dev}", json={"name": "Below deck"})
    assert named.json["name"] == "Below deck" and not named.json["this"]
    made = skipper.client.post("/api/documents", json={"kind": "part", "fields": {
        "name": "Filter"}})
    assert made.status_code == 200
    is_problem(skipper.client.post("/api/import", data=b"{}", content_type="application/json"),
               403)


def test_lower_role_holds_what_the_earlier_one_allowed(app: Flask) -> None:
    crew = Crew(app, "skipper")
    here(app).patch(f"/api/devices/{crew.dev}", json={"role": "crew"})
    setting = crew.op("set", {"doc": PART, "f": {"name": "Impeller, 60 mm"}, "base": {}})
    assert crew.codes(setting) == ["held"]
    (line,) = here(app).get("/api/held").json["held"]
    assert line["why"] == "earlier role" and line["dev"] == crew.dev
    taken = here(app).post(f"/api/held/{line['id']}", json={"decide": "approve"}).json
    assert taken["outcome"] == "ok" and taken["seq"]
    assert here(app).get("/api/parts/P001").json["name"] == "Impeller, 60 mm"
    assert here(app).get("/api/held").json == {"held": []}
    is_problem(here(app).post(f"/api/held/{line['id']}", json={"decide": "reject"}), 404)


def test_rejected_change_is_told_to_the_phone_with_its_reason(app: Flask) -> None:
    crew = Crew(app)
    here(app).post(f"/api/devices/{crew.dev}/revoke", json={"how": "retired"})
    op = crew.op("took")
    assert crew.codes(op) == ["held"]
    here(app).post(f"/api/held/{op['id']}", json={"decide": "reject", "say": "counted since"})
    (again,) = crew.sync(op).json["results"]
    assert again == {"n": 1, "id": op["id"], "result": "dup", "was": "refused",
                     "code": "rejected", "say": "counted since"}


def test_emptied_phone_shows_what_it_lost(app: Flask) -> None:
    crew = Crew(app)
    crew.sync(crew.op(), last=4)
    answer = crew.sync(inst="another", last=0, cursor=None).json
    assert answer["dev"] != crew.dev and answer["next_n"] == 1
    (line,) = here(app).get("/api/devices").json["devices"]
    assert line["dev"] == answer["dev"] and line["lost_numbers"] == [[2, 4]]


def test_copied_phone_gets_a_new_number_and_keeps_its_token(app: Flask) -> None:
    crew = Crew(app)
    crew.codes(crew.op())
    crew.made = 0
    fork = is_problem(crew.sync(crew.op()), 409)
    assert fork["stop"] == "fork" and fork["next_n"] == 1 and fork["dev"] != crew.dev
    assert crew.client.get("/api/devices/me").json["dev"] == fork["dev"]
    crew.made = 0
    assert crew.codes(crew.op(), inst="new") == ["ok"]


def test_codes_set_aside_are_given_to_nobody_else(app: Flask) -> None:
    crew, other = Crew(app), Crew(app)
    first = crew.client.post("/api/codes", json={"what": "lot", "count": 50}).json["codes"]
    second = other.client.post("/api/codes", json={"what": "lot", "count": 50}).json["codes"]
    assert len({*first, *second}) == 100 and all(len(code) == 6 for code in first)
    mine = here(app).post("/api/codes", json={"what": "locker", "count": 2}).json["codes"]
    made = here(app).post("/api/documents", json={"kind": "locker", "fields": {
        "name": "Lazarette"}}).json["fields"]["code"]
    assert made not in mine and len(made) == 4


def test_device_sees_its_own_vessel_alone(app: Flask) -> None:
    crew = Crew(app)
    found(app, "00000000-0000-4000-8000-0000000000bb", "HRE")
    assert [one["mark"] for one in crew.client.get("/api/vessels").json["vessels"]] == ["TGL"]
    assert crew.client.get("/api/summary?vessel=tgl").status_code == 200
    is_problem(crew.client.get("/api/summary?vessel=HRE"), 403)


def test_the_page_that_pairs_is_given_to_all(app: Flask) -> None:
    phone = on_net(app)
    for path in ("/", "/api.js", "/sw.js", "/shell.js"):
        assert phone.get(path).status_code == 200, path
    is_problem(phone.get("/api"), 401)


def test_bare_address_is_sent_to_the_name(app: Flask) -> None:
    answer = on_net(app).get("/?x=1", headers={"Host": f"{ADDRESS}:8443"})
    assert answer.status_code == 308
    assert answer.headers["Location"] == f"https://{NAME}:8443/?x=1"


def test_first_load_comes_in_pages_and_the_cursor_goes_on(app: Flask) -> None:
    crew = Crew(app)
    seqs = []
    while True:
        answer = crew.sync(want=2).json
        seqs += [row["seq"] for row in answer["changes"]]
        if not answer["more"]:
            break
    assert seqs == list(range(1, len(seqs) + 1)) and len(seqs) == 4
    assert crew.codes(crew.op(), crew.op("counted", {**CELL, "q": 5000})) == ["ok", "ok"]
    (line,) = here(app).get("/api/parts/P001").json["where"]
    assert line["quantity"] == 5 and LOCKER.endswith("2")
