"""A loan between two vessels: the slip that goes with it, and the one that comes back.

The lender records it as lent and writes a slip; the borrower takes it in, and the pieces lie
aboard as lots of their own that say whose they are. What is given back goes the same way home.
A slip that is played twice changes nothing.
"""

from __future__ import annotations

from itertools import accumulate
from typing import Any

from spares.actions.amounts import plain, thousandths
from spares.actions.context import Context, in_turn
from spares.actions.documents import new_document
from spares.actions.loans import MARK, lots_of, part_of
from spares.actions.stock_moves import a_change_id, cut_up, finish, is_known
from spares.db.history import act_of, entry
from spares.db.lending import act_of_slip, moves_at, moves_of, told
from spares.domain.aboard import Aboard, name_of
from spares.domain.draft import Draft, setting
from spares.domain.identity import joined_id, ref
from spares.domain.search_text import fold, number_key
from spares.domain.slip import quantity_of, read_slip
from spares.errors import InvalidInput, NotFound


@in_turn
def take_slip(ctx: Context, slip: Any, *, locker: str | None = None,
              change_id: str | None = None) -> dict[str, Any]:
    """Take in another vessel's slip: a loan is stowed in *locker*, a return goes home.

    Without *locker* what comes back goes where it came from. The slip names the change,
    not *change_id*: taken in on two devices it is done once.

    Raises:
        InvalidInput: it is no slip, was damaged, or is for another vessel.
        NotFound, Ambiguous: the locker cannot be told.
    """
    slip = read_slip(slip)
    if slip["kind"] == "return":
        return _take_back(ctx, slip, locker)
    if slip["lender"]["id"] == ctx.vessel:
        raise InvalidInput.at("#/slip/lender", "this is her own slip; it is for the borrower")
    return _borrow(ctx, slip, locker)


@in_turn
def give_back(ctx: Context, loan: str, quantity: Any = None, *,
              change_id: str | None = None) -> dict[str, Any]:
    """Record that borrowed pieces went back: all that are left of the loan, or so many.

    Raises:
        NotFound: nothing was borrowed under this loan.
        InvalidInput: fewer are left of it.
    """
    aboard, ident = ctx.aboard(), a_change_id(change_id)
    lots = lots_of(aboard, loan)
    if not lots:
        raise NotFound("loan: nothing was borrowed under it",
                       errors=[{"pointer": "#/loan", "detail": "not found"}])
    lying = [one for one in aboard.lying if one.lot in lots and one.quantity > 0]
    left, part = sum(one.quantity for one in lying), part_of(aboard, lots[0])
    q = left if quantity is None else thousandths(quantity, "quantity")
    if is_known(ctx, ident, "landed", part=part):
        return finish(ctx, "landed", ident, [], part, "Given back")
    if not 0 < q <= left:
        raise InvalidInput.at("#/quantity", f"{plain(left)} of it are left here")
    bodies, still = [], q
    for one in lying:
        share = min(one.quantity, still)
        if share:
            bodies.append({"part": part, "locker": one.locker, "lot": one.lot, "q": share,
                           "note": MARK + loan})
        still -= share
    return finish(ctx, "landed", ident, cut_up("landed", ident, bodies), part,
                  f"Gave back {plain(q)} of {aboard.label(part)}")


def _borrow(ctx: Context, slip: dict[str, Any], locker: str | None) -> dict[str, Any]:
    loan, aboard = slip["loan"], ctx.aboard()
    part, begun = _part_for(ctx, aboard, slip["part"])
    text = f"Borrowed {plain(quantity_of(slip))} of {slip['part']['name']}"
    names = [ref("lot", joined_id("lot", loan, str(at))) for at in range(len(slip["lines"]))]
    with ctx.store.reading() as session:
        ident, _ = act_of_slip(session, ctx.vessel, "borrowed", loan)
        # Made anew after a refusal it bears another id: its pieces lie in the slip's lots.
        before = [one for one in moves_of(session, ctx.vessel, names) if one.kind == "put"]
    if before:
        return finish(ctx, "put", ident, [], told(before[0])["part"], text)
    if locker is None:
        raise InvalidInput.at("#/locker", "say where the pieces are stowed")
    place, whose = ctx.named(locker, "locker", "locker"), slip["lender"]
    note = f"Borrowed from {whose['name'] or whose['mark'] or 'another vessel'}, {slip['on']}"
    lots, bodies = [], []
    for lot, line in zip(names, slip["lines"], strict=True):
        expires = {"expires": line["expires"]} if line["expires"] else {}
        lots.append(setting(lot, part=part, condition=line["condition"] or "new",
                            batch=MARK + loan, note=note, **expires))
        bodies.append({"part": part, "locker": place, "lot": lot, "q": line["q"], "note": note})
    return finish(ctx, "put", ident, [*begun, *lots, *cut_up("put", ident, bodies)], part, text)


def _take_back(ctx: Context, slip: dict[str, Any], locker: str | None) -> dict[str, Any]:
    loan, aboard = slip["loan"], ctx.aboard()
    with ctx.store.reading() as session:
        row = entry(session, ctx.vessel, loan)
        out = [told(one) for one in act_of(session, row)] if row is not None else []
        out = [body for body in out if "to" in body]
        back = [told(one) for one in moves_at(session, ctx.vessel, [out[0]["to"]])
                if one.kind == "moved"] if out else []
    lent = sum(body["q"] for body in out)
    total = quantity_of(slip)
    if not out or total > lent:
        raise InvalidInput.at("#/slip/loan", "she lent nothing under this loan" if not out
                              else f"only {plain(lent)} were lent under this loan")
    part, place = out[0]["part"], out[0]["to"]
    came = sum(body["q"] for body in back if body["from"] == place
               and body.get("note") == MARK + loan)
    home = None if locker is None else ctx.named(locker, "locker", "locker")
    text, drafts, known = f"Back {plain(max(total - came, 0))} of {aboard.label(part)}", [], False
    for up_to in accumulate(line["q"] for line in slip["lines"]):
        with ctx.store.reading() as session:
            ident, known = act_of_slip(session, ctx.vessel, "back", loan, str(up_to))
        if not known and up_to > came:
            drafts += cut_up("moved", ident, [
                {"part": part, "from": place, "to": home or body["from"], "lot": body["lot"],
                 "q": share, "note": MARK + loan} for body, share in _next(out, came, up_to)])
        came = max(came, up_to)
    return finish(ctx, "moved", ident, [] if known else drafts, part, text)


def _next(out: list[dict[str, Any]], came: int, total: int) -> list[tuple[dict[str, Any], int]]:
    """Part what comes back now among the lots that went out, in their order."""
    found, first = [], 0
    for body in out:
        share = min(total, first + body["q"]) - max(came, first)
        if share > 0:
            found.append((body, share))
        first += body["q"]
    return found


def _part_for(ctx: Context, aboard: Aboard, told_part: dict[str, Any]
              ) -> tuple[str, list[Draft]]:
    """Find the part of a slip by maker and number, else by its name; or begin it."""
    wanted = _key(told_part["maker"], told_part["number"])
    names = {str(one.part) for one in aboard.all("number")
             if wanted and _key(one.maker, one.number) == wanted}
    for one in aboard.all("part"):
        name = name_of("part", one)
        same = _key(one.maker, one.number) == wanted if wanted else (
            not one.number and fold(one.name or "") == fold(told_part["name"]))
        if (same or name in names) and (one.unit or "pcs") == (told_part["unit"] or "pcs"):
            return name, []
    fields = {name: value for name, value in told_part.items() if value}
    name, draft = new_document(ctx, aboard, "part", fields)
    return name, [draft]


def _key(maker: str | None, number: str | None) -> tuple[str, str] | None:
    return (fold(maker or ""), number_key(number)) if number else None
