"""Does the phone know what the server lets each role write?"""

from __future__ import annotations

import shutil
from collections.abc import Iterator

import pytest

from spares.domain.draft import Draft
from spares.sync.bodies import KINDS
from spares.sync.rights import begins_lot, may_write
from tests.client.node_process import Node

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")

ID = "00000000-0000-4000-8000-0000000000f1"


@pytest.fixture
def node() -> Iterator[Node]:
    """The client's modules."""
    asked = Node("sync_answers.js")
    yield asked
    asked.close()


def test_phone_knows_what_each_role_may_record(node: Node) -> None:
    sets = [{"doc": f"{kind}/{ID}", "f": fields, "base": base}
            for kind in ("part", "lot", "locker", "order", "trail", "trail-place", "finding",
                         "drain-record", "joint", "gauge", "gauge-reading", "count-doubt",
                         "deck", "deck-line", "deck-place", "photo-mark")
            for fields in ({"note": "x"}, {"name": "x"}, {"note": "x", "condition": "new"},
                           {"what": "x", "missing": 1}, {"accepted": {}}, {"gone": True},
                           {"first_run": {}},
                           {"what": "x", "gone": False}, {"name": "x", "unit": "V"}, {"high": "1"})
            for base in ({}, {next(iter(fields)): [ID]})]
    changes = [Draft("set", body) for body in sets] + [Draft(kind, {}) for kind in KINDS
                                                       if kind != "set"]
    for role in ("skipper", "crew", "guest"):
        for grants in ((), ("take",)):
            for change in changes:
                wanted = may_write(role, grants, change) or begins_lot(role, change)
                told = node.ask("rights", role=role, grants=list(grants),
                                 change={"kind": change.kind, "body": change.body})["answer"]
                assert told == wanted, (role, grants, change)
