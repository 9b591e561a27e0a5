"""Two phones that were apart set one field: both values are shown until somebody chooses."""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask

from spares.db.door import submit
from spares.domain.draft import setting
from spares.web.schemas import parts, things
from spares.web.store import store_of
from tests.web.crew import LOCKER, OTHER, PART, VESSEL, Crew, here

MACHINE = "machine/00000000-0000-4000-8000-0000000000c1"
SERVICE = "service/00000000-0000-4000-8000-0000000000d1"
BURNS = {"at_kn": "5", "l_per_h": "2.4"}


@pytest.fixture(scope="module")
def phones(boat: Flask) -> list[Crew]:
    """Two phones of the skipper, and one of the crew."""
    return [Crew(boat, "skipper"), Crew(boat, "skipper"), Crew(boat)]


def _write(phone: Crew, doc: str, **fields: Any) -> None:
    """A phone that was away sets fields as it knew them: nobody had set them."""
    assert phone.codes(phone.op("set", {"doc": doc, "f": fields, "base": {}})) == ["ok"]


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
