"""Phones that were apart wrote of one thing: all of it is shown until somebody chooses."""

from __future__ import annotations

import json
import re
import shutil
from dataclasses import asdict
from itertools import permutations
from typing import Any

import pytest
from flask import Flask

from spares.db.door import submit
from spares.db.sync_store import SyncStore
from spares.domain.draft import setting
from spares.sync.store import entries_of
from spares.web.schemas import parts, records, things
from spares.web.schemas.apart import UnsettledAnswer
from spares.web.store import store_of
from tests.client.node_process import Node
from tests.web.crew import CELL, LOCKER, OTHER, PART, VESSEL, Crew, here

MACHINE = "machine/00000000-0000-4000-8000-0000000000c1"
SERVICE = "service/00000000-0000-4000-8000-0000000000d1"
BURNS = {"at_kn": "5", "l_per_h": "2.4"}


@pytest.fixture(scope="module")
def phones(boat: Flask) -> list[Crew]:
    """Two phones of the skipper, and one of the crew."""
    return [Crew(boat, "skipper"), Crew(boat, "skipper"), Crew(boat)]


def _write(phone: Crew, doc: str, seen: Any = None, **fields: Any) -> None:
    """A phone that was away sets fields as it knew them: nobody had set them."""
    assert phone.codes(phone.op("set", {"doc": doc, "f": fields, "base": {}}, seen=seen)) == ["ok"]


def _seen_by(phone: Crew) -> dict[str, Any]:
    """What a phone has seen once it has met the server: all that is there."""
    phone.sync()
    epoch, seq, *_ = str(phone.cursor).split(":")
    return {"epoch": epoch, "seq": int(seq)}


def _unsettled(client: Any) -> dict[str, Any]:
    answer = client.get("/api/unsettled").json
    assert UnsettledAnswer().validate(answer) == {}
    summary = client.get("/api/summary").json
    assert records.Summary().validate(summary) == {}
    assert summary["unsettled"] == {name: len(found) for name, found in answer.items()}
    return answer


def _gone(app: Flask) -> list[Any]:
    """Things changed while off the books: whose hand took them off, and who wrote what."""
    return [(one["no"], one["gone"]["by"], [(wrote["field"], wrote["text"], wrote["by"])
                                            for wrote in one["wrote"]])
            for one in _unsettled(here(app))["gone"]]


def _apart(app: Flask, address: str) -> list[Any]:
    """What stands apart there: each field with its values in words."""
    answer = here(app).get(f"/api/{address}").json
    return [(one["field"], [value["text"] for value in one["values"]]) for one in answer["apart"]]


def _faults(app: Flask) -> list[tuple[str, str]]:
    return [(one["code"], one["text"]) for one in here(app).get("/api/check").json["faults"]]


def _keep(client: Any, doc: str, field: str, value: Any) -> Any:
    return client.post("/api/documents", json={
        "kind": doc.partition("/")[0], "doc": doc, "fields": {field: value}})


def test_both_values_are_shown_with_who_and_when_until_the_skipper_keeps_one(
        boat: Flask, phones: list[Crew]) -> None:
    one, other, crew = phones
    _write(one, PART, seller="yard at the bridge", note="measured")
    assert _apart(boat, "parts/P001") == []
    _write(other, PART, seller="by post", note="measured")      # of the note they agree
    assert _apart(boat, "parts/P001") == [("seller", ["yard at the bridge", "by post"])]
    assert _faults(boat) == [("apart", "P001 has more than one seller side by side")]
    whole = crew.client.get("/api/parts/P001").json
    assert parts.PartWhole().validate(whole) == {}
    first, second = whole["apart"][0]["values"]
    assert (first["device"], second["device"]) == (one.dev, other.dev)
    assert (first["by"], first["at"]) == ("skipper", "2027-01-15T08:00:00Z")    # the phone's clock
    assert _keep(crew.client, PART, "seller", first["value"]).status_code == 403
    kept = _keep(one.client, PART, "seller", first["value"])
    assert kept.json["fields"]["seller"] == "yard at the bridge"
    assert _apart(boat, "parts/P001") == []
    for phone in (one, other):      # they hear that it stands on both, so none stands apart there
        told = [one["envelope"] for one in phone.sync().json["changes"]]
        [base] = [one["body"]["base"] for one in told if one["id"] == kept.json["change"]]
        assert sorted(base["seller"]) == sorted([first["change"], second["change"]])
    assert _faults(boat) == []
    undone = here(boat).post("/api/do/undo", json={"change": kept.json["change"]})
    assert undone.status_code == 200
    assert here(boat).get("/api/parts/P001").json["seller"] == "by post"


def test_machine_locker_and_service_say_it_in_words(boat: Flask, phones: list[Crew]) -> None:
    with store_of(boat).get().writing() as session:
        submit(session, VESSEL, [setting(MACHINE, no="HBR", name="Engine", counter="own"),
                                 setting(SERVICE, no="S01", what="look at it", machine=MACHINE)],
               wall_ms=1)
    wrote = [(MACHINE, "burns", [BURNS, {**BURNS, "l_per_h": "3"}]),
             (LOCKER, "lent_to", ["Ole", None]), (LOCKER, "reachable", [True, False]),
             (SERVICE, "every_minutes", [12000, 15030])]
    for doc, field, values in wrote:
        for phone, value in zip(phones, values, strict=False):
            _write(phone, doc, **{field: value})
    assert _apart(boat, "machines/HBR") == [
        ("burns", ["at_kn 5, l_per_h 2.4", "at_kn 5, l_per_h 3"])]
    assert _apart(boat, "lockers/L01") == [("lent_to", ["Ole", None]), ("reachable", ["yes", "no"])]
    [service] = here(boat).get("/api/services").json["services"]
    assert things.Service().validate(service) == {}
    assert [value["text"] for value in service["apart"][0]["values"]] == ["200 h", "250.5 h"]
    for doc, field, values in wrote:
        assert _keep(here(boat), doc, field, values[0]).status_code == 200, field
    for place in ("machines/HBR", "lockers/L01", "things/S01"):
        assert _apart(boat, place) == []
    assert here(boat).get("/api/machines/HBR").json["burns"] == BURNS


def test_a_thing_changed_by_who_did_not_know_that_it_was_gone_is_named(
        boat: Flask, phones: list[Crew]) -> None:
    gone = here(boat).post("/api/documents", json={"kind": "part", "doc": OTHER,
                                                   "fields": {"gone": True}})
    assert gone.status_code == 200 and _faults(boat) == []
    _write(phones[0], OTHER, seller="by post")
    assert _faults(boat) == [("edited-while-gone", "P002 was changed by somebody who did not know "
                              "that it had been taken off the books")]
    assert here(boat).get("/api/parts/P002").status_code == 404     # it does not come back by it
    assert _gone(boat) == [("P002", None, [("seller", "by post", "skipper")])]
    guest = Crew(boat, "guest")
    assert _unsettled(guest.client) == _unsettled(here(boat))
    assert _keep(guest.client, OTHER, "gone", True).status_code == 403
    left = _keep(phones[1].client, OTHER, "gone", True)
    assert left.status_code == 200 and _gone(boat) == [] and _faults(boat) == []


def test_what_is_off_the_books_comes_back_unless_its_number_is_taken(
        boat: Flask, phones: list[Crew]) -> None:
    _write(phones[0], OTHER, note="measured")
    assert _keep(here(boat), PART, "no", "P002").status_code == 200
    assert _keep(here(boat), OTHER, "gone", False).status_code == 409
    assert _keep(here(boat), PART, "no", "P001").status_code == 200
    back = _keep(here(boat), OTHER, "gone", False)
    assert back.status_code == 200 and _gone(boat) == []
    whole = here(boat).get("/api/parts/P002").json
    assert (whole["note"], whole["seller"]) == ("measured", "by post")      # nothing was lost
    said = here(boat).get("/api/changes?limit=1").json["changes"][0]["text"]
    assert said == "Put part P002 back on the books"


@pytest.mark.parametrize("order", list(permutations(range(3))))
def test_three_writers_are_told_alike_whoever_comes_first(
        boat: Flask, phones: list[Crew], order: tuple[int, ...]) -> None:
    one, other, crew = phones
    made = here(boat).post("/api/documents", json={"kind": "part", "fields": {"name": "Belt"}})
    doc, no = made.json["doc"], made.json["no"]
    seen = _seen_by(one)
    acts = [lambda: _write(one, doc, seen, gone=True),
            lambda: _write(other, doc, seen, seller="yard"),
            lambda: _write(crew, doc, seen, note="worn")]
    for place in order:
        acts[place]()
    [(told, by, wrote)] = _gone(boat)
    assert (told, by) == (no, "skipper")
    assert sorted(wrote) == [("note", "worn", "crew"), ("seller", "yard", "skipper")]
    # a deletion of who has seen both settles it; so does nothing that was made before
    _write(crew, doc, seen, note="very worn")
    assert len(_gone(boat)[0][2]) == 3
    _write(one, doc, _seen_by(one), gone=True)
    assert _gone(boat) == []


def test_a_thing_taken_off_and_put_back_apart_is_named_until_one_of_both_is_chosen(
        boat: Flask, phones: list[Crew]) -> None:
    doc = here(boat).post("/api/documents", json={
        "kind": "part", "fields": {"name": "Hose"}}).json["doc"]
    seen = _seen_by(phones[0])
    _write(phones[1], doc, seen, gone=False)
    _write(phones[0], doc, seen, gone=True)
    [(_, _, wrote)] = _gone(boat)
    assert wrote == [("gone", "no", "skipper")]
    assert _unsettled(here(boat))["apart"] == []
    assert _keep(here(boat), doc, "gone", True).status_code == 200
    assert _gone(boat) == []


def test_pieces_under_what_is_gone_or_not_known_here_are_listed(
        boat: Flask, phones: list[Crew]) -> None:
    unknown = PART[:-1] + "7"
    for part in (OTHER, unknown):
        assert phones[2].codes(phones[2].op("put", {**CELL, "part": part, "q": 2500})) == ["ok"]
    assert [one["doc"] for one in _unsettled(here(boat))["gone_but_there"]] == [unknown]
    _keep(here(boat), OTHER, "gone", True)
    found = _unsettled(here(boat))["gone_but_there"]
    assert [(one["no"], one["is_known"], one["lying"]) for one in found] == [
        (None, False, [{"part": None, "name": None, "locker": "L01", "quantity": 2.5}]),
        ("P002", True, [{"part": "P002", "name": "Gasket", "locker": "L01", "quantity": 2.5}])]


@pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")
def test_a_phone_tells_the_same_by_its_copy(boat: Flask, phones: list[Crew]) -> None:
    one, other, crew = phones
    for name in ("Ring", "Seal"):
        doc = here(boat).post("/api/documents", json={
            "kind": "part", "fields": {"name": name}}).json["doc"]
        seen = _seen_by(one)
        for phone, pack in ((one, 2500), (other, None), (crew, None)):
            _write(phone, doc, seen, **({"note": name} if phone is crew else {"pack": pack}))
    _write(one, doc, seen, gone=True)
    said = _unsettled(here(boat))
    assert all(said.values())
    with store_of(boat).get().reading() as session:
        log = SyncStore(session, VESSEL)
        entries = entries_of(log.rows(0, log.size()), log.epochs())
    node = Node("sync_answers.js")
    try:
        node.ask("open", entries=[asdict(entry) for entry in entries])
        told = node.ask("unsettled", before=said)["answer"]
    finally:
        node.close()
    told = json.loads(re.sub(r'\.\d{3}Z"', 'Z"', json.dumps(told)))       # she tells whole seconds
    assert told == said


def test_a_place_that_may_be_empty_is_shown_as_long_as_nobody_knows(boat: Flask) -> None:
    """One piece was counted and one was taken, and neither knew of the other: none or one lies."""
    doc = here(boat).post("/api/documents", json={
        "kind": "part", "fields": {"name": "Ring", "no": "P077"}}).json["doc"]
    counting, taking = Crew(boat), Crew(boat)
    cell = {**CELL, "part": doc, "q": 1000}
    assert counting.codes(counting.op("counted", cell)) == ["ok"]
    taken = taking.op("took", cell)
    assert taking.codes(taken) == ["ok"]
    part = here(boat).get("/api/parts/P077").json
    (place,) = part["where"]
    assert (place["quantity"], place["low"], place["high"], place["doubts"]) == (
        0, 0, 1, [taken["id"]])
    assert "in-doubt" in part["tags"]
    lines = here(boat).get("/api/lockers/L01").json["lines"]
    assert [one["no"] for one in lines if one["doubts"]] == ["P077"]
    here(boat).post("/api/do/settle", json={"change": taken["id"], "side": "after"})
    assert here(boat).get("/api/parts/P077").json["where"] == []
