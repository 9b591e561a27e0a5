"""The lines that answers are made of: a part with its places, a fit point, a locker.

They are the same in every answer, on every screen and in `--json`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from spares.actions.amounts import money, plain
from spares.domain.aboard import RECORDS, Aboard, Lying, Record, name_of
from spares.domain.cautions import hazard_words
from spares.domain.identity import id_of, kind_of
from spares.domain.stowage import Stowed, count_state, is_usable, place_of, stowed, usable_on
from spares.domain.trail import do_not_run
from spares.domain.tree import (
    fits_not_recorded_of,
    fitted_now,
    is_live,
    points_of_link,
    retired_on,
    stranded_names,
)

Needs = Mapping[str, Any]


def part_line(aboard: Aboard, name: str, needs: Needs, today: str) -> dict[str, Any]:
    """Describe a part: what it is, how many, where, and what it fits.

    Args:
        aboard: The vessel, at least with this part.
        name: The part's name (`part/...`) [-].
        needs: By part's name, need and usable of the next trip or keep levels
            [thousandths]; see `actions.needs`.
        today: The day on which usable is judged, ISO [-].
    """
    known = aboard.get(name)
    part = known or _not_recorded(name)
    lying = aboard.lying_of.get(name, ())
    there = [stowed(aboard, one) for one in lying if one.is_listed]
    quantity = usable = 0
    for at in there:
        quantity += at.lying.quantity if at.place.is_aboard else 0
        usable += at.lying.quantity if is_usable(aboard, at, today) else 0
    need = needs.get(name)
    if need:
        usable = need.usable
    return {
        "type": "part", **_head(part), "kind": part.kind, "unit": part.unit or "pcs",
        "made": part.made, "dropped_on": part.dropped_on,
        "taken_over_by": aboard.label(part.taken_over_by) if part.taken_over_by else None,
        "state": count_state(lying, usable, need.need if need else None),
        "aboard": plain(quantity), "usable": plain(usable),
        "need": plain(need.need) if need else None,
        "tags": tags(aboard, name, part, there, today) if known else ["fits-not-recorded"],
        "fits": fits(aboard, name),
        "where": [_where(at) for at in _walked(there)],
        "stand_ins": [_stand_in(aboard, one, today) for one in aboard.stand_ins_for.get(name, ())],
        "numbers": [{"maker": one.maker, "number": one.number, "what": one.what or "cross"}
                    for one in aboard.numbers_of.get(name, ())],
        "price": money(part.price), "lead_days": part.lead_days, "seller": part.seller,
        "use": part.use, "note": part.note, "left_over": left_over_of(part)}


def left_over_of(part: Record) -> dict[str, Any] | None:
    """Give what shall become of a part that is left over, None where nobody decided."""
    return {"choice": part.left_over, "note": part.left_over_note} if part.left_over else None


def part_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a part: number, name, maker and maker's number."""
    return _head(aboard.get(name) or _not_recorded(name))


def _head(part: Record) -> dict[str, Any]:
    return {"id": part.id, "no": part.no, "name": part.name, "maker": part.maker,
            "number": part.number}


def _not_recorded(name: str) -> Record:
    return RECORDS["part"](id_of(name), "", False, name="a part not recorded yet")


def where(aboard: Aboard, one: Lying) -> dict[str, Any]:
    """Describe pieces in a place."""
    return _where(stowed(aboard, one))


def _where(at: Stowed) -> dict[str, Any]:
    _, _, lot, quantity, low, high, doubts, rivals, flags, counted = at.lying
    no, ident, name, code, lent_to, _, is_known, is_aboard, is_reachable = at.place
    return {"locker": no, "locker_id": ident, "name": name, "code": code, "lent_to": lent_to,
            "quantity": plain(quantity), "low": plain(low), "high": plain(high),
            "flags": list(flags), "doubts": list(doubts), "rivals": list(rivals),
            "lot": lot or None, "condition": at.condition, "expires": at.expires,
            "counted": counted, "batch": (at.lot.batch or None) if at.lot else None,
            "doubted": _doubt(at.doubt), "aboard": is_known and is_aboard,
            "reachable": is_known and is_reachable}


def _doubt(one: Record | None) -> dict[str, Any] | None:
    return None if one is None else {"on": one.on, "by": one.by, "note": one.note}


def locker_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a locker: number, code and what it is called."""
    at = place_of(aboard, name)
    return {"locker": at.no, "locker_id": at.id, "name": at.name, "code": at.code,
            "lent_to": at.lent_to}


def in_walking_order(aboard: Aboard, lying: list[Lying]) -> list[Lying]:
    """Order places by locker number, within a locker what goes out of date first."""
    return [at.lying for at in _walked([stowed(aboard, one) for one in lying])]


def _walked(there: list[Stowed]) -> list[Stowed]:
    if len(there) < 2:      # nearly always
        return there
    return sorted(there, key=lambda at: (at.place.label, at.expires or "9999", at.lying.lot))


def tags(aboard: Aboard, name: str, part: Record, there: list[Stowed], today: str) -> list[str]:
    """Say what else must be known of a part, as codes."""
    found = []
    if part.made == "dropped":
        found.append("dropped")
    if name in stranded_names(aboard):
        found.append("stranded")
    if fits_not_recorded_of(aboard, part):
        found.append("fits-not-recorded")
    for at in there:
        _add_tags(found, at, today)
    return list(dict.fromkeys(found))


def _add_tags(found: list[str], at: Stowed, today: str) -> None:
    one, place, _, condition, expires, doubt = at
    if condition in ("suspect", "used-good"):
        found.append(condition)
    if expires and expires < today:
        found.append("out-of-date")
    if place.lent_to:
        found.append("lent")
    elif not place.is_aboard:
        found.append("ashore")
    if place.is_aboard and not place.is_reachable:
        found.append("not-reachable")
    if doubt or one.doubts or one.rivals:
        found.append("in-doubt")
    found.extend(one.flags)


def fits(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    """List what a part fits or goes with, each with its proof."""
    if name not in aboard.links_of:     # most of thousands
        return []
    found = []
    for link in aboard.links_of[name]:
        base = {"role": link.role or "takes", "proof": link.proof, "use": link.use,
                "note": link.note,
                "with_part": aboard.label(link.with_part) if link.with_part else None}
        points = points_of_link(aboard, link)
        found += [{**_end(aboard, point), **base} for point in points]
        if not points:
            found.append({**_end(aboard, link.to), **base})
    return sorted(found, key=lambda one: (not one["live"], one["point"] or one["machine"] or ""))


def _end(aboard: Aboard, name: str | None) -> dict[str, Any]:
    record = aboard.get(name)
    kind = kind_of(name) if name else ""
    machine = record if kind == "machine" else aboard.get(getattr(record, "machine", None))
    point = record if kind in ("point", "inner") else None
    return {"point": point.no if point else None, "name": record.name if record else None,
            "machine": machine.no if machine else None,
            "machine_name": machine.name if machine else None,
            "live": is_live(aboard, record) if kind == "point" and record else kind != "inner"}


def _stand_in(aboard: Aboard, one: Record, today: str) -> dict[str, Any]:
    usable = sum(lot.quantity for lot in aboard.lying_of.get(one.part, [])
                 if usable_on(aboard, lot, today))
    return {"part": aboard.label(one.part), "name": part_head(aboard, one.part)["name"],
            "proof": one.proof, "usable": plain(usable)}


def point_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a fit point and what sits there."""
    point = aboard.get(name)
    machine, now = aboard.get(point.machine), fitted_now(aboard, name)
    return {"type": "point", "id": point.id, "no": point.no, "name": point.name,
            "machine": machine.no if machine else None,
            "machine_name": machine.name if machine else None, "pieces": point.pieces or 1,
            "weight": point.weight, "kind": point.kind, "live": is_live(aboard, point),
            "retired_on": retired_on(aboard, point),
            "parent": aboard.label(point.parent) if point.parent else None,
            "fitted": {"part": aboard.label(now.part),
                       "name": part_head(aboard, now.part)["name"],
                       "since": now.date or None} if now else None}


def machine_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a machine and say where it stands."""
    one = aboard.get(name)
    return {"type": "machine", "id": one.id, "no": one.no, "name": one.name, "model": one.model,
            "maker": one.maker, "serial": one.serial, "place": one.place, "code": one.code,
            "counter": one.counter, "note": one.note,
            "counter_of": aboard.label(one.counter_of) if one.counter_of else None,
            "hazards": list(hazard_words(one.hazards)), "do_not_run": do_not_run(aboard, name)}


def points_of_machine(aboard: Aboard, name: str) -> list[str]:
    """Give the names of a machine's fit points, in the order of their numbers."""
    points = aboard.points_of.get(name, [])
    return [name_of("point", one) for one in sorted(points, key=lambda one: one.no or "")]
