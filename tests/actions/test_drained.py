"""Lay-up before frost, fitting-out in spring: what was drained or treated, who closed what."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from uuid import uuid4

import pytest

from spares.actions.bring_in import bring_in
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.drained import drained
from spares.actions.export import export_csv, export_json
from spares.actions.gauged import gauge
from spares.actions.lay_up import lay_up
from spares.actions.papers.paper import paper
from spares.actions.photos import photo, photos
from spares.actions.undo import undo
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.errors import Conflict, InvalidInput, NotFound
from tests.paper import reading


@pytest.fixture
def autumn(ctx):
    """The engine has a drain point of its own and two in its note; 2 November 2026."""
    engine = ctx.named("ENG", "machine", "machine")
    write_document(ctx, "machine", {"note": "Drain points: block cock; cooler: not drained. Old.",
                                    "hazards": "rotating, hot, fumes"}, doc=engine)
    write_document(ctx, "drain-point", {"name": "pump cover", "machine": engine, "walk": 1,
                                        "plug": "M8", "cock": "shut"})
    return replace(ctx, today=date(2026, 11, 2))


def _points(ctx, **asked):
    return {one["named"]: one for one in lay_up(ctx, **asked)["points"]}


def test_a_point_counts_as_drained_when_it_was_seen_to_run(autumn):
    assert lay_up(autumn)["progress"] == {"points": 3, "open": 3, "doubtful": 0, "done": 0}
    drained(autumn, "lay-up", point="D01", done="drained", cock="open", by="Anna")
    point = _points(autumn)["pump cover"]
    assert (point["state"], point["left_open"]) == ("doubtful", ["not-seen-to-run"])
    drained(autumn, "lay-up", point="D01", done="drained", seen_to_run=True, cock="open")
    point = _points(autumn)["pump cover"]
    assert (point["state"], point["plug"], point["record"]["cock"]) == ("done", "M8", "open")
    assert lay_up(autumn)["progress"] == {"points": 3, "open": 2, "doubtful": 0, "done": 1}


def test_what_only_a_note_names_becomes_a_point_of_its_own_when_it_is_recorded(autumn):
    answer = drained(autumn, "lay-up", machine="ENG", name="Cooler", done="treated",
                     protects_to_c="-25,5")
    assert answer["point"] == "D02"
    points = _points(autumn)
    assert [points[name]["no"] for name in ("pump cover", "block cock", "cooler")] == [
        "D01", None, "D02"]
    assert points["cooler"]["record"]["protects_to_c"] == -25.5
    assert (points["cooler"]["treated"], points["cooler"]["state"]) == (True, "done")
    again = drained(autumn, "lay-up", machine="ENG", name="cooler", done="treated")
    assert again["point"] == "D02"
    assert _points(autumn)["cooler"]["left_open"] == ["strength-not-tested"]


def test_spring_is_the_same_list_backwards_and_says_what_autumn_left(autumn):
    drained(autumn, "lay-up", point="D01", done="drained", seen_to_run=True, cock="open", by="Anna")
    spring = replace(autumn, today=date(2027, 4, 2))
    found = lay_up(spring, spring=True)
    assert [one["named"] for one in found["points"]] == ["cooler", "block cock", "pump cover"]
    point = found["points"][-1]
    assert (point["state"], point["autumn"]["cock"], point["autumn"]["by"]) == (
        "open", "open", "Anna")
    drained(spring, "fitting-out", point="D01", plug_in=True, seal_renewed=True, no_leak=True,
            cock="open", by="Ben")
    point = _points(spring, spring=True)["pump cover"]
    assert (point["state"], point["record"]["by"], point["autumn"]) == ("done", "Ben", None)
    assert _points(spring)["pump cover"]["state"] == "open"     # a new winter begins with nothing
    card, = found["first_runs"]
    assert (card["machine"], card["minutes"], card["leaks"]) == (
        "ENG", [0, 1, 5, 15, 30], ["pump cover", "block cock"])


def test_a_record_sent_twice_is_one_and_goes_back(autumn):
    ident = str(uuid4())
    sent = {"done": "drained", "machine": "ENG", "name": "block cock", "change_id": ident}
    assert drained(autumn, "lay-up", **sent)["was_new"]
    assert not drained(autumn, "lay-up", **sent)["was_new"]
    undo(autumn)
    assert _points(autumn)["block cock"]["state"] == "open"


@pytest.mark.parametrize(("fields", "pointer"), [
    ({"turn": "winter"}, "#/turn"), ({"done": "dry"}, "#/done"), ({"cock": "ajar"}, "#/cock"),
    ({"at": "2026-11-03"}, "#/at"),
    ({"done": "treated", "protects_to_c": "cold"}, "#/protects_to_c"),
    ({"done": "treated", "protects_to_c": -273}, "#/protects_to_c")])
def test_a_record_that_makes_no_sense_names_its_field(autumn, fields, pointer):
    asked = {"turn": "lay-up", "point": "D01", "done": "drained", **fields}
    with pytest.raises(InvalidInput) as told:
        drained(autumn, asked.pop("turn"), **asked)
    assert told.value.facts["errors"][0]["pointer"] == pointer
    with pytest.raises(NotFound):
        drained(autumn, "lay-up", machine="ENG", name="keel", done="drained")
    with pytest.raises(InvalidInput):
        drained(autumn, "lay-up", done="drained")


def test_an_id_that_was_used_for_another_thing_is_refused(autumn):
    ident = str(uuid4())
    write_document(autumn, "locker", {"name": "Box"}, change_id=ident)
    with pytest.raises(Conflict):
        drained(autumn, "lay-up", point="D01", done="drained", change_id=ident)


@pytest.mark.parametrize("form", ["csv", "json"])
def test_points_and_records_go_out_and_come_back(autumn, tmp_path, form):
    drained(autumn, "lay-up", point="D01", done="treated", protects_to_c=-20, cock="shut")
    file = tmp_path / ("all.zip" if form == "csv" else "all.json")
    file.write_bytes(export_csv(autumn) if form == "csv"
                     else json.dumps(export_json(autumn)).encode())
    store = open_store(tmp_path / "other.sqlite")
    bring_in(store, file)
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    there, here = lay_up(Context(store, vessel, autumn.today)), lay_up(autumn)
    for one in there["points"] + here["points"]:
        del one["doc"]          # named by the number on its own vessel
    assert there == here
    store.close()


def test_the_papers_carry_plug_record_tag_and_the_first_run(autumn):
    drained(autumn, "lay-up", point="D01", done="drained", seen_to_run=True, cock="open", by="Anna")
    text = " ".join(reading.texts(paper(autumn, "lay-up"))).replace("\n", " ")
    for words in ("Pump cover", "M8", "2 Nov 2026", "drained, seen to run", "cock open", "Anna"):
        assert words in text, words
    text = " ".join(reading.texts(paper(replace(autumn, today=date(2027, 4, 2)), "lay-up",
                                        spring=True))).replace("\n", " ")
    for words in ("Autumn: 2 Nov 2026", "First run", "oil pressure", "Stop at once",
                  "Carbon monoxide", "pump cover"):
        assert words in text, words


def test_a_point_bears_photos_of_its_own(autumn):
    doc = _points(autumn)["pump cover"]["doc"]
    photo(autumn, doc, "a" * 64, 1200, "image/jpeg", note="M8 plug, from below")
    assert [one["note"] for one in photos(autumn, "D01")["photos"]] == ["M8 plug, from below"]
    assert _points(autumn)["block cock"]["doc"] is None     # until something is recorded there


def test_a_first_run_shows_no_limit_but_that_of_the_reading_itself(autumn):
    def limits(what: str = "coolant") -> tuple[float | None, float | None]:
        card, = lay_up(autumn, spring=True)["first_runs"]
        one, = (one for one in card["readings"] if one["what"] == what)
        return one["low"], one["high"]
    gauge(autumn, "ENG", "exhaust", unit="°C", high="500", source="book, page 40")
    assert limits() == (None, None)
    gauge(autumn, "ENG", "coolant", unit="°C", high="95", source="book, page 31")
    assert limits() == (None, 95)
    gauge(autumn, "ENG", "oil", unit="bar", low="2", source="book, page 32")
    assert limits("oil pressure") == (2, None)
    gauge(autumn, "ENG", "oil pressure", unit="bar")    # two answer to it: nobody knows which
    assert limits("oil pressure") == (None, None)


def test_a_hazard_in_own_words_stands_on_the_lay_up_list_and_the_first_run(autumn):
    engine = autumn.named("ENG", "machine", "machine")
    write_document(autumn, "machine", {"hazards": "rotating, fumes, asbestos lagging"}, doc=engine)
    assert "asbestos lagging" in {one["mark"] for one in lay_up(autumn)["cautions"]}
    card, = lay_up(autumn, spring=True)["first_runs"]
    assert "asbestos lagging" in {one["mark"] for one in card["cautions"]}
    for spring in (False, True):
        text = " ".join(reading.texts(paper(autumn, "lay-up", spring=spring)))
        assert text.count("asbestos lagging") == 1 + spring
