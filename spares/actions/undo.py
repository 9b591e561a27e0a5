"""Undo: take a change back, by a further change. Nothing is wiped out."""

from __future__ import annotations

import json
from typing import Any

from sqlmodel import Session, col, select

from spares.actions.changes import UNDONE_NOTE, VOIDABLE, is_undoing, say, undone_among
from spares.actions.context import Context
from spares.actions.stock_moves import a_change_id
from spares.db.tables import FieldVersion, LogEntry
from spares.domain.draft import Draft
from spares.errors import Conflict, InvalidInput, NotFound

LOOK_BACK = 200


def undo(ctx: Context, change: str | None = None) -> dict[str, Any]:
    """Take back *change*, or the last one that can be taken back.

    The changes of one act (an import, a count of several lots) go back together.

    Raises:
        NotFound: there is no such change, or none to take back.
        Conflict: it was taken back already, or something later stands on it.
        InvalidInput: it is no change's id.
    """
    ident = a_change_id(change) if change is not None else None
    with ctx.store.reading() as session:
        found = _find(session, ctx.vessel, ident)
        rows = _act_of(session, ctx.vessel, found)
        drafts = [_back(session, ctx.vessel, row) for row in reversed(rows)]
    aboard = ctx.aboard()
    text = say(aboard, found.kind, json.loads(found.raw)["body"])
    ctx.write(drafts)
    return {"undone": found.id, "kind": found.kind, "text": f"Undid: {text}",
            "changes": len(rows)}


def _find(session: Session, vessel: str, ident: str | None) -> LogEntry:
    query = select(LogEntry).where(col(LogEntry.vessel) == vessel)
    if ident is not None:
        row = session.exec(query.where(col(LogEntry.id) == ident)).first()
        if row is None:
            raise NotFound("change: there is no such change",
                           errors=[{"pointer": "#/change", "detail": "not found"}])
        if undone_among(session, vessel, [ident]):
            raise Conflict("this change was taken back already", change=ident)
        if is_undoing(row.kind, json.loads(row.raw)["body"]):
            raise InvalidInput.at("#/change", "this is itself a taking back; make the change anew")
        return row
    rows = session.exec(query.order_by(col(LogEntry.seq).desc()).limit(LOOK_BACK)).all()
    undone = undone_among(session, vessel, [row.id for row in rows])
    for row in rows:
        if row.id not in undone and not is_undoing(row.kind, json.loads(row.raw)["body"]) and (
                row.kind in VOIDABLE or row.kind == "set"):
            return row
    raise NotFound("there is nothing to take back")


def _act_of(session: Session, vessel: str, row: LogEntry) -> list[LogEntry]:
    if not row.batch:
        return [row]
    rows = session.exec(select(LogEntry).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.batch) == row.batch)
        .order_by(col(LogEntry.seq))).all()
    undone: set[str] = set()
    for start in range(0, len(rows), 500):
        undone |= undone_among(session, vessel, [one.id for one in rows[start:start + 500]])
    return [one for one in rows if one.id not in undone]


def _back(session: Session, vessel: str, row: LogEntry) -> Draft:
    body = json.loads(row.raw)["body"]
    if row.kind in VOIDABLE:
        return Draft("void", {"of": row.id})
    if row.kind != "set":
        raise Conflict(f"a {row.kind} cannot be taken back", change=row.id)
    fields, base = {}, {}
    for name in body["f"]:
        fields[name], base[name] = _value_before(session, vessel, row, name)
    if all(not body["base"].get(name) for name in body["f"]) and _is_first(session, vessel, row):
        fields, base = {"gone": True}, {}
    return Draft("set", {"doc": body["doc"], "f": fields, "note": UNDONE_NOTE + row.id,
                         **({"base": base} if base else {})})


def _value_before(session: Session, vessel: str, row: LogEntry,
                  name: str) -> tuple[Any, list[str]]:
    """Give what the field held before *row*, and the versions that stand now."""
    doc = json.loads(row.raw)["body"]["doc"]
    versions = session.exec(select(FieldVersion).where(
        col(FieldVersion.vessel) == vessel, col(FieldVersion.doc) == doc,
        col(FieldVersion.field) == name).order_by(col(FieldVersion.at))).all()
    mine = next(one for one in versions if one.change_id == row.id)
    if any(row.id in one.base for one in versions):
        raise Conflict(f"{name} was set again since; that stands on this change", change=row.id)
    before = [one for one in versions if one.change_id in mine.base]
    heads = [one.change_id for one in versions if one.is_head]
    return (before[-1].value if before else None), heads


def _is_first(session: Session, vessel: str, row: LogEntry) -> bool:
    """Say whether this setting began its document."""
    doc = json.loads(row.raw)["body"]["doc"]
    first = session.exec(select(FieldVersion.change_id).where(
        col(FieldVersion.vessel) == vessel, col(FieldVersion.doc) == doc)
        .order_by(col(FieldVersion.at))).first()
    return first == row.id
