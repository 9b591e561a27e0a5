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
from spares.domain.stowage import (
    condition_of,
    count_state,
    counts_as_aboard,
    doubted,
    expires_of,
    is_lent,
    is_reachable,
    place_is_aboard,
    usable_on,
)
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
    part = aboard.get(name) or RECORDS["part"](id_of(name), "", False)
    lying = [one for one in aboard.lying_of.get(name, []) if one.is_listed]
    need = needs.get(name)
    usable = sum(one.quantity for one in lying if usable_on(aboard, one, today))
    there = sum(one.quantity for one in lying if counts_as_aboard(aboard, one))
    return {
        "type": "part", **part_head(aboard, name), "kind": part.kind, "unit": part.unit or "pcs",
        "made": part.made, "dropped_on": part.dropped_on,
        "taken_over_by": aboard.label(part.taken_over_by) if part.taken_over_by else None,
        "state": count_state(lying, need.usable if need else usable, need.need if need else None),
        "aboard": plain(there), "usable": plain(need.usable if need else usable),
        "need": plain(need.need) if need else None,
        "tags": tags(aboard, name, lying, today), "fits": fits(aboard, name),
        "where": [where(aboard, one) for one in in_walking_order(aboard, lying)],
        "stand_ins": [_stand_in(aboard, one, today) for one in aboard.stand_ins_for.get(name, [])],
        "numbers": [{"maker": one.maker, "number": one.number, "what": one.what or "cross"}
                    for one in aboard.numbers_of.get(name, ())],
        "price": money(part.price), "lead_days": part.lead_days, "seller": part.seller,
        "use": part.use, "note": part.note, "left_over": left_over_of(part)}


def left_over_of(part: Record) -> dict[str, Any] | None:
    """Give what shall become of a part that is left over, None where nobody decided."""
    return {"choice": part.left_over, "note": part.left_over_note} if part.left_over else None


def part_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a part: number, name, maker and maker's number."""
    part = aboard.get(name)
    if part is None:
        return {"id": id_of(name), "no": None, "name": "a part not recorded yet",
                "maker": None, "number": None}
    return {"id": part.id, "no": part.no, "name": part.name, "maker": part.maker,
            "number": part.number}


def where(aboard: Aboard, one: Lying) -> dict[str, Any]:
    """Describe pieces in a place."""
    locker = aboard.get(one.locker)
    return {**locker_head(aboard, one.locker), "quantity": plain(one.quantity),
            "low": plain(one.low), "high": plain(one.high), "flags": list(one.flags),
            "doubts": list(one.doubts), "rivals": list(one.rivals),
            "lot": one.lot or None, "condition": condition_of(aboard, one),
            "expires": expires_of(aboard, one), "counted": one.counted,
            "batch": getattr(aboard.get(one.lot), "batch", None) or None,
            "doubted": _doubt(doubted(aboard, one.part, one.locker)),
            "aboard": locker is not None and place_is_aboard(aboard, one.locker),
            "reachable": locker is not None and is_reachable(aboard, one.locker)}


def _doubt(one: Record | None) -> dict[str, Any] | None:
    return None if one is None else {"on": one.on, "by": one.by, "note": one.note}


def locker_head(aboard: Aboard, name: str) -> dict[str, Any]:
    """Name a locker: number, code and what it is called."""
    locker = aboard.get(name)
    if locker is None:
        return {"locker": None, "locker_id": id_of(name), "name": "a locker not recorded yet",
                "code": None, "lent_to": None}
    return {"locker": locker.no, "locker_id": locker.id, "name": locker.name,
            "code": locker.code, "lent_to": locker.lent_to}


def in_walking_order(aboard: Aboard, lying: list[Lying]) -> list[Lying]:
    """Order places by locker number, within a locker what goes out of date first."""
    return sorted(lying, key=lambda one: (aboard.label(one.locker),
                                          expires_of(aboard, one) or "9999", one.lot))


def tags(aboard: Aboard, name: str, lying: list[Lying], today: str) -> list[str]:
    """Say what else must be known of a part, as codes."""
    part, found = aboard.get(name), []
    if part is None:
        return ["fits-not-recorded"]
    if part.made == "dropped":
        found.append("dropped")
    if name in stranded_names(aboard):
        found.append("stranded")
    if fits_not_recorded_of(aboard, part):
        found.append("fits-not-recorded")
    for one in lying:
        condition, expires = condition_of(aboard, one), expires_of(aboard, one)
        found += [condition] if condition in ("suspect", "used-good") else []
        found += ["out-of-date"] if expires and expires < today else []
        found += ["lent"] if is_lent(aboard, one) else []
        there = counts_as_aboard(aboard, one)
        found += ["ashore"] if not there and not is_lent(aboard, one) else []
        found += ["not-reachable"] if there and not is_reachable(aboard, one.locker) else []
        found += ["in-doubt"] if one.doubts or one.rivals or doubted(
            aboard, one.part, one.locker) else []
        found += list(one.flags)
    return list(dict.fromkeys(found))


def fits(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    """List what a part fits or goes with, each with its proof."""
    found = []
    for link in aboard.links_of.get(name, []):
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
