"""The list: what is aboard for each need, what is short, what to buy, and why."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from typing import NamedTuple

from spares.domain.dates import add_days
from spares.domain.trip.answer import PartLine
from spares.domain.trip.buying import Shortage, cost_of, mass_of, order_dates
from spares.domain.trip.draft import PartNeed
from spares.domain.trip.fits import Fits
from spares.domain.trip.remarks import remarks_of
from spares.domain.trip.request import Lot, TripRequest
from spares.domain.trip.stock import CARRIED, FAILURE, SERVICE, Bin, Need, Shared
from spares.domain.trip.words import why_failure, why_needed


class Held(NamedTuple):
    """One line as it stands now [thousandths]: usable, short, spares against failures."""

    need: PartNeed
    wants: Sequence[Need]
    usable: int
    spares: int
    shortage: Shortage
    short: int


def held(
    need: PartNeed, wants: Sequence[Need], shared: Shared, surplus: Sequence[Bin],
    request: TripRequest, fits: Fits,
) -> Held:
    """Say how far the pieces aboard reach for the first window of a part.

    Args:
        need: The part's need [thousandths].
        wants: The same, with days and choices [thousandths].
        shared: Who got which pieces [thousandths].
        surplus: Bins with pieces nobody took, as far as they are this line's [thousandths].
        request: The request [any].
        fits: What is fitted [-].

    Returns:
        The line as it stands now [thousandths].

    Source:
        A piece is usable if some need of the window can take it; what is short is what
        no piece was left for.

    Example:
        >>> from spares.domain.trip.request import Trip
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30), keep={"a": 2000})
        >>> from spares.domain.trip.draft import part_needs
        >>> need = part_needs(asked, {}, {}, Fits.of(asked))[0]
        >>> held(need, [], Shared(), [], asked, Fits.of(asked)).usable
        0
    """
    part, window = need.part, need.windows[0]
    met = [shared.met.get((part, rank), 0) for rank in (SERVICE, FAILURE, CARRIED)]
    ends = add_days(request.trip.departs_on, window.window.ends)
    usable = sum(met)
    if usable >= window.minimum:
        first = min((want.day for want in wants), default=ends)
        usable += sum(b.left for b in surplus if b.good_on(first))
    spares = met[FAILURE] + met[CARRIED] + sum(b.left for b in surplus if b.good_on(ends))
    lacks = window.sure - met[SERVICE]
    beyond = window.minimum - window.sure
    carried = min(beyond, window.carried)
    shortage = Shortage(
        fits.part(part), fits.weight(part), _unmet(wants, shared, part) if lacks else (), lacks,
        carried - met[CARRIED], beyond - carried - met[FAILURE], spares, window.demand)
    return Held(need, wants, usable, spares, shortage, shortage.short)


def _unmet(wants: Sequence[Need], shared: Shared, part: str) -> tuple[Need, ...]:
    """The services that lack pieces, each with how many [thousandths]."""
    given: dict[int, int] = {}
    for taken in shared.taken.get(part, ()):
        given[id(taken.need)] = given.get(id(taken.need), 0) + taken.quantity
    lacking = (want._replace(quantity=want.quantity - given[id(want)]) if id(want) in given
               else want for want in wants if want.rank == SERVICE)
    return tuple(want for want in lacking if want.quantity)


def line_of(
    line: Held, buy: int, request: TripRequest, fits: Fits, lots: Mapping[str, Sequence[Lot]],
    shared: Shared, told: Mapping[str, Sequence[str]],
) -> PartLine:
    """Put one line of the list together.

    Args:
        line: The line as it stands [thousandths].
        buy: What is bought for it [thousandths].
        request: The request [any].
        fits: What is fitted [-].
        lots: Lots by part [thousandths].
        shared: Who got which pieces [thousandths].
        told: When each task falls due, in words [-].

    Returns:
        The line with dates, cost [minor units], mass [g] and its why [-].
    """
    need, window = line.need, line.need.windows[0]
    part, trip = fits.part(need.part), request.trip
    accepted = line.short > 0 and need.part in trip.accepted
    undecided = line.short > 0 and uncounted_decides(line, lots)
    order_by, late, _ = order_dates(part, trip, request.today) if line.short else (None, 0, None)
    why = why_needed(window, trip.departs_on, told) + why_failure(window, need.level)
    bought = line.spares + max(0, buy - line.shortage.for_service)
    return PartLine(
        need.part, _state(line, accepted, undecided, order_by, late), fits.weight(need.part),
        window.sure, window.spares, window.set_aside, window.keep, window.minimum, line.usable,
        line.short, buy, order_by, late, cost_of(part, buy), mass_of(part, buy),
        window.demand.protection(line.spares), window.demand.protection(bought), tuple(why),
        tuple(remarks_of(line, buy, request, fits, lots, shared)))


def uncounted_decides(line: Held, lots: Mapping[str, Sequence[Lot]]) -> bool:
    """Tell whether pieces nobody counted could end the shortage of a line."""
    choices = {part for want in line.wants for part in want.choices}
    days = [want.day for want in line.wants]
    found = [lot for part in choices for lot in lots.get(part, ())
             if not lot.counted and lot.aboard and lot.condition != "suspect"
             and (lot.expires is None or any(lot.expires >= day for day in days))]
    if any(not lot.quantity for lot in found):
        return True
    return sum(max(lot.quantity - lot.reserved, 0) for lot in found) >= line.short if found \
        else False


def _state(
    line: Held, accepted: bool, undecided: bool, order_by: date | None, late_days: int
) -> str:
    if not line.short:
        return "enough"
    if accepted:
        return "accepted"
    if undecided:
        return "cannot-say"
    if order_by is None:
        return "short"
    return "too-late" if late_days else "order-by"
