"""A lends to B by a file, B gives back by a file: both stores are right at every step."""

from __future__ import annotations

import json
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from sqlalchemy import select

from spares.actions.check import check
from spares.actions.context import Context
from spares.actions.documents import write_document
from spares.actions.lending import give_back, take_slip
from spares.actions.lent import lent
from spares.actions.loans import loans, slip_of
from spares.actions.moved import moved
from spares.actions.put import put
from spares.actions.show import show
from spares.actions.took import took
from spares.actions.undo import undo
from spares.db.door import found_vessel, relay, submit
from spares.db.engine import open_store
from spares.db.tables import Logbook, LogEntry
from spares.domain.draft import setting
from spares.domain.identity import joined_id
from spares.errors import InvalidInput, NotFound
from spares.sync.change import read_envelope

TODAY = date(2027, 3, 15)
IMPELLER = {"name": "Impeller", "maker": "Ostrel", "number": "OS 33-A", "unit": "pcs"}


def vessel(path: Path, number: int, mark: str, name: str) -> Context:
    """Found a vessel with two lockers in a store of her own."""
    ident = f"00000000-0000-4000-8000-0000000000{number}"
    store = open_store(path)
    with store.writing() as session:
        found_vessel(session, ident)
        submit(session, ident, [setting(f"vessel/{ident}", mark=mark, name=name)],
               wall_ms=1_800_000_000_000)
    ctx = Context(store, ident, TODAY)
    for no in ("L1", "L2"):
        write_document(ctx, "locker", {"no": no, "name": f"locker {no}"})
    return ctx


@pytest.fixture
def both(tmp_path: Path) -> Iterator[tuple[Context, Context]]:
    """The lender with 3 plain pieces and 2 dated ones, and a borrower with nothing."""
    lender = vessel(tmp_path / "a.sqlite", 11, "TGL", "TANGLOPPE")
    borrower = vessel(tmp_path / "b.sqlite", 22, "HRE", "HESTEREJE")
    write_document(lender, "part", {"no": "P1", **IMPELLER})
    put(lender, "P1", "L1", 3)
    put(lender, "P1", "L1", 2, expires="2028-06")
    yield lender, borrower
    for ctx in (lender, borrower):
        ctx.store.close()


def lie(ctx: Context, part: str) -> dict[str, float]:
    """Say how many lie in which locker."""
    found: dict[str, float] = {}
    for one in show(ctx, part, "part")["where"]:
        found[one["locker"]] = found.get(one["locker"], 0) + one["quantity"]
    return {place: count for place, count in found.items() if count}


def sent(slip: dict[str, Any]) -> Any:
    """Send a slip as a file."""
    return json.loads(json.dumps(slip))


def lend(lender: Context, quantity: int = 4) -> tuple[str, Any]:
    """Lend from both lots: the dated two go first, then plain ones."""
    loan = lent(lender, "P1", "L1", "HESTEREJE", quantity)["change"]
    return loan, sent(slip_of(lender, loan))


def test_loan_goes_and_comes_back_by_file(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    loan, slip = lend(lender)
    assert [(line["q"], line["expires"]) for line in slip["lines"]] == [
        (2000, "2028-06"), (2000, None)]
    assert lie(lender, "P1") == {"L1": 1, "LENT1": 4}
    answer = take_slip(borrower, slip, locker="L2")
    part = answer["part"]["no"]
    assert lie(borrower, part) == {"L2": 4} and answer["part"]["usable"] == 4
    assert {one["expires"] for one in answer["part"]["where"]} == {None, "2028-06"}
    [line] = loans(borrower)["borrowed"]
    assert (line["who"], line["quantity"], line["back"]) == ("TANGLOPPE", 4, 0)
    assert line["on"] == "2027-03-15" and line["loan"] == loan
    # one is used up, two go back now: the dated ones are looked at first
    took(borrower, part, "L2", 1)
    give_back(borrower, loan, 2)
    back = sent(slip_of(borrower, loan))
    assert lie(borrower, part) == {"L2": 1}
    assert take_slip(lender, back)["was_new"]
    assert lie(lender, "P1") == {"L1": 3, "LENT1": 2}
    [line] = loans(lender)["lent"]
    assert (line["who"], line["quantity"], line["back"]) == ("HESTEREJE", 4, 2)
    give_back(borrower, loan)
    assert take_slip(lender, sent(slip_of(borrower, loan)), locker="L2")["was_new"]
    assert lie(lender, "P1") == {"L1": 3, "L2": 1, "LENT1": 1}
    assert loans(borrower)["borrowed"][0]["back"] == 3
    assert not take_slip(lender, back)["was_new"], "the older slip comes once more"
    assert check(lender)["faults"] == check(borrower)["faults"] == []


def test_what_two_slips_tell_of_is_back_once_though_they_were_taken_in_apart(
        both: tuple[Context, Context], tmp_path: Path) -> None:
    """The first comes aboard, the later one to the office; then the two logs come together."""
    lender, borrower = both
    lent(lender, "P1", "L1", "HESTEREJE", 1)        # of another loan; it is still there
    loan, slip = lend(lender, 3)
    take_slip(borrower, slip, locker="L1")
    slips = []
    for quantity in (2, 1):
        give_back(borrower, loan, quantity)
        slips.append(sent(slip_of(borrower, loan)))
    with lender.store.reading() as session:
        before = [read_envelope(raw) for raw in session.execute(select(LogEntry.raw)).scalars()]
    take_slip(lender, slips[0])
    office = vessel(tmp_path / "office.sqlite", 11, "TGL", "TANGLOPPE")
    with office.store.writing() as session, lender.store.reading() as hers:
        book = session.get_one(Logbook, office.vessel)
        book.key = hers.get_one(Logbook, office.vessel).key
        session.add(book)
        session.flush()
        relay(session, office.vessel, before, wall_ms=1_900_000_000_000)
    take_slip(office, slips[1])
    with office.store.reading() as session:
        rows = [read_envelope(raw) for raw in session.execute(select(LogEntry.raw).where(
            LogEntry.kind == "moved")).scalars()]
    with lender.store.writing() as session:
        relay(session, lender.vessel, rows, wall_ms=1_900_000_000_000)
    office.store.close()
    assert lie(lender, "P1") == {"L1": 4, "LENT1": 1}
    assert [line["back"] for line in loans(lender)["lent"]] == [0, 3]


def test_slip_that_was_taken_in_and_undone_is_taken_in_again(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    loan, slip = lend(lender)
    take_slip(borrower, slip, locker="L1")
    give_back(borrower, loan)
    back = sent(slip_of(borrower, loan))
    undo(lender, take_slip(lender, back)["change"])
    assert lie(lender, "P1") == {"L1": 1, "LENT1": 4}
    for was_new in (True, False):
        assert take_slip(lender, back)["was_new"] == was_new
        assert lie(lender, "P1") == {"L1": 5}


def test_what_comes_back_without_a_slip_is_back(both: tuple[Context, Context]) -> None:
    """A neighbour without the program brings them: they are moved, the loan made first ends."""
    lender, _ = both
    for quantity, day in ((2, "2027-05-01"), (1, "2027-06-01")):
        lent(lender, "P1", "L1", "Neighbour", quantity, back_by=day)
    lent(lender, "P1", "L1", "HESTEREJE", 1)
    last = [moved(lender, "P1", "LENT1", "L2", quantity)["change"] for quantity in (1, 1)][1]
    back = lambda: [(one["quantity"], one["back"]) for one in loans(lender)["lent"]]  # noqa: E731
    assert back() == [(2, 2), (1, 0), (1, 0)]
    undo(lender, last)
    assert back() == [(2, 1), (1, 0), (1, 0)]


def test_slip_taken_in_twice_changes_nothing(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    loan, slip = lend(lender)
    part = take_slip(borrower, slip, locker="L1")["part"]["no"]
    before = _heads(both)
    assert not take_slip(borrower, slip, locker="L2")["was_new"]
    assert lie(borrower, part) == {"L1": 4} and _heads(both) == before
    give_back(borrower, loan)
    back = sent(slip_of(borrower, loan))
    take_slip(lender, back)
    before = _heads(both)
    assert not take_slip(lender, back)["was_new"] and _heads(both) == before


def test_slip_that_a_phone_made_anew_after_a_refusal_is_known(
        both: tuple[Context, Context], monkeypatch: pytest.MonkeyPatch) -> None:
    lender, borrower = both
    slip = lend(lender)[1]
    with monkeypatch.context() as anew:     # its first change under another id
        anew.setattr("spares.actions.lending.joined_id", lambda kind, *names: str(uuid4())
                     if kind == "borrowed" else joined_id(kind, *names))
        part = take_slip(borrower, slip, locker="L1")["part"]["no"]
    assert not take_slip(borrower, slip, locker="L1")["was_new"]
    assert lie(borrower, part) == {"L1": 4}


def _heads(both: tuple[Context, Context]) -> list[Any]:
    return [check(ctx)["entries"] for ctx in both]


def test_part_is_known_by_maker_and_number(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    write_document(borrower, "part", {"no": "P7", "name": "pump wheel", "maker": "OSTREL",
                                      "number": "os33a"})
    assert take_slip(borrower, lend(lender)[1], locker="L1")["part"]["no"] == "P7"
    write_document(borrower, "part", {"no": "P8", "name": "Impeller"})
    assert take_slip(borrower, lend(lender, 1)[1], locker="L1")["part"]["no"] == "P7"


def test_loan_that_was_taken_in_is_undone_as_one(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    loan, slip = lend(lender)
    answer = take_slip(borrower, slip, locker="L1")
    undo(borrower, answer["change"])
    assert loans(borrower)["borrowed"] == []
    for was_new in (True, False):           # undone by mistake: it is taken in again, once
        answer = take_slip(borrower, slip, locker="L2")
        assert answer["was_new"] == was_new
        assert lie(borrower, answer["part"]["no"]) == {"L2": 4}
    undo(borrower, answer["change"])
    assert loans(borrower)["borrowed"] == []
    undo(lender, loan)
    assert lie(lender, "P1") == {"L1": 5} and loans(lender)["lent"] == []
    with pytest.raises(NotFound):
        slip_of(lender, loan)


@pytest.mark.parametrize(("harm", "pointer"), [
    (lambda slip: {**slip, "lines": [{**slip["lines"][0], "q": 9000}]}, "#/slip/seal"),
    (lambda slip: {**slip, "seal": "0" * 64}, "#/slip/seal"),
    (lambda slip: {name: value for name, value in slip.items() if name != "on"}, "#/slip/seal"),
    (lambda slip: {**slip, "spares_slip": 2}, "#/slip/spares_slip"),
    (lambda slip: {"stock": []}, "#/slip"), (lambda slip: ["slip"], "#/slip"),
    (lambda slip: {**slip, "more": float("nan")}, "#/slip/seal")])
def test_damaged_or_foreign_slip_is_refused_and_changes_nothing(
        both: tuple[Context, Context], harm: Any, pointer: str) -> None:
    lender, borrower = both
    slip, before = lend(lender)[1], _heads(both)[1]
    with pytest.raises(InvalidInput) as caught:
        take_slip(borrower, harm(slip), locker="L1")
    assert caught.value.facts["errors"][0]["pointer"] == pointer
    assert _heads(both)[1] == before


def test_slip_of_another_vessels_loan_is_refused(
        both: tuple[Context, Context], tmp_path: Path) -> None:
    lender, borrower = both
    loan, slip = lend(lender)
    third = vessel(tmp_path / "c.sqlite", 33, "VEJ", "VEJSANDE")
    with pytest.raises(InvalidInput, match="her own slip"):
        take_slip(lender, slip, locker="L1")
    with pytest.raises(InvalidInput, match="say where"):
        take_slip(borrower, slip)
    take_slip(borrower, slip, locker="L1")
    give_back(borrower, loan)
    with pytest.raises(InvalidInput, match="lent nothing"):
        take_slip(third, sent(slip_of(borrower, loan)))
    third.store.close()


def test_no_more_goes_back_than_is_left(both: tuple[Context, Context]) -> None:
    lender, borrower = both
    loan, slip = lend(lender, 2)
    take_slip(borrower, slip, locker="L1")
    with pytest.raises(NotFound):
        slip_of(borrower, loan)     # nothing went back yet
    with pytest.raises(InvalidInput, match="2 of it are left"):
        give_back(borrower, loan, 3)
    with pytest.raises(NotFound):
        give_back(borrower, "00000000-0000-4000-8000-000000000099")
