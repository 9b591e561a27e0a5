"""What was taken back is found without reading all that was ever written down.

Work is counted in steps of SQLite's machine, which no other program at work can change.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from uuid import UUID

import pytest

from spares.db.door import found_vessel, submit
from spares.db.engine import Store, open_store
from spares.db.history import UNDO_NOTE, undone_among
from spares.domain.draft import Draft, setting
from tests.db.conftest import VESSEL, WALL_MS

OTHER = "22222222-2222-4222-8222-222222222222"
PART = f"part/{VESSEL}"
FEW, MANY = 50, 2000
#: A few more steps where an index is deeper.
SAME = 1.5

pytestmark = pytest.mark.sqlite


def write(store: Store, vessel: str, *drafts: Draft) -> list[str]:
    with store.writing() as session:
        return [one.id for one in submit(session, vessel, list(drafts), wall_ms=WALL_MS)]


def steps(store: Store, ids: Sequence[str]) -> tuple[int, set[str]]:
    """Count the steps that it takes to find which of some changes were undone."""
    count = 0

    def step() -> None:
        nonlocal count
        count += 1
    with store.looking() as reader:
        reader.set_progress_handler(step, 1)
        try:
            found = undone_among(reader, VESSEL, ids)
        finally:
            reader.set_progress_handler(None, 1)
    return count, found


@pytest.mark.parametrize("of", [VESSEL, OTHER])
def test_what_was_undone_is_found_without_reading_all_settings(tmp_path: Path, of: str) -> None:
    taken = []
    for others in (FEW, MANY):
        store = open_store(tmp_path / f"{others}.sqlite")
        with store.writing() as session:
            for vessel in (VESSEL, OTHER):
                found_vessel(session, vessel)
        stands, wrong = write(store, VESSEL, setting(PART, name="Impeller"),
                              setting(PART, note="wet"))
        back = Draft("set", {"doc": PART, "f": {"note": None}, "base": {"note": [wrong]},
                             "note": UNDO_NOTE + wrong})
        put, = write(store, VESSEL, Draft("put", {"part": PART, "locker": f"locker/{VESSEL}",
                                                  "lot": "", "q": 1000}))
        write(store, VESSEL, back, Draft("void", {"of": put}))
        write(store, of, *(setting(f"part/{UUID(int=at, version=4)}", name="another")
                           for at in range(others)))
        count, found = steps(store, [stands, wrong, put])
        assert found == {wrong, put}
        taken.append(count)
        store.close()
    assert taken[1] / taken[0] < SAME
