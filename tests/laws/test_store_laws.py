"""Random histories through the real door: counts, replay, rebuild."""

from __future__ import annotations

import json
import random
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sqlmodel import select

from spares.db.door import found_vessel, relay, submit
from spares.db.dump import differences, logical_dump
from spares.db.engine import Store, open_store
from spares.db.load import load_aboard
from spares.db.rebuild import rebuild
from spares.db.tables import CellRow, Logbook, LogEntry, Sameness
from spares.domain.draft import Draft, setting
from spares.domain.identity import numbered_id, ref
from spares.domain.stock import Entry, fold
from spares.sync.change import Change, Envelope, read_envelope, seal
from tests.conftest import LONG
from tests.histories import entry, histories, stamp_at
from tests.stores import QUICK

VESSEL = "11111111-1111-4111-8111-111111111111"
WALL_MS = 1_800_000_000_000
#: Doubts, their answers, and answers that are taken back.
DOUBTS = ("took", "counted", "settle", "void")
HISTORIES = 1500 if LONG else 20        # each writes a store of its own
PARTS = [ref("part", numbered_id(VESSEL, "part", f"P{i}")) for i in range(2)]
LOCKERS = [ref("locker", numbered_id(VESSEL, "locker", f"L{i}")) for i in range(2)]

steps = st.one_of(
    st.tuples(st.sampled_from(["took", "put", "landed", "counted"]), st.integers(0, 1),
              st.integers(0, 1), st.integers(1, 9)),
    st.tuples(st.just("moved"), st.integers(0, 1), st.integers(0, 1), st.integers(1, 9)),
    st.tuples(st.just("void"), st.integers(0, 40), st.just(0), st.just(0)),
    st.tuples(st.just("name"), st.integers(0, 1), st.integers(0, 5), st.just(0)))


@cache
def empty_file() -> bytes:
    """Give the file of a fresh store with the vessel, made once."""
    with tempfile.TemporaryDirectory(dir=QUICK) as folder:
        store = open_store(path := Path(folder) / "spares.sqlite")
        with store.writing() as session:
            found_vessel(session, VESSEL)
        store.close()
        return path.read_bytes()


@contextmanager
def a_store(key_of: Store | None = None) -> Iterator[Store]:
    """Open a fresh store with the vessel; with the key of another, for its envelopes."""
    with tempfile.TemporaryDirectory(dir=QUICK) as folder:
        path = Path(folder) / "spares.sqlite"
        path.write_bytes(empty_file())
        store = open_store(path)
        if key_of is not None:
            with key_of.reading() as other, store.writing() as session:
                session.get(Logbook, VESSEL).key = other.get(Logbook, VESSEL).key
        yield store
        store.close()


def drafts_of(history: list[tuple[str, int, int, int]]) -> list[tuple[str, Draft]]:
    """Draft a random history; a void names an earlier movement, if there is one."""
    drafts: list[tuple[str, Draft]] = []
    for i, (kind, first, second, q) in enumerate(history):
        ident = f"00000000-0000-4000-8000-{i:012}"
        if kind == "void":
            earlier = [one for one, draft in drafts if draft.kind not in ("void", "set")]
            if earlier:
                drafts.append((ident, Draft("void", {"of": earlier[first % len(earlier)]}, ident)))
        elif kind == "name":
            drafts.append((ident, Draft("set", {"doc": PARTS[first], "f": {"name": f"n{second}"}},
                                        ident)))
        elif kind == "moved":
            drafts.append((ident, Draft("moved", {
                "part": PARTS[first], "from": LOCKERS[second], "to": LOCKERS[1 - second],
                "lot": "", "q": q * 1000}, ident)))
        else:
            drafts.append((ident, Draft(kind, {"part": PARTS[first], "locker": LOCKERS[second],
                                               "lot": "", "q": q * 1000}, ident)))
    return drafts


def plain_count(drafts: list[tuple[str, Draft]]) -> dict[tuple[str, str], int]:
    """Count by hand: one device, one order, so the last count holds and the rest adds up."""
    voided = {draft.body["of"] for _, draft in drafts if draft.kind == "void"}
    cells: dict[tuple[str, str], int] = {}
    for ident, draft in drafts:
        body = draft.body
        if ident in voided or draft.kind in ("void", "set"):
            continue
        if draft.kind == "moved":
            for end, sign in (("from", -1), ("to", 1)):
                key = body["part"], body[end]
                cells[key] = cells.get(key, 0) + sign * body["q"]
            continue
        key = body["part"], body["locker"]
        if draft.kind == "counted":
            cells[key] = body["q"]
        else:
            cells[key] = cells.get(key, 0) + body["q"] * (1 if draft.kind == "put" else -1)
    return cells


def written(store: Store, drafts: list[tuple[str, Draft]], cuts: list[int]) -> None:
    """Write the drafts in order, in transactions cut at random."""
    edges = sorted({0, len(drafts), *(cut % (len(drafts) + 1) for cut in cuts)})
    for start, end in zip(edges, edges[1:], strict=False):
        with store.writing() as session:
            submit(session, VESSEL, [draft for _, draft in drafts[start:end]], wall_ms=WALL_MS)


def dump(store: Store) -> dict[str, Any]:
    """Give what all tables made from the log say."""
    with store.reading() as session:
        return logical_dump(session, VESSEL)


@settings(max_examples=HISTORIES)
@given(st.lists(steps, max_size=25), st.lists(st.integers(0, 50), max_size=4))
def test_counts_equal_a_count_by_hand(history: list[Any], cuts: list[int]) -> None:
    drafts = drafts_of(history)
    with a_store() as store:
        written(store, drafts, cuts)
        with store.reading() as session:
            lying = load_aboard_lying(session)
    assert lying == plain_count(drafts)


def load_aboard_lying(session: Any) -> dict[tuple[str, str], int]:
    """Give quantity by part and locker, as the store says."""
    submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="T", name="T")], wall_ms=WALL_MS)
    return {(one.part, one.locker): one.quantity for one in load_aboard(session, VESSEL).lying}


@settings(max_examples=HISTORIES)
@given(st.lists(steps, min_size=1, max_size=25), st.randoms(use_true_random=False))
def test_replay_in_any_order_and_doubled_gives_equal_tables(history: list[Any],
                                                            rng: random.Random) -> None:
    drafts = drafts_of(history)
    with a_store() as store, a_store(store) as other:
        written(store, drafts, [])
        with store.reading() as session:
            envelopes = [read_envelope(raw) for raw in session.exec(select(LogEntry.raw))]
        shuffled = envelopes + rng.sample(envelopes, len(envelopes) // 2)
        rng.shuffle(shuffled)
        middle = rng.randint(0, len(shuffled))
        for some in (shuffled[:middle], shuffled[middle:]):
            with other.writing() as session:
                relay(session, VESSEL, some, wall_ms=WALL_MS)
        assert differences(placeless(dump(store)), placeless(dump(other))) == []


def placeless(tables: dict[str, list[str]]) -> dict[str, list[str]]:
    """Leave out in which row of the log something stands: another order puts it elsewhere."""
    found = {name: rows for name, rows in tables.items() if name != "cut_off"}
    found["effect"] = [json.dumps({name: value for name, value in json.loads(row).items()
                                   if name != "seq"}) for row in found["effect"]]
    return found


@settings(max_examples=HISTORIES)
@given(st.lists(steps, max_size=25))
def test_rebuilt_tables_equal_the_live_ones(history: list[Any]) -> None:
    with a_store() as store:
        written(store, drafts_of(history), [7, 13])
        with store.writing() as session:
            assert rebuild(session, VESSEL) == []


@pytest.mark.parametrize("came", [["sr"], ["s", "r"], ["r", "s"]])
def test_smaller_stamp_of_a_merging_holds_whenever_it_came(came: list[str]) -> None:
    made = {"s": entry("s", "A", 1, "same", 20, 1, None, keep="P", drop="Q"),
            "r": entry("r", "B", 1, "restamp", 30, 2, None, of="s", at=stamp_at(10, "A"), g=0)}
    with a_store() as store:
        for some in came:
            with store.writing() as session:
                key = session.get_one(Logbook, VESSEL).key
                relay(session, VESSEL, [sealed(made[one], key) for one in some], wall_ms=WALL_MS)
        with store.writing() as session:
            assert session.execute(select(Sameness.at)).scalars().all() == [stamp_at(10, "A")]
            assert rebuild(session, VESSEL) == []


@settings(max_examples=HISTORIES)
@given(histories(most=14) | histories(most=9, kinds=DOUBTS), st.randoms(use_true_random=False))
def test_cells_are_those_of_all_entries_in_whatever_order_they_come(history: list[Entry],
                                                                    rng: random.Random) -> None:
    rng.shuffle(history)
    cuts = sorted(rng.choices(range(len(history) + 1), k=3))
    with a_store() as store:
        for start, end in zip([0, *cuts], [*cuts, len(history)], strict=True):
            with store.writing() as session:
                key = session.get(Logbook, VESSEL).key
                relay(session, VESSEL, [sealed(one, key) for one in history[start:end]],
                      wall_ms=WALL_MS)
        with store.reading() as session:
            rows = session.execute(select(CellRow)).scalars().all()
    assert {(row.part, row.locker, row.lot): (
        row.quantity, row.low, row.high, set(row.doubts), set(row.rivals), tuple(row.flags))
        for row in rows} == {key: (cell.quantity, cell.low, cell.high, set(cell.doubts),
                                   set(cell.rivals), cell.flags)
                             for key, cell in fold(history).items()}


def sealed(entry: Entry, key: bytes) -> Envelope:
    """Put an entry into an envelope of the store with this key."""
    change = Change(entry.id, entry.n, entry.kind, 1, WALL_MS, entry.seen, "", entry.g, entry.body)
    return seal(change, dev=entry.dev, at=entry.at, g=entry.g, pos=entry.pos, key=key)


def test_a_rebuild_reports_and_mends_what_was_altered() -> None:
    with a_store() as store:
        written(store, drafts_of([("put", 0, 0, 5)]), [])
        before = dump(store)
        with store.writing() as session:
            session.connection().exec_driver_sql("UPDATE cell SET quantity = 1")
        with store.writing() as session:
            found = rebuild(session, VESSEL)
        assert {(one["table"], one["only"], one["row"]["quantity"]) for one in found} == {
            ("cell", "live", 1), ("cell", "rebuilt", 5000)}
        assert dump(store) == before
        assert json.dumps(found)


def test_a_rebuild_reports_a_wrong_cut_off_and_brings_a_missing_one() -> None:
    with a_store() as store:
        written(store, drafts_of([("put", 0, 0, 5), ("counted", 0, 0, 5)]), [])
        before = dump(store)
        assert len(before["cut_off"]) == 1
        for altered, reported in (("DELETE FROM cut_off", []),
                                  ("UPDATE cut_off SET seq = 2", [("cut_off", "live", 2)])):
            with store.writing() as session:
                session.connection().exec_driver_sql(altered)
            with store.writing() as session:
                found = rebuild(session, VESSEL)
            assert [(one["table"], one["only"], one["row"]["seq"]) for one in found] == reported
            assert dump(store) == before
