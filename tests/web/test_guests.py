"""A guest looks for one thing by a plain word and takes one; it is written down as theirs."""

from __future__ import annotations

from flask import Flask

from spares.db.door import submit
from spares.domain.draft import Draft
from spares.web.store import store_of
from tests.web.crew import CELL, NOW, VESSEL, Crew


def test_guest_finds_a_thing_by_a_plain_word_takes_one_and_is_named_for_it(boat: Flask) -> None:
    guest = Crew(boat, "guest", ("take",))
    with store_of(boat).get().writing() as session:
        submit(session, VESSEL, [Draft("put", {**CELL, "q": 3000})], wall_ms=NOW)
    found, = guest.client.get("/api/find?q=impel").json["hits"]
    place, = found["where"]
    assert (place["name"], place["code"], place["quantity"]) == ("Forepeak", "EMJR", 3)
    assert guest.codes(guest.op("took")) == ["ok"]
    last, = guest.client.get("/api/changes?limit=1").json["changes"]
    assert (last["text"], last["device"]) == ("Took 1 of P001 from L01", guest.dev)
    left, = guest.client.get("/api/find?q=P001").json["hits"]
    assert left["where"][0]["quantity"] == 2
