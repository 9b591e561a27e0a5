"""Bring files in: all of them or nothing, through the one door, undone as one."""

from __future__ import annotations

import json
from collections import Counter
from collections.abc import Callable
from contextlib import nullcontext
from dataclasses import replace
from datetime import date
from pathlib import Path
from typing import Any
from uuid import uuid4

from spares.actions.context import clock_ms
from spares.actions.read_json import read_json
from spares.config import seed_folder
from spares.db.door import found_vessel, submit
from spares.db.engine import Store
from spares.db.find import vessels
from spares.db.history import entry, undone_among
from spares.db.load import load_aboard
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft
from spares.domain.identity import id_of, joined_id, kind_of
from spares.errors import Conflict, InvalidInput, NotFound
from spares.transfer.export_json import json_drafts
from spares.transfer.news import news
from spares.transfer.tables import read_tables
from spares.transfer.vessel_rows import vessel_drafts, vessel_mark

DEMO = ("tangloppe", "hestereje")
MOST_TIMES = 100
AT_ONCE = 1000      # changes between two tellings

Making = Callable[[str, Aboard | None, int], list[Draft]]
Told = Callable[[int, int], None]


def bring_in(store: Store, source: Path | bytes, *, name: str = "", vessel: str | None = None,
             look: bool = False, day_zero: date | None = None,
             now_ms: Callable[[], int] = clock_ms,
             told: Told = lambda done, of: None) -> dict[str, Any]:
    """Bring in a folder, an archive, a table or a whole vessel as JSON.

    The files say which vessel they are of, or else *vessel* (a mark) does; a vessel
    that is not in the store yet is begun.

    Args:
        store: The open store.
        source: A path, or the bytes of a file [-].
        name: The file's name where bytes are given [-].
        vessel: Mark of the vessel, where the files do not say [-].
        look: Only say what would happen [-].
        day_zero: Day that the files' own day zero stands for now [-].
        now_ms: The clock [ms since 1970].
        told: As for `write_as_one`.

    Raises:
        InvalidInput: `errors` names file, row and column of each fault; nothing was written.
        Conflict: another vessel bears the mark.
    """
    mark, ident, make = _reader(source, name, vessel, day_zero)
    with nullcontext() if look else store.turn:     # a vessel is begun once, though asked for twice
        mark, ident, fresh = _vessel_of(store, mark, ident)
        if not look:
            return {"vessel": mark, **write_as_one(store, ident, make, fresh=fresh,
                                                   now_ms=now_ms, told=told)}
    return _look(store, ident, mark, make, fresh=fresh)


def _vessel_of(store: Store, mark: str | None, ident: str | None) -> tuple[str, str, bool]:
    """Give mark and id of the vessel that files are of, and whether she is begun with them."""
    with store.reading() as session:
        known = {one.upper(): one_id for one_id, one in vessels(session)}
    if mark is None:
        if len(known) != 1:
            raise InvalidInput.at("#/vessel", "the files do not say which vessel they are of")
        mark = next(iter(known))
    if ident is not None and known.get(mark.upper(), ident) != ident:
        raise Conflict(f"another vessel here bears the mark {mark}",
                       errors=[{"pointer": "#/documents/vessel", "detail": "taken"}])
    fresh = mark.upper() not in known and ident not in known.values()
    return mark, ident or known.get(mark.upper()) or str(uuid4()), fresh


def write_as_one(store: Store, ident: str, make: Making, *, fresh: bool = False,
                 now_ms: Callable[[], int] = clock_ms,
                 told: Told = lambda done, of: None) -> dict[str, Any]:
    """Write all that *make* asks for in one transaction; undoing its batch takes it back whole.

    Args:
        store: The open store.
        ident: The vessel's id [-].
        make: Makes the changes from what is aboard.
        fresh: Whether the vessel is begun with this [-].
        now_ms: The clock [ms since 1970].
        told: Is told how many changes of how many are written [1]; what it raises before
            the last one leaves nothing written.
    """
    # In turn: who chose a number by what was there before must not write it after this.
    with store.turn_of(ident), store.writing(None if fresh else ident) as session:
        if fresh:
            found_vessel(session, ident)
        aboard = None if fresh else load_aboard(session, ident)
        drafts = _drafts(session, ident, aboard, make)
        _check_begun(drafts, ident, fresh=fresh)
        check_codes(drafts, aboard)
        batch = joined_id("brought-in", ident, *sorted(d.id or json.dumps(d.body, sort_keys=True)
                                                       for d in drafts))
        marked = [replace(one, body={**one.body, "batch": batch}) for one in drafts]
        written = 0
        for at in range(0, len(marked), AT_ONCE):
            told(at, len(marked))
            outcomes = submit(session, ident, marked[at:at + AT_ONCE], wall_ms=now_ms())
            written += sum(one.was_new for one in outcomes)
    told(len(marked), len(marked))
    return {"batch": batch if written else None, "changes": written,
            "known_already": len(marked) - written, "things": _things(drafts), "look": False}


def load_demo(store: Store, *, day_zero: date | None = None,
              now_ms: Callable[[], int] = clock_ms) -> list[dict[str, Any]]:
    """Bring the demo's two vessels into a store, with *day_zero* as their present day."""
    return [bring_in(store, seed_folder() / folder, day_zero=day_zero, now_ms=now_ms)
            for folder in DEMO]


def _reader(source: Path | bytes, name: str, vessel: str | None,
            day_zero: date | None) -> tuple[str | None, str | None, Making]:
    """Read the source; give its vessel's mark, her id if it says so, and what makes drafts."""
    if isinstance(source, Path) and not source.exists():
        raise NotFound(f"file: there is no {source.name or source}",
                       errors=[{"pointer": "#/file", "detail": "not found"}])
    title = name or (source.name if isinstance(source, Path) else "")
    if title.lower().endswith(".json") or (isinstance(source, bytes)
                                           and source.lstrip()[:1] == b"{"):
        content = read_json(source if isinstance(source, bytes) else source.read_bytes())
        ident, drafts = json_drafts(content)
        marks = [one.body["f"].get("mark") for one in drafts
                 if one.kind == "set" and one.body["doc"] == f"vessel/{ident}"]
        return (next(filter(None, marks), vessel), ident,
                lambda _vessel, aboard, again: _unsaid(json_drafts(content, again=again)[1],
                                                       aboard))
    tables = read_tables(source, name)
    return vessel_mark(tables) or vessel, None, lambda ident, aboard, again: vessel_drafts(
        tables, ident, aboard=aboard, day_zero=day_zero, again=again)


def _unsaid(drafts: list[Draft], aboard: Aboard | None) -> list[Draft]:
    return drafts if aboard is None else list(news(drafts, aboard))


def _drafts(session: Any, vessel: str, aboard: Aboard | None, make: Making) -> list[Draft]:
    """Make the drafts; what was taken back before comes in under new ids."""
    for again in range(MOST_TIMES):
        drafts = make(vessel, aboard, again)
        ids = [one.id for one in drafts if one.id]
        if not undone_among(session, vessel, ids):
            return drafts
    raise InvalidInput.at("#/file", "it was brought in and taken back too often")


def _check_begun(drafts: list[Draft], vessel: str, *, fresh: bool) -> None:
    """Refuse to begin a log in which nothing says which vessel it is of: nobody could find it."""
    if fresh and not any(one.kind == "set" and one.body["doc"] == f"vessel/{vessel}"
                         and one.body["f"].get("mark") for one in drafts):
        raise InvalidInput.at("#/documents/vessel", "a vessel that is begun needs her mark")


def check_codes(drafts: list[Draft], aboard: Aboard | None) -> None:
    """Refuse a label's code that two things would bear: it must lead to one place.

    Raises:
        InvalidInput: `errors` names each.
    """
    bearers = {one.code: f"{kind}/{one.id}" for kind in ("locker", "machine", "lot")
               for one in (aboard.all(kind) if aboard is not None else ()) if one.code}
    faults = []
    for draft in drafts:
        code = draft.body["f"].get("code") if draft.kind == "set" else None
        if code and bearers.setdefault(code, draft.body["doc"]) != draft.body["doc"]:
            faults.append({"pointer": f"#/{kind_of(draft.body['doc'])}s.csv/code",
                           "detail": f"{code} is on another label already"})
    if faults:
        raise InvalidInput(f"code: {faults[0]['detail']}", errors=faults)


def _look(store: Store, ident: str, mark: str, make: Making, *, fresh: bool) -> dict[str, Any]:
    known = 0
    with store.reading() as session:
        drafts = (make(ident, None, 0) if fresh
                  else _drafts(session, ident, load_aboard(session, ident), make))
        _check_begun(drafts, ident, fresh=fresh)
        check_codes(drafts, None if fresh else load_aboard(session, ident))
        if not fresh:
            known = sum(entry(session, ident, one.id) is not None for one in drafts if one.id)
    return {"vessel": mark, "batch": None, "changes": len(drafts) - known, "known_already": known,
            "things": _things(drafts), "look": True, "new_vessel": fresh}


def _things(drafts: list[Draft]) -> dict[str, int]:
    """Count the documents and happenings by kind."""
    docs = {one.body["doc"] for one in drafts if one.kind == "set"}
    found = Counter(kind_of(doc) for doc in docs if id_of(doc))
    found.update(one.kind for one in drafts if one.kind != "set")
    return dict(sorted(found.items()))

