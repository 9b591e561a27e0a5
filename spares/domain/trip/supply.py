"""The list of each stop: the need of the next window, less what is left over."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date

from spares.domain.dates import add_days
from spares.domain.trip.answer import StopLine, StopPlan
from spares.domain.trip.buying import cost_of, mass_of, packed
from spares.domain.trip.draft import PartNeed, needs_of
from spares.domain.trip.fits import Fits
from spares.domain.trip.lines import Held
from spares.domain.trip.request import TripRequest
from spares.domain.trip.stock import CARRIED, FAILURE, SERVICE, Bin, Need, Shared, share_out
from spares.domain.trip.windows import WindowNeed
from spares.domain.trip.words import say_quantity, why_failure, why_needed


def stop_plans(
    lines: Sequence[Held], bought: Mapping[str, int], shared: Shared,
    bins: dict[str, list[Bin]], request: TripRequest, fits: Fits,
    told: Mapping[str, Sequence[str]],
) -> tuple[StopPlan, ...]:
    """Make the list of every stop.

    Failure spares of a window are taken to be used in it, so a list says up to how many to
    buy; pieces that are only carried stay and are topped up only if used.

    Args:
        lines: The lines as they stand at departure [thousandths].
        bought: What is bought for the departure, by part [thousandths].
        shared: Who got which pieces in the first window [thousandths].
        bins: Pieces nobody took, by part [thousandths]; used up stop by stop.
        request: The request [any].
        fits: What is fitted [-].
        told: When each task falls due, in words [-].

    Returns:
        One list a stop, by day [thousandths, minor units, g].
    """
    kept = {line.need.part: _left(line, bought.get(line.need.part, 0), shared)
            for line in lines if len(line.need.windows) > 1}
    due = sorted(((w.window.begins, place, line.need, w) for place, line in enumerate(lines)
                  for w in line.need.windows[1:]), key=lambda d: d[:2])
    found: dict[int, list[StopLine]] = {stop.day: [] for stop in
                                        sorted(request.trip.stops, key=lambda s: s.day)}
    for day, _, need, window in due:
        line, kept[need.part] = _stop_line(need, window, kept[need.part], bins, request, fits,
                                            told)
        if line.minimum or line.left_over or not window.demand.is_none:
            found[day].append(line)
    leaves = request.trip.departs_on
    return tuple(StopPlan(day, add_days(leaves, day), tuple(of_day))
                 for day, of_day in found.items())


def protected_until(request: TripRequest) -> int | None:
    """Say up to which supply stop the protection of a plan goes.

    A piece that is sold on the way need not be aboard from the start: its line counts up to
    the stop. So the product over all lines holds no further than the first such stop.

    Args:
        request: The request [any].

    Returns:
        Day index of the first stop that sells a part which may fail or be found worn [day];
        None if there is none before the end of the trip.

    Source:
        Counting rule of this project.

    Example:
        >>> from spares.domain.provision.failure import Failure
        >>> from spares.domain.trip.request import Stop, Trip
        >>> stops = (Stop(10, ("hose",)), Stop(30, ("seal",)))
        >>> row = Failure("seal", "eng", mtbf_h=2000)
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 60, stops=stops),
        ...                     failures=(row,))
        >>> protected_until(asked)
        30
    """
    chancy = {row.part for row in request.failures} | {
        line.part for task in request.tasks for line in task.kit if 0 < line.share < 1}
    return min((stop.day for stop in request.trip.stops
                if stop.day < request.trip.days and chancy & set(stop.sells)), default=None)


def _left(line: Held, buy: int, shared: Shared) -> list[Bin]:
    """Pieces set by for a line that its first window does not use up."""
    part, lack = line.need.part, line.shortage
    bins = [Bin(t.bin.part, t.quantity, t.bin.expires)
            for t in shared.taken.get(part, ()) if t.need.rank == CARRIED]
    rest = buy - lack.for_service - lack.for_failure
    return [*bins, Bin(part, rest)] if rest > 0 else bins


def _stop_line(
    need: PartNeed, window: WindowNeed, kept: list[Bin], bins: dict[str, list[Bin]],
    request: TripRequest, fits: Fits, told: Mapping[str, Sequence[str]],
) -> tuple[StopLine, list[Bin]]:
    trip, part = request.trip, fits.part(need.part)
    wants = needs_of(need, window, trip, fits)
    mine = _mine(wants, need, kept, bins, fits)
    shared = share_out(wants, mine)
    left_over = shared.met_in_all(need.part)
    ends = add_days(trip.departs_on, window.window.ends)
    rest = [b for of_part in mine.values() for b in of_part if b.left]
    if left_over >= window.minimum:
        first = min((want.day for want in wants), default=ends)
        left_over += sum(b.left for b in rest if b.good_on(first))
    buy = packed(part, max(0, window.minimum - left_over))
    lacks = {rank: sum(w.quantity for w in wants if w.rank == rank)
             - shared.met.get((need.part, rank), 0) for rank in (SERVICE, FAILURE, CARRIED)}
    spares = (sum(shared.met.get((need.part, rank), 0) for rank in (FAILURE, CARRIED))
              + sum(b.left for b in rest if b.good_on(ends)) + max(0, buy - lacks[SERVICE]))
    why = why_needed(window, trip.departs_on, told) + why_failure(window, need.level)
    if left_over:
        why.append(f"{say_quantity(left_over)} left over from before")
    stays = [Bin(t.bin.part, t.quantity, t.bin.expires)
             for t in shared.taken.get(need.part, ()) if t.need.rank == CARRIED]
    stays += [b for b in rest if b in kept]
    bought_over = buy - lacks[SERVICE] - lacks[FAILURE]
    if bought_over > 0:
        stays.append(Bin(need.part, bought_over))
    return StopLine(need.part, window.sure, window.spares, window.minimum, left_over, buy,
                    cost_of(part, buy), mass_of(part, buy), window.demand.protection(spares),
                    tuple(why)), stays


def _mine(
    wants: Sequence[Need], need: PartNeed, kept: list[Bin], bins: dict[str, list[Bin]], fits: Fits
) -> dict[str, list[Bin]]:
    """Pieces a line can draw on at a stop: its own and those nobody took, oldest first."""
    choices = dict.fromkeys([*(c for want in wants for c in want.choices),
                             *fits.choices(need.part)])
    found: dict[str, list[Bin]] = {}
    for bin_ in [*kept, *(b for part in choices for b in bins.get(part, ()))]:
        found.setdefault(bin_.part, []).append(bin_)
    for of_part in found.values():
        of_part.sort(key=lambda b: b.expires or date.max)
    return found
