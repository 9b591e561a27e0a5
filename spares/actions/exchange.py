"""Exchange: a part was fitted at a fit point in place of what sat there.

The fit points inside the old part retire, those inside the new one appear, and the
spares aboard are judged again.
"""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.lines import part_head, point_head
from spares.actions.stock_moves import (
    a_change_id,
    as_one_act,
    chosen_lot,
    is_known,
    lot_for,
    shares,
    use_first,
)
from spares.domain.aboard import Aboard, name_of
from spares.domain.draft import Draft, setting
from spares.domain.identity import occurrence_id, ref
from spares.domain.stowage import earliest_expiry
from spares.domain.tree import fitted_now, inner_points, is_live, live_points, stranded_names
from spares.errors import InvalidInput

LANDED = "landed"


@in_turn
def exchange(ctx: Context, point: str, part: str, *, from_locker: str | None = None,
             old_to: str | None = None, old_condition: str = "suspect", at: str | None = None,
             lot: str | None = None, why: str | None = None, note: str | None = None,
             change_id: str | None = None) -> dict[str, Any]:
    """Record that *part* sits at *point* now.

    Args:
        ctx: Where it happens.
        point, part: As people call them [-].
        from_locker: Where the new part lay; not said, no count changes [-].
        old_to: Where the old part went: a locker, or `landed` [-].
        old_condition: What the old part is worth; suspect unless said, so that it
            never counts as a spare by itself [-].
        at: The day; today unless said [-].
        lot: Lot that the new part comes from [-].
        why: Why the old part came out: failed, worn, planned, other [-]. What failed
            counts in the vessel's own failure rates.
        note: Free text [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the point, part or a locker cannot be told.
        InvalidInput: the point is gone, or there is no old part to put anywhere.
    """
    where, new = ctx.named(point, "point", "point"), ctx.named(part, "part", "part")
    ident, before = a_change_id(change_id), ctx.aboard()
    if was_new := not is_known(ctx, ident, "exchange", point=where, part=new):
        if not is_live(before, before.get(where)):
            raise InvalidInput.at("#/point", f"{before.label(where)} is gone: the part that it "
                                             "belongs to is not fitted any more")
        pieces = before.get(where).pieces or 1
        body = {"point": where, "part": new, "date": _when(ctx, before, where, at),
                **({"q": pieces * 1000} if pieces > 1 else {}),
                **({"note": note} if note else {}), **({"why": why} if why else {})}
        lots = _old_out(ctx, before, where, old_to, old_condition, body)
        _new_in(ctx, before, new, from_locker, lot, body)
        ctx.write(as_one_act([*lots, Draft("exchange", body, ident),
                              *_occurrences(before, where, new)], ident))
    after = ctx.aboard()
    return {"change": ident, "kind": "exchange", "was_new": was_new,
            "text": f"Fitted {after.label(new)} at {after.label(where)}",
            "point": point_head(after, where), **_consequences(before, after)}


def _when(ctx: Context, aboard: Aboard, point: str, at: str | None) -> str:
    """Take the day; what is to come, or lies before what sits there now, is a slip."""
    on, now = day(at, "at", ctx.today), fitted_now(aboard, point)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    if now is not None and now.date and on < earliest_expiry(now.date):
        raise InvalidInput.at("#/at", f"what sits there now was fitted later, on {now.date}")
    return on


def _old_out(ctx: Context, aboard: Aboard, point: str, old_to: str | None, condition: str,
             body: dict[str, Any]) -> list[Draft]:
    now = fitted_now(aboard, point)
    if now is not None:
        body["old_part"] = now.part
    if old_to is None:
        return []
    if now is None:
        raise InvalidInput.at("#/old_to", "nobody knows what sat there, so nothing can be put")
    if old_to.strip().lower() == LANDED:
        body["old_to"] = LANDED
        return []
    body["old_to"] = ctx.named(old_to, "old_to", "locker")
    lot, first = lot_for(aboard, now.part, condition, None)
    if lot:
        body["old_lot"] = lot
    return first


def _new_in(ctx: Context, aboard: Aboard, part: str, locker: str | None, lot: str | None,
            body: dict[str, Any]) -> None:
    if locker is None:
        return
    body["from"] = ctx.named(locker, "from", "locker")
    picked = chosen_lot(ctx, aboard, part, lot)
    chosen = _one_lot(aboard, part, body["from"], body.get("q", 1000), picked,
                      ctx.today.isoformat())
    if chosen:
        body["lot"] = chosen


def _one_lot(aboard: Aboard, part: str, locker: str, q: int, picked: str | None,
             today: str) -> str:
    """Give the lot that all pieces come from: the first that has enough, else the first."""
    there = [one for one in aboard.lying_of.get(part, []) if one.locker == locker]
    enough = [one.lot for one in use_first(aboard, there, today) if one.quantity >= q]
    if picked is None and enough:
        return enough[0]
    return shares(aboard, part, locker, q, picked, today)[0][0]


def _occurrences(aboard: Aboard, point: str, part: str) -> list[Draft]:
    """Begin the fit points that exist where this part is fitted, unless known already."""
    parent, drafts = aboard.get(point), []
    taken = {one.no for one in aboard.all("point")}
    for inner in inner_points(aboard, part):
        name = ref("point", occurrence_id(point, name_of("inner", inner)))
        known = aboard.get(name)
        if known is not None:
            if known.gone:
                drafts.append(setting(name, gone=False))
            continue
        no = next(one for i in range(1, 1000) if (one := f"{parent.no}.{i}") not in taken)
        taken.add(no)
        fields = {"no": no, "name": inner.name, "machine": parent.machine, "parent": point,
                  "as_part": part, "template": name_of("inner", inner), "pieces": inner.pieces,
                  "weight": inner.weight or parent.weight, "kind": inner.kind,
                  "place": inner.place}
        drafts.append(setting(name, **{k: v for k, v in fields.items() if v is not None}))
    return drafts


def _consequences(before: Aboard, after: Aboard) -> dict[str, Any]:
    was, now = live_points(before), live_points(after)
    left, back = stranded_names(before), stranded_names(after)
    return {"retired": [point_head(after, one) for one in sorted(was - now, key=after.label)],
            "appeared": [point_head(after, one) for one in sorted(now - was, key=after.label)],
            "stranded": [part_head(after, one) for one in sorted(back - left, key=after.label)],
            "fits_again": [part_head(after, one) for one in sorted(left - back, key=after.label)]}
