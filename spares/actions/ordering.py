"""The steps of an order line: wanted, ordered, arrived, stowed; or cancelled."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.documents import new_document, next_number
from spares.actions.orders import order_thing, state_of
from spares.actions.stock_moves import a_change_id, as_one_act, lot_for
from spares.actions.trip.restock import restock
from spares.actions.written import written_before
from spares.domain.aboard import Aboard
from spares.domain.documents import fault
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, numbered_id, ref
from spares.errors import Conflict, InvalidInput

CLOSED = ("stowed", "cancelled")
MOST_NAMED = 3      # order lines named one by one in an answer's text


@in_turn
def want(ctx: Context, part: str, quantity: Any = 1, *, trip: str | None = None,
         seller: str | None = None, price: dict[str, Any] | None = None,
         note: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Put a part on the list of what is to be ordered; the price is that of one piece.

    Raises:
        NotFound, Ambiguous: the part or trip cannot be told.
        InvalidInput: the quantity is none, or the price is no price.
    """
    name, ident = ctx.named(part, "part", "part"), a_change_id(change_id)
    q = thousandths(quantity, "quantity")
    of_trip = ctx.named(trip, "trip", "trip") if trip else None
    stored = _stored(price)
    doc = written_before(ctx, ident, "order")
    if doc is None:
        aboard = ctx.aboard()
        fields = {"part": name, "q": q, "trip": of_trip, "seller": seller, "note": note,
                  "price": stored or aboard.get(name).price, "wanted_on": ctx.today.isoformat()}
        given = {key: value for key, value in fields.items() if value is not None}
        doc, draft = new_document(ctx, aboard, "order", given)
        ctx.write([replace(draft, id=ident)])
        return _answer(ctx, ident, [doc], True)
    return _answer(ctx, ident, [doc], False)


@in_turn
def want_trip(ctx: Context, trip: str, *, change_id: str | None = None) -> dict[str, Any]:
    """Put all that a trip is short of on the list, less what is wanted or ordered already.

    Raises:
        As `restock`.
    """
    name, ident = ctx.named(trip, "trip", "trip"), a_change_id(change_id)
    if written_before(ctx, ident, "order") is not None:
        return _answer(ctx, ident, [], False)
    aboard, lines = ctx.aboard(), restock(ctx, trip)["lines"]
    first = int(next_number(aboard, "order")[1:])
    drafts: list[Draft] = []
    for line in lines:
        missing = round(line["buy"] - sum(one["quantity"] for one in line["ordered"]), 3)
        if line["buy"] and missing > 0:
            part = ref("part", line["id"])
            no = f"O{first + len(drafts)}"
            fields = {"no": no, "part": part, "q": thousandths(missing, "quantity"),
                      "trip": name, "seller": line["seller"], "price": aboard.get(part).price,
                      "wanted_on": ctx.today.isoformat()}
            drafts.append(setting(ref("order", numbered_id(ctx.vessel, "order", no)),
                                  **{k: v for k, v in fields.items() if v is not None}))
    if drafts:
        drafts[0] = replace(drafts[0], id=ident)
        ctx.write(as_one_act(drafts, ident))
    return _answer(ctx, ident, [one.body["doc"] for one in drafts], bool(drafts))


@in_turn
def ordered(ctx: Context, orders: list[str], *, at: str | None = None,
            promised_on: str | None = None, change_id: str | None = None) -> dict[str, Any]:
    """Record that lines were ordered, and for when they are promised.

    Raises:
        NotFound: there is no such order line.
        InvalidInput: no such day.
        Conflict: a line is stowed or cancelled.
    """
    on = day(at, "at", ctx.today)
    fields = {"ordered_on": on}
    if promised_on:
        fields["promised_on"] = day(promised_on, "promised_on")
    return _step(ctx, orders, fields, change_id)


@in_turn
def arrived(ctx: Context, order: str, *, at: str | None = None, quantity: Any = None,
            change_id: str | None = None) -> dict[str, Any]:
    """Record that a line's parcel is there; fewer than ordered leave the rest on order.

    Raises:
        As `ordered`; InvalidInput if the quantity is none.
    """
    fields: dict[str, Any] = {"arrived_on": day(at, "at", ctx.today)}
    return _step(ctx, [order], fields, change_id, quantity)


@in_turn
def stowed(ctx: Context, order: str, locker: str, *, quantity: Any = None, at: str | None = None,
           condition: str | None = None, expires: str | None = None,
           change_id: str | None = None) -> dict[str, Any]:
    """Stow what came: the pieces go into the locker's count.

    Raises:
        As `arrived`; NotFound if there is no such locker.
    """
    place = ctx.named(locker, "locker", "locker")
    fields = {"stowed_on": day(at, "at", ctx.today), "locker": place}
    return _step(ctx, [order], fields, change_id, quantity, put=(place, condition, expires))


@in_turn
def cancel_order(ctx: Context, order: str, *, note: str | None = None,
                 change_id: str | None = None) -> dict[str, Any]:
    """Record that a line will not come.

    Raises:
        As `ordered`.
    """
    fields = {"cancelled_on": ctx.today.isoformat(), **({"note": note} if note else {})}
    return _step(ctx, [order], fields, change_id)


def _step(ctx: Context, orders: list[str], fields: dict[str, Any], change_id: str | None,
          quantity: Any = None, put: tuple[str, str | None, str | None] | None = None
          ) -> dict[str, Any]:
    ident = a_change_id(change_id)
    if not orders:
        raise InvalidInput.at("#/orders", "at least one order line is needed")
    docs = [ctx.named(one, "orders", "order") for one in orders]
    if written_before(ctx, ident, *docs) is not None:
        return _answer(ctx, ident, docs, False)
    aboard, drafts = ctx.aboard(), []
    for doc in docs:
        record = aboard.get(doc)
        if state_of(record) in CLOSED:
            raise Conflict(f"{record.no} is {state_of(record)} already",
                           errors=[{"pointer": "#/orders", "detail": state_of(record)}])
        q = record.q or 0
        if quantity is not None:
            q = thousandths(quantity, "quantity")
            drafts += _rest(ctx, aboard, doc, q)
        drafts.append(setting(doc, **fields, **({"q": q} if q != record.q else {})))
        if put is not None:
            drafts += _put(aboard, record.part, q, put, ident)
    first = next(i for i, one in enumerate(drafts) if one.body.get("doc") in docs)
    drafts.insert(0, replace(drafts.pop(first), id=ident))
    ctx.write(as_one_act(drafts, ident))
    return _answer(ctx, ident, docs, True)


def _rest(ctx: Context, aboard: Aboard, doc: str, q: int) -> list[Draft]:
    """Leave what did not come on a line of its own."""
    record = aboard.get(doc)
    if q >= (record.q or 0):        # more than ordered is in the parcel: what is there counts
        return []
    no = next_number(aboard, "order")
    kept = {name: value for name in ("part", "trip", "seller", "price", "note", "wanted_on",
                                     "ordered_on", "promised_on", "arrived_on")
            if (value := getattr(record, name)) is not None}
    return [setting(ref("order", numbered_id(ctx.vessel, "order", no)), no=no,
                    q=(record.q or 0) - q, **kept)]


def _put(aboard: Aboard, part: str, q: int, put: tuple[str, str | None, str | None],
         ident: str) -> list[Draft]:
    locker, condition, expires = put
    lot, before = lot_for(aboard, part, condition, expires)
    return [*before, Draft("put", {"part": part, "locker": locker, "lot": lot, "q": q},
                           joined_id("more", ident, part))]


def _stored(price: dict[str, Any] | None) -> dict[str, Any] | None:
    """Read a price as the records hold it, in hundredths."""
    if price is None:
        return None
    hundredths = thousandths(price.get("amount"), "price/amount", least=0)
    stored = {"minor": hundredths // 10, "currency": price.get("currency")}
    if hundredths % 10:
        raise InvalidInput.at("#/price/amount", "at most two decimals")
    if wrong := fault("order", "price", stored):
        raise InvalidInput.at("#/price", wrong)
    return stored


def _answer(ctx: Context, ident: str, docs: list[str], was_new: bool) -> dict[str, Any]:
    aboard = ctx.aboard()
    things = [order_thing(aboard, aboard.get(doc)) for doc in docs]
    return {"change": ident, "kind": "order", "was_new": was_new, "orders": things,
            "text": _said(things)}


def _said(things: list[dict[str, Any]]) -> str:
    """Say what became of order lines; many are only counted, for a phone's narrow bar."""
    if len(things) > MOST_NAMED:
        states = sorted({one["state"] for one in things})
        return (f"{len(things)} order lines, {things[0]['no']} to {things[-1]['no']}: "
                f"{', '.join(states)}")
    return "; ".join(f"{one['no']}: {one['quantity']} of {one['part']} {one['state']}"
                     for one in things) or "Nothing to order"
