"""Undo: take a change back, by a further change. Nothing is wiped out."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from typing import Any

from spares.actions.changes import VOIDABLE, is_undoing, say
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.db.history import (
    UNDO_NOTE,
    LogLine,
    Version,
    act_of,
    body_of,
    entry,
    first_of_batch,
    newest,
    places_of_others,
    undone_among,
    value_before,
    versions_of,
    whole_act_of,
)
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft
from spares.domain.identity import kind_of
from spares.domain.kit_bag import bags
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
        rows = act_of(session, found) if whole else [found]
        versions = versions_of(session, ctx.vessel, [
            body_of(row.raw)["doc"] for row in rows if row.kind == "set"])
        if any(row.kind != "set" for row in rows):
            taken = _places_in_use(session, rows, versions) if in_a_file else None
            rows = [row for row in rows if row.kind != "set" or not _stays(row, taken)]
        drafts = [_back(versions, row) for row in reversed(rows)]
    _check_bags(ctx.aboard(), rows)
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


def _named(session: Any, vessel: str, ident: str) -> LogLine:
    row = entry(session, vessel, ident) or first_of_batch(session, vessel, ident)
    if row is None:
        raise NotFound("change: there is no such change",
                       errors=[{"pointer": "#/change", "detail": "not found"}])
    if undone_among(session, vessel, [row.id]):
        raise Conflict("this change was taken back already", change=ident)
    if is_undoing(row.kind, body_of(row.raw)):
        raise InvalidInput.at("#/change", "this is itself a taking back; make the change anew")
    return row


def _last(session: Any, vessel: str) -> LogLine:
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


def _stays(row: LogLine, in_use: set[str] | None) -> bool:
    """Say whether a lot or place stays that an act began: others may lie there by now.

    What came in a file goes with it, unless it is *in_use*.
    """
    doc = body_of(row.raw)["doc"]
    return kind_of(doc) in ("lot", "locker") and (in_use is None or doc in in_use)


def _places_in_use(session: Any, rows: list[LogLine],
                   versions: dict[str, list[Version]]) -> set[str]:
    """Give lots and places that others put something into, or set anew, since."""
    ours = {row.id for row in rows}
    return places_of_others(session, rows[0].vessel, ours) | {
        doc for doc, some in versions.items()
        if any(one.change_id not in ours and ours & set(one.base) for one in some)}


def _check_bags(aboard: Aboard, rows: list[LogLine]) -> None:
    """Refuse to take a gathering back once pieces of it have left the bag.

    Raises:
        Conflict: fewer lie there than were gathered.
    """
    gathered: Counter[tuple[str, str, str]] = Counter()
    for body in (body_of(row.raw) for row in rows if row.kind == "moved"):
        if body["to"] in bags(aboard):
            part = aboard.kept_parts.get(body["part"], body["part"])
            gathered[part, body["to"], body.get("to_lot", body["lot"])] += body["q"]
    for (part, bag, lot), q in gathered.items():
        there = sum(one.quantity for one in aboard.lying_of.get(part, [])
                    if (one.locker, one.lot) == (bag, lot))
        if there < q:
            raise Conflict(f"{aboard.label(part)} has left {aboard.label(bag)} since; that stands "
                           "on this gathering")


def _came_in_a_file(session: Any, row: LogLine) -> bool:
    """Say whether a change belongs to a bringing-in: no slip of a thumb may undo that."""
    return bool(row.batch) and entry(session, row.vessel, row.batch) is None


def _back(versions: dict[str, list[Version]], row: LogLine) -> Draft:
    body = body_of(row.raw)
    if row.kind in VOIDABLE:
        return Draft("void", {"of": row.id})
    if row.kind != "set":
        raise Conflict(f"a {row.kind} cannot be taken back", change=row.id)
    fields, base = {}, {}
    of_doc = versions[body["doc"]]
    for name in body["f"]:
        fields[name], base[name], stood_on = value_before(of_doc, row.id, name)
        if stood_on:
            raise Conflict(f"{name} was set again since; that stands on this change",
                           change=row.id)
    if "gone" in fields:        # it has no third value: what was never taken off is there
        fields["gone"] = bool(fields["gone"])
    if not any(body["base"].values()) and of_doc[0].change_id == row.id:
        fields, base = {"gone": True}, {}
    return Draft("set", {"doc": body["doc"], "f": fields, "note": UNDO_NOTE + row.id,
                         **({"base": base} if base else {})})
