"""Does a phone without the server gather kits into bags and put them back as the server does?

Each act is drafted on a phone, from a copy of the demo vessel's log as it stands, and made at the
server: both write the same. What has to come out of it is said in tests/actions/test_kits.py.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Iterator
from dataclasses import asdict
from datetime import date
from typing import Any
from uuid import uuid4

import pytest

from spares.actions.card import card
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.db.engine import open_store
from spares.db.find import vessels
from spares.db.sync_store import SyncStore
from spares.errors import Conflict, InvalidInput
from spares.sync.store import entries_of
from spares.web.verbs import perform
from tests.client.node_process import Node
from tests.stores import DAY_ZERO, make_demo

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

Acts = list[tuple[str, dict[str, Any]]]


def book(kind: str, called: str, **fields: Any) -> tuple[str, dict[str, Any]]:
    """Change a document; its own name is looked up when it comes to it."""
    return "documents", {"kind": kind, "called": called, "fields": fields}


LENT_OUT: Acts = [
    ("pick", {"service": "S22"}),
    ("lent", {"part": "P037", "locker": "BAG-S22", "who": "Jörg"}),
    ("moved", {"part": "P037", "from": "LENT1", "to": "BAG-S22", "quantity": 1}),
    ("put-back", {"service": "S22"}), book("locker", "BAG-S22", gone=True),
    ("pick", {"service": "S22"})]
LOCKER_GONE: Acts = [
    ("pick", {"service": "S08"}), book("locker", "L04", gone=True),
    ("put-back", {"service": "S08"}), ("put-back", {"service": "S08"}),
    ("put", {"part": "P016", "locker": "L07", "quantity": 1}),
    ("put-back", {"service": "S08"})]
RENUMBERED: Acts = [
    ("pick", {"service": "S22"}), book("service", "S22", no="S99"),
    ("put-back", {"service": "S99"}), ("pick", {"service": "S99"}),
    book("service", "S99", gone=True), ("put-back", {"service": "BAG-S22"}),
    ("put-back", {"service": "BAG-S22"})]


PICKED, DONE = (f"00000000-0000-4000-8000-00000000c0d{end}" for end in "01")
TAKEN_BACK: Acts = [
    ("pick", {"service": "S08", "change_id": PICKED}),
    ("done", {"service": "S08", "at": DAY_ZERO, "change_id": DONE}),
    ("undo", {"change": PICKED}), ("undo", {"change": DONE}), ("undo", {"change": PICKED})]


@pytest.fixture
def both(tmp_path: Any) -> Iterator[tuple[Context, Node]]:
    store = open_store(make_demo(tmp_path))
    with store.reading() as session:
        vessel = vessels(session)[0][0]
    node = Node("sync_answers.js")
    try:
        yield Context(store, vessel, date.fromisoformat(DAY_ZERO)), node
    finally:
        node.close()
        store.close()


def _log(ctx: Context, after: int = 0) -> list[dict[str, Any]]:
    with ctx.store.reading() as session:
        log = SyncStore(session, ctx.vessel)
        return [asdict(one) for one in entries_of(log.rows(after, log.size()), log.epochs())]


def _act(ctx: Context, node: Node, size: int, verb: str, body: dict[str, Any]) -> None:
    """Let the server act, and hold what the phone would do to what stands in her log by now."""
    if verb == "documents":                 # written at the boat's computer alone
        write_document(ctx, body["kind"], body["fields"],
                       doc=ctx.named(body["called"], "doc", body["kind"]))
        return
    ident = body.get("change_id", str(uuid4()))
    told = node.ask("drafts", path=f"do/{verb}", body=body, id=ident, today=DAY_ZERO)
    try:
        perform(ctx, verb, {**body, "change_id": ident})
    except (Conflict, InvalidInput) as err:
        assert told == {"refused": err.code}, (verb, body, told)
    else:
        assert _plain(told["answer"]) == _plain(_log(ctx, size)), (verb, body)


def _plain(changes: list[dict[str, Any]]) -> list[Any]:
    """Give what changes say; the lines of a service are one act, in whatever order."""
    return [(one["kind"], {**one["body"], "lines": sorted(one["body"].get("lines", []), key=str)})
            for one in changes]


@pytest.mark.parametrize("acts", [[*TAKEN_BACK, *LENT_OUT, *LOCKER_GONE], RENUMBERED],
                         ids=["lent, and a locker gone", "renumbered"])
def test_phone_and_server_put_kits_into_bags_and_back_alike(both: Any, acts: Acts) -> None:
    ctx, node = both
    before = json.loads(json.dumps(card(ctx, "S08")))
    for verb, body in acts:
        log = _log(ctx)
        node.ask("open", entries=log)
        ours = node.ask("now", answer=before, today=DAY_ZERO)["answer"]["bag"]
        assert ours == card(ctx, "S08")["bag"], (verb, body)
        _act(ctx, node, len(log), verb, body)
