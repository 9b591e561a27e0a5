"""Two vessels in one store, with things of the same ids: neither touches the other."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import text

from spares.actions.check import check
from spares.actions.context import Context
from spares.db.door import found_vessel, submit
from spares.db.engine import Store
from spares.db.find import parts_by_words, vessels
from spares.db.load import load_aboard
from spares.db.rebuild import rebuild
from spares.domain.draft import Draft, setting
from spares.errors import StoreDamaged
from tests.db.conftest import VESSEL, WALL_MS

OTHER = "22222222-2222-4222-8222-222222222222"
PART = "part/33333333-3333-4333-8333-333333333333"
LOCKER = "locker/33333333-3333-4333-8333-333333333333"


def test_equal_ids_in_two_vessels_stay_two_things(store: Store) -> None:
    with store.writing() as session:
        found_vessel(session, OTHER)
        submit(session, OTHER, [setting(f"vessel/{OTHER}", mark="OTH", name="Other")],
               wall_ms=WALL_MS)
    for vessel, name, q in ((VESSEL, "Impeller", 1000), (OTHER, "Anode", 5000)):
        with store.writing() as session:
            submit(session, vessel, [
                setting(PART, no="P1", name=name), setting(LOCKER, no="L1", name="Box"),
                Draft("put", {"part": PART, "locker": LOCKER, "lot": "", "q": q})],
                wall_ms=WALL_MS)
    with store.reading() as session:
        one, other = load_aboard(session, VESSEL), load_aboard(session, OTHER)
        assert (one.get(PART).name, other.get(PART).name) == ("Impeller", "Anode")
        assert (one.lying[0].quantity, other.lying[0].quantity) == (1000, 5000)
        assert parts_by_words(session, VESSEL, "anode", 5) == ("nothing", [])
        assert parts_by_words(session, OTHER, "anode", 5) == ("words", [PART])
    for vessel in (VESSEL, OTHER):
        with store.writing() as session:
            assert rebuild(session, vessel) == []


def test_no_log_says_what_another_vessel_is_called(store: Store) -> None:
    with store.writing() as session:
        found_vessel(session, OTHER)
        submit(session, OTHER, [setting(f"vessel/{OTHER}", mark="OTH", name="Other")],
               wall_ms=WALL_MS)
        before = vessels(session)
        submit(session, OTHER, [setting(f"vessel/{VESSEL}", mark="XYZ", name="Not hers")],
               wall_ms=WALL_MS)
        assert vessels(session) == before


def test_check_follows_the_logs_of_all_vessels(store: Store) -> None:
    with store.writing() as session:
        found_vessel(session, OTHER)
        submit(session, OTHER, [setting(f"vessel/{OTHER}", mark="OTH", name="Other")],
               wall_ms=WALL_MS)
    ctx = Context(store, VESSEL, date(2027, 3, 15))
    assert check(ctx)["entries"] == 1
    with store.writing() as session:
        session.execute(text("UPDATE log SET raw = replace(raw, 'Other', 'Athor') "
                             "WHERE vessel = :other"), {"other": OTHER})
    with pytest.raises(StoreDamaged, match="OTH: entry 1"):
        check(ctx)
