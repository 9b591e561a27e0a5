"""Numbers of devices and waiting changes that do not go with the log are told."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import text

from spares.db.number_faults import number_faults
from spares.db.office_store import keep_home
from spares.sync.handing import Handing
from spares.sync.memory_server import MemoryServer
from tests.sync.bench import CELL, NOW, VESSEL, Bench
from tests.sync.database import DatabaseServer
from tests.sync.office_world import ABOARD, ASHORE, build, in_memory
from tests.sync.world import VESSEL as HERS

HERE = "vessel = :vessel AND dev IN (SELECT dev FROM device WHERE name = 'crew')"


@pytest.mark.parametrize(("line", "says"), [
    (f"UPDATE device SET next_n = 9 WHERE {HERE}", "crew: 9 stands as its next number, and 4 is"),
    (f"UPDATE device SET next_n = 3 WHERE {HERE}", "crew: 3 stands as its next number, and 4 is"),
    (f"DELETE FROM lost_range WHERE {HERE}", "crew: 4 stands as its next number, and 2 is"),
    (f"DELETE FROM held WHERE {HERE}", "has a number as waiting and is not there"),
    (f"DELETE FROM used_number WHERE {HERE}", "waits for the skipper under no number"),
    (f"UPDATE held SET id = (SELECT id FROM log WHERE {HERE}) WHERE {HERE}",
     "waits for the skipper and is in the log")])
def test_what_stands_beside_the_log_and_cannot_be_right_is_told(
        tmp_path: Path, line: str, says: str) -> None:
    bench = Bench(tmp_path)
    bench.ask(ops=[bench.op(1)])
    bench.ask(last=2, gone=[[2, 2]])
    bench.ask(ops=[bench.op(3, "void", {"of": bench.ident()})])      # waits
    store = bench.store.store
    with store.reading() as session:
        assert number_faults(session, VESSEL) == []
    with store.writing() as session:
        session.execute(text(line), {"vessel": VESSEL})
    with store.looking() as reader:
        assert any(says in one for one in number_faults(reader, VESSEL))
    store.close()


def test_number_whose_change_is_hers_under_another_is_no_fault_after_a_meeting(
        tmp_path: Path) -> None:
    def make(fresh: Any, which: int) -> MemoryServer:
        if which == ABOARD:
            return in_memory(fresh, which)
        office = DatabaseServer(HERS, bytes(32), fresh, tmp_path)
        with office.store.store.writing() as session:
            keep_home(session, HERS, {"inst": "office-1"})
        return office

    world = build(1, make=make)
    aboard, office = (world.servers[where].store for where in (ABOARD, ASHORE))
    put = world.phones[3].record("00000000-0000-4000-9000-0000000000f1", "put",
                                 {**CELL, "q": 1000}, world.clock_ms(3))
    world.sync(3, faults=False)
    # The office's answer was lost; what the phone has unsent is taken aboard as a file.
    skipper = aboard.device_of("t0")
    Handing(aboard, skipper, skipper, is_known=False, now_ms=aboard.clock().last_ms + 1,
            said_ms=world.clock_ms(3)).take_all([put.to_json()])
    world.meet(faults=False)
    with office.store.reading() as session:
        assert number_faults(session, HERS) == []


def test_what_was_brought_back_under_another_number_than_it_waited_under_is_no_fault(
        tmp_path: Path) -> None:
    bench = Bench(tmp_path)
    before, op = bench.store.backup(), bench.op(1)
    bench.ask(ops=[op])
    (_, sealed), = bench.store.rows(0, 1)
    bench.store.put_back(before)
    author, bringer = (bench.store.device_of(one) for one in ("crew", "guest"))
    # The phone did not hear that it was taken; its file comes by another hand than the skipper's.
    bench.store.within(lambda store: Handing(store, bringer, author, is_known=True, now_ms=NOW + 1,
                                             said_ms=NOW).take_all([op]))
    bench.ask("skipper", relay=[sealed.to_json()])
    with bench.store.store.reading() as session:
        assert number_faults(session, VESSEL) == []
    bench.store.store.close()
