"""The job card of a service: why now, cautions, what to shut off, kit with lockers, steps."""

from __future__ import annotations

import re
from typing import Any

from spares.actions.amounts import plain
from spares.actions.claims import ticks
from spares.actions.context import Context
from spares.actions.due import due
from spares.actions.gauges import gauges_of
from spares.actions.jobs import (
    job_cautions,
    job_hazards,
    job_machine,
    service_points,
)
from spares.actions.joints import joints_of_service
from spares.actions.kits import bag_told
from spares.actions.lessons import lessons_of
from spares.actions.lines import in_walking_order, locker_head, part_head
from spares.domain.aboard import Aboard, Lying, Record, name_of
from spares.domain.cautions import cautions_for
from spares.domain.kit_bag import own_bag_first
from spares.domain.run_after import run_noted
from spares.domain.stowage import condition_of, counts_as_aboard, expires_of, usable_on
from spares.domain.trail import gap, open_trails, places_of, said_of
from spares.domain.tree import GOOD_PROOF, fitted_now, is_live

_NUMBERING = re.compile(r"^\s*(?:\d{1,3}[.)]|[-*•])\s+")


def card(ctx: Context, service: str) -> dict[str, Any]:
    """Give the job card of a service.

    The kit comes in walking order. Each line says which lockers to take its pieces from;
    what is missing is named apart. The cautions are those of the service, or of its machine
    where the service names none, always those of opening something, and what else is
    dangerous about the machine; only the first of them bring lines to tick.

    Raises:
        NotFound, Ambiguous: it cannot be told which service is meant.
    """
    aboard, name = ctx.aboard(), ctx.named(service, "service", "service")
    one = aboard.get(name)
    points = service_points(aboard, name)
    machine, hazards = job_machine(aboard, one, points), job_hazards(aboard, one)
    cautions, sheets = cautions_for(hazards.words), joints_of_service(aboard, name)
    kit = sorted((_kit_line(aboard, line, ctx.today.isoformat())
                  for line in aboard.kits_of.get(name, [])), key=_walking)
    return {
        "service": one.no, "what": one.what, "machine": machine.no if machine else None,
        "machine_name": machine.name if machine else None,
        "place": machine.place if machine else None,
        "points": [_point(aboard, point) for point in points],
        "due": next(line for line in due(ctx)["services"] if line["service"] == one.no),
        "hazards": list(hazards.words), "hazards_without_words": list(hazards.without_words),
        "cautions": job_cautions(aboard, one),
        "machine_hazards": [other.mark for other in cautions_for(hazards.besides)
                            if other not in cautions],
        "shut_off": ticks(cautions, "shut_off"), "after": ticks(cautions, "after"),
        "bag": bag_told(aboard, name, ctx.today.isoformat()),
        "kit": kit, "missing": [line["part"] for line in kit if line["short"]],
        "joints": sheets,
        "steps": [_NUMBERING.sub("", line).strip() for line in (one.steps or "").splitlines()
                  if line.strip()],
        "note": one.note,
        "lessons": lessons_of(aboard, name),
        "gauges": gauges_of(aboard, name_of("machine", machine)) if machine else [],
        "test_run": _test_run(one), "do_not_run": _open_trails(aboard, machine)}


def _test_run(service: Record) -> dict[str, Any] | None:
    """Give the test run that the service's note asks for, and at what to stop at once."""
    run = run_noted(service.note)
    if run is None:
        return None
    stop, = cautions_for(["stop values"])
    return {"minutes": list(run.minutes), "readings": list(run.readings),
            "limits": run.limits, "stop": stop.text}


def _open_trails(aboard: Aboard, machine: Record | None) -> list[dict[str, Any]]:
    """Give the open trails of the job's machine, with the places where nobody looked yet."""
    if machine is None:
        return []
    return [_open_trail(aboard, one)
            for one in open_trails(aboard).get(name_of("machine", machine), [])]


def _open_trail(aboard: Aboard, one: Record) -> dict[str, Any]:
    said = said_of(aboard, one)
    places = zip(places_of(aboard, name_of("trail", one)), said.looks, strict=True)
    return {"trail": one.no, "what": one.what, "missing": gap(said).missing,
            "found": gap(said).found,
            "places": [place.name for place, looks in places if None in looks]}


def _point(aboard: Aboard, name: str) -> dict[str, Any]:
    point, now = aboard.get(name), fitted_now(aboard, name)
    return {"point": aboard.label(name), "name": point.name if point else None,
            "live": point is not None and is_live(aboard, point),
            "fitted": aboard.label(now.part) if now else None}


def _kit_line(aboard: Aboard, line: Record, today: str) -> dict[str, Any]:
    part, head = aboard.get(line.part), part_head(aboard, line.part)
    lying = [one for one in aboard.lying_of.get(line.part, []) if one.quantity or not one.counted]
    usable = own_bag_first(aboard, line.service, [
        one for one in in_walking_order(aboard, lying)
        if one.quantity > 0 and usable_on(aboard, one, today)])
    needed, there = line.q or 0, sum(one.quantity for one in usable)
    return {"part": head["no"], "name": head["name"], "maker": head["maker"],
            "number": head["number"], "unit": (part.unit if part else None) or "pcs",
            "needed": plain(needed), "usable": plain(there),
            "short": plain(max(needed - there, 0)), "take": _take(aboard, usable, needed),
            "stand_ins": _stand_ins(aboard, line.part, today),
            "remarks": [_remark(aboard, one, today) for one in lying
                        if not one.counted or one.quantity > 0 and one not in usable]}


def _take(aboard: Aboard, usable: list[Lying], needed: int) -> list[dict[str, Any]]:
    """Say how much to take from which locker, in walking order, until there is enough."""
    taken: dict[str, int] = {}
    for one in usable:
        if (quantity := min(one.quantity, needed - sum(taken.values()))) > 0:
            taken[one.locker] = taken.get(one.locker, 0) + quantity
    return [{**locker_head(aboard, locker), "quantity": plain(quantity),
             "reachable": getattr(aboard.get(locker), "reachable", True) is not False}
            for locker, quantity in taken.items()]


def _stand_ins(aboard: Aboard, part: str, today: str) -> list[dict[str, Any]]:
    found = []
    for one in aboard.stand_ins_for.get(part, []):
        usable = [lot for lot in in_walking_order(aboard, aboard.lying_of.get(one.part, []))
                  if lot.quantity > 0 and usable_on(aboard, lot, today)]
        if one.proof in GOOD_PROOF and usable:
            head = part_head(aboard, one.part)
            found.append({"part": head["no"], "name": head["name"], "maker": head["maker"],
                          "number": head["number"], "proof": one.proof,
                          "usable": plain(sum(lot.quantity for lot in usable)),
                          "locker": aboard.label(usable[0].locker)})
    return found


def _remark(aboard: Aboard, one: Lying, today: str) -> str:
    """Say of pieces that do not count why they do not."""
    expires, place = expires_of(aboard, one), f"in {aboard.label(one.locker)}"
    if not one.counted:
        return f"not counted {place}: look there"
    if not counts_as_aboard(aboard, one):
        why = (getattr(aboard.get(one.locker), "name", None) or "not aboard").lower()
    elif condition_of(aboard, one) == "suspect":
        why = "suspect"
    elif expires and expires < today:
        why = f"out of date since {expires}"
    else:
        why = "fits nothing as fitted today"
    return f"{plain(one.quantity)} {place}: {why}"


def _walking(line: dict[str, Any]) -> tuple[str, str]:
    first = line["take"][0]["locker"] if line["take"] else None
    return first or "~", line["part"] or ""
