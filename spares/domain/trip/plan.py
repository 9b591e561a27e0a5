"""The plan of a trip: running, services, the list of spares, the stops, what is reached."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from math import prod

from spares.domain.dates import add_days
from spares.domain.service.events import Course
from spares.domain.service.task import NO_COUNTER
from spares.domain.trip.answer import (
    PartLine,
    Pieces,
    Protection,
    ServicePlan,
    TripPlan,
)
from spares.domain.trip.burnt import fuel_of
from spares.domain.trip.buying import Shortage, order_dates, shopping
from spares.domain.trip.check import check
from spares.domain.trip.draft import PartNeed, courses, needs_of, part_needs
from spares.domain.trip.energy import charge
from spares.domain.trip.fits import Fits
from spares.domain.trip.lines import Held, held, line_of
from spares.domain.trip.request import Lot, TripRequest
from spares.domain.trip.running import running
from spares.domain.trip.stock import Bin, Shared, share_out, usable_bins
from spares.domain.trip.supply import protected_until, stop_plans
from spares.domain.trip.words import say_events, say_service


def plan_trip(request: TripRequest) -> TripPlan:
    """Plan a trip: what falls due, what it takes, what is short, by when to order it.

    Args:
        request: Vessel, trip and stock [min, thousandths, minor units, g].

    Returns:
        The plan, every number with its why [min, thousandths, minor units, g].

    Raises:
        InvalidInput: if a field makes no sense; each is named.
        OutOfRange: if a date cannot be counted, or wear-out goes beyond what can be worked out.

    Source:
        Minimum = max(keep, services + max(set aside, spares that hold the level)).

    Example:
        >>> from spares.domain.trip.request import Trip
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30), keep={"a": 2000})
        >>> [(line.part, line.short, line.state) for line in plan_trip(asked).lines]
        [('a', 2000, 'short')]
    """
    check(request)
    trip, fits = request.trip, Fits.of(request)
    machines = {m.id: m for m in request.machines}
    charged = charge(trip.energy._replace(days=trip.days)) if trip.energy else None
    ran, unspoken, remarks = running(trip, machines, charged)
    followed = courses(request, ran, fits)
    needs = part_needs(request, followed, ran, fits)
    bins = usable_bins(request.lots, fits.stranded)
    lines, shared = _held_lines(needs, bins, request, fits)
    lots: dict[str, list[Lot]] = {}
    for lot in request.lots:
        lots.setdefault(lot.part, []).append(lot)
    bought = shopping([line.shortage for line in lines
                       if line.short and line.need.part not in trip.accepted], trip.limits)
    told = {task: say_events(one, one.events, trip.departs_on) for task, one in followed.items()}
    shown = tuple(_with_silence(line_of(line, bought.get(line.need.part, 0), request, fits, lots,
                                        shared, told), line.need, unspoken) for line in lines)
    return TripPlan(
        {machine.id: ran[machine.id].total for machine in request.machines}, charged,
        fuel_of(request, ran, charged), tuple(_services(request, followed, unspoken, told)), shown,
        stop_plans(lines, bought, shared, bins, request, fits, told),
        _protection(request, lines, shown, unspoken),
        _pieces(lot for lot in request.lots if lot.aboard and lot.part in fits.stranded),
        _pieces(lot for lot in request.lots if lot.aboard and lot.expires is not None
                and lot.expires < add_days(trip.departs_on, trip.days)),
        _out_of_reach(lines, request),
        tuple(task for task, one in followed.items() if not one.clock.known),
        _earliest_departure(shown, request, fits),
        tuple(_gone_by(request) + remarks + [f"no running given for {m}: taken as 0 h"
                         for m in sorted(unspoken & _counted(request))]))


def _gone_by(request: TripRequest) -> list[str]:
    """Say that the leaving day is over: what had to be there by then is late by now."""
    leaves = request.trip.departs_on
    return [f"the leaving day {leaves} is over"] if leaves < request.today else []


def shortages(request: TripRequest) -> list[Shortage]:
    """Give what every line lacks and its failure demand, as `plan_trip` counts them.

    Args:
        request: A request that `plan_trip` takes [any].

    Returns:
        One for each line of the plan [thousandths].

    Raises:
        As `plan_trip`.

    Source:
        As `plan_trip`.

    Example:
        >>> from spares.domain.trip.request import Trip
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30), keep={"a": 2000})
        >>> [one.short for one in shortages(asked)]
        [2000]
    """
    check(request)
    trip, fits = request.trip, Fits.of(request)
    machines = {m.id: m for m in request.machines}
    charged = charge(trip.energy._replace(days=trip.days)) if trip.energy else None
    ran, _, _ = running(trip, machines, charged)
    needs = part_needs(request, courses(request, ran, fits), ran, fits)
    lines, _ = _held_lines(needs, usable_bins(request.lots, fits.stranded), request, fits)
    return [_spares_first(line) for line in lines]


def _spares_first(line: Held) -> Shortage:
    """What lies aboard beyond the services is what is carried, before it is for failures."""
    lack = line.shortage
    carried = max(0, min(line.need.windows[0].carried - line.spares, lack.short - lack.for_service))
    return lack._replace(carried=carried, for_failure=lack.short - lack.for_service - carried)


def _counted(request: TripRequest) -> set[str]:
    """Machines whose running matters: they have a counter, a task in hours or a figure."""
    return {m.id for m in request.machines if m.counter != NO_COUNTER} | {
        t.machine for t in request.tasks if t.every_min is not None} | {
        row.machine for row in request.failures if row.machine and row.mtbf_days is None}


def _held_lines(
    needs: Sequence[PartNeed], bins: dict[str, list[Bin]], request: TripRequest, fits: Fits
) -> tuple[list[Held], Shared]:
    wants = {need.part: needs_of(need, need.windows[0], request.trip, fits) for need in needs}
    shared = share_out([want for of_part in wants.values() for want in of_part], bins)
    owner = {need.part: need.part for need in needs}
    for need in needs:      # what is left of a stand-in belongs to one line only
        for other in fits.choices(need.part):
            owner.setdefault(other, need.part)
    surplus: dict[str, list[Bin]] = {}
    for part, of_part in bins.items():
        surplus.setdefault(owner.get(part, ""), []).extend(b for b in of_part if b.left)
    return [held(need, wants[need.part], shared, surplus.get(need.part, ()), request, fits)
            for need in needs], shared


def _services(
    request: TripRequest, followed: Mapping[str, Course], unspoken: frozenset[str],
    told: Mapping[str, Sequence[str]],
) -> Iterable[ServicePlan]:
    trip = request.trip
    for task in request.tasks:
        one = followed.get(task.id)
        if one is None:
            yield ServicePlan(task.id, task.machine, 0, (),
                              remarks=("its place is no longer fitted",))
            continue
        remarks = [*say_service(one, trip.departs_on, trip.days, told[task.id]),
                   *one.clock.remarks]
        if task.machine in unspoken and task.every_min is not None:
            remarks.append(f"no running given for {task.machine}: taken as 0 h")
        if one.soon_after:
            remarks.append("due soon after arrival")
        yield ServicePlan(task.id, task.machine, int(one.before),
                          tuple(event.day for event in one.events), one.due_on_arrival,
                          one.soon_after, tuple(remarks))


def _with_silence(line: PartLine, need: PartNeed, unspoken: frozenset[str]) -> PartLine:
    """Say on its line where nobody told the hours by which a part fails."""
    silent = sorted({row.machine for row in need.rows
                     if row.machine in unspoken and row.mtbf_days is None})
    return line if not silent else line._replace(remarks=(
        *line.remarks, *(f"no running given for {one}: taken as 0 h" for one in silent)))


def _protection(request: TripRequest, counted: Sequence[Held], lines: Sequence[PartLine],
                unspoken: frozenset[str]) -> Protection:
    vital = [line.protection for one, line in zip(counted, lines, strict=True)
             if line.weight == "A" and one.need.chance_known(unspoken)]
    return Protection(
        request.trip.protection, prod(line.protection for line in lines),
        prod(vital) if vital else None, prod(line.protection_bought for line in lines),
        protected_until(request))


def _pieces(lots: Iterable[Lot]) -> tuple[Pieces, ...]:
    found: dict[str, Pieces] = {}
    for lot in lots:
        before = found.get(lot.part, Pieces(lot.part, 0))
        dates = [day for day in (before.expires, lot.expires) if day is not None]
        found[lot.part] = Pieces(lot.part, before.quantity + max(0, lot.quantity or 0),
                                 min(dates, default=None))
    return tuple(pieces for pieces in found.values() if pieces.quantity)


def _out_of_reach(lines: Sequence[Held], request: TripRequest) -> tuple[Pieces, ...]:
    """Pieces that count, for which there is a need, and that cannot be got at under way."""
    first: dict[str, date] = {}     # the day on which a part is wanted first
    for want in (want for line in lines if line.need.windows[0].minimum for want in line.wants):
        for part in want.choices:
            first[part] = min(want.day, first.get(part, want.day))
    return _pieces(lot._replace(quantity=(lot.quantity or 0) - lot.reserved)
                   for lot in request.lots
                   if lot.aboard and lot.counted and not lot.reachable
                   and lot.condition != "suspect" and lot.part in first
                   and (lot.expires is None or lot.expires >= first[lot.part]))


def _earliest_departure(
    lines: Sequence[PartLine], request: TripRequest, fits: Fits
) -> date | None:
    days = [order_dates(fits.part(line.part), request.trip, request.today)[2]
            for line in lines if line.state == "too-late"]
    return max((day for day in days if day is not None), default=None)
