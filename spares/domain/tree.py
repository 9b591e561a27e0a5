"""What sits where today: machine, fit points, fitted part, its inner fit points.

A fit point that belongs to a part model exists only where such a part is fitted:
it comes and goes with the part. Spares that fit nothing as fitted today are
stranded; so are none of which nobody knows what they fit.
"""

from __future__ import annotations

from typing import NamedTuple

from spares.domain.aboard import Aboard, Fitted, Record, name_of
from spares.domain.identity import kind_of

#: Proofs by which a spare counts as fitting; hearsay alone never does.
GOOD_PROOF = ("makers-list", "measured", "fitted-before")


class Stranded(NamedTuple):
    """A part that fits nothing today: the point it belongs to ("" if there never was one),
    the part whose point that is, and the day on which that was taken out ("" not known)."""

    part: str
    point: str
    of_part: str
    taken_out: str


def fitted_now(aboard: Aboard, point: str) -> Fitted | None:
    """Give what sits at the point called *point*, None if nobody knows or nothing does.

    Example:
        >>> fitted_now(Aboard(None, {}), "point/x") is None
        True
    """
    history = aboard.fitted_at.get(point)
    return history[-1] if history and history[-1].part else None


def is_live(aboard: Aboard, point: Record) -> bool:
    """Say whether a fit point exists as the vessel is fitted today."""
    seen = set()
    while point is not None and point.parent:
        if point.id in seen or point.gone:
            return False
        seen.add(point.id)
        now = fitted_now(aboard, point.parent)
        if now is None or _same(aboard, now.part) != _same(aboard, point.as_part):
            return False
        point = aboard.get(point.parent)
    return point is not None and not point.gone


def retired_on(aboard: Aboard, point: Record) -> str | None:
    """Give the day on which the part that has this fit point was taken out.

    None while it is live, "" when the day is not known.
    """
    if is_live(aboard, point):
        return None
    history = aboard.fitted_at.get(point.parent, [])
    held = [i for i, one in enumerate(history) if one.part == point.as_part]
    after = history[held[-1] + 1:] if held else []
    if after:
        return after[0].date
    parent = aboard.get(point.parent)
    return (retired_on(aboard, parent) or "") if parent is not None else ""


def live_points(aboard: Aboard) -> set[str]:
    """Give the names of all fit points that exist today."""
    return {name_of("point", one) for one in aboard.all("point") if is_live(aboard, one)}


def points_of_link(aboard: Aboard, link: Record) -> list[str]:
    """Give the fit points that a link speaks of: its own, or those of its part model."""
    if not link.to:
        return []
    if kind_of(link.to) == "point":
        return [link.to]
    if kind_of(link.to) == "inner":
        return [name_of("point", one) for one in aboard.points_like.get(link.to, [])]
    return []


def points_taking(aboard: Aboard, part: str) -> dict[str, str]:
    """Give the fit points that take a part, live or not, with the strongest proof.

    A part that was tried and did not fit is not among them.
    """
    order = (*GOOD_PROOF, "candidate", "hearsay", "")
    found: dict[str, str] = {}
    tried = set()
    for link in aboard.links_of.get(part, []):
        if link.role != "takes":
            continue
        for point in points_of_link(aboard, link):
            if link.proof == "tried-no":
                tried.add(point)
            else:
                found[point] = min(found.get(point, ""), link.proof or "",
                                   key=lambda proof: order.index(proof))
    return {point: proof for point, proof in found.items() if point not in tried}


def linked_parts(aboard: Aboard) -> list[Record]:
    """Give the parts that links speak of, few among thousands, in the order of their numbers."""
    return [one for one in aboard.parts if name_of("part", one) in aboard.links_of]


def stranded_parts(aboard: Aboard) -> list[Stranded]:
    """Give the parts that sit only at fit points which are not there today.

    A spare for a pump that was never fitted is among them: it fits nothing either.
    """
    live = live_points(aboard)
    found = []
    for part in linked_parts(aboard):
        name = name_of("part", part)
        points = points_taking(aboard, name)
        ends = _inner_ends(aboard, name)
        if (points or ends) and not points.keys() & live:
            found.append(_stranded(aboard, name, sorted(points, key=aboard.label), ends))
    return found


def _inner_ends(aboard: Aboard, part: str) -> list[Record]:
    links = [link for link in aboard.links_of.get(part, [])
             if link.role == "takes" and link.proof != "tried-no" and link.to]
    ends = [aboard.get(link.to) for link in links if kind_of(link.to) == "inner"]
    return [one for one in ends if one is not None]


def _stranded(aboard: Aboard, part: str, points: list[str], ends: list[Record]) -> Stranded:
    if not points:
        return Stranded(part, "", ends[0].part, "")
    point = aboard.get(points[0])
    return Stranded(part, points[0], point.as_part or "", retired_on(aboard, point) or "")


def stranded_names(aboard: Aboard) -> frozenset[str]:
    """Give the names of the stranded parts; worked out once for each state."""
    known = aboard.worked_out.get("stranded")
    if known is None:
        known = frozenset(one.part for one in stranded_parts(aboard))
        aboard.worked_out["stranded"] = known
    return known


def fits_not_recorded_of(aboard: Aboard, part: Record) -> bool:
    """Say whether nobody wrote down where a part sits or what it is for."""
    return not part.use and not aboard.links_of.get(name_of("part", part))


def fits_not_recorded(aboard: Aboard) -> list[str]:
    """Give the parts of which nobody wrote down where they sit or what they are for."""
    return [name_of("part", part) for part in aboard.parts
            if fits_not_recorded_of(aboard, part)]


def inner_points(aboard: Aboard, part: str) -> list[Record]:
    """Give the fit points inside a part model."""
    return list(aboard.by("inner", "part").get(part, ()))


def stranded_by(aboard: Aboard, point: str, part: str) -> list[str]:
    """Give the parts that would fit nothing if *part* were fitted at *point*.

    Only the points of what sits there can go, so nothing else is looked at.
    """
    beneath = _beneath(aboard, point)
    if not beneath:
        return []
    live, after = live_points(aboard), with_fitted(aboard, point, part)
    going = {name_of("point", one): one for one in beneath
             if name_of("point", one) in live and not is_live(after, one)}
    left = live_points(after) if going else set()
    spares = {link.part for name, one in going.items() for end in (name, one.template) if end
              for link in aboard.links_to.get(end, [])}
    return sorted((one for one in spares if _would_strand(aboard, one, live, left)),
                  key=aboard.label)


def _beneath(aboard: Aboard, point: str) -> list[Record]:
    """Give the fit points of whatever may sit at a point, and theirs, to any depth."""
    found: dict[str, Record] = {}
    after = [point]
    while after:
        for one in aboard.points_in.get(after.pop(), []):
            if name_of("point", one) not in found:      # a ring ends here
                found[name_of("point", one)] = one
                after.append(name_of("point", one))
    return list(found.values())


def _would_strand(aboard: Aboard, part: str, live: set[str], left: set[str]) -> bool:
    record = aboard.get(part)
    points = points_taking(aboard, part).keys()
    return record is not None and not record.gone and bool(points & live) and not points & left


def with_fitted(aboard: Aboard, point: str, part: str) -> Aboard:
    """Give the vessel as she would be with *part* fitted at *point*."""
    after = Fitted("", point, part, "9999-12-31", "~")
    return Aboard(aboard.vessel, aboard.docs, aboard.lying, aboard.readings, aboard.done,
                  (*aboard.fitted, after), aboard.kept_parts)


def _same(aboard: Aboard, part: str | None) -> str | None:
    return aboard.kept_parts.get(part, part) if part else part
