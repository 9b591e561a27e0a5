"""Does a phone call a trail closed exactly where the server does?"""

from __future__ import annotations

import random
import shutil
from typing import Any

import pytest

from spares.domain.trail import Said, state_of
from tests.client.node_process import Node

pytestmark = pytest.mark.skipif(shutil.which("node") is None, reason="no node on the PATH")


def _said(dice: random.Random) -> Said:
    def some(one: Any) -> tuple[Any, ...]:
        return tuple(one() for _ in range(dice.choice((1, 1, 2))))

    def look() -> Any:
        return dice.choice((None, *({"found": found} for found in range(3))))

    def accepted() -> Any:
        return dice.choice((None, None, *({"by": by, "why": "seen", "pieces": pieces}
                                          for by in ("Tove", "") for pieces in (None, 1, 2))))
    return Said(some(lambda: dice.choice((None, 1, 2, 3))),
                tuple(some(look) for _ in range(dice.randint(0, 3))), some(accepted),
                disputed=dice.choice(((), (), ("what",))))


def test_phone_and_server_call_the_same_trails_closed() -> None:
    dice = random.Random(20270315)
    asked = [_said(dice) for _ in range(3000)]
    node = Node("sync_answers.js")
    try:
        told = node.ask("trail-states", said=[one._asdict() for one in asked])["answer"]
    finally:
        node.close()
    assert told == [state_of(one) for one in asked]
    assert {*told} == {"open", "found", "accepted"}
