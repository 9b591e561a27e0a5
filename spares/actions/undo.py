"""Undo: take a change back, by a further change. Nothing is wiped out."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.changes import VOIDABLE, is_undoing, say
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.db.history import (
    UNDO_NOTE,
    act_of,
    began_document,
    body_of,
    entry,
    first_of_batch,
    newest,
    undone_among,
    value_before,
    whole_act_of,
)
from spares.db.tables import LogEntry
from spares.domain.draft import Draft
from spares.domain.identity import kind_of
from spares.errors import Conflict, InvalidInput, NotFound

LOOK_BACK = 200


@in_turn
def undo(ctx: Context, change: str | None = None, *,
         change_id: str | None = None) -> dict[str, Any]:
    """Take back *change*, or the last one that a hand made.

    The changes of one act (an exchange, a count of several lots) go back together; what
    came in a file goes back as a whole only by the file's own id.

    Args:
        ctx: Where it happens.
        change: The change's id, or that under which a file came in; none for the
            last one [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound: there is no such change, or none to take back.
        Conflict: it was taken back already, or something later stands on it.
        InvalidInput: it is no change's id.
    """
    ident = a_change_id(change) if change is not None else None
    mine = a_change_id(change_id)
    if (before := _answered(ctx, mine)) is not None:
        return before
    with ctx.store.reading() as session:
        found = _named(session, ctx.vessel, ident) if ident else _last(session, ctx.vessel)
        in_a_file = _came_in_a_file(session, found)
        whole = not in_a_file or ident == found.batch
        rows = _worth_taking_back(act_of(session, found) if whole else [found])
        drafts = [_back(session, row) for row in reversed(rows)]
    text = (f"{len(rows)} changes that came in a file" if len(rows) > 1 and in_a_file
            else say(ctx.aboard(), found.kind, body_of(found.raw)))
    # One of them bears the maker's id, so that a doubled request finds it.
    ctx.write(as_one_act([replace(drafts[0], id=mine), *drafts[1:]], mine))
    return {"undone": found.id, "kind": found.kind, "text": f"Undid: {text}",
            "changes": len(rows), "was_new": True}


def _answered(ctx: Context, mine: str) -> dict[str, Any] | None:
    """Answer a request that was answered before, None if it is new."""
    with ctx.store.reading() as session:
        row = entry(session, ctx.vessel, mine)
        if row is None:
            return None
        body = body_of(row.raw)
        of = body["of"] if row.kind == "void" else body.get("note", "").removeprefix(UNDO_NOTE)
        found = entry(session, ctx.vessel, of)
        if not is_undoing(row.kind, body) or found is None:
            raise Conflict("this change's id was used before for another change",
                           stop="id_reused", change=mine)
        count = len(whole_act_of(session, found))
    text = say(ctx.aboard(), found.kind, body_of(found.raw))
    return {"undone": found.id, "kind": found.kind, "text": f"Undid: {text}", "changes": count,
            "was_new": False}


def _named(session: Any, vessel: str, ident: str) -> LogEntry:
    row = entry(session, vessel, ident) or first_of_batch(session, vessel, ident)
    if row is None:
        raise NotFound("change: there is no such change",
                       errors=[{"pointer": "#/change", "detail": "not found"}])
    if undone_among(session, vessel, [row.id]):
        raise Conflict("this change was taken back already", change=ident)
    if is_undoing(row.kind, body_of(row.raw)):
        raise InvalidInput.at("#/change", "this is itself a taking back; make the change anew")
    return row


def _last(session: Any, vessel: str) -> LogEntry:
    rows = newest(session, vessel, LOOK_BACK)
    undone = undone_among(session, vessel, [*(row.id for row in rows),
                                            *{row.batch for row in rows if row.batch}])
    for row in rows:
        if row.batch in undone or _came_in_a_file(session, row):
            continue
        if row.id not in undone and not is_undoing(row.kind, body_of(row.raw)) and (
                row.kind in VOIDABLE or row.kind == "set"):
            return row
    raise NotFound("there is nothing to take back; what came in a file is taken back only when "
                   "it is named (spares changes lists the ids)")


def _worth_taking_back(rows: list[LogEntry]) -> list[LogEntry]:
    """Leave the lots and places that an act began: others may lie there by now."""
    happened = [row for row in rows if row.kind != "set"]
    kept = [row for row in rows if row.kind == "set" and kind_of(body_of(row.raw)["doc"])
            not in (("lot", "locker") if happened else ())]
    return [row for row in rows if row in happened or row in kept]


def _came_in_a_file(session: Any, row: LogEntry) -> bool:
    """Say whether a change belongs to a bringing-in: no slip of a thumb may undo that."""
    return bool(row.batch) and entry(session, row.vessel, row.batch) is None


def _back(session: Any, row: LogEntry) -> Draft:
    body = body_of(row.raw)
    if row.kind in VOIDABLE:
        return Draft("void", {"of": row.id})
    if row.kind != "set":
        raise Conflict(f"a {row.kind} cannot be taken back", change=row.id)
    fields, base = {}, {}
    for name in body["f"]:
        fields[name], base[name], stood_on = value_before(session, row, name)
        if stood_on:
            raise Conflict(f"{name} was set again since; that stands on this change",
                           change=row.id)
    if "gone" in fields:        # it has no third value: what was never taken off is there
        fields["gone"] = bool(fields["gone"])
    if not any(body["base"].values()) and began_document(session, row):
        fields, base = {"gone": True}, {}
    return Draft("set", {"doc": body["doc"], "f": fields, "note": UNDO_NOTE + row.id,
                         **({"base": base} if base else {})})
