"""What the pictures of a plan are drawn from: hours day by day, and when services fall due."""

from __future__ import annotations

from typing import NamedTuple

from spares.domain.service.counters import meters
from spares.domain.service.events import Course, Running
from spares.domain.service.meter import Meter
from spares.domain.service.task import counter_owner
from spares.domain.trip.draft import courses
from spares.domain.trip.energy import charge
from spares.domain.trip.fits import Fits
from spares.domain.trip.request import TripRequest
from spares.domain.trip.running import running


class Curve(NamedTuple):
    """The hours of one machine: (day index, minutes run before it), where the slope changes.

    `start_min` is what the counter shows at departure [min], None if nobody can say.
    """

    machine: str
    points: tuple[tuple[int, int], ...]
    start_min: int | None


def hour_curves(request: TripRequest) -> tuple[list[Curve], dict[str, Course]]:
    """Work out the hours of every machine that runs in the trip.

    Args:
        request: The request, checked already [min].

    Returns:
        Curves in the order of the machines [min], and the course of every task.

    Raises:
        InvalidInput: if a service stands at more than its counter can have shown.

    Source:
        Running by day as the plan counts it; the counter as projected to the departure.

    Example:
        >>> from datetime import date
        >>> from fractions import Fraction
        >>> from spares.domain.service.task import Machine
        >>> from spares.domain.trip.request import Trip
        >>> asked = TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 30, {"m": Fraction(2)}),
        ...                     (Machine("m"),))
        >>> hour_curves(asked)[0][0].points
        ((0, 0), (30, 3600))
    """
    trip, machines = request.trip, {m.id: m for m in request.machines}
    charged = charge(trip.energy._replace(days=trip.days)) if trip.energy else None
    ran, _, _ = running(trip, machines, charged)
    gauge = meters(machines, request.tasks, request.records, request.readings, request.today)
    found = []
    for machine in request.machines:
        run = ran[machine.id]
        if run.total:
            meter = gauge.get(counter_owner(machine.id, machines) or "")
            found.append(Curve(machine.id, _corners(run), None if meter is None else _shown(
                meter, request)))
    return found, courses(request, ran, Fits.of(request))


def _shown(meter: Meter, request: TripRequest) -> int | None:
    """What the counter shows at departure, running on as usual if the trip says so."""
    if not meter.days:
        return None
    total = meter.totals[-1]
    rate = meter.usual_rate() if request.trip.as_usual else None
    if rate is not None:
        total += int(rate * max(0, (request.trip.departs_on - meter.days[-1]).days))
    return meter.shown_at(total)


def _corners(run: Running) -> tuple[tuple[int, int], ...]:
    """Keep the days on which the hours a day change; a minute's rounding is no change."""
    points, slope = [(0, 0)], None
    for day in range(run.days):
        step = run.sums[day + 1] - run.sums[day]
        if slope is not None and abs(step - slope) > 1:
            points.append((day, run.sums[day]))
            slope = step
        elif slope is None:
            slope = step
    points.append((run.days, run.total))
    return tuple(points)
