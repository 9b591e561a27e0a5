"""Does a phone without the server make the changes that the server would have made?

Each movement is asked of the server's own verb, which hands its drafts to a door that only
writes them down, and of the phone's; both know the demo vessel's whole log.
"""

from __future__ import annotations

import json
import random
import shutil
from collections.abc import Iterator, Sequence
from dataclasses import asdict
from datetime import date
from typing import Any

import pytest

from spares.actions.context import Context
from spares.actions.show import show
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.sync_store import SyncStore
from spares.domain.draft import Draft
from spares.domain.identity import id_of
from spares.errors import AskFirst, InvalidInput
from spares.sync.store import entries_of
from spares.web.verbs import perform
from tests.client.node_process import Node
from tests.conftest import LONG
from tests.stores import DAY_ZERO, make_demo

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

ID = "00000000-0000-4000-8000-0000000000f1"


class Watched(Context):
    """A context whose door only writes down what is handed to it."""

    handed: list[Draft] = []

    def write(self, drafts: Sequence[Draft]) -> list[Any]:
        self.handed.extend(drafts)
        return []


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Watched]:
    """The demo vessel at the server."""
    store = open_store(make_demo(tmp_path_factory.mktemp("verbs")))
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    yield Watched(store, vessel, date.fromisoformat(DAY_ZERO))
    store.close()


@pytest.fixture(scope="module")
def phone(server: Watched) -> Iterator[Node]:
    """The demo vessel's log on a phone."""
    node = Node("sync_answers.js")
    with server.store.reading() as session:
        log = SyncStore(session, server.vessel)
        entries = entries_of(log.rows(0, log.size()), log.epochs())
    assert node.ask("open", entries=[asdict(entry) for entry in entries])["answer"] > 100
    yield node
    node.close()


def _made_by_server(ctx: Watched, verb: str, body: dict[str, Any]) -> list[dict[str, Any]]:
    ctx.handed.clear()
    perform(ctx, verb, {**body, "change_id": ID})
    return [{"kind": one.kind, "body": dict(one.body)} for one in ctx.handed]


def _made_by_phone(node: Node, verb: str, body: dict[str, Any]) -> list[dict[str, Any]]:
    found = node.ask("drafts", path=f"do/{verb}", body=body, id=ID, today=DAY_ZERO)["answer"]
    assert found[0]["id"] == ID and len({one["id"] for one in found}) == len(found)
    return [{"kind": one["kind"], "body": one["body"]} for one in found]


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
    services = aboard.all("service")
    found += [("done", {"service": one.no, "at": DAY_ZERO, "kit": kit, "by": "Anna"})
              for one in services for kit in (True, False)]
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
    for verb, body in asked:
        ours = _made_by_server(server, verb, body)
        assert _in_order(_made_by_phone(phone, verb, body)) == _in_order(ours), (verb, body)


def test_phone_asks_about_the_readings_that_the_server_asks_about(
        server: Watched, phone: Node) -> None:
    outcomes = set()
    for one in server.aboard().all("machine"):
        for hours in ("1", "100", "650.5", "1912.4", "1930", "3110", "9000"):
            body = {"machine": one.no, "hours": hours, "at": DAY_ZERO}
            try:
                ours = _made_by_server(server, "reading", body)
            except AskFirst as err:
                outcomes.add("asked")
                told = phone.ask("drafts", path="do/reading", body=body, id=ID, today=DAY_ZERO)
                assert told == {"refused": "ask-first"}, (body, err.detail)
            except InvalidInput:
                told = phone.ask("drafts", path="do/reading", body=body, id=ID, today=DAY_ZERO)
                assert told == {"answer": None}, body
            else:
                outcomes.add("taken")
                assert _made_by_phone(phone, "reading", body) == ours
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
    for path, body in (("do/exchange", {"point": "ENG-04", "part": "P008"}),
                       ("do/put", {"part": "P034", "locker": "L17", "expires": "2031-06"}),
                       ("do/took", {"part": "P999", "locker": "L17"}), ("trips", {})):
        asked = phone.ask("drafts", path=path, body=body, id=ID, today=DAY_ZERO)
        assert asked == {"answer": None}, path


def test_an_undo_takes_the_whole_act_back(server: Watched, phone: Node) -> None:
    with server.store.reading() as session:
        log = SyncStore(session, server.vessel)
        rows = [envelope for _, envelope in log.rows(0, log.size())]
    of_a_file = next(one for one in rows if one.kind == "counted")
    asked = phone.ask("drafts", path="do/undo", body={"change": of_a_file.id}, id=ID,
                      today=DAY_ZERO)
    assert asked == {"answer": None}, "what came in a file goes back at the server"
    assert id_of(of_a_file.body["part"])
