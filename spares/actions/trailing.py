"""The steps of a trail: begun, looked at place by place, its flow order put right."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.documents import revived
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.actions.trails import cut, flows_for, next_trail_no, trail_thing
from spares.actions.written import written_before
from spares.domain.aboard import Aboard
from spares.domain.draft import Draft, setting
from spares.domain.identity import numbered_id, ref
from spares.domain.trail import places_of
from spares.errors import InvalidInput, NotFound

STEP = 1000       # between the positions of places, so that others fit in


@in_turn
def trail_begin(ctx: Context, machine: str, what: str, *, missing: int | None = None,
                of_pieces: int | None = None, point: str | None = None, by: str | None = None,
                at: str | None = None, flow: str | None = None,
                places: list[dict[str, Any]] | None = None, note: str | None = None,
                change_id: str | None = None) -> dict[str, Any]:
    """Begin the trail of a broken piece; the machine must not run from now on.

    Args:
        ctx: Where it happens.
        machine: As people call it [-].
        what: What is missing, such as "impeller blade" [-].
        missing: How many pieces [pieces]; None: nobody knows.
        of_pieces: Of how many [pieces].
        point: The fit point where it came out [-].
        by: Who saw it [-].
        at: The day; today unless said [-].
        flow: Which flow order (see `trail_start`); the machine's own unless said [-].
        places: The places in flow order instead, each with `name`, `opens`, `seal`, `point`,
            `part` [-].
        note: Whatever else [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: machine, fit point or part cannot be told, or no such flow order.
        InvalidInput: nothing is missing, or more than there were.
    """
    name, ident = ctx.named(machine, "machine", "machine"), a_change_id(change_id)
    came_out = ctx.named(point, "point", "point") if point else None
    check_count(missing, of_pieces)
    on = day(at, "at", ctx.today)
    if (doc := written_before(ctx, ident, "trail")) is not None:
        return answer(ctx, ident, doc, False)
    aboard = ctx.aboard()
    rows = _given(ctx, places) if places is not None else _of_flow(aboard, name, came_out, flow)
    no = next_trail_no(aboard, name)
    doc = ref("trail", numbered_id(ctx.vessel, "trail", no))
    fields = {"no": no, "machine": name, "point": came_out, "what": needed(what, "what"),
              "of_pieces": of_pieces, "missing": missing, "began_on": on, "by": plain_text(by),
              "note": plain_text(note)}
    drafts = [replace(setting(doc, **revived(aboard, doc, told(fields))), id=ident)]
    for number, row in enumerate(rows, start=1):
        place = _place_ref(ctx, f"{no}.{number}")
        drafts.append(setting(place, **revived(aboard, place, {
            "no": f"{no}.{number}", "trail": doc, "position": number * STEP, **row})))
    ctx.write(as_one_act(drafts, ident))
    return answer(ctx, ident, doc, True)


@in_turn
def trail_look(ctx: Context, trail: str, place: str, found: int = 0, *, by: str | None = None,
               at: str | None = None, taken_back: bool = False,
               change_id: str | None = None) -> dict[str, Any]:
    """Record that somebody looked at a place, and how many pieces lay there in all.

    Args:
        ctx: Where it happens.
        trail: Its number [-].
        place: Its number in flow order, or its id [-].
        found: Pieces found there in all; 0 for nothing [pieces].
        by: Who looked [-].
        at: The day; today unless said [-].
        taken_back: Whether nobody looked there after all [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the trail or the place cannot be told.
        InvalidInput: no such day.
    """
    doc, ident = ctx.named(trail, "trail", "trail"), a_change_id(change_id)
    look = None if taken_back else told(
        {"found": found, "by": plain_text(by), "on": day(at, "at", ctx.today)})
    if written_before(ctx, ident, "trail-place") is not None:
        return answer(ctx, ident, doc, False)
    name = _place_named(ctx.aboard(), doc, place)
    return write_one(ctx, ident, doc, setting(name, look=look))


@in_turn
def trail_place(ctx: Context, trail: str, *, place: str | None = None, name: str | None = None,
                opens: str | None = None, seal: str | None = None, point: str | None = None,
                part: str | None = None, before: str | None = None, gone: bool = False,
                change_id: str | None = None) -> dict[str, Any]:
    """Put the flow order right: add a place, change one, move one before another, take one off.

    Args:
        ctx: Where it happens.
        trail: Its number [-].
        place: Which place; without it a new one, at the end [-].
        name, opens, seal: What it is called, what opens it, what seals it again [-].
        point, part: Its fit point and the part that seals it [-].
        before: The place that it comes before [-].
        gone: Whether it is no place of this trail [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: trail, place, fit point or part cannot be told.
        InvalidInput: a new place without a name, or nothing to change.
    """
    doc, ident = ctx.named(trail, "trail", "trail"), a_change_id(change_id)
    if written_before(ctx, ident, "trail-place") is not None:
        return answer(ctx, ident, doc, False)
    aboard = ctx.aboard()
    fields = told({"name": plain_text(name), "opens": opens, "seal": seal,
                    "point": ctx.named(point, "point", "point") if point else None,
                    "part": ctx.named(part, "part", "part") if part else None})
    if place is None:
        no = f"{aboard.label(doc)}.{ident[:4]}"      # two phones apart never choose the same
        target = _place_ref(ctx, no)
        fields = {"no": no, "trail": doc, "name": needed(name, "name"), **fields}
    else:
        target = _place_named(aboard, doc, place)
    if gone:
        fields = {"gone": True}
    elif before is not None or place is None:
        after = _place_named(aboard, doc, before) if before is not None else None
        fields["position"] = _position(aboard, doc, target, after)
    if not fields:
        raise InvalidInput("nothing is to be changed")
    return write_one(ctx, ident, doc, setting(target, **fields))


def _place_named(aboard: Aboard, trail: str, asked: str) -> str:
    """Give a place of a trail by its number in flow order or its id."""
    places = places_of(aboard, trail)
    if asked.isdigit() and 1 <= int(asked) <= len(places):
        return ref("trail-place", places[int(asked) - 1].id)
    for one in places:
        if asked in (one.id, one.no, ref("trail-place", one.id)):
            return ref("trail-place", one.id)
    raise NotFound("place: there is no such place on this trail",
                   errors=[{"pointer": "#/place", "detail": "not found"}])


def _place_ref(ctx: Context, no: str) -> str:
    return ref("trail-place", numbered_id(ctx.vessel, "trail-place", no))


def _position(aboard: Aboard, trail: str, target: str, after: str | None) -> int:
    """Give the position before the place *after*, or at the end."""
    others = [one for one in places_of(aboard, trail) if ref("trail-place", one.id) != target]
    at = next((i for i, one in enumerate(others) if ref("trail-place", one.id) == after), None)
    if at is None:
        return max((one.position or 0 for one in others), default=0) + STEP
    low = others[at - 1].position or 0 if at else 0
    return (low + (others[at].position or 0)) // 2


def _of_flow(aboard: Aboard, machine: str, point: str | None,
             flow: str | None) -> list[dict[str, Any]]:
    known = flows_for(aboard, machine, point)
    chosen = next((one for one in known if flow is None or one.id == flow), None)
    if chosen is None:
        raise NotFound(f"flow: there is no flow order called {str(flow)[:60]!r}",
                       known=[one.id for one in known],
                       errors=[{"pointer": "#/flow", "detail": "not found"}])
    points = {one.no: ref("point", one.id) for one in aboard.points_of.get(machine, [])}
    return [told({"name": one.name, "opens": one.opens or None, "seal": one.seal or None,
                   "point": points.get(one.point)}) for one in cut(aboard, chosen, point)]


def _given(ctx: Context, places: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [told({"name": needed(one.get("name"), f"places/{at}/name"),
                   "opens": plain_text(one.get("opens")), "seal": plain_text(one.get("seal")),
                   **{kind: ctx.named(one[kind], f"places/{at}/{kind}", kind)
                      for kind in ("point", "part") if one.get(kind)}})
            for at, one in enumerate(places)]


def check_count(missing: int | None, of_pieces: int | None) -> None:
    """Refuse a number that cannot be: none missing, or more than there were."""
    if missing is not None and missing < 1:
        raise InvalidInput.at("#/missing", "at least 1; leave it out where nobody knows")
    if missing is not None and of_pieces is not None and missing > of_pieces:
        raise InvalidInput.at("#/missing", f"more than the {of_pieces} that there were")


def needed(text: str | None, field: str) -> str:
    """Give a text that must be there, without the blanks around it."""
    if not (text or "").strip():
        raise InvalidInput.at(f"#/{field}", "is needed")
    return str(text).strip()


def plain_text(text: str | None) -> str | None:
    """Give a text without the blanks around it, None for nothing."""
    return (text or "").strip() or None


def told(fields: dict[str, Any]) -> dict[str, Any]:
    """Leave out what is not known."""
    return {name: value for name, value in fields.items() if value is not None}


def write_one(ctx: Context, ident: str, doc: str, draft: Draft) -> dict[str, Any]:
    """Write one change of a trail, and answer with the trail as it stands then."""
    ctx.write([replace(draft, id=ident)])
    return answer(ctx, ident, doc, True)


def answer(ctx: Context, ident: str, doc: str, was_new: bool) -> dict[str, Any]:
    """Answer with the trail as it stands."""
    thing = trail_thing(ctx.aboard(), doc, ctx.today.isoformat())
    return {"change": ident, "kind": "trail", "was_new": was_new, "trail": thing,
            "text": stands(thing)}


def stands(thing: dict[str, Any]) -> str:
    """Say in one sentence how a trail stands."""
    start = f"{thing['no']}, {thing['what']}"
    if thing["state"] == "found":
        return f"{start}: every piece is found"
    if thing["state"] == "accepted":
        return f"{start}: closed with pieces missing, accepted by {thing['accepted']['by']}"
    left = thing["left"]
    open_ = "nobody knows how many are missing" if left is None else \
        f"{left} missing" if left > 0 else "more found than were missing"
    return f"{start}: {open_}; do not run {thing['machine']}"
