"""What a hostile or broken device may write into a request: the list of threats, 15 to 21."""

from __future__ import annotations

import json

import pytest
from flask import Flask

from tests.problems import is_problem
from tests.web.crew import CELL, NOW, PART, Crew, changes_nothing, here, raw


@pytest.fixture(scope="module")
def app(boat: Flask) -> Flask:
    return boat


BAD_JSON = {
    "NaN": b'{"now": NaN}', "Infinity": b'{"now": Infinity}', "1e400": b'{"now": 1e400}',
    "equal keys": b'{"now": 1, "now": 2}', "depth": b"[" * 100_000, "digits": b"9" * 5000,
    "mark": b"\xef\xbb\xbf{}", "latin-1": b'{"inst": "\xe9"}', "rest": b"{} {}", "empty": b"",
    "text": b'"x"', "list": b"[]", "null": b"null"}


@pytest.mark.parametrize("body", BAD_JSON.values(), ids=BAD_JSON)
def test_s15_text_that_two_readers_read_differently_is_malformed(app, body):
    crew = Crew(app)
    with changes_nothing(app, crew):
        assert is_problem(raw(crew, body), 400)["stop"] == "malformed"


@pytest.mark.parametrize("q", ["true", "1.0", "-1000", "0", "1000000001", str(2**53), '"5"',
                               "null", "[]", str(2**63), str(10**30)])
def test_s15_s16_quantity_that_is_none_is_refused_alone(app, q):
    crew = Crew(app)
    bad, good = crew.op("put", {**CELL, "q": "HERE"}), crew.op()
    answer = raw(crew, json.dumps(crew.request(bad, good)).replace('"HERE"', q).encode())
    assert [one.get("code", one["result"]) for one in answer.json["results"]] == [
        "bad_value", "ok"]


@pytest.mark.parametrize("note", ["\ud800", "nul\x00", "\udfff\ud800"])
def test_s15_text_that_no_store_can_keep_is_refused_alone(app, note):
    crew = Crew(app)
    with changes_nothing(app, crew):
        op = crew.op("put", {**CELL, "q": 1000, "note": note})
        (result,) = raw(crew, json.dumps(crew.request(op)).encode()).json["results"]
        assert result["code"] == "bad_value"


def test_s16_movements_that_are_none_are_refused(app):
    crew = Crew(app)
    line = {**CELL, "q": 1000}
    with changes_nothing(app, crew):
        assert crew.codes(
            crew.op("moved", {"part": PART, "from": CELL["locker"], "to": CELL["locker"],
                              "lot": "", "q": 1000}),
            crew.op("convert", {"out": [], "in": [line]}),
            crew.op("convert", {"out": [line] * 501, "in": [line]})) == ["bad_value"] * 3


@pytest.mark.parametrize("clocks", [
    {"now": -1}, {"now": 0}, {"now": 10**18}, {"off_prev": 10**18}, {"off_prev": -10**18}])
def test_s17_mad_clocks_are_cut_and_graded(app, clocks):
    crew = Crew(app)
    answer = crew.sync(crew.op(), **clocks).json
    (result,) = answer["results"]
    assert result["result"] == "ok" and result["sealed"]["g"] == 1
    assert int(result["sealed"]["at"][:12], 16) <= answer["now"]


@pytest.mark.parametrize(("t", "g"), [(NOW, 0), (-1, 1), (0, 1), (10**18, 1),
                                      (-(10**18), 1)])
def test_s17_mad_clock_of_a_change_gives_no_stamp_of_the_future(app, t, g):
    crew = Crew(app)
    before = crew.sync().json
    answer = crew.sync(crew.op(t=t), off_prev=NOW - before["now"], boot_prev=before["boot"]).json
    (result,) = answer["results"]
    at_ms = int(result["sealed"]["at"][:12], 16)
    # An age is cut at 400 days; what is cut is doubtful, as a tap after the request was sent.
    assert result["result"] == "ok" and result["sealed"]["g"] == g
    assert answer["now"] - 400 * 86_400_000 <= at_ms <= answer["now"]


@pytest.mark.parametrize("t", ["soon", 1.5, True, None])
def test_s17_clock_of_a_change_that_is_no_number_is_refused_alone(app, t):
    crew = Crew(app)
    assert crew.codes(crew.op(t=t), crew.op()) == ["bad_value", "ok"]


@pytest.mark.parametrize("clocks", [{"now": "soon"}, {"now": 1.5}, {"now": True},
                                    {"off_prev": "x"}])
def test_s17_clock_that_is_no_number_is_malformed(app, clocks):
    crew = Crew(app)
    with changes_nothing(app, crew):
        assert is_problem(crew.sync(crew.op(), **clocks), 400)["stop"] == "malformed"


def test_s18_claim_to_have_seen_the_future_is_ignored(app):
    crew = Crew(app)
    answer = crew.sync(crew.op(after="ffffffffffff.0000.aaaaaaaa")).json
    (result,) = answer["results"]
    assert result["sealed"]["g"] == 1 and int(result["sealed"]["at"][:12], 16) <= answer["now"]


def test_s19_numbers_skipped_repeated_or_none(app):
    crew = Crew(app)
    op = crew.op()
    with_gap = crew.sync({**op, "n": 3}).json
    assert with_gap["results"] == [] and with_gap["next_n"] == 1
    assert crew.codes(op) == ["ok"] and crew.codes(op) == ["dup"]
    with changes_nothing(app):
        assert crew.codes({**crew.op(), "n": 0}) == ["bad_shape"]
        assert crew.codes({**crew.op(), "n": 2**63}) == ["bad_shape"]
    assert is_problem(crew.sync({**crew.op(), "n": 1}), 409)["stop"] == "fork"


@pytest.mark.parametrize("text", ["../../etc/passwd", "%2e%2e%2f", "'; DROP TABLE log; --",
                                  "<script>alert(1)</script>", "\u202egnp.exe", "x" * 10_000])
def test_s20_ids_are_strict_and_texts_are_data(app, text):
    crew = Crew(app, "skipper")
    with changes_nothing(app):
        assert set(crew.codes(
            {**crew.op(), "id": text},
            crew.op("put", {**CELL, "part": f"part/{text}", "q": 1000}),
            crew.op("set", {"doc": text, "f": {"name": "x"}, "base": {}}))) == {"bad_shape"}
    if len(text) < 4000:
        assert crew.codes(crew.op("set", {"doc": PART, "f": {"note": text}, "base": {}})) == [
            "ok"]
        exported = json.loads(here(app).get("/api/export/json").get_data())
        assert text in json.dumps(exported, ensure_ascii=False).replace('\\"', '"')
    else:
        assert crew.codes(crew.op("set", {"doc": PART, "f": {"note": text}, "base": {}})) != [
            "ok"]


@pytest.mark.parametrize("name", ["__proto__", "constructor", "Gone", "x" * 40, "", "a b"])
def test_s21_field_names_that_reach_for_more_are_refused(app, name):
    crew = Crew(app, "skipper")
    with changes_nothing(app, crew):
        assert crew.codes(crew.op("set", {"doc": PART, "f": {name: 1}, "base": {}})) == [
            "bad_shape"]
