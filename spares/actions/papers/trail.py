"""Trail on paper: where a broken piece may lie; or a sheet to fill in, before one is begun."""

from __future__ import annotations

from typing import Any

from spares.actions.context import Context
from spares.actions.papers.frame import also_hazards, head, titled
from spares.actions.trails import trail as trail_now
from spares.actions.trails import trail_start
from spares.errors import InvalidInput
from spares.paper.language import ENGLISH, Words
from spares.paper.trail_sheet import SheetPlace, TrailSheet, trail_sheet_pdf


def trail_sheet(ctx: Context, *, page: str = "A4", trail: str | None = None,
                machine: str | None = None, say: Words = ENGLISH) -> bytes:
    """Print a trail, or an empty sheet for a machine with the places that are known.

    Raises:
        InvalidInput: neither a trail nor a machine is named.
        NotFound, Ambiguous: it cannot be told which is meant.
    """
    if trail is None and machine is None:
        raise InvalidInput.at("#/trail", "say which trail, or for which machine")
    if trail is None:
        return _empty(say, ctx, str(machine), page)
    one = trail_now(ctx, trail)
    sheet = TrailSheet(
        _machine(one), one["place"] or "", _what(say, one), gap_words(say, one), one["do_not_run"],
        tuple(one["hazards"]), tuple(_place(say, place) for place in one["places"]),
        _accepted(say, one), _note(say, one), _first_run(say, one))
    title = say("title.trail", trail=one["no"])
    return trail_sheet_pdf(head(ctx, say, title), sheet, page=page)


def _empty(say: Words, ctx: Context, machine: str, page: str) -> bytes:
    start = trail_start(ctx, machine)
    flow = start["flows"][0]
    written = flow["flow"].startswith("note-")      # its names are a person's own
    places = tuple(SheetPlace(one["name"] if written else say.told(one["name"]),
                              say.told(one["opens"]),
                              (say.told(one["seal"]),) if one["seal"] else ())
                   for one in flow["places"] if not one["upstream"])
    sheet = TrailSheet(_machine(start), start["place"] or "", say("trail.blank"), "", True,
                       tuple(start["hazards"]), places,
                       note=say("trail.flow", flow=say.sentence(flow["name"]),
                                source=say.sentence(flow["source"])))
    title = say("title.trail_blank", machine=start["machine"])
    return trail_sheet_pdf(head(ctx, say, title), sheet, page=page)


def gap_words(say: Words, one: dict[str, Any]) -> str:
    """Say how many pieces are missing, found, and left."""
    if one["missing"] is None:
        return say("trail.nobody_knows", found=one["found"])
    left = one["left"]
    more = say("trail.not_found", left=left) if left >= 0 else say("trail.wrong")
    return say("trail.gap_of" if one["of_pieces"] else "trail.gap", missing=one["missing"],
               of=one["of_pieces"], found=one["found"], more=more)


def _machine(one: dict[str, Any]) -> str:
    return " ".join(filter(None, [one["machine"], one["machine_name"]]))


def _what(say: Words, one: dict[str, Any]) -> str:
    out = " ".join(filter(None, [one["point"], one["point_name"]]))
    return say("trail.out_of", what=one["what"], point=out) if out else str(one["what"])


def _note(say: Words, one: dict[str, Any]) -> str:
    began = [say.day(one["began_on"]) if one["began_on"] else "", one["by"] or ""]
    return " ".join(filter(None, [
        say("trail.begun", began=", ".join(filter(None, began))) if any(began) else "",
        one["note"] or "", also_hazards(say, one["hazards_without_words"])]))


def _place(say: Words, place: dict[str, Any]) -> SheetPlace:
    look = None if place["state"] == "not-looked" else _look(say, place)
    return SheetPlace(titled(place, "point") if not place["name"] else say.told(place["name"]),
                      say.told(place["opens"] or ""), _seals(say, place), look)


def _look(say: Words, place: dict[str, Any]) -> str:
    if place["state"] == "in-doubt":
        return say("trail.differ")
    look = place["look"]
    by = ", ".join(filter(None, [look.get("by"), say.day(look["on"])]))
    return say("trail.look_found" if place["found"] else "trail.look_nothing",
               found=place["found"], by=by)


def _seals(say: Words, place: dict[str, Any]) -> tuple[str, ...]:
    said = [say.told(place["seal"])] if place["seal"] else []
    for part in place["parts"]:
        there = ", ".join(say("trail.in_locker", quantity=say.quantity(one["quantity"],
                                                                       part["unit"]),
                              locker=f"{one['locker']} {one['name']}") for one in part["where"])
        short = part["needed"] - part["usable"]
        lacks = say("trail.lacks", quantity=say.quantity(short, part["unit"])) \
            if there and short > 0 else ""
        said.append(f"{say.quantity(part['needed'], part['unit'])} × {titled(part)}: "
                    f"{there or say('common.none_aboard')}{lacks}")
    return tuple(said)


def _accepted(say: Words, one: dict[str, Any]) -> str:
    said = one["accepted"]
    if one["state"] != "accepted" or not said:
        return ""
    return f"{said['by']}, {say.day(said['on'])}: {said['why']}"


def _first_run(say: Words, one: dict[str, Any]) -> str:
    said = one["first_run"]
    if not said:
        return ""
    degrees = say.decimal(f"{said['temperature_c']:g} °C") if "temperature_c" in said else ""
    flow = say("trail.outlet", flow=said["flow"]) if "flow" in said else ""
    return ", ".join(filter(None, [flow, degrees, said.get("by"), say.day(said["on"])]))
