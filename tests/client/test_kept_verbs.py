"""Does a phone without the server make the changes that the server would have made?

Each movement is asked of the server's own verb, which hands its drafts to a door that only
writes them down, and of the phone's; both know the demo vessel's whole log.
"""

from __future__ import annotations

import json
import random
import shutil
from typing import Any

import pytest

from spares.actions.beginning import begin_machine, sets_to_choose
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.show import show
from spares.db.sync_store import SyncStore
from spares.domain.aboard import name_of
from spares.domain.codes import is_code
from spares.domain.identity import id_of
from spares.domain.tree import is_live
from spares.errors import AskFirst, Conflict, InvalidInput
from tests.client.kept_server import (
    ID,
    TO_UNDO,
    Handed,
    Watched,
    based,
    made_by_phone,
    made_by_server,
)
from tests.client.node_process import Node
from tests.client.trail_acts import TRAILED
from tests.client.upkept import UPKEPT
from tests.conftest import LONG
from tests.stores import DAY_ZERO

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


def _requests(ctx: Context) -> list[tuple[str, dict[str, Any]]]:
    aboard = ctx.aboard()
    found: list[tuple[str, dict[str, Any]]] = []
    for part, lying in aboard.lying_of.items():
        for locker in sorted({one.locker for one in lying}):
            at = {"part": aboard.label(part), "locker": aboard.label(locker)}
            there = sum(one.quantity for one in lying if one.locker == locker) // 1000
            found += [("took", {**at, "quantity": n}) for n in (1, max(there, 1), there + 2)]
            found += [("counted", {**at, "quantity": n}) for n in (0, max(there - 1, 0), there + 3)]
            found.append(("landed", {**at, "quantity": 1, "note": "fell overboard"}))
            found.append(("put", {**at, "quantity": 2}))
            to = "L03" if at["locker"] != "L03" else "L04"
            found.append(("moved", {"part": at["part"], "from": at["locker"], "to": to,
                                    "quantity": max(there, 1)}))
    return found


def _in_order(made: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Put the lines of a service in one order: they are one act, and all of it holds or none."""
    for one in made:
        if "lines" in one["body"]:
            one["body"]["lines"].sort(key=lambda line: (line["part"], line["locker"], line["lot"]))
    return made


def test_phone_makes_the_changes_that_the_server_would_make(server: Watched, phone: Node) -> None:
    asked = _requests(server)
    asked = asked if LONG else random.Random(20270315).sample(asked, 120)
    asked += [("done", {"service": one.no, "at": DAY_ZERO, "kit": kit, "by": "Anna"})
              for one in server.aboard().all("service") for kit in (True, False)]
    for verb, body in asked:
        ours = made_by_server(server, verb, body)
        assert _in_order(made_by_phone(phone, verb, body)) == _in_order(ours), (verb, body)


def test_phone_asks_about_the_readings_that_the_server_asks_about(
        server: Watched, phone: Node) -> None:
    outcomes = set()
    for one in server.aboard().all("machine"):
        for hours in ("1", "100", "650.5", "1912.4", "1930", "3110", "9000"):
            body = {"machine": one.no, "hours": hours, "at": DAY_ZERO}
            try:
                ours = made_by_server(server, "reading", body)
            except AskFirst as err:
                outcomes.add("asked")
                told = phone.ask("drafts", path="do/reading", body=body, id=ID, today=DAY_ZERO)
                assert told == {"refused": "ask-first"}, (body, err.detail)
            except InvalidInput:
                told = phone.ask("drafts", path="do/reading", body=body, id=ID, today=DAY_ZERO)
                assert told == {"answer": None}, body
            else:
                outcomes.add("taken")
                assert made_by_phone(phone, "reading", body) == ours
    assert outcomes == {"asked", "taken"}


def test_counts_of_now_leave_an_answer_that_is_up_to_date_as_it_is(
        server: Watched, phone: Node) -> None:
    aboard = server.aboard()
    things = [("part", one.no) for one in aboard.all("part")]
    things += [("locker", one.no) for one in aboard.all("locker")]
    things += [("service", one.no) for one in aboard.all("service")]
    things = things if LONG else random.Random(20270316).sample(things, 60)
    for kind, no in things:
        answer = json.loads(json.dumps(show(server, no, kind)))
        now = phone.ask("counts", answer=answer, today=DAY_ZERO)["answer"]
        assert now == answer, f"{kind} {no}"


def test_what_needs_the_server_is_left_to_it(phone: Node) -> None:
    for path, body in (("do/took", {"part": "P999", "locker": "L17"}), ("trips", {}),
                       ("do/want-trip", {"trip": "T1"}), ("do/same", {"keep": "P1", "drop": "P2"}),
                       ("documents", {"kind": "part", "fields": {"maker": "Nobody"}}),
                       ("documents", {"kind": "part", "fields": {"name": "Bolt", "pack": 2000}}),
                       ("documents", {"kind": "spec", "fields": {"part": "part/x"}})):
        asked = phone.ask("drafts", path=path, body=body, id=ID, today=DAY_ZERO)
        assert asked == {"answer": None}, path


def _exchanges(ctx: Context) -> list[tuple[str, dict[str, Any]]]:
    """Exchanges at every fit point: what may sit there comes from its locker or from nowhere."""
    aboard, found = ctx.aboard(), []
    parts = [aboard.label(name_of("part", one)) for one in aboard.all("part")]
    for place, point in enumerate(aboard.all("point")):
        for step in range(3):
            part = parts[(place * 7 + step * 31) % len(parts)]
            lying = aboard.lying_of.get(ctx.named(part, "part", "part"), [])
            body = {"point": point.no, "part": part, "why": ("worn", "failed", None)[step],
                    "old_to": ("landed", "L03", None)[step],
                    "from": aboard.label(lying[0].locker) if lying and step < 2 else None}
            found.append(("exchange", {k: v for k, v in body.items() if v is not None}))
    inside = sorted({aboard.label(one.part) for one in aboard.all("inner")})
    live = [one.no for one in aboard.all("point") if is_live(aboard, one)]
    found += [("exchange", {"point": live[place], "part": part, "old_to": "L04",
                            "old_condition": "used-good"}) for place, part in enumerate(inside)]
    return found


NOTED = [
    ("put", {"part": "P034", "locker": "L17", "expires": "2031-06"}),
    ("put", {"part": "P034", "locker": "L17", "expires": "2031-06", "condition": "used-good"}),
    ("put", {"part": "P041", "locker": "L17", "condition": "suspect", "quantity": 2}),
    ("moved", {"part": "P041", "from": "L17", "to": "L17", "to_condition": "suspect"}),
    ("moved", {"part": "P034", "from": "L17", "to": "L03", "to_condition": "used-good"}),
    ("moved", {"part": "P041", "from": "L17", "to": "L17"}),
    ("lent", {"part": "P041", "locker": "L17", "who": " Jörg of the next berth "}),
    ("lent", {"part": "P034", "locker": "L17", "who": "Anna", "quantity": 2}),
    ("lent", {"part": "P034", "locker": "L17", "who": "Anna", "back_by": "2027-05-01"}),
    ("lent", {"part": "P034", "locker": "L17", "who": "Anna", "back_by": "2027-03-14"}),
    ("left-over", {"part": "P016", "choice": "give", "note": " to the yard "}),
    ("left-over", {"part": "P034", "choice": "open"}),
    ("accept", {"trip": "T1", "part": "P041", "by": "Anna", "note": "rarely fails"}),
    ("accept", {"trip": "T1", "part": "P034", "by": "Ben", "at": "2027-03-01"}),
    ("accept", {"trip": "T1", "part": "P034", "taken_back": True}),
    ("accept", {"trip": "T1", "part": "P055", "taken_back": True}),
    ("want", {"part": "P034", "quantity": 2, "trip": "T1"}),
    ("want", {"part": "P041", "seller": "Quay shop", "note": "ask for two"}),
    ("ordered", {"orders": ["O1"], "promised_on": "2027-05-01"}),
    ("ordered", {"orders": ["O1", "O2"], "at": "2027-03-10"}),
    ("arrived", {"order": "O2", "quantity": 3}), ("arrived", {"order": "O2", "at": "2027-03-14"}),
    ("stowed", {"order": "O3", "locker": "L17"}),
    ("stowed", {"order": "O2", "locker": "L03", "quantity": 2, "expires": "2030-01"}),
    ("cancel-order", {"order": "O1", "note": "sold out"}), ("cancel-order", {"order": "O2"}),
    ("ordered", {"orders": ["O4"]}), ("arrived", {"order": "O5"}),
    ("same", {"keep": "P034", "drop": "P041"}), ("same", {"keep": "P034", "drop": "P034"}),
    *TRAILED, *UPKEPT]


def _same_or_refused(server: Watched, phone: Node, verb: str, body: dict[str, Any]) -> str:
    """Ask both; they make the same changes, or both refuse what cannot be."""
    try:
        ours = made_by_server(server, verb, body)
    except (AskFirst, InvalidInput, Conflict) as err:
        told = phone.ask("drafts", path=f"do/{verb}", body=body, id=ID, today=DAY_ZERO)
        assert told in ({"refused": err.code}, {"answer": None}), (verb, body, told)
        return "refused"
    assert made_by_phone(phone, verb, body) == ours, (verb, body)
    return "made"


def test_phone_writes_documents_and_exchanges_as_the_server_would(
        server: Watched, phone: Node) -> None:
    exchanges = _exchanges(server)
    asked = NOTED + (exchanges if LONG else random.Random(20270317).sample(exchanges, 90))
    outcomes = [_same_or_refused(server, phone, verb, body) for verb, body in asked]
    assert outcomes.count("made") > 60 and "refused" in outcomes


def test_phone_takes_back_what_the_server_would_take_back(server: Watched, phone: Node) -> None:
    outcomes = [_same_or_refused(server, phone, "undo", {"change": change}) for change in TO_UNDO]
    # the sale of P016 was set again since; that stands on it
    assert outcomes == ["made", "refused", *["made"] * 6]


def test_phone_writes_what_an_engine_burns_as_the_server_would(
        server: Watched, phone: Node) -> None:
    doc = name_of("machine", next(one for one in server.aboard().all("machine")
                                  if one.no == "ENG"))
    body = {"kind": "machine", "doc": doc,
            "fields": {"burns": {"at_kn": 5.5, "l_per_h": 3, "idle_l_per_h": 0.8}}}
    told = phone.ask("drafts", path="documents", body=body, id=ID, today=DAY_ZERO)["answer"]
    server.handed.clear()
    with pytest.raises(Handed):
        write_document(server, "machine", body["fields"], doc=doc, change_id=ID)
    assert [one["body"] for one in told] == [based(server, one) for one in server.handed]


def _writes_a_document(server: Watched, phone: Node, kind: str, fields: dict[str, Any]) -> None:
    told = phone.ask("drafts", path="documents", body={"kind": kind, "fields": fields}, id=ID,
                     today=DAY_ZERO)["answer"]
    server.handed.clear()
    with pytest.raises(Handed):
        write_document(server, kind, fields, change_id=ID)
    assert [one["body"] for one in told] == [based(server, one) for one in server.handed]


def test_phone_begins_parts_and_numbers_as_the_server_would(
        server: Watched, phone: Node) -> None:
    _writes_a_document(server, phone, "part", {"no": "P777", "name": "Cover plate",
                                               "maker": "Ostrel", "unit": "pcs"})
    part = server.named("P034", "part", "part")
    for more in ({"what": "barcode"}, {"maker": "Ostrel", "what": "cross"}):
        _writes_a_document(server, phone, "number", {"part": part, "number": "4006381333931",
                                                     **more})


def test_two_phones_that_are_away_give_new_parts_different_numbers(phone: Node) -> None:
    def begun_on(dev: str) -> tuple[str, str]:
        [one] = phone.ask("drafts", path="documents", id=ID, today=DAY_ZERO, dev=dev, body={
            "kind": "part", "fields": {"name": "Bolt"}})["answer"]
        return one["body"]["f"]["no"], one["body"]["doc"]
    (here, doc), (there, other) = begun_on("k3f7a2xq"), begun_on("k3g7a2xq")
    assert (here, there) == ("P122-K3F", "P122-K3G") and doc != other     # P121 came with a slip


def _by_number(bodies: list[dict[str, Any]], end: str) -> tuple[str, list[Any]]:
    """Give the bodies with numbers for names, without a phone's own end; and the code."""
    code = bodies[0]["f"].pop("code")
    text = json.dumps(bodies)
    for body in bodies:
        text = text.replace(body["doc"], body["f"]["no"])
    return code, json.loads(text.replace(end, ""))


def test_phone_begins_a_machine_as_the_server_would_but_for_its_own_numbers_and_code(
        server: Watched, phone: Node) -> None:
    codes = {one.code for kind in ("locker", "machine") for one in server.aboard().all(kind)}
    given = []
    for starter, points in (("diesel-engine", [7, 1, 3]), ("outboard", None)):
        body = {"starter": starter, "name": " Spare ", "place": None, "points": points}
        server.handed.clear()
        with pytest.raises(Handed):
            begin_machine(server, **body, change_id=ID)
        _, ours = _by_number([based(server, one) for one in server.handed], "")
        known = next(one for one in sets_to_choose()["sets"] if one["id"] == starter)
        for dev in ("k3f7a2xq", "k3g7a2xq"):
            told = phone.ask("drafts", path="begin/machine", body=body, id=ID, today=DAY_ZERO,
                             dev=dev, known=json.loads(json.dumps(known)))["answer"]
            end = f"-{dev[:3].upper()}"
            assert told[0]["body"]["f"]["no"].endswith(end)
            code, theirs = _by_number([one["body"] for one in told], end)
            assert theirs == ours and is_code(code) and code not in codes
            given.append((dev, code))
    assert len(set(given)) == len({code for _, code in given}) == 2     # each from its own place
    assert phone.ask("drafts", path="begin/machine", body=body, id=ID, today=DAY_ZERO) == {
        "answer": None}, "without the set on the screen the server is asked"


def test_number_that_is_taken_is_refused_on_the_phone_too(phone: Node) -> None:
    body = {"kind": "part", "fields": {"no": "P034", "name": "Bolt"}}
    assert phone.ask("drafts", path="documents", body=body, id=ID, today=DAY_ZERO) == {
        "refused": "conflict"}


def test_an_undo_takes_the_whole_act_back(server: Watched, phone: Node) -> None:
    with server.store.reading() as session:
        log = SyncStore(session, server.vessel)
        rows = [envelope for _, envelope in log.rows(0, log.size())]
    of_a_file = next(one for one in rows if one.kind == "counted")
    asked = phone.ask("drafts", path="do/undo", body={"change": of_a_file.id}, id=ID,
                      today=DAY_ZERO)
    assert asked == {"answer": None}, "what came in a file goes back at the server"
    assert id_of(of_a_file.body["part"])
