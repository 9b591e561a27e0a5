"""Write a document: begin a new one, or set fields of one that is there."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from typing import Any
from uuid import uuid4

from spares.actions.claims_written import check_claim, check_kind
from spares.actions.codes import reserved_codes
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, known_body
from spares.actions.trip.check import check_fields
from spares.actions.trip.fields import finder, refuse
from spares.db.find import vessels
from spares.domain.aboard import Aboard
from spares.domain.codes import first_free
from spares.domain.documents import DOCUMENTS, REF, fault
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, kind_of, numbered_id, ref
from spares.domain.place_fields import place_wrongs
from spares.domain.trip_fields import stored, wrongs
from spares.errors import Conflict, InvalidInput, NotFound
from spares.transfer.columns import TABLES

PREFIX = {"part": ("P", 3), "locker": ("L", 2), "service": ("S", 2), "trip": ("T", 1),
          "order": ("O", 1), "joint": ("J", 1), "drain-point": ("D", 2)}
#: What tells documents without a number apart: as in the tables that come in, so that a
#: thing made by hand and the same thing in a file are one.
ENDS = {table.kind: table.key for table in TABLES.values()
        if table.kind not in (None, "vessel", "lot") and table.key != ("no",)}
ENDS["service-at"] = ("service", "point")
CODED = ("locker", "machine")


@in_turn
def write_document(ctx: Context, kind: str, fields: dict[str, Any], *,
                   doc: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Set *fields* of the document *doc*, or of a new one of this *kind*.

    A new thing without a number gets the next free one, a locker or machine a code. Asked again
    with the same *change_id* it is the same change, and nothing is begun twice.

    Raises:
        InvalidInput: unknown kind or field, or a value that the field cannot hold.
        NotFound: a document that is named is not there.
        Conflict: the number is taken.
    """
    if kind not in DOCUMENTS or kind == "vessel" and doc is None:
        raise InvalidInput.at("#/kind", f"there is no kind of document called {kind!r}")
    if not isinstance(fields, dict) or not fields:
        raise InvalidInput.at("#/fields", "at least one field is needed")
    ident = a_change_id(change_id)
    if (known := known_body(ctx, ident, "set", doc=doc)) is not None:
        return _answer(ctx, kind, str(known["doc"]), ident, was_new=False)
    aboard = ctx.aboard()
    fields = {name: _as_stored(ctx, kind, name, value) for name, value in fields.items()}
    for name, value in fields.items():
        _check(aboard, kind, name, value)
    check_claim(ctx, kind, fields, aboard.get(doc) if doc else None)
    check_kind(ctx, kind, fields, doc)
    if doc is None:
        name, draft = new_document(ctx, aboard, kind, fields)
    else:
        if not REF.match(doc) or kind_of(doc) != kind or aboard.get(doc) is None:
            raise NotFound(f"doc: there is no such {kind}",
                           errors=[{"pointer": "#/doc", "detail": "not found"}])
        _check_taken(aboard, doc, kind, _with_what_comes_back(aboard, doc, fields))
        name, draft = doc, setting(doc, **fields)
    if kind == "trip":
        check_fields(aboard, name, fields)
    if kind == "vessel" and fields.get("mark"):
        _check_mark(ctx, fields["mark"])
    ctx.write([replace(draft, id=ident)])
    return _answer(ctx, kind, name, ident, was_new=True)


def _check_mark(ctx: Context, mark: str) -> None:
    """Refuse another vessel's mark: whoever says it would be led to the wrong one."""
    ctx.require_skipper()       # nobody else hears which marks there are
    with ctx.store.looking() as reader:
        if any(one.upper() == mark.upper() for ident, one in vessels(reader)
               if ident != ctx.vessel):
            raise Conflict(f"another vessel here bears the mark {mark}",
                           errors=[{"pointer": "#/fields/mark", "detail": "taken"}])


def _answer(ctx: Context, kind: str, name: str, change: str, *, was_new: bool) -> dict[str, Any]:
    now = ctx.aboard().get(name)
    if now is None or kind_of(name) != kind:
        raise Conflict("this change's id was used before for another change", stop="id_reused",
                       change=change)
    return {"doc": name, "kind": kind, "no": getattr(now, "no", None), "change": change,
            "was_new": was_new, "fields": {key: getattr(now, key) for key in DOCUMENTS[kind]}}


def new_document(ctx: Context, aboard: Aboard, kind: str,
                 fields: dict[str, Any]) -> tuple[str, Draft]:
    """Name a new document and draft it, with number and code if it needs them.

    Raises:
        InvalidInput: a field that is needed is missing.
        Conflict: the number is taken.
    """
    fields = _completed(aboard, kind, fields, reserved_codes(ctx))
    name = _new_name(ctx, aboard, kind, fields)
    _check_taken(aboard, name, kind, fields)
    return name, setting(name, **revived(aboard, name, fields))


def revived(aboard: Aboard, name: str, fields: dict[str, Any]) -> dict[str, Any]:
    """Give the fields by which a document is there, also if it was taken off the books before."""
    record = aboard.get(name)
    return {**fields, "gone": False} if record is not None and record.gone else fields


def _with_what_comes_back(aboard: Aboard, doc: str, fields: dict[str, Any]) -> dict[str, Any]:
    """Add number and code of what is brought back on the books: another may bear them by now."""
    record = aboard.get(doc)
    if record is None or not record.gone or fields.get("gone") is not False:
        return fields
    return {"no": getattr(record, "no", None), "code": getattr(record, "code", None), **fields}


def _check_taken(aboard: Aboard, doc: str, kind: str, fields: dict[str, Any]) -> None:
    """Refuse a number that another thing of the kind bears, or a code that any other bears."""
    for field, kinds in (("no", (kind,)), ("code", ("locker", "machine", "lot"))):
        asked = fields.get(field)
        if not asked or field not in DOCUMENTS[kind]:
            continue
        for other in kinds:
            for one in aboard.all(other):
                if getattr(one, field) == asked and ref(other, one.id) != doc:
                    raise Conflict(f"{field}: {asked} is taken by another {other}",
                                   errors=[{"pointer": f"#/fields/{field}", "detail": "taken"}])


def _as_stored(ctx: Context, kind: str, name: str, value: Any) -> Any:
    """Bring what holds more than one value into the stored form: people write numbers."""
    spec = DOCUMENTS[kind].get(name)
    if spec is None or spec.type != "shaped" or value is None:
        return value
    return stored(spec.among[0], value, finder(ctx, f"fields/{name}"))


def _check(aboard: Aboard, kind: str, name: str, value: Any) -> None:
    if name not in DOCUMENTS[kind] and name != "gone":
        raise InvalidInput.at(f"#/fields/{name}", "there is no such field")
    spec = DOCUMENTS[kind].get(name)
    if spec is not None and spec.type == "shaped" and value is not None:
        refuse([{"pointer": f"#/fields/{name}{path}", "detail": detail}
                for path, detail in wrongs(spec.among[0], value)])
    if spec is not None and spec.type == "place" and value is not None:
        refuse([{"pointer": f"#/fields/{name}{path}", "detail": detail}
                for path, detail in place_wrongs(value)])
    if wrong := fault(kind, name, value):
        raise InvalidInput.at(f"#/fields/{name}", wrong)
    if spec is not None and spec.type == "ref" and value and aboard.get(value) is None:
        raise NotFound(f"{name}: what it names is not there",
                       errors=[{"pointer": f"#/fields/{name}", "detail": "not found"}])


def _completed(aboard: Aboard, kind: str, fields: dict[str, Any],
               reserved: Collection[str] = ()) -> dict[str, Any]:
    fields = dict(fields)
    if kind in PREFIX and not fields.get("no"):
        fields["no"] = next_number(aboard, kind)
    if kind in CODED and not fields.get("code"):
        taken = {one.code for some in CODED for one in aboard.docs[some].values() if one.code}
        fields["code"] = first_free(taken | set(reserved))
    for name, spec in DOCUMENTS[kind].items():
        if spec.needed and fields.get(name) in (None, ""):
            raise InvalidInput.at(f"#/fields/{name}", "is needed for a new one")
    return fields


def next_number(aboard: Aboard, kind: str) -> str:
    """Give the next free number of a kind of thing, such as P121."""
    letter, digits = PREFIX[kind]
    taken = {one.no for one in aboard.docs[kind].values()}
    highest = max((int(no[1:]) for no in taken if no and no[0] == letter and no[1:].isdigit()),
                  default=0)
    return f"{letter}{highest + 1:0{digits}}"


def _new_name(ctx: Context, aboard: Aboard, kind: str, fields: dict[str, Any]) -> str:
    if "no" in DOCUMENTS[kind] and fields.get("no"):
        if any(one.no == fields["no"] for one in aboard.all(kind)):
            raise Conflict(f"no: {fields['no']} is taken by another {kind}",
                           errors=[{"pointer": "#/fields/no", "detail": "taken"}])
        name = ref(kind, numbered_id(ctx.vessel, kind, fields["no"]))
        known = aboard.get(name)
        # what was begun under this number and bears another one by now is not this thing
        return name if known is None or known.gone else ref(kind, str(uuid4()))
    if kind in ENDS:
        told = {**((fields.get("claim") or {}).get("origin") or {}), **fields}
        return ref(kind, joined_id(kind, *(str(told.get(end) or "") for end in ENDS[kind])))
    return ref(kind, str(uuid4()))
