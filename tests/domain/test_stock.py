"""What a changed body does to several cells."""

from __future__ import annotations

from spares.domain.stock import effects, fold
from tests.histories import entry

CELL = {"part": "P", "locker": "K", "lot": ""}


def test_effects_name_each_cell_once() -> None:
    service = entry("s", "A", 1, "service", 0, 1, None, lines=[
        {**CELL, "q": 1000}, {**CELL, "q": 2000}, {**CELL, "locker": "L", "q": 500}])
    assert [(x.locker, x.delta, x.count) for x in effects(service)] == [
        ("K", -3000, None), ("L", -500, None)]


def test_exchange_of_a_piece_into_its_own_place_changes_nothing() -> None:
    exchange = entry("x", "A", 1, "exchange", 0, 1, None, point="F", part="P", old_part="P",
                     date="2027", old_to="K", **{"from": "K"})
    assert effects(exchange) == []
    assert fold([exchange]) == {}
