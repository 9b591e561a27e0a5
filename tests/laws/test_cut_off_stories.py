"""What a store keeps of a few changes, cut into transactions: each rule by a story of its own."""

from __future__ import annotations

from typing import Any

import pytest

from spares.db.projection.stock import Key, StockProjection
from spares.domain.cut_off import CutOff
from tests.histories import entry
from tests.laws import test_cut_off_laws as cut_off_laws
from tests.laws.test_cut_off_laws import K, kept


def test_store_reads_a_cell_that_is_counted_from_its_last_count_on() -> None:
    history = [entry(f"x{at}", "A", at, kind, at, at, at - 1, **K, q=1000 * at)
               for at, kind in enumerate(("put", "took", "counted") * 5, 1)]
    cells, cut_offs = kept(history, list(range(len(history))))
    assert cells == {("P", "K", ""): (15_000, 15_000, 15_000, set(), set())}
    assert cut_offs == {("P", "K", ""): CutOff(14, history[13].at, {"A": 14})}  # all but the count


@pytest.mark.parametrize("is_office", [False, True])
def test_cell_is_read_whole_for_its_first_count_only(monkeypatch: pytest.MonkeyPatch,
                                                     is_office: bool) -> None:
    whole, refold = [], StockProjection._refold

    def watched(projection: StockProjection, keys: list[Key], *rest: Any) -> None:
        whole.extend(keys)
        refold(projection, keys, *rest)
    monkeypatch.setattr(StockProjection, "_refold", watched)
    monkeypatch.setattr(cut_off_laws, "rebuild", lambda *_: [])
    history = [entry(f"x{at}", "A", at, kind, at, at, at - 1, **K, q=1000 * at)
               for at, kind in enumerate(("put", "took", "counted") * 5, 1)]
    kept(history, list(range(len(history))), is_office=is_office)
    assert len(whole) == 2      # begun by the first movement, and counted for the first time


def test_count_by_one_who_had_not_seen_all_has_the_cell_read_whole() -> None:
    """9 were counted, or 6 before that by one who may not have known that 2 were taken."""
    history = [entry("t", "B", 1, "took", 100, 1, 0, **K, q=2000),
               entry("c", "A", 1, "counted", 103, 2, 1, **K, q=9000),
               entry("d", "C", 1, "counted", 102, 3, 0, **K, q=6000)]
    cells, cut_offs = kept(history, [2])
    assert cells == {("P", "K", ""): (9000, 4000, 9000, set(), {"d"})} and not cut_offs


def test_undoing_shifts_a_cell_and_takes_away_one_that_nothing_else_touches() -> None:
    history = [entry("p", "A", 1, "put", 1, 1, 0, **K, q=5000),
               entry("t", "A", 2, "took", 2, 2, 1, **K, q=1000),
               entry("v", "A", 3, "void", 3, 3, 2, of="t"),
               entry("w", "B", 1, "void", 4, 4, 3, of="t")]       # once more, by another
    assert kept(history[:3], [1, 2])[0] == {("P", "K", ""): (5000, 5000, 5000, set(), set())}
    assert kept(history, [1, 2, 3])[0] == {("P", "K", ""): (5000, 5000, 5000, set(), set())}
    last = entry("x", "A", 4, "void", 5, 5, 4, of="p")
    assert kept([*history, last], [1, 2, 3, 4])[0] == {}


def test_undoing_what_was_asked_about_takes_the_answer_with_it() -> None:
    history = [entry("p", "B", 1, "put", 100, 1, 0, **K, q=2000),
               entry("c", "A", 1, "counted", 101, 2, 0, **K, q=3000),
               entry("s", "A", 2, "settle", 102, 3, 2, of="p", count="c", side="after"),
               entry("v", "A", 3, "void", 103, 4, 3, of="p")]
    assert kept(history[:3], [1, 2])[0] == {("P", "K", ""): (5000, 5000, 5000, set(), set())}
    assert kept(history, [1, 2, 3])[0] == {("P", "K", ""): (3000, 3000, 3000, set(), set())}


def test_movement_beside_an_answer_waits_for_the_answer() -> None:
    history = [entry("p", "B", 1, "put", 100, 1, 0, **K, q=2000),
               entry("c", "A", 1, "counted", 101, 2, 0, **K, q=3000),
               entry("s", "A", 2, "settle", 102, 3, 2, of="p", count="c", side="after"),
               entry("t", "A", 3, "took", 103, 4, 3, **K, q=1000)]
    assert kept(history, [2])[0] == {("P", "K", ""): (4000, 4000, 4000, set(), set())}


def test_movement_of_a_merged_part_is_held_against_counts_under_its_other_name() -> None:
    other = {**K, "part": "Q"}
    history = [entry("p", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("q", "A", 2, "put", 101, 2, 1, **other, q=2000),
               entry("s", "A", 3, "same", 102, 3, 2, keep="P", drop="Q"),
               entry("c", "B", 1, "counted", 103, 4, 3, **other, q=5000),
               entry("t", "C", 1, "took", 104, 5, 3, **K, q=1000)]
    assert kept(history, [3, 4])[0] == {("P", "K", ""): (4000, 4000, 5000, {"t"}, set())}


def test_cells_of_a_merged_part_have_no_cut_off() -> None:
    history = [entry("p", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("c", "A", 2, "counted", 101, 2, 1, **K, q=1000),
               entry("s", "A", 3, "same", 102, 3, 2, keep="P", drop="Q")]
    assert len(kept(history[:2], [])[1]) == 1
    assert kept(history, [2])[1] == {}


def test_parts_that_are_not_the_same_after_all_are_counted_apart_again() -> None:
    other = {**K, "part": "Q"}
    history = [entry("p", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("q", "A", 2, "put", 101, 2, 1, **other, q=1000),
               entry("s", "A", 3, "same", 102, 3, 2, keep="P", drop="Q"),
               entry("v", "A", 4, "void", 103, 4, 3, of="s")]
    assert kept(history[:3], [2])[0] == {("P", "K", ""): (3000, 3000, 3000, set(), set())}
    assert kept(history, [2, 3])[0] == {("P", "K", ""): (2000, 2000, 2000, set(), set()),
                                        ("Q", "K", ""): (1000, 1000, 1000, set(), set())}


def test_what_moved_between_two_cells_lies_before_the_cut_off_of_one_of_them() -> None:
    left = {**K, "locker": "L"}
    history = [entry("a", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("b", "A", 2, "counted", 101, 2, 1, **K, q=2000),
               entry("m", "A", 3, "moved", 102, 3, 2, part="P", to="L", lot="", q=1000,
                     **{"from": "K"}),
               entry("d", "A", 4, "counted", 103, 4, 3, **left, q=1000),
               entry("e", "A", 5, "put", 104, 5, 4, **left, q=2000),
               entry("f", "A", 6, "counted", 109, 6, 5, **left, q=3000),
               entry("g", "A", 7, "counted", 110, 7, 6, **K, q=1000),
               entry("h", "B", 1, "counted", 108, 8, 5, **left, q=3000)]   # the same, at once
    cells, cut_offs = kept(history, [2, 3, 4, 5, 6])
    assert cells == {("P", "K", ""): (1000, 1000, 1000, set(), set()),
                     ("P", "L", ""): (3000, 3000, 3000, set(), set())}
    assert {key[1]: one.seq for key, one in cut_offs.items()} == {"K": 3, "L": 5}


def test_what_was_undone_before_it_came_is_not_counted() -> None:
    history = [entry("a", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("v", "B", 2, "void", 103, 2, 1, of="p"),
               entry("p", "B", 1, "put", 102, 3, 1, **K, q=5000)]
    assert kept(history, [1, 2])[0] == {("P", "K", ""): (2000, 2000, 2000, set(), set())}


def test_answer_that_is_taken_back_opens_the_doubt_again() -> None:
    history = [entry("p", "B", 1, "put", 100, 1, 0, **K, q=2000),
               entry("c", "A", 1, "counted", 101, 2, 0, **K, q=3000),
               entry("s", "A", 2, "settle", 102, 3, 2, of="p", count="c", side="after"),
               entry("v", "A", 3, "void", 103, 4, 3, of="s")]
    assert kept(history, [1, 2, 3])[0] == {("P", "K", ""): (3000, 3000, 5000, {"p"}, set())}


def test_count_that_is_undone_draws_no_cut_off() -> None:
    history = [entry("p", "A", 1, "put", 100, 1, 0, **K, q=2000),
               entry("c", "A", 2, "counted", 101, 2, 1, **K, q=1000),
               entry("t", "A", 3, "took", 102, 3, 2, **K, q=1000),
               entry("d", "A", 4, "counted", 103, 4, 3, **K, q=5000),
               entry("v", "A", 5, "void", 104, 5, 4, of="d")]
    assert kept(history[:4], [3])[1][("P", "K", "")].seq == 3
    cells, cut_offs = kept(history, [3, 4])
    assert cells == {("P", "K", ""): (0, 0, 0, set(), set())}
    assert cut_offs[("P", "K", "")].seq == 1        # of the count that stands


def test_answer_that_was_taken_back_forbids_no_cut_off() -> None:
    history = [entry("c", "A", 1, "counted", 100, 1, 0, **K, q=3000),
               entry("p", "B", 1, "put", 101, 2, 0, **K, q=2000),
               entry("d", "A", 2, "counted", 130, 3, 2, **K, q=5000),
               entry("s", "A", 3, "settle", 131, 4, 3, of="p", count="d", side="before")]
    void = entry("v", "A", 4, "void", 132, 5, 4, of="s")
    assert kept(history, [3])[1] == {}
    assert kept([*history, void], [3, 4])[1][("P", "K", "")].seq == 2
