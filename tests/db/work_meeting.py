"""The work of a meeting, which can be broken off anywhere: both servers' stores in one folder.

Whatever becomes of it, each end still holds what was written there, both are whole, and the next
meeting makes them equal.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any
from uuid import UUID

from sqlalchemy import select

from spares.actions import devices, sync
from spares.actions.meeting import follow, meet
from spares.db.chain import check_chain
from spares.db.devices import by_token
from spares.db.door import found_vessel, submit
from spares.db.dump import logical_dump
from spares.db.engine import Store, open_store
from spares.db.find import head_of
from spares.db.rebuild import rebuild
from spares.db.tables import LogEntry
from spares.domain.draft import Draft, setting
from spares.sync.store import OFFICE
from tests.sync.world import LOCKERS, PARTS, START_MS, VESSEL

TOKEN, ENDS, WRITTEN, AT_ONCE = "token-of-the-office", ("aboard", "office"), 30, 10
Made = dict[str, set[str]]


def opened(folder: Path) -> dict[str, Store]:
    """Open the stores of both ends."""
    return {end: open_store(folder / f"{end}.sqlite") for end in ENDS}


def sender(aboard: Store) -> Callable[[dict[str, Any]], dict[str, Any]]:
    """Answer as the vessel's server does; a little at a time, as over a poor net."""
    with aboard.reading() as session:
        row = by_token(session, TOKEN)
    assert row is not None

    def send(request: dict[str, Any]) -> dict[str, Any]:
        little = {**request, "want": min(request["want"], AT_ONCE),
                  "relay": request["relay"][:AT_ONCE]}
        return json.loads(json.dumps(sync.sync(aboard, VESSEL, row.dev, json.dumps(
            little).encode(), wall_ms=START_MS, boot="one")))
    return send


def prepare(folder: Path) -> Made:
    """Let both ends write, since they met."""
    stores = opened(folder)
    with stores["aboard"].writing() as session:
        key = found_vessel(session, VESSEL).key
        submit(session, VESSEL, [setting(f"vessel/{VESSEL}", mark="TGL", name="Tangloppe")],
               wall_ms=START_MS)
    devices.pair(stores["aboard"], VESSEL, TOKEN, name="office", role="crew", grants=(OFFICE,))
    follow(stores["office"], VESSEL, key)
    meet(stores["office"], VESSEL, sender(stores["aboard"]), now_ms=lambda: START_MS)
    made: Made = {}
    for which, end in enumerate(ENDS):
        idents = [str(UUID(int=1000 * (which + 1) + at, version=4)) for at in range(WRITTEN)]
        with stores[end].writing(VESSEL) as session:
            submit(session, VESSEL, [Draft("put", {
                "part": PARTS[at % 2], "locker": LOCKERS[at % 2], "lot": "", "q": 1000}, ident)
                for at, ident in enumerate(idents)], wall_ms=START_MS)
        made[end] = set(idents)
    for store in stores.values():
        store.close()
    return made


def do(folder: Path, say: Callable[[Path, str], None]) -> None:
    """Meet, and say when it is over."""
    stores = opened(folder)
    meet(stores["office"], VESSEL, sender(stores["aboard"]), now_ms=lambda: START_MS)
    say(folder, "met")
    for store in stores.values():
        store.close()


def look(folder: Path, made: Made, said: list[str]) -> None:
    """See that both ends are whole, that nothing is lost, and that the next meeting heals."""
    stores = opened(folder)
    for end in ENDS:
        check_log(stores[end], made[end])
    if said:
        assert state(stores["aboard"]) == state(stores["office"])
    meet(stores["office"], VESSEL, sender(stores["aboard"]), now_ms=lambda: START_MS)
    check_equal(stores, made)
    for store in stores.values():
        store.close()


def check_equal(stores: dict[str, Store], made: Made) -> None:
    """See that both ends hold all that was *made*, and the same tables, as the log makes them."""
    for store in stores.values():
        check_log(store, made["aboard"] | made["office"])
        with store.writing(VESSEL) as session:
            assert rebuild(session, VESSEL) == []
    assert state(stores["aboard"]) == state(stores["office"])


def check_log(store: Store, made: set[str]) -> None:
    """See that a log is whole, and that all that was *made* is in it once."""
    with store.reading() as session:
        rows = check_chain(session, VESSEL)
        ids = list(session.execute(select(LogEntry.id)).scalars())
        assert made <= set(ids) and len(ids) == len(set(ids)) == rows


def state(store: Store) -> tuple[Any, ...]:
    """Give the head of the log, and all that the tables say."""
    with store.reading() as session:
        return head_of(session, VESSEL), logical_dump(session, VESSEL)
