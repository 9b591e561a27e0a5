"""How many of each part are wanted: by the next trip, else by the keep levels."""

from __future__ import annotations

from typing import NamedTuple

from spares.actions.context import Context
from spares.domain.aboard import Aboard, Record, name_of
from spares.domain.stowage import usable_on
from spares.errors import SparesError


class Need(NamedTuple):
    """Pieces wanted and pieces that can serve [thousandths]."""

    need: int
    usable: int


class Known(NamedTuple):
    """Needs by part's name; nobody knows those of `unclear` parts, and without a plan none."""

    of: dict[str, Need]
    unclear: frozenset[str] = frozenset()
    is_planned: bool = True


def needs(ctx: Context) -> dict[str, Need]:
    """Give, by part's name, what is wanted and what can serve it; kept until a change."""
    return _known(ctx).of


def is_unclear(ctx: Context, part: str) -> bool:
    """Say whether nobody knows how many of a part are wanted: so none can be called left over."""
    known = _known(ctx)
    return part in known.unclear or not known.is_planned


def _known(ctx: Context) -> Known:
    found: Known = ctx.remembered("needs", lambda: _needs(ctx))
    return found


def plan_fault(ctx: Context) -> str | None:
    """Say why the next trip cannot be planned, None if it can or there is none."""
    trip = next_trip(ctx.aboard(), ctx.today.isoformat())
    if trip is None:
        return None
    from spares.actions.trip.restock import restock
    try:
        restock(ctx, name_of("trip", trip))
    except SparesError as err:
        return f"{trip.name or trip.no} cannot be planned: {err.detail}"
    return None


def next_trip(aboard: Aboard, today: str) -> Record | None:
    """Give the trip that comes next or is under way, None if none is planned."""
    ahead = [one for one in aboard.all("trip")
             if one.departs_on and (one.returns_on or one.departs_on) >= today]
    return min(ahead, key=lambda one: (one.departs_on, one.no or ""), default=None)


def _needs(ctx: Context) -> Known:
    from spares.actions.trip.needed import trip_needs, wanted_aboard

    aboard, today = wanted_aboard(ctx), ctx.today.isoformat()
    found: dict[str, Need] = {}
    unclear = set()
    for keep in aboard.all("keep"):
        if keep.q:
            usable = sum(one.quantity for one in aboard.lying_of.get(keep.part, [])
                         if usable_on(aboard, one, today))
            found[keep.part] = Need(keep.q, usable)
    trip = next_trip(aboard, today)
    if trip is not None:
        try:
            for part, need, usable in trip_needs(ctx, aboard, trip):
                if need is None:
                    found.pop(part, None)       # a figure was left out: nothing is called enough
                    unclear.add(part)
                else:
                    found[part] = Need(need, usable)
        except SparesError:
            # A trip that cannot be planned must keep nobody from finding a part; but nobody
            # knows what is enough then, and nothing is called so.
            return Known({}, is_planned=False)
    has_days = trip is None or bool(trip.departs_on and trip.returns_on)
    return Known(found, frozenset(unclear) - found.keys(), has_days)
