"""What holds for the stock whatever was recorded, in whatever order it arrives."""

from __future__ import annotations

import random
from collections import defaultdict
from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from spares.domain.book import group_parts, kept_names
from spares.domain.stock import Entry, effects, fold
from spares.domain.stock_growth import comes_on_top, shifted
from tests.conftest import LONG
from tests.histories import EPOCH, KINDS, entry, histories

WITHOUT_MERGING = tuple(kind for kind in KINDS if kind != "same")


@settings(max_examples=3_000 if LONG else 60)
@given(histories(60, least=60) if LONG else histories(),
       st.randoms(use_true_random=False), st.integers(0, 5))
def test_stock_does_not_depend_on_order_or_copies(history: list[Entry], rng: random.Random,
                                                  copies: int) -> None:
    expect = fold(history)
    for _ in range(3):
        shuffled = history + rng.choices(history, k=copies)
        rng.shuffle(shuffled)
        assert fold(shuffled) == expect


@given(histories())
def test_each_cell_folded_alone_is_the_cell_of_the_whole(history: list[Entry]) -> None:
    whole = fold(history)
    sames = [e for e in history if e.kind == "same"]
    groups = group_parts(sames)
    for key, cell in whole.items():
        names = groups.get(key[0], {key[0]})
        touching = {e.id for e in history for x in effects(e)
                    if x.part in names and (x.locker, x.lot) == key[1:]}
        about = touching | {e.id for e in sames}
        about |= {e.id for e in history if e.kind == "settle" and e.body["of"] in about}
        needed = [e for e in history if e.id in about or e in sames
                  or (e.kind == "void" and e.body["of"] in about)]
        assert fold(needed)[key] == cell


@given(histories())
def test_movement_after_all_counts_shifts_its_cell_as_a_whole(history: list[Entry]) -> None:
    whole = fold(history)
    named = {e.body[name] for e in history for name in ("of", "keep", "drop") if name in e.body}
    for movement in [e for e in history if e.kind != "counted" and e.id not in named]:
        before = fold([e for e in history if e is not movement])
        for one in effects(movement):
            key = (one.part, one.locker, one.lot)
            counts = [e for e in history if e.kind == "counted" and key == (
                e.body["part"], e.body["locker"], e.body.get("lot", ""))]
            if key in before and one.part not in named and comes_on_top(movement, counts):
                assert whole[key] == shifted(before[key], one.delta or 0)


@given(histories(kinds=WITHOUT_MERGING))
def test_stock_equals_the_obvious_way_of_counting(history: list[Entry]) -> None:
    found = {key: (cell.quantity, cell.low, cell.high, set(cell.doubts), set(cell.rivals))
             for key, cell in fold(history).items()}
    assert found == obvious(history)


@given(histories())
def test_range_holds_the_quantity_and_is_narrow_without_doubt(history: list[Entry]) -> None:
    for cell in fold(history).values():
        assert cell.low <= cell.quantity <= cell.high
        assert cell.doubts or cell.rivals or cell.low == cell.high
        assert (cell.flags == ("negative",)) == (cell.quantity < 0)


@given(histories(kinds=tuple(k for k in WITHOUT_MERGING if k != "settle")))
def test_count_swallows_nothing_made_by_one_who_had_seen_it(history: list[Entry]) -> None:
    # Stamps are true times here, so who had seen a count acted after it.
    undone = {e.body["of"] for e in history if e.kind == "void"}
    for key, cell in fold(history).items():
        found = [(e.at, x) for e in history if e.id not in undone for x in effects(e)
                 if (x.part, x.locker, x.lot) == key]
        counts = [(at, x.count) for at, x in found if x.count is not None]
        if counts:
            last, quantity = max(counts)
            assert cell.quantity == quantity + sum(x.delta or 0 for at, x in found if at > last)


@given(histories(kinds=("put", "took", "landed", "moved", "moved", "void")))
def test_moves_neither_make_nor_lose_a_piece(history: list[Entry]) -> None:
    undone = {e.body["of"] for e in history if e.kind == "void"}
    signs = {"put": 1, "took": -1, "landed": -1}
    added = sum(signs[e.kind] * e.body["q"] for e in history
                if e.kind in signs and e.id not in undone)
    assert sum(cell.quantity for cell in fold(history).values()) == added


@given(histories(kinds=("counted", "took", "put", "same")))
def test_merged_parts_stand_under_one_kept_name(history: list[Entry]) -> None:
    kept = kept_names(e for e in history if e.kind == "same")
    for part, _, _ in fold(history):
        assert kept.get(part, part) == part


@given(histories(kinds=("put", "took", "same")))
def test_merging_loses_no_piece(history: list[Entry]) -> None:
    apart = [e for e in history if e.kind != "same"]
    assert (sum(cell.quantity for cell in fold(history).values())
            == sum(cell.quantity for cell in fold(apart).values()))


@given(histories())
def test_merging_stamps_twice_is_merging_them_once(history: list[Entry]) -> None:
    earlier = [replace(e, at="000000000000.0000." + e.dev, pos={"e0": 1}) for e in history[:3]]
    restamps = [entry(f"r{e.id}", "S", n, "restamp", 10**6, 10**6, None, of=e.id, at=e.at, g=e.g,
                      pos={"e0": 1}) for n, e in enumerate(earlier, 1)]
    assert fold(history + earlier) == fold(earlier + history)
    assert fold(history + restamps + restamps) == fold(history + earlier)


def obvious(history: list[Entry]) -> dict[tuple[str, str, str], Any]:
    """Count in the plainest way: walk along the stamps, then ask about each pair."""
    undone = {e.body["of"] for e in history if e.kind == "void"}
    live = sorted((e for e in history if e.id not in undone), key=lambda e: e.at)
    answers = {(e.body["of"], e.body["count"]): e.body["side"]
               for e in live if e.kind == "settle"}
    cells: dict[tuple[str, str, str], list[tuple[Entry, int | None, int]]] = defaultdict(list)
    for e in live:
        for x in effects(e):
            cells[x.part, x.locker, x.lot].append((e, x.count, x.delta or 0))
    return {key: _obvious_cell(events, answers) for key, events in cells.items()}


def _obvious_cell(events: list[tuple[Entry, int | None, int]],
                  answers: dict[tuple[str, str], str]) -> Any:
    def unseen(a: Entry, b: Entry) -> bool:
        def knew(x: Entry, y: Entry) -> bool:
            return y.n < x.n if x.dev == y.dev else y.pos[EPOCH] <= x.seen["seq"]
        return not knew(a, b) and not knew(b, a)

    def vague(a: Entry, b: Entry) -> bool:
        apart = abs(int(a.at[:12], 16) - int(b.at[:12], 16))
        return unseen(a, b) and (apart <= 900_000 or a.g + b.g > 0)

    def later(e: Entry, count: Entry) -> bool:
        return {"before": False, "after": True}.get(answers.get((e.id, count.id), ""),
                                                    e.at > count.at)

    def if_last(count: Entry, q: int) -> tuple[int, int, int, set[str]]:
        total, low, high, open_ = q, 0, 0, set()
        for e, counted, delta in events:
            if counted is None:
                total += delta if later(e, count) else 0
                if vague(e, count) and (e.id, count.id) not in answers:
                    other_side = -delta if later(e, count) else delta
                    low, high = low + min(other_side, 0), high + max(other_side, 0)
                    open_.add(e.id)
        return total, total + low, total + high, open_

    counts = [(e, counted) for e, counted, _ in events if counted is not None]
    if not counts:
        total = sum(delta for _, _, delta in events)
        return total, total, total, set(), set()
    last, q = counts[-1]
    total, low, high, doubts = if_last(last, q)
    rivals = set()
    for other, found in counts[:-1]:
        between = sum(delta for e, counted, delta in events
                      if counted is None and later(e, other) and not later(e, last))
        if unseen(other, last) and found + between != q:
            rivals.add(other.id)
            if vague(other, last):
                _, other_low, other_high, _ = if_last(other, found)
                low, high = min(low, other_low), max(high, other_high)
    return total, low, high, doubts, rivals
