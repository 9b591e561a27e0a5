"""A meeting without a net: the office's letter goes aboard as a file, her answer comes back.

Rows of a log have seals of their own; what else stands in the two files is believed because
the whole is sealed with the key that both ends have.
"""

from __future__ import annotations

import hashlib
import hmac
import json
from collections.abc import Callable
from typing import Any
from uuid import uuid4

import orjson

from spares.actions.context import Context, clock_ms
from spares.actions.her_server import HerServer
from spares.actions.identify import identify
from spares.actions.meeting import told
from spares.actions.sync import sync
from spares.db.engine import Store
from spares.db.logbook import vessel_head
from spares.db.office_store import OfficeStore, home_of
from spares.db.tables import Logbook
from spares.errors import Conflict, InvalidInput, Stopped
from spares.sync.meeting import Meeting
from spares.sync.request import MOST_WANTED
from spares.sync.turn import Around

#: Version of letters and answers.
LETTER = 1


def write_letter(store: Store, vessel: str, now_ms: Callable[[], int] = clock_ms
                 ) -> dict[str, Any]:
    """Write at the office what it asks of the vessel's own server, and brings her."""
    with store.reading() as session:
        kept, home = OfficeStore(session, vessel), home_of(session, vessel)
        requests = Meeting(kept, home["inst"]).letter(kept, now_ms())
        return _sealed({"spares_letter": LETTER, "vessel": vessel, "token": home["token"],
                        "cursor": home.get("cursor"), "requests": requests}, kept.key)


def answer_letter(letter: Any, ctx: Context, *, served_at: str | None = None) -> dict[str, Any]:
    """Take a letter in, aboard, and write the answer.

    Args:
        letter: As `write_letter` wrote it.
        ctx: Where the vessel's own log is.
        served_at: Address of the server that runs on this store, which then does it [-].

    Raises:
        InvalidInput: it is no such letter, is not to a vessel of this store, or was altered.
        Stopped: the office is not known here, or was let go.
    """
    requests = letter.get("requests") if isinstance(letter, dict) else None
    if not isinstance(requests, list) or letter.get("spares_letter") != LETTER:
        raise InvalidInput.at("#/letter", "this is no letter of an office")
    with ctx.store.reading() as session:
        book = session.get(Logbook, str(letter.get("vessel")))
    if book is None or not _is_sealed(letter, book.key):
        raise InvalidInput.at("#/letter", "this letter was altered, or is to another vessel")
    send = _by_server(served_at, letter["token"]) if served_at else _here(ctx, letter["token"])
    answers = [send(one) for one in requests]
    while answers[-1]["more"] and answers[-1]["cursor"] is not None:
        answers.append(send({**requests[-1], "cursor": answers[-1]["cursor"], "relay": [],
                             "epochs": [], "want": MOST_WANTED}))
    return _sealed({"spares_answer": LETTER, "vessel": letter["vessel"],
                    "cursor": letter["cursor"], "answers": answers}, book.key)


def take_answer(store: Store, answer: Any, now_ms: Callable[[], int] = clock_ms
                ) -> dict[str, Any]:
    """Take her answer in, at the office; gives what `meet` gives, with her `mark`.

    Raises:
        InvalidInput: it is no such answer, or was altered.
        Conflict: the two met since the letter was written.
        Stopped: as `meet`.
    """
    answers = answer.get("answers") if isinstance(answer, dict) else None
    if not isinstance(answers, list) or answer.get("spares_answer") != LETTER:
        raise InvalidInput.at("#/answer", "this is no answer to an office's letter")
    vessel = answer.get("vessel")
    with store.turn_of(str(vessel)), store.writing(str(vessel)) as session:
        home = home_of(session, str(vessel))
        if "inst" not in home:
            raise InvalidInput.at("#/answer", "this office keeps no such vessel")
        if home.get("cursor") != answer.get("cursor"):
            raise Conflict("this office and the vessel met since that letter was written; if "
                           "something lacks, write another")
        kept = OfficeStore(session, str(vessel))
        if not _is_sealed(answer, kept.key):
            raise InvalidInput.at("#/answer", "this answer was altered")
        meeting = Meeting(kept, home["inst"])
        meeting.take_letter(kept, answers, Around(now_ms(), "", lambda: str(uuid4())))
        kept.close()
        mark, _ = vessel_head(session, str(vessel))
    return {"vessel": vessel, "mark": mark or "", **told(meeting), "doubted": False,
            "fault": None}


def _sealed(letter: dict[str, Any], key: bytes) -> dict[str, Any]:
    return {**letter, "seal": _seal(letter, key)}


def _is_sealed(letter: dict[str, Any], key: bytes) -> bool:
    try:
        bare = {name: value for name, value in letter.items() if name != "seal"}
        return hmac.compare_digest(_seal(bare, key).encode(), str(letter.get("seal")).encode())
    except (TypeError, ValueError):
        return False


def _seal(letter: dict[str, Any], key: bytes) -> str:
    told = orjson.dumps(letter, option=orjson.OPT_SORT_KEYS)
    return hmac.new(key, b"letter|" + told, hashlib.sha256).hexdigest()


def _by_server(address: str, token: str) -> Callable[[dict[str, Any]], dict[str, Any]]:
    return HerServer({"address": address, "token": token, "authority": ""})


def _here(ctx: Context, token: str) -> Callable[[dict[str, Any]], dict[str, Any]]:
    known = identify(ctx.store, token)
    if known is None or known.revoked == "lost":
        raise Stopped("this office is not let in here", stop="not_paired")
    boot = str(uuid4())
    return lambda request: sync(ctx.store, known.vessel, known.dev, json.dumps(request).encode(),
                                wall_ms=clock_ms(), boot=boot)
