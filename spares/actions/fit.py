"""Fit: does this part fit this fit point as she is fitted today, row by row?"""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from spares.actions.amounts import plain
from spares.actions.claims import caution_lines
from spares.actions.compute import compute
from spares.actions.context import Context
from spares.actions.kind_sheets import notes_on, sheet_here, sheets_here
from spares.actions.lines import part_head, part_line, point_head
from spares.actions.needs import needs
from spares.actions.stock_moves import is_known
from spares.actions.things import requirements_at
from spares.domain.aboard import Aboard, Record
from spares.domain.cautions import hazard_words
from spares.domain.draft import Draft
from spares.domain.fit import KindSheet
from spares.domain.fit.values import GENERAL
from spares.domain.search_text import number_key
from spares.domain.stowage import counts_as_aboard
from spares.domain.tree import fitted_now, is_live, points_of_link, stranded_by
from spares.errors import InvalidInput

#: A change whose detail ends so takes a further part.
TAKES_PART = re.compile(r"\bneeds \S|no part recorded")
CLAIM = ("cmp", "tol", "u", "severity", "origin", "unit")


def fit(ctx: Context, point: str, part: str | None = None,
        offers: dict[str, Any] | None = None, *, keep: bool = False,
        change_id: str | None = None) -> dict[str, Any]:
    """Judge a part from the catalogue, or one that is in the hand and measured.

    Args:
        ctx: Where it happens.
        point: The fit point, as people call it [-].
        part: The part, as people call it [-].
        offers: What was measured, as the fit computation takes it; where a part is
            named as well, these values stand in for what is recorded of it. Empty, nothing
            is measured yet: the answer says what to measure.
        keep: Write the verdict down with the values that were compared [-].
        change_id: The id of that record; the same once more writes nothing [-].

    Raises:
        NotFound, Ambiguous: the point or part cannot be told.
        InvalidInput: neither part nor measurements, or a value that cannot be read.
        Conflict: the id was used before for something else.
    """
    where = ctx.named(point, "point", "point")
    named = ctx.named(part, "part", "part") if part else None
    if named is None and offers is None:
        raise InvalidInput.at("#/part", "name a part, or give what was measured")
    aboard = ctx.aboard()
    request = {**fit_request(ctx, where, named, offers), "today": ctx.today.isoformat()}
    found = sheet_here(ctx, request["kind"])
    verdict = compute("fit", request, sheets_here(ctx))
    answer = {**verdict, "kind": request["kind"],
              "rows": _measured(found, verdict["rows"]),
              "point": {**point_head(aboard, where)},
              "part": part_head(aboard, named) if named else None,
              **aftermath(aboard, where, named, notes_on(ctx, request["kind"])),
              "needs": [_need(aboard, where, named, change) for change in verdict["changes"]
                        if change["detail"] and TAKES_PART.search(change["detail"])],
              "count": None, "cautions": cautions_at(aboard, where)}
    if named is not None:
        line = part_line(aboard, named, needs(ctx), ctx.today.isoformat())
        answer["count"] = {"state": line["state"], "usable": line["usable"],
                           "tags": line["tags"], "where": line["where"]}
        if keep and not (change_id and is_known(ctx, change_id, "fit-check",
                                                point=where, part=named)):
            ctx.write([Draft("fit-check", {"point": where, "part": named, "inputs":
                                           as_text(request), "verdict": verdict["verdict"]},
                             change_id)])
    return answer


def fit_request(ctx: Context, point: str, part: str | None,
                offers: dict[str, Any] | None = None) -> dict[str, Any]:
    """Write what the fit computation needs: place, requirements, offers, links."""
    aboard, sheets = ctx.aboard(), sheets_here(ctx)
    kind = kind_at(aboard, point, part) or GENERAL
    places = {attr: i for i, attr in enumerate(sheets[kind].attributes)} if kind in sheets else {}
    asked = sorted(requirements_at(aboard, point), key=lambda one: (
        places.get(one.attribute, len(places)), one.attribute))
    return {"kind": kind, "place": aboard.get(point).place or {},
            "recorded_as": aboard.get(part).kind or None if part else None,
            "requires": [as_asked(one.attribute, one.claim) for one in asked],
            "offers": {**offers_of(aboard, part), **(offers or {})},
            "links": recorded_links(aboard, point, part),
            "companions": {one.attribute: [aboard.label(extra)] for one in asked
                           if (extra := companion(aboard, point, part, one.attribute))}}


def kind_at(aboard: Aboard, point: str, part: str | None = None) -> str | None:
    """Give the kind of part that a fit point takes: recorded, or that of a part; None unknown."""
    now = fitted_now(aboard, point)
    known = (aboard.get(one) for one in (point, part, now.part if now else None))
    return next((one.kind for one in known if one and one.kind), None)


def _measured(found: KindSheet, rows: list[dict[str, Any]]) -> list[dict[str, Any]]:
    """Say beside each row which drawing shows how it is measured, and what a seat is met by."""
    told = []
    for row in rows:
        line = found.attributes.get(row["attr"])
        more = {"drawing": line.drawing, "offered_as": line.offered_as} if line else {}
        told.append(row | {name: said for name, said in more.items() if said})
    return told


def offers_of(aboard: Aboard, part: str | None) -> dict[str, Any]:
    """Write what is recorded of a part as the fit computation takes it.

    What two origins say of one attribute is offered side by side: where they
    disagree nobody may choose.
    """
    found: dict[str, list[dict[str, Any]]] = {}
    for spec in aboard.specs_of.get(part, []) if part else []:
        found.setdefault(spec.attribute, []).append(as_offered(spec.claim))
    return {attr: some if len(some) > 1 else some[0] for attr, some in found.items()}


def aftermath(aboard: Aboard, point: str, part: str | None,
              notes: Sequence[str] = ()) -> dict[str, Any]:
    """Say what fitting a part there would make useless, and what is noted of the two."""
    return {"would_strand": _strands(aboard, point, part),
            "no_longer_needed": _left_over(aboard, point, part),
            "notes": [*notes, *_notes(aboard, point, part)]}


def cautions_at(aboard: Aboard, point: str) -> list[dict[str, str]]:
    """Give the cautions for work at a fit point."""
    return caution_lines(hazard_words(_hazards(aboard, aboard.get(point))))


def as_asked(attribute: str, claim: dict[str, Any] | None) -> dict[str, Any]:
    """Write what is recorded of a fit point as the fit computation takes it."""
    claim = claim or {}
    return {"attr": attribute, "value": claim.get("value"),
            **{key: claim[key] for key in CLAIM if claim.get(key) not in (None, "")}}


def as_offered(claim: dict[str, Any] | None) -> dict[str, Any]:
    """Write what is recorded of a part; a value with parts stands beside its parts."""
    claim = claim or {}
    value = claim.get("value")
    parts = value if isinstance(value, dict) and not {"min", "max"} <= set(value) else {
        "value": value}
    return {**parts, **{key: claim[key] for key in ("unit", "u", "origin")
                        if claim.get(key) not in (None, "")}}


def recorded_links(aboard: Aboard, point: str, part: str | None) -> list[dict[str, str]]:
    """Give how a part is tied to a fit point, each tie with its proof."""
    return [{"role": link.role or "takes", "proof": link.proof or "hearsay"}
            for link in (aboard.links_of.get(part, []) if part else [])
            if point in points_of_link(aboard, link)]


def _strands(aboard: Aboard, point: str, part: str | None) -> list[dict[str, Any]]:
    if part is None:
        return []
    found = []
    for name in stranded_by(aboard, point, part):
        there = [one for one in aboard.lying_of.get(name, []) if one.quantity]
        if there:
            found.append({"part": aboard.label(name), "name": part_head(aboard, name)["name"],
                          "quantity": plain(sum(one.quantity for one in there))})
    return found


def _left_over(aboard: Aboard, point: str, part: str | None) -> list[dict[str, Any]]:
    """Give what goes with the part that sits there now and would not with the other."""
    now = fitted_now(aboard, point)
    if part is None or now is None or now.part == part:
        return []
    return [{"part": aboard.label(link.part), "name": part_head(aboard, link.part)["name"]}
            for link in aboard.links_to.get(point, [])
            if link.role == "goes-with" and link.with_part == now.part]


def _need(aboard: Aboard, point: str, part: str | None,
          change: dict[str, Any]) -> dict[str, Any]:
    """Say which recorded part a named change takes, and how many of it are aboard."""
    base = {"change": change["change"], "attr": change["attr"], "part": None, "name": None,
            "needed": 1, "aboard": 0}
    extra = companion(aboard, point, part, change["attr"])
    if extra is None:
        return {**base, "text": f"{change['change']}: {change['detail']}"}
    known = companion_line(aboard, extra)
    return {**base, **known, "text": f"{change['change']}: {change['detail']} "
                                     f"x1 ({known['aboard']} aboard)"}


def companion_line(aboard: Aboard, part: str) -> dict[str, Any]:
    """Name a further part that a change takes, and how many of it are aboard."""
    there = sum(one.quantity for one in aboard.lying_of.get(part, [])
                if counts_as_aboard(aboard, one))
    return {"part": aboard.label(part), "name": part_head(aboard, part)["name"],
            "aboard": plain(there)}


def companion(aboard: Aboard, point: str, part: str | None, attribute: str) -> str | None:
    """Find the part that is recorded as going with *part* at this attribute of the point."""
    for link in aboard.links_to.get(point, []):
        if link.role != "goes-with" or link.with_part != part or part is None:
            continue
        said = number_key(link.use or "")
        if not said or number_key(attribute).startswith(said):
            return link.part
    return None


def _notes(aboard: Aboard, point: str, part: str | None) -> list[str]:
    record, where = aboard.get(part), aboard.get(point)
    found = []
    if not is_live(aboard, where):
        found.append(f"{where.no} is not there today: it belongs to {aboard.label(where.as_part)}, "
                     "which is not fitted")
    if record is None:
        return found
    if record.made == "dropped":
        after = f", taken over by {aboard.label(record.taken_over_by)}" if record.taken_over_by \
            else ""
        found.append(f"dropped by its maker{' ' + record.dropped_on if record.dropped_on else ''}"
                     f"{after}")
    found += [link.note for link in aboard.links_of.get(part, [])
              if link.note and point in points_of_link(aboard, link)]
    return found


def _hazards(aboard: Aboard, point: Record) -> str | None:
    machine = aboard.get(point.machine)
    return point.hazards or (machine.hazards if machine is not None else None)


def as_text(value: Any) -> Any:
    """Write decimals as text, as changes carry them."""
    if isinstance(value, dict):
        return {str(key): as_text(one) for key, one in value.items()}
    if isinstance(value, list):
        return [as_text(one) for one in value]
    return str(value) if isinstance(value, float) else value
