"""A whole vessel as one JSON object, and back: for handing her over.

What stands in it is her state: every document with its fields, and what was
fitted, read, done and counted. Brought in again it makes the same vessel; ids
stay, so the same file twice changes nothing.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from typing import Any
from uuid import UUID

from spares.domain.aboard import Aboard
from spares.domain.documents import DOCUMENTS, fault
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput

FORMAT, VERSION = "spares-vessel", 1

_HAPPENED = {"fitted": ("point", "part", "date"),
             "readings": ("machine", "date", "minutes", "because", "doubt"),
             "done": ("service", "machine", "date", "minutes", "proof", "by", "note"),
             "lying": ("part", "locker", "lot", "quantity")}
#: Members that came later: they are no part of an id, so that older files mean the same.
_LATER = {"fitted": ("why",), "done": ("failed",)}
#: The only one of all these members that is a list.
_LIST = "failed"
_KINDS = {"fitted": "exchange", "readings": "reading", "done": "service", "lying": "counted"}


def vessel_json(aboard: Aboard) -> dict[str, Any]:
    """Give the vessel as plain JSON; fields that nobody filled in are left out."""
    documents = {kind: {one.id: _filled(one, DOCUMENTS[kind]) for one in aboard.all(kind)}
                 for kind in DOCUMENTS}
    happened = {"fitted": aboard.fitted, "readings": aboard.readings, "done": aboard.done,
                "lying": [one for one in aboard.lying if one.counted]}
    return {"format": FORMAT, "version": VERSION, "vessel": aboard.vessel.id,
            "documents": {kind: ones for kind, ones in documents.items() if ones},
            **{what: [_filled(one, _members(what)) for one in some]
               for what, some in happened.items()}}


def json_drafts(content: Any, *, again: int = 0) -> tuple[str, list[Draft]]:
    """Give the vessel's id and the drafts that make her from what `vessel_json` gave.

    `again` counts how often this was brought in and taken back before [1].

    Raises:
        InvalidInput: it is no such object; `errors` says where.
    """
    if not isinstance(content, dict) or content.get("format") != FORMAT:
        raise InvalidInput.at("#/format", f"{FORMAT!r} is needed; this is no vessel's file")
    if content.get("version") != VERSION:
        raise InvalidInput.at("#/version", f"version {VERSION} is read here, not "
                              f"{content.get('version')!r}; a newer program wrote this file")
    vessel, documents = content.get("vessel"), content.get("documents")
    if not isinstance(vessel, str) or not _is_id(vessel) or not isinstance(documents, dict):
        raise InvalidInput.at("#/vessel", "the vessel's id and her documents are needed")
    drafts = list(_settings(documents))
    salt = hashlib.sha256(repr(content.get("lying")).encode()).hexdigest() + f" {again}"
    for what in _HAPPENED:
        drafts += _happenings(content.get(what, []), what, vessel, salt)
    return vessel, drafts


def _is_id(text: str) -> bool:
    try:
        return str(UUID(text)) == text
    except ValueError:
        return False


def _settings(documents: dict[str, Any]) -> Iterator[Draft]:
    for kind in DOCUMENTS:
        ones = documents.get(kind, {})
        if not isinstance(ones, dict):
            raise InvalidInput.at(f"#/documents/{kind}", "an object by id is needed")
        for ident, fields in ones.items():
            if not isinstance(fields, dict) or not fields:
                raise InvalidInput.at(f"#/documents/{kind}/{ident}", "an object is needed")
            for name, value in fields.items():
                if wrong := fault(kind, name, value):
                    raise InvalidInput.at(f"#/documents/{kind}/{ident}/{name}", wrong)
            yield setting(ref(kind, ident), **fields)
    unknown = sorted(set(documents) - set(DOCUMENTS))
    if unknown:
        raise InvalidInput.at(f"#/documents/{unknown[0]}", "no such kind of document")


def _happenings(some: Any, what: str, vessel: str, salt: str) -> Iterator[Draft]:
    if not isinstance(some, list):
        raise InvalidInput.at(f"#/{what}", "a list is needed")
    for place, one in enumerate(some):
        if not isinstance(one, dict) or not set(one) <= set(_members(what)) or any(
                isinstance(value, (dict, list)) for name, value in one.items()
                if name != _LIST):
            raise InvalidInput.at(f"#/{what}/{place}",
                                  f"an object of {', '.join(_members(what))} is needed")
        facts = [str(one.get(name, "")) for name in _HAPPENED[what]]
        told = salt if what == "lying" else salt.rpartition(" ")[2]
        yield Draft(_KINDS[what], _body(what, one), joined_id("handed-over", vessel, what, told,
                                                              *facts))


def _body(what: str, one: dict[str, Any]) -> dict[str, Any]:
    if what == "lying":
        q = one.get("quantity") or 0
        return {"part": one.get("part"), "locker": one.get("locker"), "lot": one.get("lot", ""),
                "q": max(q, 0) if isinstance(q, int) else q}    # the door says what is wrong
    if what == "fitted":
        return {"part": "", **one}
    return {**one, "lines": []} if what == "done" else dict(one)


def _members(what: str) -> tuple[str, ...]:
    return (*_HAPPENED[what], *_LATER.get(what, ()))


def _filled(record: Any, names: Any) -> dict[str, Any]:
    values = {name: getattr(record, name) for name in names}
    return {name: list(value) if isinstance(value, tuple) else value
            for name, value in values.items() if value not in (None, "", ())}
