"""Numbers of devices and waiting changes that do not go with the log are told."""

from __future__ import annotations

from pathlib import Path

import pytest
from sqlalchemy import text

from spares.db.number_faults import number_faults
from tests.sync.bench import VESSEL, Bench

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
