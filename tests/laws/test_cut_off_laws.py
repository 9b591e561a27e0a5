"""What lies before a cut-off may be left out: by the rule itself, and in the store."""

from __future__ import annotations

import random
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from sqlmodel import select

from spares.db.door import relay
from spares.db.epochs import learn_epochs
from spares.db.rebuild import rebuild
from spares.db.tables import CellRow, CutOffRow, Logbook
from spares.domain.cut_off import CutOff, Row, cut_off, is_behind
from spares.domain.stock import CellKey, Entry, effects, fold
from tests.conftest import LONG
from tests.histories import EPOCH, entry, histories
from tests.laws.test_store_laws import VESSEL, WALL_MS, a_store, sealed

KINDS = ("took", "put", "moved", "counted", "counted", "void", "settle", "service")
EPOCHS = [(EPOCH, None)]
K = {"part": "P", "locker": "K", "lot": ""}


def cells_of(history: list[Entry]) -> dict[CellKey, list[Row]]:
    """Give all that touch each cell, in the order of the log."""
    found: dict[CellKey, list[Row]] = {}
    for one in sorted(history, key=lambda one: one.pos[EPOCH]):
        for touched in effects(one):
            found.setdefault((touched.part, touched.locker, touched.lot), []).append(
                Row(one.pos[EPOCH], one))
    return found


def cut(rows: list[Row], history: list[Entry], before: CutOff | None = None) -> CutOff | None:
    """Find the cut-off of a cell, with what the history says of its rows."""
    undone = {one.body["of"] for one in history if one.kind == "void"}
    return cut_off(rows, {row.entry.id for row in rows if row.entry.kind == "counted"} - undone,
                   [(one.body["of"], one.body["count"]) for one in history
                    if one.kind == "settle" and one.id not in undone], EPOCHS, before)


@settings(max_examples=3_000 if LONG else 150)
@given(histories(60 if LONG else 30, kinds=KINDS))
def test_what_lies_behind_its_cut_off_is_the_cell(history: list[Entry]) -> None:
    whole = fold(history)
    about = [one for one in history if one.kind in ("void", "settle")]
    for key, rows in cells_of(history).items():
        found = cut(rows, history)
        if found is not None:
            behind = [row.entry for row in rows if row.seq > found.seq]
            assert len(behind) < len(rows)
            assert fold([*behind, *about])[key] == whole[key]


@settings(max_examples=3_000 if LONG else 150)
@given(histories(40 if LONG else 20, kinds=("took", "put", "counted", "counted", "void")),
       st.integers(1, 40))
def test_cut_off_moved_along_is_the_one_of_the_whole(history: list[Entry], size: int) -> None:
    """As the store moves it, where all who counted since had seen so far."""
    known = [one for one in history if one.pos[EPOCH] <= size]
    whole = fold(history)
    for key, rows in cells_of(history).items():
        before = cut([row for row in rows if row.seq <= size], known)
        if before is None:
            continue
        late = [row for row in rows if row.seq > size]
        if not all(is_behind(row.entry, before, EPOCHS) for row in late
                   if row.entry.kind == "counted"):
            continue
        behind = [row for row in rows if row.seq > before.seq]
        found = cut(behind, history, before)
        if found is not None:
            assert found == cut(rows, history)
            assert fold([*(row.entry for row in behind),
                         *(one for one in history if one.kind == "void")])[key] == whole[key]


@st.composite
def talks(draw: st.DrawFn) -> list[Entry]:
    """Draw what three people do to two cells, mostly in sight of one another."""
    made: list[Entry] = []
    numbers = {"A": 0, "B": 0, "C": 0}
    # One is hardly ever the same as another here: it takes from its cells what the rest is about.
    kinds = ["took", "put", "counted", "counted", "counted", "void", "void", "settle", "moved"]
    kinds += ["same"] if draw(st.integers(0, 3)) == 0 else []
    for at in range(1, draw(st.integers(4, 40))):
        movements = [one.id for one in made if one.kind in ("took", "put", "moved")]
        counts = [one.id for one in made if one.kind == "counted"]
        kind = draw(st.sampled_from(kinds))
        if kind in ("void", "settle") and not (movements and counts):
            kind = "put"
        latest = draw(st.sampled_from((movements + counts)[-4:] if kind == "void"
                                      else (movements or [""])[-4:]))
        part = draw(st.sampled_from("PPPQ")) if "same" in kinds else "P"
        body = {**K, "part": part, "locker": draw(st.sampled_from("KKKL")),
                "q": draw(st.integers(1, 9)) * 1000}
        if kind == "void":
            answers = [one.id for one in made if one.kind == "settle"]
            body = {"of": draw(st.sampled_from([latest, latest, *movements, *counts, *answers]))}
        elif kind == "settle":
            body = {"of": latest, "count": draw(st.sampled_from(counts[-3:])),
                    "side": draw(st.sampled_from(["before", "after"]))}
        elif kind == "moved":
            body = {"part": part, "from": "K", "to": "L", "lot": "", "q": body["q"]}
        elif kind == "same":
            body = {"keep": "P", "drop": "Q"}
        dev = draw(st.sampled_from("AABC"))
        numbers[dev] += 1
        behind = draw(st.sampled_from([0] * 6 + [1, 2, 3, 9]))     # rows that it had not pulled
        early = draw(st.sampled_from([0] * 9 + [6, 21]))        # a clock that is slow
        made.append(entry(f"x{at}", dev, numbers[dev], kind, 100 + 4 * at - early, at,
                          max(at - 1 - behind, 0), **body))
    return made


@settings(max_examples=600 if LONG else 60)
@given(talks() | histories(most=20, kinds=KINDS), st.randoms(use_true_random=False))
def test_cells_and_cut_offs_of_a_store_are_those_of_its_whole_log(history: list[Entry],
                                                                  rng: random.Random) -> None:
    many = rng.choice([4, 12, 24])
    found, cut_offs = kept(history, sorted(rng.choices(range(len(history) + 1), k=many)),
                           is_office=rng.random() < 0.5)
    assert found == {key: (cell.quantity, cell.low, cell.high, set(cell.doubts), set(cell.rivals))
                     for key, cell in fold(history).items()}
    about = {name for one in history if one.kind == "same" for name in one.body.values()}
    assert not [key for key in cut_offs if key[0] in about]
    wanted = {key: one for key, rows in cells_of(history).items() if key[0] not in about
              and (one := cut(rows, history)) is not None}
    assert cut_offs == wanted


def kept(history: list[Entry], cuts: list[int], *, is_office: bool = False
         ) -> tuple[dict[CellKey, tuple], dict[CellKey, CutOff]]:
    """Give the cells and cut-offs of a store to which a history came, cut into transactions.

    An office has an epoch of its own beside the one that those aboard have seen.
    """
    history = sorted(history, key=lambda one: one.pos[EPOCH])
    with a_store() as store:
        with store.writing() as session:
            if is_office:
                learn_epochs(session, VESSEL, [(EPOCH, len(history))])
            else:
                session.get_one(Logbook, VESSEL).epoch = EPOCH
        for start, end in zip([0, *cuts], [*cuts, len(history)], strict=True):
            with store.writing() as session:
                key = session.get_one(Logbook, VESSEL).key
                relay(session, VESSEL, [sealed(one, key) for one in history[start:end]],
                      wall_ms=WALL_MS)
        with store.writing() as session:
            cells = {(row.part, row.locker, row.lot): (row.quantity, row.low, row.high,
                                                       set(row.doubts), set(row.rivals))
                     for row in session.execute(select(CellRow)).scalars()}
            cut_offs = {(row.part, row.locker, row.lot): CutOff(row.seq, row.at, row.made)
                        for row in session.execute(select(CutOffRow)).scalars()}
            assert rebuild(session, VESSEL) == []
    return cells, cut_offs


def counted(*, seen: int, dev: str = "A", n: int = 9, minute: float = 300, seq: int = 9,
            ident: str = "c") -> Entry:
    return entry(ident, dev, n, "counted", minute, seq, seen, **K, q=5000)


PUT = entry("p", "B", 3, "put", 10, 4, 0, **K, q=2000)


def test_count_by_one_who_had_seen_all_draws_the_cut_off() -> None:
    assert cut([Row(4, PUT), Row(9, counted(seen=8))], []) == CutOff(4, PUT.at, {"B": 3})


def test_nothing_is_cut_off_where_one_who_counted_had_not_seen_it() -> None:
    count = counted(seen=8)
    blind = counted(seen=3, dev="C", minute=299, seq=8, ident="d")
    assert cut([Row(4, PUT), Row(9, counted(seen=3))], []) is None
    assert cut([Row(4, PUT), Row(10, blind), Row(9, count)], []) is None
    own = replace(PUT, dev="A", n=7)        # it made this between two counts that had seen the same
    earlier = counted(seen=8, n=5, minute=299, seq=10, ident="d")
    assert cut([Row(4, own), Row(9, count)], []) is not None
    assert cut([Row(4, own), Row(9, count), Row(10, earlier)], []) is None
    late = replace(PUT, at=count.at + "Z")
    assert cut([Row(4, late), Row(9, count)], []) is None
    rows = [Row(4, replace(PUT, dev="A")), Row(9, count)]
    assert cut_off(rows, {"c"}, [], EPOCHS) is not None
    assert cut_off(rows, {"c"}, [], EPOCHS, displaced={"p"}) is None     # and its own it knows


def test_cut_off_lies_before_the_newest_count_and_never_moves_back() -> None:
    itself = [Row(4, PUT), Row(9, counted(seen=9))]     # no honest phone says so
    assert cut(itself, []) is None
    behind = [Row(9, counted(seen=6))]
    assert cut(behind, [], CutOff(6, PUT.at, {})) == CutOff(6, PUT.at, {})
    assert cut(behind, [], CutOff(7, PUT.at, {})) is None
    further = [Row(8, replace(PUT, pos={EPOCH: 8})), Row(9, counted(seen=8))]
    assert cut(further, [], CutOff(7, "z", {"A": 2})) is None     # stamped later than the count
    assert cut(further, [], CutOff(7, "0", {"A": 2})) == CutOff(8, PUT.at, {"A": 2, "B": 3})


def test_answer_about_a_count_behind_it_forbids_the_cut_off() -> None:
    rows = [Row(4, PUT), Row(9, counted(seen=8))]
    assert cut_off(rows, {"c"}, [("p", "c")], EPOCHS) is None
    assert cut_off(rows, {"c"}, [("other", "c")], EPOCHS) is not None
    count = counted(seen=4, dev="C", minute=20, seq=5, ident="d")       # lies before it as well
    both = [rows[0], Row(5, count), rows[1]]
    assert cut_off(both, {"c", "d"}, [("p", "d")], EPOCHS) == CutOff(5, count.at, {"B": 3, "C": 9})


def test_count_reaches_no_further_than_its_epoch_stands_in_this_log() -> None:
    rows = [Row(4, PUT), Row(9, counted(seen=8))]
    assert cut_off(rows, {"c"}, [], [(EPOCH, 3), ("e2", None)]) is None
    later = [Row(4, replace(PUT, pos={EPOCH: 4, "e2": 4})), rows[1]]
    assert cut_off(later, {"c"}, [], [(EPOCH, 4), ("e2", None)]) is not None
    assert cut_off(rows, {"c"}, [], [("e2", None)]) is None


def test_count_is_behind_where_its_author_had_seen_and_made_all_before() -> None:
    before = CutOff(7, PUT.at, {"A": 8})
    assert is_behind(counted(seen=7), before, EPOCHS)
    assert not is_behind(counted(seen=6), before, EPOCHS)
    assert not is_behind(counted(seen=7), before, [("e2", None)])
    assert is_behind(counted(seen=9), before, [(EPOCH, 7), ("e2", None)])      # as an office has it
    assert not is_behind(counted(seen=9), before, [(EPOCH, 6), ("e2", None)])
    assert not is_behind(counted(seen=7, n=8), before, EPOCHS)
    assert not is_behind(counted(seen=7, minute=10, dev="B"), before, EPOCHS)
    assert not is_behind(replace(counted(seen=7), seen=None), before, EPOCHS)
