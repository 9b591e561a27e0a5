"""The one door: numbered, stamped, chained, whole, and once."""

from __future__ import annotations

from collections.abc import Callable
from functools import reduce
from operator import and_, or_
from typing import Any
from uuid import RFC_4122, UUID, uuid4

import pytest
from sqlalchemy import text
from sqlmodel import select

from spares.db.chain import check_chain
from spares.db.door import Outcome, submit
from spares.db.dump import logical_dump
from spares.db.engine import Store
from spares.db.find import head_of
from spares.db.load import load_aboard
from spares.db.rebuild import rebuild
from spares.db.tables import DOCUMENT_TABLES, CellRow, FieldVersion, LogEntry, Search
from spares.domain.draft import Draft, setting
from spares.domain.identity import numbered_id, ref
from spares.errors import Conflict, Refused, StoreDamaged
from tests.conftest import KIND
from tests.db.conftest import VESSEL, WALL_MS

pytestmark = pytest.mark.both

Write = Callable[..., list[Outcome]]
PART = ref("part", numbered_id(VESSEL, "part", "P1"))
LOCKER = ref("locker", numbered_id(VESSEL, "locker", "L1"))


def movement(kind: str, q: int, **more: Any) -> Draft:
    """Draft a movement of the one part in the one locker."""
    return Draft(kind, {"part": PART, "locker": LOCKER, "lot": "", "q": q}, **more)


def state(store: Store) -> tuple[Any, Any]:
    """Give the end of the log and what all tables say."""
    with store.reading() as session:
        return head_of(session, VESSEL), logical_dump(session, VESSEL)


def on_hand(store: Store) -> int:
    """Give the quantity of the one part [thousandths]."""
    with store.reading() as session:
        return sum(one.quantity for one in load_aboard(session, VESSEL).lying)


def test_what_is_marked_both_is_tried_on_the_kind_that_it_says(
        store: Store, request: pytest.FixtureRequest) -> None:
    """No argument names the kind: so it is with all others that are marked so."""
    kind = request.node.callspec.params["kind_of_store"] if KIND == "sqlite" else KIND
    assert store.is_file == (kind == "sqlite")


def test_things_stand_in_one_order_on_both_kinds(store: Store, write: Write) -> None:
    """The same words find the same part first: one without a number stands in front."""
    for no in ("P2", None, "P1"):
        write(setting(ref("part", str(uuid4())), name=no or "none", **({"no": no} if no else {})))
    with store.looking() as reader:
        parts = load_aboard(reader, VESSEL).docs["part"].values()
    assert [one.name for one in parts] == ["none", "P1", "P2"]


def test_a_change_given_twice_is_one_change(store: Store, write: Write) -> None:
    ident = str(uuid4())
    first, = write(movement("put", 4000, id=ident))
    before = state(store)
    again, = write(movement("put", 4000, id=ident))
    assert (first.was_new, again.was_new, again.seq) == (True, False, first.seq)
    assert state(store) == before
    assert on_hand(store) == 4000


def test_an_id_used_for_another_change_is_refused(store: Store, write: Write) -> None:
    ident = str(uuid4())
    write(movement("put", 4000, id=ident))
    before = state(store)
    with pytest.raises(Conflict) as said:
        write(movement("put", 5000, id=ident))
    assert said.value.facts["stop"] == "id_reused"
    assert state(store) == before


@pytest.mark.parametrize(("draft", "pointer"), [
    (Draft("took", {"part": PART, "locker": LOCKER, "lot": "", "q": 0}), "#/body/q"),
    (Draft("took", {"part": PART, "locker": LOCKER, "lot": "", "q": 1.5}), "#/body/q"),
    (Draft("took", {"part": "P1", "locker": LOCKER, "lot": "", "q": 1}), "#/body/part"),
    (Draft("borrowed", {}), "#/kind"),
    (setting(PART, lead_days="soon"), "#/body/f/lead_days"),
    (setting(LOCKER, code="EMJX"), "#/body/f/code"),
    (setting(PART, made="sometimes"), "#/body/f/made"),
])
def test_a_refused_change_takes_the_whole_request_with_it(
        store: Store, write: Write, draft: Draft, pointer: str) -> None:
    before = state(store)
    with pytest.raises(Refused) as said:
        write(movement("put", 1000), draft)
    assert said.value.facts["pointer"] == pointer
    assert state(store) == before


def test_numbers_of_a_device_are_dense_and_stamps_rise(store: Store, write: Write) -> None:
    write(movement("put", 1000))
    write(*(movement("took", 1000) for _ in range(5)), wall_ms=WALL_MS - 86_400_000)
    with store.reading() as session:
        rows = session.exec(select(LogEntry).order_by(LogEntry.seq)).all()
    assert [row.n for row in rows] == list(range(1, len(rows) + 1))
    assert [row.at for row in rows] == sorted({row.at for row in rows})


def test_the_count_follows_and_may_fall_below_zero(store: Store, write: Write) -> None:
    write(movement("put", 2000), movement("took", 3000))
    with store.reading() as session:
        one, = load_aboard(session, VESSEL).lying
    assert (one.quantity, one.flags) == (-1000, ("negative",))


def test_a_voided_movement_counts_no_more(store: Store, write: Write) -> None:
    write(movement("put", 5000))
    taken, = write(movement("took", 2000))
    assert on_hand(store) == 3000
    write(Draft("void", {"of": taken.id}))
    assert on_hand(store) == 5000


def test_a_change_made_here_gets_an_id_that_begins_with_the_time(
        store: Store, write: Write) -> None:
    """As the standard library reads it; each other bit is chance."""
    made = [UUID(write(movement("put", 1000))[0].id) for _ in range(64)]
    assert {(one.version, one.variant, one.int >> 80) for one in made} == {
        (7, RFC_4122, WALL_MS)}
    chance = [one.int & ~(0xF << 76 | 0b11 << 62) & (1 << 80) - 1 for one in made]
    assert reduce(or_, chance) == ((1 << 80) - 1) & ~(0xF << 76 | 0b11 << 62)
    assert reduce(and_, chance) == 0


def test_a_field_keeps_every_version_and_shows_the_last(store: Store, write: Write) -> None:
    write(setting(PART, no="P1", name="Impeler"))
    write(setting(PART, name="Impeller"))
    with store.reading() as session:
        assert load_aboard(session, VESSEL).get(PART).name == "Impeller"
        rows = session.execute(select(FieldVersion.value, FieldVersion.is_head).where(
            FieldVersion.field == "name", FieldVersion.doc == PART).order_by(FieldVersion.at)).all()
    assert rows == [("Impeler", False), ("Impeller", True)]


def test_who_holds_a_row_sees_what_is_written_after(store: Store, write: Write) -> None:
    """What is made from documents and cells stands on the new ones, whoever read the old."""
    write(setting(PART, no="P1", name="Impeler"), movement("put", 2000))
    with store.writing() as session:
        part = session.execute(select(DOCUMENT_TABLES["part"])).scalars().one()
        cell = session.execute(select(CellRow)).scalars().one()
        submit(session, VESSEL, [setting(PART, name="Impeller"), movement("took", 500)],
               wall_ms=WALL_MS)
        assert (part.name, cell.quantity) == ("Impeller", 1500)
        assert [one.body for one in session.execute(select(Search)).scalars()] == ["impeller p1"]
        assert rebuild(session, VESSEL) == []


def test_a_changed_byte_in_the_log_is_found(store: Store, write: Write) -> None:
    write(movement("put", 2000), movement("took", 1000))
    with store.writing() as session:
        session.execute(text("UPDATE log SET raw = replace(raw, :was, :now)"),
                        {"was": '"q":2000', "now": '"q":9000'})
    with store.reading() as session, pytest.raises(StoreDamaged, match="entry 2"):
        check_chain(session, VESSEL)


def test_what_stands_beside_the_text_of_a_row_is_looked_at_too(store: Store, write: Write) -> None:
    write(movement("put", 2000), movement("took", 1000))
    for altered in ("kind = 'took'", "dev = 'aaaaaaaa'", "n = 77", "batch = 'another'",
                    "at = 'ffffffffffff.0000.aaaaaaaa'"):
        with store.writing() as session:
            session.execute(text(f"UPDATE log SET {altered} WHERE seq = 2"))
            with pytest.raises(StoreDamaged, match="entry 2"):
                check_chain(session, VESSEL)
            session.rollback()


def test_a_missing_end_of_the_log_is_found(store: Store, write: Write) -> None:
    write(movement("put", 2000))
    with store.writing() as session:
        session.execute(text("DELETE FROM log WHERE seq = 2"))
    with store.reading() as session, pytest.raises(StoreDamaged, match="end of the log"):
        check_chain(session, VESSEL)
