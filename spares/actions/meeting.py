"""An office and a vessel's own server come together, however long they were apart."""

from __future__ import annotations

import secrets
from collections.abc import Callable
from typing import Any
from uuid import uuid4

from spares.actions.context import clock_ms
from spares.db.door import found_vessel
from spares.db.engine import Store
from spares.db.logbook import vessel_head
from spares.db.office_store import OfficeStore, home_of, homes, keep_home
from spares.db.tables import Logbook
from spares.errors import Conflict, StoreBusy
from spares.sync.meeting import Meeting
from spares.sync.turn import Around

#: Sends one request to the vessel's server and gives its answer.
Send = Callable[[dict[str, Any]], dict[str, Any]]
#: More rounds than any honest meeting needs.
MOST_ROUNDS = 10_000


def follow(store: Store, vessel: str, key: bytes, **known: Any) -> None:
    """Keep from now on the log of *vessel*, sealed with *key*, as her own server has it.

    Args:
        store: The office's store.
        vessel: Her id [-].
        key: The key of her log [32 bytes].
        known: What is kept of her server, such as its address and this office's token there.

    Raises:
        Conflict: a vessel of this id is here under another key.
    """
    with store.writing() as session:
        book = session.get(Logbook, vessel)
        if book is None:
            book = found_vessel(session, vessel, device_name="this office")
            book.key = key
            session.add(book)
        elif book.key != key:
            raise Conflict("a vessel of this id is here already, and is another", vessel=vessel)
        home = home_of(session, vessel)
        keep_home(session, vessel, {"inst": secrets.token_hex(16), **home, **known})


def homes_of(store: Store) -> list[tuple[str, dict[str, Any]]]:
    """Give the vessels that follow a server of their own, by id, with what is kept of it.

    `mark` is the one of now: her paper may name an older one.
    """
    with store.reading() as session:
        return [(vessel, {**home, "mark": vessel_head(session, vessel)[0] or home["mark"]})
                for vessel, home in homes(session) if "address" in home]


def meet(store: Store, vessel: str, send: Send, *,
         now_ms: Callable[[], int] = clock_ms) -> dict[str, Any]:
    """Meet the vessel's own server until both have all; each round is kept by itself.

    Args:
        store: The office's store.
        vessel: Her id [-].
        send: Sends a request to her server and gives the answer; what it raises ends the
            meeting, and another one goes on from there.
        now_ms: This computer's clock [ms since 1970].

    Returns:
        `taken` and `brought` (changes new here, and new there [1]), `waiting` (ids of what she
        did not take, or not yet), `doubted` (the two clocks disagree), `rows` of her log [1].

    Raises:
        Stopped: she has let this office go, or what answered is not her server.
        StoreBusy: the log changed in a way that needs another meeting.
    """
    around = Around(now_ms(), "", lambda: str(uuid4()))
    with store.reading() as session:
        meeting = Meeting(OfficeStore(session, vessel), home_of(session, vessel)["inst"])
    for _ in range(MOST_ROUNDS):
        with store.reading() as session:
            request = meeting.request(OfficeStore(session, vessel), now_ms())
        answer = send(request)
        with store.turn_of(vessel), store.writing(vessel) as session:
            kept = OfficeStore(session, vessel)
            has_more = meeting.take(kept, answer, around)
            kept.close()
        if not has_more:
            _note_met(store, vessel, now_ms())
            return told(meeting)
    raise StoreBusy("the meeting does not come to an end; meet again")


def told(meeting: Meeting) -> dict[str, Any]:
    """Say what came of a meeting."""
    return {"taken": meeting.taken, "brought": meeting.brought,
            "waiting": sorted(set(meeting.waiting)), "doubted": meeting.doubted,
            "rows": meeting.common}


def _note_met(store: Store, vessel: str, now_ms: int) -> None:
    with store.writing(vessel) as session:
        keep_home(session, vessel, {**home_of(session, vessel), "met_ms": now_ms})
