"""Drained: what was done at a drain point at lay-up, or closed again at fitting-out."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal, InvalidOperation
from typing import Any

from spares.actions.amounts import day
from spares.actions.context import Context, in_turn
from spares.actions.documents import new_document, revived
from spares.actions.lay_up import drains
from spares.actions.stock_moves import a_change_id, as_one_act
from spares.actions.written import written_before
from spares.domain.draft import Draft, setting
from spares.domain.drains import DRAINED, FITTING_OUT, TREATED, TURNS, WAYS
from spares.domain.identity import joined_id, ref
from spares.errors import InvalidInput, NotFound

COCKS = ("open", "shut")
COLDEST_C, WARMEST_C = Decimal(-80), Decimal(20)


@in_turn
def drained(ctx: Context, turn: str, *, point: str | None = None, machine: str | None = None,
            name: str | None = None, done: str | None = None, seen_to_run: bool = False,
            protects_to_c: Any = None, cock: str | None = None, plug_in: bool = False,
            seal_renewed: bool = False, no_leak: bool = False, by: str | None = None,
            at: str | None = None, note: str | None = None,
            change_id: str | None = None) -> dict[str, Any]:
    """Record what was done at a drain point.

    Args:
        ctx: Where it happens.
        turn: lay-up or fitting-out [-].
        point: The drain point, such as D01; else the machine and the name in its note, which
            then becomes a point of its own [-].
        machine, name: See *point* [-].
        done: lay-up: drained, treated or not-done [-].
        seen_to_run: The hole was probed, and water seen to run [-].
        protects_to_c: Down to which temperature what stays in was tested [°C].
        cock: How the cock is left: open or shut [-].
        plug_in, seal_renewed, no_leak: fitting-out: what was closed and looked at [-].
        by, note: Who, free text [-].
        at: The day; today unless said [-].
        change_id: Chosen by the maker, so that a doubled request is one [-].

    Raises:
        NotFound, Ambiguous: the point cannot be told.
        InvalidInput: no such turn or way, a day to come, no temperature.
    """
    _among(turn, "turn", TURNS)
    _among(cock, "cock", COCKS, none=True)
    if turn == FITTING_OUT:
        fields: dict[str, Any] = {"plug_in": plug_in, "seal_renewed": seal_renewed,
                                  "no_leak": no_leak}
    else:
        _among(done, "done", WAYS)
        fields = {"done": done, "seen_to_run": seen_to_run and done == DRAINED,
                  "protects_to_c": _strength(protects_to_c) if done == TREATED else None}
    ident, on = a_change_id(change_id), day(at, "at", ctx.today)
    if on > ctx.today.isoformat():
        raise InvalidInput.at("#/at", "this day is still to come")
    if (known := written_before(ctx, ident, "drain-record")) is None:
        doc, first = _point(ctx, point, machine, name)
        fields |= {"point": doc, "turn": turn, "on": on, "cock": cock,
                   "by": (by or "").strip() or None, "note": (note or "").strip() or None}
        record = ref("drain-record", joined_id("drain-record", doc, turn, on))
        draft = replace(setting(record, **revived(ctx.aboard(), record, fields)), id=ident)
        ctx.write(as_one_act([draft, *first], ident))
    else:
        doc = ctx.aboard().get(known).point
    aboard = ctx.aboard()
    said = done if turn != FITTING_OUT else "closed" if plug_in else "not closed"
    return {"change": ident, "kind": "drained", "was_new": known is None,
            "point": aboard.label(doc), "text": f"{aboard.label(doc)}, {turn}: {said}"}


def _among(value: str | None, field: str, known: tuple[str, ...], *, none: bool = False) -> None:
    if value not in known and not (none and value is None):
        raise InvalidInput.at(f"#/{field}", f"one of {', '.join(known)} is needed")


def _strength(value: Any) -> str | None:
    if value in (None, ""):
        return None
    try:
        degrees = Decimal(str(value).strip().replace(",", ".").replace("−", "-"))
    except InvalidOperation as err:
        raise InvalidInput.at("#/protects_to_c", "a temperature is needed") from err
    if not degrees.is_finite() or not COLDEST_C <= degrees <= WARMEST_C:
        raise InvalidInput.at("#/protects_to_c", f"{COLDEST_C} to {WARMEST_C} °C is needed")
    return format(degrees, "f")


def _point(ctx: Context, point: str | None, machine: str | None,
           name: str | None) -> tuple[str, list[Draft]]:
    """Give the drain point's document; one that only a note names is begun."""
    if point is not None:
        return ctx.named(point, "point", "drain-point"), []
    asked, wanted = ctx.named(machine, "machine", "machine"), (name or "").strip()
    aboard = ctx.aboard()
    here = [one for one in drains(aboard) if ref("machine", one.machine.id) == asked
            and one.place.casefold() == wanted.casefold()]
    if not here:
        raise NotFound("name: the machine has no such drain point",
                       errors=[{"pointer": "#/name", "detail": "not found"}])
    if here[0].doc:
        return here[0].doc, []
    fields = {"machine": asked, "name": here[0].place or here[0].machine.name,
              "way": "treat" if here[0].treated else "drain", "note": here[0].how or None}
    doc, draft = new_document(ctx, aboard, "drain-point",
                              {key: value for key, value in fields.items() if value})
    return doc, [draft]
