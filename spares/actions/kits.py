"""Kits: what a job takes is gathered into its bag beforehand, and put back if it is not done."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.context import Context, in_turn
from spares.actions.done import good_stand_ins, kit_lines
from spares.actions.lines import in_walking_order, part_head
from spares.actions.stock_moves import a_change_id, as_one_act, cut_up, is_known
from spares.db.lending import moves_at, told
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting
from spares.domain.kit_bag import NOT_BEGUN, bag_no, bag_of, bags, state_of
from spares.domain.stowage import counts_as_aboard, usable_on
from spares.errors import InvalidInput

Body = dict[str, Any]


@in_turn
def pick(ctx: Context, service: str, *, change_id: str | None = None) -> Body:
    """Gather the kit of a service into its bag, as far as it is aboard.

    The bag is a place of its own, begun with the first gathering. Other jobs' bags are left
    alone.

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: nothing of its kit lies outside the bag.
    """
    name, ident = ctx.named(service, "service", "service"), a_change_id(change_id)
    aboard = ctx.aboard()
    bag = bag_of(aboard, name)
    if was_new := not is_known(ctx, ident, "moved", to=bag):
        lines, _ = kit_lines(aboard, name, ctx.today.isoformat())
        bodies = [{"part": one["part"], "from": one["locker"], "to": bag, "lot": one["lot"],
                   "q": one["q"]} for one in lines if one["locker"] not in {bag, *bags(aboard)}]
        bodies.sort(key=lambda one: (aboard.label(one["from"]), aboard.label(one["part"]),
                                     one["lot"]))
        if not bodies:
            raise InvalidInput.at("#/service", "nothing of its kit lies outside the bag")
        ctx.write(as_one_act([*_begun(aboard, name, bag), *cut_up("moved", ident, bodies)], ident))
    return _answer(ctx, name, ident, was_new, "Gathered the kit of {} into {}")


@in_turn
def put_back(ctx: Context, service: str, *, change_id: str | None = None) -> Body:
    """Put what lies in the bag of a service back to where it came from.

    What nobody can say that of goes to where its like lies, or stays in the bag.

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: the bag is empty, or nobody knows where its pieces belong.
    """
    name, ident = ctx.named(service, "service", "service"), a_change_id(change_id)
    aboard = ctx.aboard()
    bag = bag_of(aboard, name)
    if was_new := not is_known(ctx, ident, "moved", **{"from": bag}):
        with ctx.store.reading() as session:
            moves = [told(one) for one in moves_at(session, ctx.vessel, [bag])
                     if one.kind == "moved"]
        bodies = bodies_back(aboard, bag, [one for one in moves if one["to"] == bag])
        if not bodies:
            raise InvalidInput.at("#/service", "nothing lies in its bag that has a place")
        ctx.write(as_one_act(cut_up("moved", ident, bodies), ident))
    return _answer(ctx, name, ident, was_new, "Put the kit of {} back from {}")


def bodies_back(aboard: Aboard, bag: str, moves: list[Body]) -> list[Body]:
    """Say which pieces go from the bag where: to where the last came from first."""
    found: dict[tuple[str, str, str], int] = {}
    for one in (one for one in aboard.lying if one.locker == bag and one.quantity > 0):
        left = one.quantity
        for move in reversed(moves):
            if (move["part"], move.get("to_lot", move["lot"])) == (one.part, one.lot) and left:
                q = min(left, move["q"])
                key = (one.part, one.lot, move["from"])
                found[key] = found.get(key, 0) + q
                left -= q
        if left and (place := _place_of_its_like(aboard, one.part)):
            key = (one.part, one.lot, place)
            found[key] = found.get(key, 0) + left
    return [{"part": part, "from": bag, "to": place, "lot": lot, "q": q}
            for (part, lot, place), q in sorted(found.items(), key=lambda one: (
                aboard.label(one[0][2]), aboard.label(one[0][0]), one[0][1]))]


def _place_of_its_like(aboard: Aboard, part: str) -> str | None:
    there = [one for one in in_walking_order(aboard, aboard.lying_of.get(part, []))
             if one.quantity > 0 and counts_as_aboard(aboard, one)
             and one.locker not in bags(aboard)]
    return there[0].locker if there else None


def _begun(aboard: Aboard, service: str, bag: str) -> list[Draft]:
    known, one = aboard.get(bag), aboard.get(service)
    if known is not None:
        return []
    return [setting(bag, no=bag_no(one.no), name=f"Bag for {one.no} {one.what}", gone=False)]


def bag_told(aboard: Aboard, service: str, today: str) -> Body | None:
    """Describe the bag of a service: how far it is gathered, and what lies in it.

    None for a service without a kit whose bag was never begun.
    """
    bag, lines = bag_of(aboard, service), aboard.kits_of.get(service, [])
    if not lines and aboard.get(bag) is None:
        return None
    inside = sorted((one for one in aboard.lying if one.locker == bag and one.quantity),
                    key=lambda one: (aboard.label(one.part), one.lot))
    locker = aboard.get(bag)
    return {"locker": locker.no if locker else None, "locker_id": locker.id if locker else None,
            "name": locker.name if locker else None, "code": locker.code if locker else None,
            "state": state_of([_figures(aboard, line, bag, today) for line in lines])
            if lines else NOT_BEGUN,
            "lines": [{"part": head["no"], "name": head["name"], "quantity": plain(one.quantity)}
                      for one in inside for head in [part_head(aboard, one.part)]]}


def _figures(aboard: Aboard, line: Any, bag: str, today: str) -> tuple[int, int, int]:
    """Give needed, in the bag, and usable outside of any bag, stand-ins among them."""
    usable = [one for part in (line.part, *good_stand_ins(aboard, line.part))
              for one in aboard.lying_of.get(part, [])
              if one.quantity > 0 and counts_as_aboard(aboard, one)
              and usable_on(aboard, one, today)]
    return (line.q or 0, sum(one.quantity for one in usable if one.locker == bag),
            sum(one.quantity for one in usable if one.locker not in {bag, *bags(aboard)}))


def _answer(ctx: Context, service: str, ident: str, was_new: bool, text: str) -> Body:
    aboard = ctx.aboard()
    no, bag = aboard.label(service), aboard.label(bag_of(aboard, service))
    return {"change": ident, "kind": "moved", "was_new": was_new, "service": no,
            "text": text.format(no, bag), "bag": bag_told(aboard, service, ctx.today.isoformat())}
