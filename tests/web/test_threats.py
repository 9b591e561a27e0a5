"""What a hostile or broken device may send, and the answer it gets.

The rows follow the project's list of threats by number. Each also sees that the log is as
it was, that the answer tells nothing of the program's inside, and that the next good
request works.
"""

from __future__ import annotations

import json
import time

import pytest
from flask import Flask
from sqlalchemy import event

from spares.actions.backup import backup
from spares.db.tables import Device
from spares.errors import DiskFull
from spares.sync.change import envelope_from_json, seal
from spares.web.store import store_of
from tests.problems import is_problem
from tests.web.crew import (
    CELL,
    NAME,
    NOW,
    PART,
    VESSEL,
    Crew,
    changes_nothing,
    here,
    on_net,
    raw,
)


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


@pytest.mark.parametrize("headers", [
    {}, {"Authorization": "Bearer nobodys"}, {"Authorization": "Bearer"},
    {"Authorization": "Basic dXNlcjpwYXNz"}, {"Authorization": "Bearer " + "x" * 4000},
    {"Cookie": "__Host-spares=nobodys"}, {"Cookie": "spares-here=nobodys"}])
@pytest.mark.parametrize("address", ["/api/summary", "/api/sync", "/api/openapi.json",
                                     "/api/docs", "/api/nothing", "/api/export/json"])
def test_s1_who_shows_no_good_token_hears_the_same(app, address, headers):
    crew = Crew(app)
    with changes_nothing(app, crew):
        method = "POST" if address == "/api/sync" else "GET"
        answer = on_net(app).open(address, method=method, headers=headers, json={}
                                  if method == "POST" else None)
        body = is_problem(answer, 401)
        assert body["stop"] == "not_paired"
        assert body["detail"] == "this device is not paired"


def test_s1_token_whose_time_is_over_is_nobodys(app, monkeypatch):
    guest = Crew(app, "guest")
    assert guest.client.get("/api/summary").status_code == 200
    later = max(time.time_ns() // 10**6, NOW) + 8 * 86_400_000
    monkeypatch.setattr("spares.actions.identify.clock_ms", lambda: later)
    assert is_problem(guest.client.get("/api/summary"), 401)["stop"] == "not_paired"


def test_s1_refusals_are_the_same_work_whatever_was_shown(app):
    """The same statements, so that time tells no more than the words; hashes are compared."""
    guest, asked = Crew(app, "guest"), []
    store = store_of(app).get()
    with store.writing() as session:
        session.get_one(Device, (VESSEL, guest.dev)).until_ms = 1

    def note(_connection, _cursor, statement, *_):
        asked.append(statement)
    event.listen(store.engine, "before_cursor_execute", note)
    try:
        work = []
        for shown in (None, "", "nobodys", "x" * 4000, guest.token):
            headers = {} if shown is None else {"Authorization": f"Bearer {shown}"}
            asked.clear()
            assert on_net(app).get("/api/summary", headers=headers).status_code == 401
            work.append(list(asked))
    finally:
        event.remove(store.engine, "before_cursor_execute", note)
    assert len(work[0]) == 2 and all(one == work[0] for one in work)    # begin, look up


def full_disk(*_):
    raise DiskFull("there is no room")


def test_s2_lost_device_is_turned_away_everywhere_and_only_counted(app, monkeypatch):
    lost, crew = Crew(app), Crew(app)
    here(app).post(f"/api/devices/{lost.dev}/revoke", json={"how": "lost"})
    with changes_nothing(app, crew):
        for answer in (lost.sync(lost.op()), lost.client.get("/api/summary"),
                       lost.client.get("/api/devices/me")):
            assert is_problem(answer, 403)["stop"] == "revoked"
        with store_of(app).get().reading() as session:
            assert session.get_one(Device, (VESSEL, lost.dev)).turned_away == 3
        # Asking without end keeps no disk busy, and a full one makes the answer no other.
        for _ in range(20):
            is_problem(lost.client.get("/api/summary"), 403)
        with store_of(app).get().reading() as session:
            assert session.get_one(Device, (VESSEL, lost.dev)).turned_away <= 12
        other = Crew(app)
        here(app).post(f"/api/devices/{other.dev}/revoke", json={"how": "lost"})
        with monkeypatch.context() as full:
            full.setattr("spares.web.who.turn_away", full_disk)
            assert is_problem(other.client.get("/api/summary"), 403)["stop"] == "revoked"
    # Who reported it lost does not take that back by a wrong tap.
    again = here(app).post(f"/api/devices/{lost.dev}/revoke", json={"how": "retired"})
    assert again.json["state"] == "lost"


def test_a_phone_hears_when_the_last_backup_was_made_and_not_where_it_lies(app, tmp_path):
    made = backup(store_of(app).get(), tmp_path / "kept.zip")
    told = Crew(app, "guest").client.get("/api/summary").json["backup"]
    assert told["file"] == "kept.zip" and told["changes_since"] == 0
    assert here(app).get("/api/summary").json["backup"]["file"] == made["file"]


def test_s3_retired_device_hands_in_and_gets_nothing(app):
    gone, crew = Crew(app), Crew(app)
    here(app).post(f"/api/devices/{gone.dev}/revoke", json={"how": "retired"})
    with changes_nothing(app, crew):
        answer = gone.sync(gone.op(), gone.op("took"))
        assert [one["result"] for one in answer.json["results"]] == ["held", "held"]
        assert answer.json["changes"] == [] and answer.json["cursor"] is None
        for answer in (gone.sync(), gone.client.get("/api/summary")):
            assert is_problem(answer, 403)["stop"] == "revoked"


def test_s4_guest_changes_nothing(app):
    guest = Crew(app, "guest")
    with changes_nothing(app):
        assert guest.codes(*[guest.op(kind) for kind in ("put", "took", "counted")]) == [
            "not_allowed"] * 3


def test_s5_crew_does_not_reach_for_the_skippers_rights(app):
    crew, other = Crew(app), Crew(app)
    mine = other.op()
    other.codes(mine)
    with changes_nothing(app, crew):
        assert crew.codes(crew.op("set", {"doc": PART, "f": {"name": "x"}, "base": {}}),
                          crew.op("void", {"of": mine["id"]}),
                          crew.op("same", {"keep": PART, "drop": PART[:-1] + "9"})) == [
            "not_allowed"] * 3
        for answer in (
                crew.client.post(f"/api/devices/{other.dev}/revoke", json={"how": "lost"}),
                crew.client.patch(f"/api/devices/{crew.dev}", json={"role": "skipper"}),
                crew.client.post(f"/api/held/{mine['id']}", json={"decide": "approve"})):
            assert is_problem(answer, 403)["stop"] == "not_allowed"
    assert crew.codes(crew.op("set", {"doc": PART, "f": {"note": "dry"}, "base": {}})) == ["ok"]


@pytest.mark.parametrize("extra", [{"dev": "aaaaaaaa"}, {"at": "0"}, {"mac": "0"}, {"seq": 1},
                                   {"g": 0}, {"role": "skipper"}])
def test_s6_author_is_the_tokens_device_alone(app, extra):
    crew = Crew(app)
    with changes_nothing(app, crew):
        assert crew.codes(crew.op(**extra)) == ["bad_shape"]


def test_s7_altered_envelope_is_refused_and_the_others_proceed(app):
    crew = Crew(app)
    crew.codes(crew.op())
    good = crew.sync(cursor=None).json["changes"][-1]["envelope"]
    other_key = seal(envelope_from_json(good), dev=crew.dev, at=good["at"], g=good["g"],
                     pos=good["pos"], key=bytes(32)).to_json()
    altered = [{**good, "dev": "aaaaaaaa"}, {**good, "mac": "0" * 32}, other_key,
               {**good, "at": good["at"].replace("0000", "0001")},
               {**good, "body": {**CELL, "q": 9000}}]
    assert {**other_key, "mac": ""} == {**good, "mac": ""} and altered[3] != good
    with changes_nothing(app, crew):
        relayed = crew.sync(relay=[*altered, good]).json["relayed"]
        assert [one.get("code", one["result"]) for one in relayed] == ["bad_mac"] * 5 + ["dup"]


@pytest.mark.parametrize("cursor", ["x", "0" * 16 + ":1:" + "0" * 64 + ":" + "0" * 32, "-1",
                                    f"{'0' * 16}:{10**18}:{'0' * 64}:{'0' * 32}"])
def test_s8_forged_cursor_begins_anew_and_mints_no_epoch(app, cursor):
    crew = Crew(app)
    epochs = crew.sync().json["epochs"]
    with changes_nothing(app, crew):
        answer = crew.sync(crew.op(), cursor=cursor).json
        assert answer["reset"] and answer["results"] == [] and answer["epochs"] == epochs
        assert is_problem(crew.sync(cursor="x" * 900_000), 400)["stop"] == "malformed"


def test_s9_id_used_again_for_another_change_is_refused(app):
    crew = Crew(app)
    op = crew.op()
    crew.codes(op)
    with changes_nothing(app, crew):
        assert crew.codes({**crew.op("took"), "id": op["id"]}) == ["id_reused"]


@pytest.mark.parametrize("headers", [
    {"Origin": "https://evil.example"}, {"Sec-Fetch-Site": "cross-site"},
    {"Origin": f"http://{NAME}:8443"}, {"Origin": "null"}])
def test_s10_other_sites_may_not_write(app, headers):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = raw(crew, json.dumps(crew.request(crew.op())).encode(), **headers)
        assert is_problem(answer, 403)["stop"] == "wrong_origin"


@pytest.mark.parametrize("kind", ["text/plain", "application/x-www-form-urlencoded"])
def test_s10_only_json_is_taken(app, kind):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = crew.client.post("/api/sync", data=json.dumps(crew.request(crew.op())),
                                  content_type=kind)
        assert is_problem(answer, 415)["stop"] == "not_json"


def test_s11_a_program_says_that_it_is_one(app):
    crew = Crew(app)
    del crew.client.environ_base["HTTP_X_SPARES"]
    with changes_nothing(app):
        assert is_problem(crew.sync(crew.op()), 403)["stop"] == "wrong_origin"
    crew.client.environ_base["HTTP_X_SPARES"] = "1"
    assert crew.sync().status_code == 200


@pytest.mark.parametrize("host", ["evil.example", "10.0.0.9", "localhost", "127.0.0.1",
                                  f"{NAME}.evil.example"])
def test_s12_other_names_are_not_answered(app, host):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = crew.client.get("/api/summary", headers={"Host": f"{host}:8443"})
        assert is_problem(answer, 421)["stop"] == "wrong_host"


def test_s13_request_above_a_mebibyte_is_too_big(app):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = raw(crew, b" " * (1024 * 1024 + 1))
        assert is_problem(answer, 413)["stop"] == "too_big"


@pytest.mark.parametrize("way", ["gzip", "br", "deflate"])
def test_s14_packed_bodies_are_not_unpacked(app, way):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = raw(crew, b"\x1f\x8b\x08", **{"Content-Encoding": way})
        assert is_problem(answer, 415)["stop"] == "not_json"


def test_s30_pairing_code_is_good_once_and_for_few_tries(app):
    begun = here(app).post("/api/pairings", json={"role": "guest"}).json
    phone = on_net(app)
    first = phone.post("/api/pair", json={"code": begun["code"], "name": "one",
                                          "role": "skipper"})
    assert first.status_code == 202
    second = on_net(app).post("/api/pair", json={"secret": begun["secret"], "name": "two"})
    assert is_problem(second, 410)["stop"] == "pairing_used"
    assert here(app).get(f"/api/pairings/{begun['pairing']}").json["second_try"]
    here(app).post(f"/api/pairings/{begun['pairing']}/confirm")
    paired = phone.post("/api/pair/collect", json={"claim": first.json["claim"]})
    assert (paired.status_code, paired.json["role"]) == (201, "guest")
    here(app).post("/api/pairings", json={"role": "guest"})
    said = [phone.post("/api/pair", json={"code": "00000-00000-000"}) for _ in range(6)]
    assert [one.status_code for one in said] == [403] * 5 + [429]
    assert int(said[5].headers["Retry-After"]) >= 60


def test_s31_nobody_but_the_skipper_begins_a_pairing(app):
    with changes_nothing(app):
        is_problem(on_net(app).post("/api/pairings", json={"role": "skipper"}), 401)
        for role in ("crew", "guest"):
            answer = Crew(app, role).client.post("/api/pairings", json={"role": role})
            assert is_problem(answer, 403)["stop"] == "not_allowed"
        is_problem(on_net(app).post("/api/devices/here", json={}), 401)
    assert Crew(app, "skipper").client.post("/api/pairings", json={"role": "crew"}
                                            ).status_code == 201


def test_s32_who_asks_too_often_waits_and_others_are_served(app, monkeypatch):
    monkeypatch.setattr("spares.actions.gate._now_ms", lambda: 10**9)
    eager, other = Crew(app), Crew(app)
    said = [eager.sync().status_code for _ in range(125)]
    assert 429 in said and set(said) == {200, 429}
    answer = eager.sync()
    assert is_problem(answer, 429)["stop"] == "slow_down"
    assert int(answer.headers["Retry-After"]) >= 1
    assert other.sync().status_code == 200
    tries = [on_net(app, "192.168.7.99").post("/api/pair", json={"code": "0" * 13}).status_code
             for _ in range(55)]
    assert tries[-1] == 429 and 403 in tries


def test_s32_a_new_number_is_no_new_measure(app, monkeypatch):
    monkeypatch.setattr("spares.actions.gate._now_ms", lambda: 10**9)
    eager = Crew(app)
    said = []
    for turn in range(125):         # each time as if the phone had been emptied
        said.append(eager.sync(inst=f"inst {turn}").status_code)
    assert said[:100] == [200] * 100 and said[-1] == 429


def test_s32_changes_beyond_a_days_measure_wait_for_the_skipper(app, monkeypatch):
    monkeypatch.setattr("spares.actions.sync.MOST_A_DAY", 3)
    crew = Crew(app)
    assert crew.codes(crew.op(), crew.op(), crew.op()) == ["ok"] * 3
    assert crew.codes(crew.op(), crew.op()) == ["held"] * 2


@pytest.mark.parametrize(("method", "address", "status"), [
    ("TRACE", "/api/sync", 405), ("PUT", "/api/sync", 405), ("DELETE", "/api/sync", 405),
    ("GET", "/api/sync", 405), ("OPTIONS", "/api/sync", 405), ("GET", "/api/nothing", 404),
    ("GET", "/api/find?q=" + "x" * 9000, 414)])
def test_s34_other_methods_and_addresses(app, method, address, status):
    crew = Crew(app)
    with changes_nothing(app, crew):
        answer = crew.client.open(address, method=method)
        is_problem(answer, status)
        if status == 405:
            assert "POST" in answer.headers["Allow"]


def test_s36_log_lines_hold_no_token_and_no_line_of_a_stranger(app, caplog, monkeypatch):
    crew = Crew(app)
    shows_a_part = app.url_map.bind("x").match("/api/parts/P001")[0]
    monkeypatch.setitem(app.view_functions, shows_a_part, lambda **_: 1 / 0)
    with caplog.at_level("DEBUG"):
        # What is logged of a request: the address of one that the program broke down at.
        is_problem(crew.client.get("/api/parts/x%0d%0aFORGED%1b[31m"), 500)
        crew.sync(crew.op("put", {**CELL, "q": 1000, "note": "a\r\nFORGED"}))
        begun = here(app).post("/api/pairings", json={"role": "crew"}).json
        on_net(app).post("/api/pair", json={"code": begun["code"]})
    assert "/api/parts/x\\r\\nFORGED" in caplog.text
    assert not [line for line in caplog.text.splitlines() if line.startswith("FORGED")]
    assert "\x1b" not in caplog.text
    for secret in (crew.token, begun["code"], begun["secret"]):
        assert secret not in caplog.text


@pytest.mark.parametrize("address", ["/.git/config", "/console", "/static/", "/spares.sqlite",
                                     "/..%2f..%2fetc/passwd"])
def test_s37_nothing_else_is_served(app, address):
    answer = on_net(app).get(address)
    assert answer.status_code in (400, 404) and "Server" not in answer.headers
    assert app.config["DEBUG"] is False and NOW and VESSEL
