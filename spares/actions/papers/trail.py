"""Trail on paper: where a broken piece may lie; or a sheet to fill in, before one is begun."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.papers.frame import head, titled
from spares.actions.trails import trail as trail_now
from spares.actions.trails import trail_start
from spares.errors import InvalidInput
from spares.paper.cells import quantity_text
from spares.paper.dates import date_text
from spares.paper.trail_sheet import SheetPlace, TrailSheet, trail_sheet_pdf


def trail_sheet(ctx: Context, *, page: str = "A4", trail: str | None = None,
                machine: str | None = None) -> bytes:
    """Print a trail, or an empty sheet for a machine with the places that are known.

    Raises:
        InvalidInput: neither a trail nor a machine is named.
        NotFound, Ambiguous: it cannot be told which is meant.
    """
    if trail is None and machine is None:
        raise InvalidInput.at("#/trail", "say which trail, or for which machine")
    if trail is None:
        return _empty(ctx, str(machine), page)
    one = trail_now(ctx, trail)
    sheet = TrailSheet(
        _machine(one), one["place"] or "", _what(one), gap_words(one), one["do_not_run"],
        tuple(one["hazards"]), tuple(_place(place) for place in one["places"]),
        _accepted(one), _note(one), _first_run(one))
    return trail_sheet_pdf(head(ctx, f"Trail {one['no']}"), sheet, page=page)


def _empty(ctx: Context, machine: str, page: str) -> bytes:
    start = trail_start(ctx, machine)
    flow = start["flows"][0]
    places = tuple(SheetPlace(one["name"], one["opens"], (one["seal"],) if one["seal"] else ())
                   for one in flow["places"] if not one["upstream"])
    sheet = TrailSheet(_machine(start), start["place"] or "", "A piece is missing", "", True,
                       tuple(start["hazards"]), places,
                       note=f"Flow order: {flow['name']} ({flow['source']}). "
                            "Put it right as she is piped.")
    return trail_sheet_pdf(head(ctx, f"Trail, {start['machine']}"), sheet, page=page)


def gap_words(one: dict[str, Any]) -> str:
    """Say how many pieces are missing, found, and left."""
    if one["missing"] is None:
        return f"Nobody knows how many pieces are missing; {one['found']} found"
    of = f" of {one['of_pieces']}" if one["of_pieces"] else ""
    left = one["left"]
    more = f"{left} not found" if left >= 0 else "one of the numbers is wrong"
    return f"{one['missing']}{of} missing, {one['found']} found, {more}"


def _machine(one: dict[str, Any]) -> str:
    return " ".join(filter(None, [one["machine"], one["machine_name"]]))


def _what(one: dict[str, Any]) -> str:
    out = " ".join(filter(None, [one["point"], one["point_name"]]))
    return f"{one['what']}, out of {out}" if out else one["what"]


def _note(one: dict[str, Any]) -> str:
    began = [date_text(one["began_on"]) if one["began_on"] else "", one["by"] or ""]
    other = ", ".join(one["hazards_without_words"])
    return " ".join(filter(None, [
        f"Begun {', '.join(filter(None, began))}." if any(began) else "", one["note"] or "",
        f"Also recorded as a hazard, without words of its own: {other}." if other else ""]))


def _place(place: dict[str, Any]) -> SheetPlace:
    look = None if place["state"] == "not-looked" else _look(place)
    return SheetPlace(titled(place, "point") if not place["name"] else place["name"],
                      place["opens"] or "", _seals(place), look)


def _look(place: dict[str, Any]) -> str:
    if place["state"] == "in-doubt":
        return "two phones differ: look again"
    look = place["look"]
    by = ", ".join(filter(None, [look.get("by"), date_text(look["on"])]))
    return f"{place['found'] or 'nothing'}{' found' if place['found'] else ''} ({by})"


def _seals(place: dict[str, Any]) -> tuple[str, ...]:
    said = [place["seal"]] if place["seal"] else []
    for part in place["parts"]:
        there = ", ".join(f"{quantity_text(one['quantity'], part['unit'])} in {one['locker']} "
                          f"{one['name']}" for one in part["where"])
        short = part["needed"] - part["usable"]
        lacks = f", MISSING: {quantity_text(short, part['unit'])}" if there and short > 0 else ""
        said.append(f"{quantity_text(part['needed'], part['unit'])} × {titled(part)}: "
                    f"{there or 'none aboard'}{lacks}")
    return tuple(said)


def _accepted(one: dict[str, Any]) -> str:
    said = one["accepted"]
    if one["state"] != "accepted" or not said:
        return ""
    return f"{said['by']}, {date_text(said['on'])}: {said['why']}"


def _first_run(one: dict[str, Any]) -> str:
    said = one["first_run"]
    if not said:
        return ""
    degrees = f"{said['temperature_c']:g} °C" if "temperature_c" in said else ""
    flow = f"outlet water {said['flow']}" if "flow" in said else ""
    return ", ".join(filter(None, [flow, degrees, said.get("by"), date_text(said["on"])]))
