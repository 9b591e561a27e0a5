"""Trails of broken pieces: how far each is, which machine must not run, how one is begun."""

from __future__ import annotations

from typing import Any

from spares.actions.amounts import plain
from spares.actions.claims import caution_lines, ticks
from spares.actions.context import Context
from spares.actions.lines import in_walking_order, part_head, point_head, points_of_machine, where
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.cautions import EVERY_JOB, cautions_for, hazard_words, known_and_other
from spares.domain.stowage import condition_of, counts_as_aboard, earliest_expiry, expires_of
from spares.domain.trail import (
    OPEN,
    found_in,
    gap,
    is_open,
    next_place,
    open_trails,
    places_of,
    said_of,
    state_of,
)
from spares.domain.trail_flows import Flow, FlowPlace, downstream, fitting_first, noted_flows
from spares.domain.tree import GOOD_PROOF, fitted_now, is_live
from spares.domain.trip_fields import shown

#: Hazard words of every trail, beside the machine's own.
HAZARDS = ("pieces", "stop values", *EVERY_JOB)


def trails(ctx: Context) -> dict[str, Any]:
    """List the trails, open ones first, and the machines that must not run."""
    aboard = ctx.aboard()
    found = sorted((trail_head(aboard, one) for one in aboard.all("trail")),
                   key=lambda one: (one["state"] != OPEN, one["no"] or ""))
    return {"trails": found, "do_not_run": stopped(aboard)}


def stopped(aboard: Aboard) -> list[dict[str, Any]]:
    """List the machines that must not run, with the trails that say so."""
    found = [{"machine": aboard.label(machine), "name": getattr(aboard.get(machine), "name", None),
              "trails": [one.no for one in some], "what": [one.what for one in some]}
             for machine, some in open_trails(aboard).items()]
    return sorted(found, key=lambda one: one["machine"])


def trail(ctx: Context, name: str) -> dict[str, Any]:
    """Show a trail: its places in flow order, what opens and seals each, what was found.

    Raises:
        NotFound, Ambiguous: it cannot be told which trail is meant.
    """
    aboard = ctx.aboard()
    return trail_thing(aboard, ctx.named(name, "trail", "trail"), ctx.today.isoformat())


def trail_thing(aboard: Aboard, name: str, today: str) -> dict[str, Any]:
    """Describe a trail whole."""
    one = aboard.get(name)
    said, places = said_of(aboard, one), places_of(aboard, name)
    at = next_place(said)
    return {**trail_head(aboard, one), **work_cautions(aboard.get(one.machine)),
            "next": places[at].id if at is not None else None,
            "places": [_place(aboard, place, number, looks, today)
                       for number, (place, looks) in enumerate(
                           zip(places, said.looks, strict=True), start=1)]}


def trail_head(aboard: Aboard, one: Record) -> dict[str, Any]:
    """Describe a trail without its places."""
    said = said_of(aboard, one)
    count, machine, point = gap(said), aboard.get(one.machine), aboard.get(one.point)
    return {"type": "trail", "id": one.id, "no": one.no,
            "machine": machine.no if machine else None,
            "machine_name": machine.name if machine else None,
            "place": machine.place if machine else None,
            "point": point.no if point else None, "point_name": point.name if point else None,
            "what": one.what, "of_pieces": one.of_pieces, "missing": count.missing,
            "found": count.found, "left": count.left, "state": state_of(said),
            "do_not_run": is_open(said), "not_looked": sum(None in some for some in said.looks),
            "began_on": one.began_on, "by": one.by, "accepted": one.accepted,
            "first_run": shown("trail-first-run", one.first_run, _as_it_is), "note": one.note,
            "disputed": sorted(aboard.rivals.get(name_of("trail", one), {}))}


def _as_it_is(value: Any, kinds: tuple[str, ...], path: str) -> Any:
    return value


def _place(aboard: Aboard, one: Record, number: int, looks: tuple[Any, ...],
           today: str) -> dict[str, Any]:
    found = min(found_in(look) for look in looks)
    state = "not-looked" if None in looks else "found" if found else "nothing"
    point = aboard.get(one.point)
    return {"place": one.id, "number": number, "name": one.name, "opens": one.opens,
            "seal": one.seal, "point": point.no if point else None,
            "point_name": point.name if point else None,
            "state": "in-doubt" if len(looks) > 1 else state, "found": found,
            "look": one.look, "looks": [look for look in looks if len(looks) > 1],
            "parts": [_seal(aboard, part, (point.pieces if point else None) or 1, today)
                      for part in _seals(aboard, one)], "note": one.note}


def _seals(aboard: Aboard, place: Record) -> list[str]:
    """Give the parts that close a place again: its own, else what its fit point takes."""
    if place.part:
        return [place.part]
    if not place.point:
        return []
    now = fitted_now(aboard, place.point)
    proved = sorted((link.part for link in aboard.links_to.get(place.point, [])
                     if link.role == "takes" and link.proof in GOOD_PROOF), key=aboard.label)
    return list(dict.fromkeys([*([now.part] if now else []), *proved]))


def _seal(aboard: Aboard, part: str, needed: int, today: str) -> dict[str, Any]:
    head, record = part_head(aboard, part), aboard.get(part)
    lying = [one for one in in_walking_order(aboard, aboard.lying_of.get(part, []))
             if one.quantity > 0 and counts_as_aboard(aboard, one)
             and condition_of(aboard, one) != "suspect"
             and earliest_expiry(expires_of(aboard, one) or "9999") >= today]
    return {"part": head["no"], "name": head["name"], "maker": head["maker"],
            "number": head["number"], "unit": (record.unit if record else None) or "pcs",
            "needed": needed, "usable": plain(sum(one.quantity for one in lying)),
            "where": [where(aboard, one) for one in lying]}


def trail_start(ctx: Context, machine: str) -> dict[str, Any]:
    """Give what is needed to begin a trail on a machine: flow orders, fit points, cautions.

    Raises:
        NotFound, Ambiguous: it cannot be told which machine is meant.
    """
    aboard, name = ctx.aboard(), ctx.named(machine, "machine", "machine")
    one = aboard.get(name)
    points = [point_head(aboard, point) for point in points_of_machine(aboard, name)
              if is_live(aboard, aboard.get(point))]
    return {"machine": one.no, "machine_name": one.name, "place": one.place,
            "no": next_trail_no(aboard, name), **work_cautions(one),
            "points": [{key: point[key] for key in ("no", "name", "parent", "pieces", "fitted")}
                       for point in points],
            "flows": [_flow(flow) for flow in flows_for(aboard, name)]}


def flows_for(aboard: Aboard, machine: str, point: str | None = None) -> list[Flow]:
    """Give the flow orders of a machine, its own first: as last time, as noted, starters."""
    one = aboard.get(machine)
    points = [aboard.label(name) for name in points_of_machine(aboard, machine)]
    where_out = aboard.get(point)
    words = [one.name or "", one.model or "", one.note or "", one.hazards or "",
             str(((where_out.place if where_out else None) or {}).get("medium") or "")]
    return [*_last_time(aboard, machine), *noted_flows(one.note, points), *fitting_first(words)]


def cut(aboard: Aboard, flow: Flow, point: str | None) -> tuple[FlowPlace, ...]:
    """Give the places of a flow that lie downstream of a fit point."""
    if not flow.id.startswith("note-"):
        return flow.places
    around, name = [], point
    while (one := aboard.get(name)) is not None and one.no not in around:
        around.append(one.no)
        name = one.parent
    return downstream(flow.places, around)


def _flow(flow: Flow) -> dict[str, Any]:
    after = downstream(flow.places, []) if flow.id.startswith("note-") else flow.places
    return {"flow": flow.id, "name": flow.name, "source": flow.source,
            "places": [{"name": one.name, "opens": one.opens, "seal": one.seal,
                        "point": one.point or None, "upstream": one not in after}
                       for one in flow.places]}


def _last_time(aboard: Aboard, machine: str) -> list[Flow]:
    """Give the places of the machine's last trail, as people put them right."""
    before = [one for one in aboard.all("trail") if one.machine == machine]
    if not before:
        return []
    last = max(before, key=lambda one: (one.began_on or "", one.no or ""))
    places = tuple(FlowPlace(one.name or "", one.opens or "", one.seal or "",
                             aboard.label(one.point) if one.point else "")
                   for one in places_of(aboard, name_of("trail", last)))
    return [Flow("last", f"As on {last.no}", f"trail {last.no}", places)] if places else []


def next_trail_no(aboard: Aboard, machine: str) -> str:
    """Give the next free number of a trail on a machine, such as HBR-T1.

    The machine stands in it: two phones apart that begin one on the same machine then write
    the same trail, and on two machines never do.
    """
    start = f"{aboard.label(machine)}-T"
    taken = [one.no[len(start):] for one in aboard.docs["trail"].values()
             if (one.no or "").startswith(start)]
    return f"{start}{max((int(no) for no in taken if no.isdigit()), default=0) + 1}"


def work_cautions(machine: Record | None) -> dict[str, Any]:
    """Give the cautions of opening a machine for a broken piece, and the lines to tick."""
    said = hazard_words(machine.hazards if machine is not None else None)
    words, other = known_and_other(dict.fromkeys([*HAZARDS, *said]))
    called = cautions_for(words)
    return {"cautions": caution_lines([*words, *other]), "hazards": list(words),
            "hazards_without_words": list(other),
            "shut_off": ticks(called, "shut_off"), "after": ticks(called, "after")}
