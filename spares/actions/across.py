"""Lists across the vessels of a store: who has a spare, what is out of date, one order for all.

They tell of the vessels on which the one who asks has rights, and of no other: at the server
itself of all, a device of those aboard which it has a role (`spares/actions/several.py`).
"""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import day, plain
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, where
from spares.actions.needs import is_unclear, needs
from spares.actions.orders import order_thing, price_of, state_of
from spares.actions.several import each
from spares.actions.trip.money import summed
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.same_number import Number, same_article
from spares.domain.search_text import fold, number_key
from spares.domain.stowage import counts_as_aboard, earliest_expiry, expires_of, usable_on
from spares.errors import InvalidInput, NotFound

#: What lines of several vessels are gathered by: maker, number, unit.
Article = tuple[str, str, str]


def who_has(ctx: Context, asked: str) -> dict[str, Any]:
    """Say which vessels have the part that *asked* means, and how many they can spare.

    It is a number or name of the context's vessel; what nothing of hers is called is taken as
    a maker's number. A part without a maker's number is found nowhere. What a vessel can spare
    is what serves beyond her own next trip and levels to keep; where nobody knows what these want
    of it, nobody knows that either (`can_spare` None).

    Raises:
        InvalidInput: nothing was asked.
        Ambiguous: several parts of this vessel are called so.
    """
    if not isinstance(asked, str) or not asked.strip():
        raise InvalidInput.at("#/part", "the part is missing")
    numbers = _numbers_asked(ctx, asked.strip())
    found = []
    for one in each(ctx):
        aboard = one.aboard()
        parts = [name_of("part", part) for part in aboard.all("part")]
        if lines := [_spare(one, aboard, name) for name in parts
                     if same_article(numbers, _numbers(aboard, name))]:
            found.append({**_vessel(aboard), "parts": lines})
    return {"asked": asked.strip(), "vessels": found,
            "numbers": [{"maker": maker, "number": number} for maker, number in numbers]}


def out_of_date(ctx: Context, until: str | None = None) -> dict[str, Any]:
    """List what every vessel carries that is out of date, or will be on the day *until*.

    Raises:
        InvalidInput: this is no day.
    """
    last = day(until, "until", ctx.today)
    found = []
    for one in each(ctx):
        aboard = one.aboard()
        lines = [{**part_head(aboard, lying.part), "where": where(aboard, lying)}
                 for lying in aboard.lying if lying.quantity and counts_as_aboard(aboard, lying)
                 and (ends := expires_of(aboard, lying)) and earliest_expiry(ends) < last]
        if lines:
            found.append({**_vessel(aboard), "lots": sorted(
                lines, key=lambda line: (line["where"]["expires"], line["no"] or ""))})
    return {"until": last, "vessels": found}


def wanted(ctx: Context) -> dict[str, Any]:
    """Put together by seller what all vessels want and have not ordered yet."""
    sellers: dict[str, dict[Article, list[tuple[Aboard, Record]]]] = {}
    for one in each(ctx):
        aboard = one.aboard()
        for order in aboard.all("order"):
            if state_of(order) == "wanted":
                seller = order_thing(aboard, order)["seller"] or ""
                sellers.setdefault(seller, {}).setdefault(
                    _article(aboard, order), []).append((aboard, order))
    return {"sellers": [
        {"seller": seller or None, "lines": [_line(some) for _, some in sorted(lines.items())],
         "costs": summed(price_of(order) for some in lines.values() for _, order in some)}
        for seller, lines in sorted(sellers.items())]}


def _article(aboard: Aboard, order: Record) -> Article:
    """Give what an order line is gathered by: the maker's number, else the vessel's own part.

    Metres of a hose are not added to pieces of it, and a dash is no number.
    """
    part, record = part_head(aboard, order.part), aboard.get(order.part)
    maker, number = fold(part["maker"] or "").strip(), number_key(part["number"] or "")
    if maker and number:
        return maker, number, (record.unit if record is not None else None) or "pcs"
    return "", f"{aboard.vessel.mark} {part['no'] or ''}", f"{aboard.vessel.id} {order.part}"


def _line(orders: list[tuple[Aboard, Record]]) -> dict[str, Any]:
    told = [(aboard.vessel.mark, order_thing(aboard, order)) for aboard, order in orders]
    first = told[0][1]
    return {**{name: first[name] for name in ("maker", "number", "name")},
            "quantity": plain(sum(order.q or 0 for _, order in orders)),
            "orders": [{"vessel": mark, "order": one["no"], "part": one["part"],
                        "quantity": one["quantity"], "cost": one["cost"]} for mark, one in told]}


def _numbers_asked(ctx: Context, asked: str) -> list[Number]:
    try:
        name = ctx.named(asked, "part", "part")
    except NotFound:
        return [(None, asked)]
    return _numbers(ctx.aboard([name]), name)


def _numbers(aboard: Aboard, name: str) -> list[Number]:
    """Give the maker's number of a part, and its cross numbers."""
    part = part_head(aboard, name)
    return [(part["maker"], part["number"]), *((one.maker, one.number)
                                         for one in aboard.numbers_of.get(name, ()))]


def _spare(ctx: Context, aboard: Aboard, name: str) -> dict[str, Any]:
    lying = [one for one in aboard.lying_of.get(name, []) if one.quantity]
    usable = sum(one.quantity for one in lying
                 if usable_on(aboard, one, ctx.today.isoformat()))
    need = needs(ctx).get(name)
    left = usable if need is None else min(usable, max(0, need.usable - need.need))
    return {**part_head(aboard, name), "usable": plain(usable),
            "need": None if need is None else plain(need.need),
            "can_spare": None if is_unclear(ctx, name) else plain(max(0, left)),
            "where": [where(aboard, one) for one in in_walking_order(aboard, lying)]}


def _vessel(aboard: Aboard) -> dict[str, Any]:
    return {"vessel": aboard.vessel.mark, "name": aboard.vessel.name}
