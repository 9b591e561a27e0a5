"""From courses to the needs of every part: the draft that the list is made from."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from spares.domain.dates import add_days
from spares.domain.provision.failure import ONE_PIECE, Failure, Stretch, expected
from spares.domain.service.clock import clock_on
from spares.domain.service.counters import meters
from spares.domain.service.events import STILL, Course, Running, course
from spares.domain.service.task import Record, counter_owner
from spares.domain.trip.fits import Fits
from spares.domain.trip.request import LEVELS, Trip, TripRequest
from spares.domain.trip.stock import CARRIED, FAILURE, Need
from spares.domain.trip.windows import Use, WindowNeed, window_need, windows
from spares.errors import OutOfRange


class PartNeed(NamedTuple):
    """What one part needs: window by window, at its level; `rows` are its failure figures."""

    part: str
    level: float
    windows: tuple[WindowNeed, ...]
    rows: tuple[Failure, ...]

    @property
    def has_figure(self) -> bool:
        """True if somebody said how often it fails."""
        return bool(self.rows)

    def chance_known(self, unspoken: frozenset[str]) -> bool:
        """Tell whether chance was counted: pieces renewed if found worn, or a failure figure.

        A figure in hours says nothing of a machine that nobody gave hours for (*unspoken*).
        """
        return not all(one.demand.is_none for one in self.windows) or any(
            row.machine not in unspoken or row.mtbf_days is not None for row in self.rows)


def courses(request: TripRequest, ran: Mapping[str, Running], fits: Fits) -> dict[str, Course]:
    """Follow every task whose place is still fitted.

    Args:
        request: The request [any].
        ran: Running by machine [min].
        fits: What is fitted [-].

    Returns:
        Courses by task, in the order of the request [-].

    Raises:
        InvalidInput: if a service stands at more than its counter can have shown.
        OutOfRange: if one falls due more often than anybody can plan for.

    Source:
        Counting rule of this project.

    Example:
        >>> from datetime import date
        >>> from spares.domain.service.task import Machine, Task
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30), (Machine("m"),),
        ...                     tasks=(Task("t", "m", every_months=12),))
        >>> courses(asked, {"m": Running.even(0, 30)}, Fits.of(asked))["t"].before
        True
    """
    trip, machines = request.trip, {m.id: m for m in request.machines}
    gauge = meters(machines, request.tasks, request.records, request.readings, request.today)
    records: dict[str, list[Record]] = {}
    for record in request.records:
        records.setdefault(record.task, []).append(record)
    ports = sorted({stop.day for stop in trip.stops})
    found = {}
    for place, task in enumerate(request.tasks):
        if fits.is_retired(task.fit_point):
            continue
        clock = clock_on(task, records.get(task.id, ()),
                         gauge.get(counter_owner(task.machine, machines) or ""),
                         request.today, trip.departs_on, trip.as_usual)
        try:
            found[task.id] = course(clock, ran[task.machine], trip.departs_on, ports)
        except OutOfRange as err:
            raise err.at(f"#/tasks/{place}") from err
    return found


def part_needs(
    request: TripRequest, followed: Mapping[str, Course], ran: Mapping[str, Running], fits: Fits
) -> list[PartNeed]:
    """Work out what every part needs in every window.

    Args:
        request: The request [any].
        followed: Courses by task [-].
        ran: Running by machine [min].
        fits: What is fitted [-].

    Returns:
        Parts with a need, or with a failure figure, in the order of the request [-].

    Raises:
        OutOfRange: if more failures are expected than can be worked out.

    Source:
        Counting rule of this project.

    Example:
        >>> from datetime import date
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30), keep={"a": 2000})
        >>> [n.part for n in part_needs(asked, {}, {}, Fits.of(asked))]
        ['a']
    """
    trip = request.trip
    uses: dict[str, list[Use]] = {part.id: [] for part in request.parts}
    for one in followed.values():
        for line in one.clock.task.kit:
            uses.setdefault(line.part, []).append(Use(line, one))
    rows: dict[str, list[tuple[Failure, tuple[int, ...]]]] = {}
    for row in request.failures:
        uses.setdefault(row.part, [])
        rows.setdefault(row.part, []).append((row, _renewals(row, followed, ran)))
    for part in request.keep:
        uses.setdefault(part, [])
    stops: dict[str, list[int]] = {}
    for stop in trip.stops:
        for part in set(stop.sells):
            stops.setdefault(part, []).append(stop.day)
    found, uncut = [], windows(trip.days, ())
    for part, used in uses.items():
        if not used and part not in rows and not request.keep.get(part):
            continue
        level, cuts = level_of(trip, fits.weight(part)), stops.get(part)
        try:
            needs = tuple(
                window_need(window, used, rows.get(part, ()), ran, level, request.keep.get(part, 0))
                for window in (windows(trip.days, cuts) if cuts else uncut))
        except OutOfRange as err:
            raise _named(err, part, request, ran) from err
        found.append(PartNeed(part, level, needs, tuple(row for row, _ in rows.get(part, ()))))
    return [need for need in found
            if need.rows or any(w.minimum or not w.demand.is_none for w in need.windows)]


def _named(err: OutOfRange, part: str, request: TripRequest,
           ran: Mapping[str, Running]) -> OutOfRange:
    """Point at the figure, or the kit, that asks for more than can be worked out."""
    field = err.facts.get("field") or ""
    told = OutOfRange(f"{part}: {err.detail}", part=part, most=err.facts.get("most"))
    rows = [(place, row) for place, row in enumerate(request.failures) if row.part == part]
    odd = {"pieces": lambda row: row.pieces != ONE_PIECE, "weibull": lambda row: row.weibull}
    for place, row in rows:
        if field in odd and odd[field](row):
            return told.at(f"#/failures/{place}/{field}")
    if rows:
        most = max(rows, key=lambda pair: _asks(pair[1], request, ran))
        return told.at(f"#/failures/{most[0]}")
    kits = [(line.quantity, f"#/tasks/{place}/kit/{number}/quantity")
            for place, task in enumerate(request.tasks)
            for number, line in enumerate(task.kit) if line.part == part and line.share < 1]
    return told.at(max(kits, key=lambda pair: pair[0])[1]) if kits else told


def _asks(row: Failure, request: TripRequest, ran: Mapping[str, Running]) -> float:
    """Say how much one figure asks for in the trip, to tell which of several is at fault."""
    minutes = ran[row.machine].sums[-1] if row.machine in ran else 0
    if row.weibull is not None:
        return row.units * minutes / 60 / float(row.weibull.eta_h)
    return expected(row, Stretch(0, minutes, request.trip.days))


def level_of(trip: Trip, weight: str) -> float:
    """Protection asked of a line of that weight [1]."""
    if isinstance(trip.protection, float):
        return trip.protection
    return trip.protection.get(weight, LEVELS[weight])


def needs_of(need: PartNeed, window: WindowNeed, trip: Trip, fits: Fits) -> list[Need]:
    """Put days and choices on the need of one window, so that pieces can be shared out."""
    part = need.part
    found = []
    for use, before, events in window.uses:
        days = [0] if before else []
        days += [event.day for event in events]
        if days and use.line.share >= 1 and use.line.quantity:
            task = use.course.clock.task
            choices = fits.choices(part, task.fit_point, task.machine)
            found += [Need(part, use.line.quantity, add_days(trip.departs_on, day), choices)
                      for day in days]
    extra = window.minimum - window.sure
    carried = min(extra, window.carried)
    spare_for = {row.machine for row in need.rows}
    anywhere = fits.choices(part, machine=spare_for.pop() if len(spare_for) == 1 else None)
    if extra > carried:
        ends = add_days(trip.departs_on, window.window.ends)
        found.append(Need(part, extra - carried, ends, anywhere, FAILURE))
    if carried:
        point = {use.course.clock.task.fit_point for use in
                 (u for u, _, _ in window.uses) if use.line.set_aside}
        choices = fits.choices(part, point.pop()) if len(point) == 1 and not window.keep else (
            fits.choices(part))
        found.append(Need(part, carried, add_days(trip.departs_on, trip.days), choices, CARRIED))
    return found


def _renewals(
    row: Failure, followed: Mapping[str, Course], ran: Mapping[str, Running]
) -> tuple[int, ...]:
    """Running [min] of the row's machine at each planned renewal; 0 if it is done before."""
    one = followed.get(row.renewed_by or "")
    if one is None:
        return ()
    run = ran.get(row.machine or "", STILL)
    same = one.clock.task.machine == row.machine
    at = [event.run_min if same else run.until(event.day) for event in one.events]
    return (*([0] if one.before else []), *at)
