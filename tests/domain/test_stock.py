"""What a changed body does to several cells, and which movements cannot just be added up."""

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


def test_what_lies_between_two_counts_apart_says_whether_they_contradict_each_other() -> None:
    """C stows two; A, who knows of nothing, had counted 5 before; B, who saw it, counts 7."""
    told = [entry("put", "C", 1, "put", 20, 1, None, **CELL, q=2000),
            entry("seven", "B", 1, "counted", 30, 2, 1, **CELL, q=7000),
            entry("five", "A", 1, "counted", 10, 3, None, **CELL, q=5000)]
    found = fold(told)["P", "K", ""]
    assert (found.quantity, found.rivals) == (7000, ())


def test_a_count_of_one_record_swallows_nothing_of_the_other_that_is_the_same_part() -> None:
    """Three are stowed as P; A, who saw it, counts four as Q; only then P and Q are one part."""
    told = [entry("put", "B", 1, "put", 10, 1, None, **CELL, q=3000),
            entry("count", "A", 1, "counted", 20, 2, 1, **{**CELL, "part": "Q"}, q=4000),
            entry("same", "A", 2, "same", 30, 3, 2, keep="P", drop="Q")]
    found = fold(told)["P", "K", ""]
    assert (found.quantity, found.low, found.high) == (7000, 7000, 7000)


def test_what_somebody_said_holds_of_a_movement_that_the_count_knew_of_too() -> None:
    """One is taken before A counts four and knows of it; asked, A says that it was taken after."""
    told = [entry("took", "B", 1, "took", 10, 1, None, **CELL, q=1000),
            entry("count", "A", 1, "counted", 20, 2, 1, **CELL, q=4000)]
    assert fold(told)["P", "K", ""].quantity == 4000
    told.append(entry("said", "A", 2, "settle", 30, 3, 2, of="took", count="count", side="after"))
    assert fold(told)["P", "K", ""].quantity == 3000
