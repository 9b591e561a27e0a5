"""What the movement verbs share: choosing the lots, writing, and the answer.

Which lot a piece comes from is settled before the change is made: what can be used
and goes out of date first comes first, unless the person picks.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any
from uuid import UUID

from spares.actions.amounts import plain, thousandths
from spares.actions.context import Context, clock_ms, in_turn
from spares.actions.late import dated
from spares.actions.lines import part_line
from spares.actions.needs import needs
from spares.db.fresh_id import fresh_id
from spares.db.history import body_of, entry, whole_act_of
from spares.domain.aboard import Aboard, Lying
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.domain.stowage import condition_of, expires_of, usable_on
from spares.errors import Conflict, InvalidInput


def a_change_id(given: str | None) -> str:
    """Take the id that the maker chose, or make one.

    Raises:
        InvalidInput: it is no UUID.
    """
    if given is None:
        return fresh_id(clock_ms())
    try:
        return str(UUID(given))
    except (ValueError, AttributeError, TypeError) as err:
        raise InvalidInput.at("#/change_id", "a UUID is needed") from err


def is_known(ctx: Context, change_id: str, kind: str, q: int | None = None,
             **facts: Any) -> bool:
    """Say whether this act was taken before (a doubled request).

    Raises:
        Conflict: the id was used before for something else.
    """
    return known_body(ctx, change_id, kind, q, **facts) is not None


def known_body(ctx: Context, change_id: str, kind: str, q: int | None = None,
               **facts: Any) -> dict[str, Any] | None:
    """Give what this act said when it was taken before, None for a new one.

    A fact that is None was left to the program and is not compared: the same request
    on the next day is still the same.

    Raises:
        Conflict: the id was used before for something else.
    """
    with ctx.store.looking() as reader:
        row = entry(reader, ctx.vessel, change_id)
        if row is None:
            return None
        bodies = [body_of(one.raw) for one in whole_act_of(reader, row) if one.kind == kind]
    if not bodies:
        bodies = [{}]
    same = row.kind == kind and all(bodies[0].get(key) == value
                                    for key, value in facts.items() if value is not None)
    if not same or (q is not None and sum(body["q"] for body in bodies) != q):
        raise Conflict("this change's id was used before for another change", stop="id_reused",
                       change=change_id)
    return bodies[0]


def use_first(aboard: Aboard, lying: Sequence[Lying], today: str) -> list[Lying]:
    """Order lots as they are to be used: usable, new before used, first out of date first."""
    return sorted(lying, key=lambda one: (
        not usable_on(aboard, one, today), condition_of(aboard, one) != "new",
        expires_of(aboard, one) or "9999", one.lot))


def shares(aboard: Aboard, part: str, locker: str, q: int, lot: str | None,
           today: str) -> list[tuple[str, int]]:
    """Say how many come from which lot of a locker [thousandths].

    More than is there comes from the lot that was drawn on last: what a hand did
    is never refused, the count below zero asks to be looked at.
    """
    if lot is not None:
        return [(lot, q)]
    there = [one for one in aboard.lying_of.get(part, []) if one.locker == locker]
    found: list[tuple[str, int]] = []
    for one in use_first(aboard, there, today):
        if q > 0 and one.quantity > 0:
            take = min(q, one.quantity)
            found.append((one.lot, take))
            q -= take
    if q > 0:
        if found:
            found[-1] = (found[-1][0], found[-1][1] + q)
        else:
            found.append((there[0].lot if len(there) == 1 else "", q))
    return found


def lot_for(aboard: Aboard, part: str, condition: str | None, expires: str | None,
            batch: str | None = None) -> tuple[str, list[Draft]]:
    """Give the lot for pieces of this condition, date and batch, and the drafts that begin it.

    New pieces without a date and a batch mark lie in the plain lot, which has no document.
    """
    from spares.domain.documents import fault  # late: what only looks checks no value

    condition = condition or "new"
    for field, value in (("condition", condition), ("expires", expires)):
        if wrong := fault("lot", field, value):
            raise InvalidInput.at(f"#/{field}", wrong)
    batch = (batch or "").strip()
    if condition == "new" and not expires and not batch:
        return "", []
    for lot in aboard.all("lot"):
        if (lot.part == part and lot.condition == condition and (lot.expires or "") == (
                expires or "") and (lot.batch or "") == batch and not lot.lies_in):
            return ref("lot", lot.id), []
    name = ref("lot", joined_id("lot", part, condition, expires or "", *([batch] if batch else [])))
    fields = {"part": part, "condition": condition, **({"expires": expires} if expires else {}),
              **({"batch": batch} if batch else {})}
    return name, [setting(name, **fields)]


def chosen_lot(ctx: Context, aboard: Aboard, part: str, lot: str | None) -> str | None:
    """Take the lot that a person picked: its code or id, "" for the plain one."""
    if lot is None or lot == "":
        return lot
    name = ctx.named(lot, "lot", "lot")
    if (record := aboard.get(name)) is None or record.part != part:
        raise InvalidInput.at("#/lot", "this lot holds another part")
    return name


@in_turn
def one_way(ctx: Context, kind: str, part: str, locker: str, quantity: Any, *,
            lot: str | None = None, machine: str | None = None, note: str | None = None,
            at: str | None = None, counted_since: str | None = None,
            change_id: str | None = None) -> dict[str, Any]:
    """Take pieces out of a locker: `took` (used) or `landed` (out for good)."""
    part_name, locker_name = ctx.named(part, "part", "part"), ctx.named(locker, "locker", "locker")
    q, ident = thousandths(quantity, "quantity"), a_change_id(change_id)
    more = {"note": note} if note else {}
    if machine:
        more["machine"] = ctx.named(machine, "machine", "machine")
    aboard = ctx.aboard([part_name])
    drafts = []
    if not is_known(ctx, ident, kind, q, part=part_name, locker=locker_name):
        picked = chosen_lot(ctx, aboard, part_name, lot)
        drafts = dated(ctx, cut_up(kind, ident, [
            {"part": part_name, "locker": locker_name, "lot": one, "q": share, **more}
            for one, share in shares(aboard, part_name, locker_name, q, picked,
                                     ctx.today.isoformat())]), at, counted_since)
    verb = {"took": "Took", "landed": "Landed"}[kind]
    return finish(ctx, kind, ident, drafts, part_name,
                  f"{verb} {plain(q)} of {aboard.label(part_name)} "
                  f"from {aboard.label(locker_name)}")


def cut_up(kind: str, ident: str, bodies: Sequence[dict[str, Any]]) -> list[Draft]:
    """Draft one act that needs several changes; they carry its id as their batch."""
    if len(bodies) == 1:
        return [Draft(kind, bodies[0], ident)]
    return [Draft(kind, {**body, "batch": ident},
                  ident if i == 0 else joined_id("more", ident, str(i)))
            for i, body in enumerate(bodies)]


def as_one_act(drafts: Sequence[Draft], ident: str) -> list[Draft]:
    """Let the drafts of one act bear its id as their batch, so that they go back together."""
    if len(drafts) < 2:
        return list(drafts)
    return [replace(one, body={**one.body, "batch": ident}) for one in drafts]


def finish(ctx: Context, kind: str, ident: str, drafts: Sequence[Draft], part: str,
           text: str) -> dict[str, Any]:
    """Write the drafts, or none for a request that came before, and answer."""
    if drafts:
        ctx.write(as_one_act(drafts, ident))
    aboard = ctx.aboard([part])
    return {"change": ident, "kind": kind, "text": text, "was_new": bool(drafts),
            "part": part_line(aboard, part, needs(ctx), ctx.today.isoformat())}

