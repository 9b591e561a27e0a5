"""The history of a cell, and what a changed body does to several cells."""

from __future__ import annotations

from spares.domain.stock import Entry, effects, fold, ledger
from tests.histories import entry

KEY = ("P", "K", "")
CELL = {"part": "P", "locker": "K", "lot": ""}


def story() -> list[Entry]:
    return [entry("p", "A", 1, "put", 0, 1, None, **CELL, q=10_000),
            entry("t", "B", 1, "took", 30, 2, 1, **CELL, q=1000),
            entry("c", "A", 2, "counted", 60, 3, 2, **CELL, q=8000),
            entry("u", "A", 3, "took", 90, 4, 3, **CELL, q=2000)]


def test_history_says_what_the_count_contains_and_what_it_found_missing() -> None:
    lines = ledger(story(), KEY)
    assert [(line.id, line.absorbed) for line in lines] == [
        ("p", True), ("t", True), ("c", False), ("u", False)]
    # 10 put, 1 taken, so 9 were expected; 8 were found
    assert [line.difference for line in lines] == [None, None, -1000, None]


def test_first_count_differs_from_nothing_by_all_it_found() -> None:
    lines = ledger([entry("c", "A", 1, "counted", 0, 1, None, **CELL, q=8000)], KEY)
    assert lines[0].difference == 8000


def test_older_count_stays_in_the_history_as_contained() -> None:
    history = [*story(), entry("d", "A", 4, "counted", 99, 5, 4, **CELL, q=6000)]
    lines = {line.id: line for line in ledger(history, KEY)}
    assert lines["c"].absorbed and lines["u"].absorbed and not lines["d"].absorbed
    assert lines["d"].difference == 0


def test_undone_changes_are_not_in_the_history() -> None:
    history = [*story(), entry("v", "A", 4, "void", 99, 5, 4, of="u")]
    assert "u" not in [line.id for line in ledger(history, KEY)]


def test_count_of_a_merged_part_differs_from_both_piles() -> None:
    history = [entry("a", "A", 1, "counted", 0, 1, None, **{**CELL, "part": "P1"}, q=4000),
               entry("b", "B", 1, "counted", 30, 2, 0, **{**CELL, "part": "P2"}, q=2000),
               entry("s", "A", 2, "same", 60, 3, 2, keep="P1", drop="P2"),
               entry("c", "A", 3, "counted", 90, 4, 3, **{**CELL, "part": "P1"}, q=5000)]
    lines = {line.id: line for line in ledger(history, ("P1", "K", ""))}
    assert lines["c"].difference == -1000
    assert lines["b"].difference == 2000


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
