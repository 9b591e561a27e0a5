"""Kits: what a job takes is gathered into its bag beforehand, and put back if it is not done."""

from __future__ import annotations

from collections import Counter
from typing import Any

from spares.actions.amounts import plain
from spares.actions.context import Context, in_turn
from spares.actions.done import good_stand_ins, kit_lines
from spares.actions.lines import in_walking_order, part_head
from spares.actions.stock_moves import a_change_id, as_one_act, cut_up, is_known
from spares.db.lending import moves_at, told
from spares.domain.aboard import Aboard, Lying
from spares.domain.draft import Draft, setting
from spares.domain.kit_bag import NOT_BEGUN, bag_no, bag_of, bags, is_there, state_of
from spares.domain.stowage import counts_as_aboard, place_is_aboard, usable_on
from spares.errors import InvalidInput, NotFound

Body = dict[str, Any]

NO_PLACE = "what lies in its bag has no locker to go to; move it"
EMPTY = "nothing lies in its bag"


@in_turn
def pick(ctx: Context, service: str, *, change_id: str | None = None) -> Body:
    """Gather the kit of a service into its bag, as far as it is aboard.

    The bag is a place of its own, begun with the first gathering. Other jobs' bags are left
    alone.

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: nothing of its kit lies in a locker.
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
            raise InvalidInput.at("#/service", "nothing more of its kit lies in a locker")
        ctx.write(as_one_act([*_begun(aboard, name, bag), *cut_up("moved", ident, bodies)], ident))
    return _answer(ctx, name, ident, was_new, "Gathered the kit of {} into {}")


@in_turn
def put_back(ctx: Context, service: str, *, change_id: str | None = None) -> Body:
    """Put what lies in the bag of a service back to where it came from.

    What nobody can say that of goes to where its like lies, or stays in the bag. The bag can be
    named by itself too: that of a service off the books is not found otherwise.

    Raises:
        NotFound, Ambiguous: the service cannot be told.
        InvalidInput: the bag is empty, or nobody knows where its pieces belong.
    """
    aboard, ident = ctx.aboard(), a_change_id(change_id)
    name = _service_or_bag(ctx, aboard, service)
    bag = bag_of(aboard, name)
    if was_new := not is_known(ctx, ident, "moved", **{"from": bag}):
        with ctx.store.reading() as session:
            moves = [told(one) for one in moves_at(session, ctx.vessel, [bag])
                     if one.kind == "moved"]
        bodies = bodies_back(aboard, bag, [one for one in moves if one["to"] == bag])
        if not bodies:
            raise InvalidInput.at("#/service", NO_PLACE if _inside(aboard, bag) else EMPTY)
        ctx.write(as_one_act(cut_up("moved", ident, bodies), ident))
    answer = _answer(ctx, name, ident, was_new, "Put the kit of {} back from {}")
    if answer["bag"] and answer["bag"]["lines"]:
        stays = ", ".join(one["part"] for one in answer["bag"]["lines"])
        answer["text"] += f"; {stays} stays in it, no locker of its own is known"
    return answer


def _service_or_bag(ctx: Context, aboard: Aboard, asked: str) -> str:
    """Name the service that is meant, or the one whose bag is."""
    try:
        return ctx.named(asked, "service", "service")
    except NotFound:
        place = ctx.named(asked, "service", "locker")
    if place not in bags(aboard):
        raise InvalidInput.at("#/service", "this place is no job's bag")
    return bags(aboard)[place]


def bodies_back(aboard: Aboard, bag: str, moves: list[Body]) -> list[Body]:
    """Say which pieces go from the bag where: to where the last came from first."""
    found: dict[tuple[str, str, str], int] = {}
    moves = [move for move in moves if _takes_back(aboard, move["from"])]
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


def _takes_back(aboard: Aboard, place: str) -> bool:
    """Say whether pieces go back to a place: it is there, aboard, and no job's bag."""
    return (is_there(aboard, place) and place_is_aboard(aboard, place)
            and place not in bags(aboard))


def _place_of_its_like(aboard: Aboard, part: str) -> str | None:
    there = [one for one in in_walking_order(aboard, aboard.lying_of.get(part, []))
             if one.quantity > 0 and _takes_back(aboard, one.locker)]
    return there[0].locker if there else None


def _begun(aboard: Aboard, service: str, bag: str) -> list[Draft]:
    if is_there(aboard, bag):
        return []
    one = aboard.get(service)
    taken = {place.no.upper() for place in aboard.all("locker") if place.no}
    return [setting(bag, no=bag_no(one.no, taken), name=f"Bag for {one.no} {one.what}", gone=False)]


def bag_told(aboard: Aboard, service: str, today: str) -> Body | None:
    """Describe the bag of a service: how far it is gathered, and what lies in it.

    None for a service without a kit whose bag was never begun.
    """
    bag, lines = bag_of(aboard, service), aboard.kits_of.get(service, [])
    locker = aboard.get(bag) if is_there(aboard, bag) else None
    if not lines and locker is None:
        return None
    return {"locker": locker.no if locker else None, "locker_id": locker.id if locker else None,
            "name": locker.name if locker else None, "code": locker.code if locker else None,
            "state": state_of(_figures(aboard, lines, bag, today)) if lines else NOT_BEGUN,
            "lines": [{"part": head["no"], "name": head["name"], "quantity": plain(one.quantity)}
                      for one in _inside(aboard, bag) for head in [part_head(aboard, one.part)]]}


def _inside(aboard: Aboard, bag: str) -> list[Lying]:
    return sorted((one for one in aboard.lying_in.get(bag, []) if one.quantity),
                  key=lambda one: (aboard.label(one.part), one.lot))


def _figures(aboard: Aboard, lines: list[Any], bag: str, today: str) -> list[tuple[int, int, int]]:
    """Give by line needed, in the bag, and to be had outside of any bag [thousandths].

    A piece counts for one line alone: first for that which names it, then as a stand-in.
    """
    in_bag: Counter[str] = Counter()
    outside: Counter[str] = Counter()
    for one in aboard.lying:
        if one.quantity > 0 and counts_as_aboard(aboard, one) and usable_on(aboard, one, today):
            if one.locker == bag:
                in_bag[one.part] += one.quantity
            elif one.locker not in bags(aboard):
                outside[one.part] += one.quantity
    needed = [line.q or 0 for line in lines]
    bagged = _shared(aboard, lines, needed, in_bag)
    there = _shared(aboard, lines, [a - b for a, b in zip(needed, bagged, strict=True)], outside)
    return list(zip(needed, bagged, there, strict=True))


def _shared(aboard: Aboard, lines: list[Any], wanted: list[int], pool: Counter[str]) -> list[int]:
    found = [0] * len(lines)
    for parts_of in (lambda part: [part], lambda part: good_stand_ins(aboard, part)):
        for i, line in enumerate(lines):
            for part in parts_of(line.part):
                take = min(wanted[i] - found[i], pool[part])
                found[i] += take
                pool[part] -= take
    return found


def _answer(ctx: Context, service: str, ident: str, was_new: bool, text: str) -> Body:
    aboard = ctx.aboard()
    no, bag = aboard.label(service), aboard.label(bag_of(aboard, service))
    return {"change": ident, "kind": "moved", "was_new": was_new, "service": no,
            "text": text.format(no, bag), "bag": bag_told(aboard, service, ctx.today.isoformat())}
