"""Tightened: with what torque a joint was made up, and when it is to be tightened again."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day, hours, minutes
from spares.actions.context import Context, in_turn
from spares.actions.stock_moves import a_change_id, is_known
from spares.domain.aboard import Aboard, name_of
from spares.domain.draft import setting
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput


@in_turn
def tightened(ctx: Context, joint: str, torque_used: str, *, again_on: str | None = None,
              again_at: Any = None, by: str | None = None, at: str | None = None,
              note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record that a joint was tightened; the newest record says when it is due again.

    Args:
        ctx: Where it happens.
        joint: The joint sheet, such as J1 [-].
        torque_used: The torque, with its unit, in words [-].
        again_on: Day on which it is to be tightened again; none where it is not [-].
        again_at: Hours on the counter at which it is to be tightened again [h].
        by, note: Who, free text [-].
        at: The day; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the joint cannot be told.
        InvalidInput: no torque, a day to come, or one to tighten again that is not after it.
    """
    used, on = (torque_used or "").strip(), day(at, "at", ctx.today)
    if not used:
        raise InvalidInput.at("#/torque_used", "say the torque with its unit, such as 45 N·m")
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    later = day(again_on, "again_on") if again_on else None
    if later is not None and later <= on:
        raise InvalidInput.at("#/again_on", "a day after it is needed")
    from spares.actions.documents import revived  # late: only who writes needs it

    ident, aboard = a_change_id(change_id), ctx.aboard()
    name = ctx.named(joint, "joint", "joint")
    doc = ref("joint-record", joined_id("joint-record", name, on))
    fields = {"joint": name, "on": on, "torque_used": used, "again_on": later,
              "again_at_minutes": None if again_at in (None, "") else minutes(
                  again_at, "again_at"),
              "by": (by or "").strip() or None, "note": (note or "").strip() or None}
    if was_new := not is_known(ctx, ident, "set", doc=doc):
        ctx.write([replace(setting(doc, **revived(aboard, doc, fields)), id=ident)])
    return {"change": ident, "kind": "tightened", "was_new": was_new,
            "text": f"{aboard.label(name)}: tightened with {used}"}


def records_of(aboard: Aboard, joint: str) -> list[dict[str, Any]]:
    """Give how a joint was tightened, newest first."""
    found = sorted((one for one in aboard.all("joint-record") if one.joint == joint),
                   key=lambda one: (one.on, one.id), reverse=True)
    return [{"on": one.on, "torque_used": one.torque_used, "again_on": one.again_on,
             "again_at_hours": hours(one.again_at_minutes), "by": one.by, "note": one.note}
            for one in found]


def to_tighten(aboard: Aboard) -> list[dict[str, Any]]:
    """List the joints that wait to be tightened again, by day; those by hours alone last."""
    found = []
    for one in aboard.all("joint"):
        records = records_of(aboard, name_of("joint", one))
        if records and (records[0]["again_on"] or records[0]["again_at_hours"] is not None):
            found.append({"joint": one.no, "name": one.name, **records[0]})
    return sorted(found, key=lambda one: (one["again_on"] or "9999", one["joint"] or ""))
