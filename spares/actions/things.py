"""A locker, machine, fit point or service, whole, as answers and screens show it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from spares.actions.amounts import hours, plain
from spares.actions.claims import attribute_label, caution_lines, claim_text
from spares.actions.context import Context
from spares.actions.hour_meters import history, last_trusted, meter_machine
from spares.actions.jobs import job_cautions, service_points
from spares.actions.lines import (
    in_walking_order,
    locker_head,
    machine_head,
    part_head,
    part_line,
    point_head,
    points_of_machine,
    where,
)
from spares.actions.needs import needs
from spares.domain.aboard import Aboard, name_of
from spares.domain.document_kinds import DOCUMENTS
from spares.domain.service.meter import sift
from spares.domain.tree import points_taking
from spares.errors import InvalidInput


def locker_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a locker and what lies in it."""
    aboard = ctx.aboard()
    locker, today = aboard.get(name), ctx.today.isoformat()
    lines = []
    for one in sorted(aboard.lying_in.get(name, []), key=lambda one: aboard.label(one.part)):
        if one.is_listed:
            lines.append({**part_line(aboard, one.part, needs(ctx), today),
                          **{key: value for key, value in where(aboard, one).items()
                             if key in ("quantity", "low", "high", "flags", "doubts", "rivals",
                                        "lot", "condition", "expires", "counted")}})
    inside = [one for one in aboard.all("locker") if one.parent == name]
    return {"type": "locker", "id": locker.id, "no": locker.no, "name": locker.name,
            "code": locker.code, "aboard": locker.aboard is not False,
            "reachable": locker.reachable is not False, "lent_to": locker.lent_to,
            "climate": locker.climate, "note": locker.note,
            "lies_in": locker_head(aboard, locker.parent) if locker.parent else None,
            "inside": [{"no": one.no, "name": one.name, "code": one.code} for one in inside],
            "lines": lines}


def machine_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a machine, its hour meter and its fit points with their spares."""
    from spares.actions.gauges import gauges_of, test_runs_of  # late: a part has no gauges

    aboard = ctx.aboard()
    head = machine_head(aboard, name)
    shown = _meter(aboard, name)
    return {**head, "hours": shown["hours"] if shown else None,
            "read_on": shown["date"] if shown else None, "readings": _readings(aboard, name),
            "cautions": caution_lines(head["hazards"]), "burns": aboard.get(name).burns,
            "gauges": gauges_of(aboard, name), "test_runs": test_runs_of(aboard, name),
            "points": [point_thing(ctx, one) for one in points_of_machine(aboard, name)],
            "services": [one.no for one in aboard.by("service", "machine").get(name, ())]}


def point_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a fit point: what sits there, what did, what it asks, its spares."""
    aboard, today = ctx.aboard(), ctx.today.isoformat()
    asked = requirements_at(aboard, name)
    sheets = _sheets(ctx) if asked else {}
    history_of, kind = aboard.fitted_at.get(name, []), aboard.get(name).kind
    return {**point_head(aboard, name),
            "before": [{"part": aboard.label(one.part), "name": part_head(aboard, one.part)["name"],
                        "until": after.date or None}
                       for one, after in zip(history_of, history_of[1:], strict=False) if one.part],
            "spares": [_spare(ctx, aboard, part, proof, today)
                       for part, proof in _spares(aboard, name)],
            "tried": _tried(aboard, name),
            "requires": [{"attribute": one.attribute,
                          "label": attribute_label(sheets, kind, one.attribute),
                          "value": claim_text(one.claim), "origin": (one.claim or {}).get("origin"),
                          "claim": one.claim, "doc": name_of("requirement", one),
                          "own": one.subject == name}
                         for one in asked],
            "place": aboard.get(name).place or {},
            "services": [one.no for one in aboard.services_at.get(name, [])]}


def _sheets(ctx: Context) -> Mapping[str, Any]:
    from spares.actions.kind_sheets import sheets_here  # late: the fit check comes with it

    return sheets_here(ctx)


def requirements_at(aboard: Aboard, point: str) -> list[Any]:
    """Give what a fit point asks: its own requirements and those of its part model."""
    record = aboard.get(point)
    own = aboard.requirements_of.get(point, [])
    inner = aboard.requirements_of.get(record.template, []) if record.template else []
    asked = {one.attribute for one in own}
    return [*own, *(one for one in inner if one.attribute not in asked)]


def service_thing(ctx: Context, name: str) -> dict[str, Any]:
    """Describe a service with its kit and cautions."""
    aboard = ctx.aboard()
    one = aboard.get(name)
    return {"type": "service", "id": one.id, "no": one.no, "what": one.what,
            "machine": aboard.label(one.machine) if one.machine else None,
            "points": [aboard.label(point) for point in service_points(aboard, name)],
            "every_hours": hours(one.every_minutes), "every_months": one.every_months,
            "weight": one.weight, "in_port": bool(one.in_port), "steps": one.steps,
            "not_wanted": bool(one.not_wanted),
            "cautions": job_cautions(aboard, one),
            "kit": [{"part": aboard.label(line.part), "name": part_head(aboard, line.part)["name"],
                     "quantity": plain(line.q or 0), "set_aside": bool(line.set_aside),
                     "where": [where(aboard, lot) for lot in in_walking_order(
                         aboard, aboard.lying_of.get(line.part, [])) if lot.quantity]}
                    for line in aboard.kits_of.get(name, [])],
            "done": [{"date": record.date or None, "hours": hours(record.minutes),
                      "by": record.by or None, "proof": record.proof or None}
                     for record in sorted(aboard.done_of.get(name, ()),
                                          key=lambda d: d.date, reverse=True)]}


def document_thing(ctx: Context, name: str, kind: str) -> dict[str, Any]:
    """Describe any other document by its fields."""
    record = ctx.aboard().get(name)
    return {"type": kind, "id": record.id,
            **{field: getattr(record, field) for field in DOCUMENTS[kind]}}


def _spares(aboard: Aboard, point: str) -> list[tuple[str, str]]:
    record = aboard.get(point)
    ends = [point, *([record.template] if record.template else [])]
    found = {}
    for end in ends:
        for link in aboard.links_to.get(end, []):
            proof = points_taking(aboard, link.part).get(point)
            if proof is not None:
                found[link.part] = proof
    return sorted(found.items(), key=lambda one: aboard.label(one[0]))


def _tried(aboard: Aboard, point: str) -> list[dict[str, Any]]:
    """Give the parts that were tried here and did not fit, with what was noted."""
    record = aboard.get(point)
    links = [link for end in (point, record.template) if end
             for link in aboard.links_to.get(end, []) if link.proof == "tried-no"]
    return [{"part": aboard.label(link.part), "name": part_head(aboard, link.part)["name"],
             "note": link.note} for link in sorted(links, key=lambda one: aboard.label(one.part))]


def _spare(ctx: Context, aboard: Aboard, part: str, proof: str, today: str) -> dict[str, Any]:
    line = part_line(aboard, part, needs(ctx), today)
    return {key: line[key] for key in ("id", "no", "name", "maker", "number", "state", "usable",
                                       "unit", "tags", "where")} | {"proof": proof}


def _meter(aboard: Aboard, name: str) -> dict[str, Any] | None:
    try:
        return last_trusted(aboard, meter_machine(aboard, name))
    except InvalidInput:
        return None


def _readings(aboard: Aboard, name: str) -> list[dict[str, Any]]:
    _, odd = sift(history(aboard, name))
    doubtful = {(reading.on.isoformat(), reading.minutes): doubt.words for reading, doubt in odd}
    return [{"change": one.change, "date": one.date, "hours": hours(one.minutes),
             "because": one.because or None,
             "doubt": doubtful.get((one.date, one.minutes)) or one.doubt or None}
            for one in sorted(aboard.readings_of.get(name, ()),
                              key=lambda one: (one.date, one.at))]


