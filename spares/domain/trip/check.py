"""What a plan refuses, each with the field named. Nothing is guessed instead."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction
from itertools import chain

from spares.domain.document_kinds import CONDITIONS, LONGEST_AHEAD_DAYS, LONGEST_MONTHS
from spares.domain.provision.failure import Failure
from spares.domain.service.hours import HOURS_PER_DAY
from spares.domain.trip.check_names import Problems, counters, own_names, part_names
from spares.domain.trip.request import WEIGHTS, Burn, Leg, TripRequest
from spares.domain.trip.running import too_long_by
from spares.domain.trip.words import say_days
from spares.errors import InvalidInput, json_pointer

LONGEST_DAYS = 3660     # ten years
MOST_UNITS, MOST_AGES = 10_000, 500
LEAST_BETA, MOST_BETA = Fraction(1, 10), 50     # shapes beyond are no wear-out


def check(request: TripRequest) -> None:
    """Refuse a request that makes no sense.

    Args:
        request: The request [any].

    Returns:
        Nothing [-].

    Raises:
        InvalidInput: with every field that is wrong, as JSON Pointers.

    Source:
        Counting rule of this project.

    Example:
        >>> from datetime import date
        >>> from spares.domain.trip.request import Trip
        >>> check(TripRequest(date(2027, 3, 15), Trip(date(2027, 4, 1), 90)))
    """
    parts: Sequence[Callable[[TripRequest], Problems]] = (
        own_names, counters, part_names, _trip, _running, _tasks, _failures, _stock)
    found = [{"pointer": pointer, "detail": detail}
             for pointer, detail in chain.from_iterable(part(request) for part in parts)]
    if found:
        more = f" (and {len(found) - 1} more)" if len(found) > 1 else ""
        first = found[0]
        raise InvalidInput(
            f"{first['pointer'].removeprefix('#/')}: {first['detail']}{more}", errors=found)


def _trip(request: TripRequest) -> Problems:
    trip = request.trip
    if trip.days < 0:
        yield "#/trip/days", "a trip cannot have fewer than 0 days"
    if trip.days > LONGEST_DAYS:
        yield "#/trip/days", f"a trip of more than {LONGEST_DAYS} days cannot be planned"
    elif trip.days > (date.max - trip.departs_on).days:
        yield "#/trip/days", "the trip ends beyond the calendar"
    if not 0 <= trip.ready_days <= LONGEST_AHEAD_DAYS:
        yield "#/trip/ready_days", f"must lie between 0 and {LONGEST_AHEAD_DAYS}"
    for place, stop in enumerate(trip.stops):
        if not 0 <= stop.day <= trip.days:
            yield f"#/trip/stops/{place}/day", f"day {stop.day} is outside the trip"
    levels = trip.protection if not isinstance(trip.protection, float) else {"": trip.protection}
    for weight, level in levels.items():
        where = json_pointer("trip", "protection", *([weight] if weight else []))
        if weight and weight not in WEIGHTS:
            yield where, "a weight is A, B or C"
        if not 0 < level < 1:
            yield where, "a level lies between 0 and 1, both left out"
    for name, limit in (("cost", trip.limits.cost), ("mass_kg", trip.limits.mass_g)):
        if limit is not None and limit < 0:
            yield f"#/trip/limits/{name}", "must be 0 or more"


def _running(request: TripRequest) -> Problems:
    trip, machines = request.trip, {m.id for m in request.machines}
    ways: dict[str, str] = {}
    for way, given in (("hours_per_day", trip.hours_per_day), ("hours", trip.hours)):
        for machine, hours in given.items():
            where = json_pointer("trip", way, machine)
            if hours < 0:
                yield where, "hours cannot be below 0"
            elif hours > HOURS_PER_DAY and way == "hours_per_day":
                yield where, "a day has 24 hours"
            yield from _one_way(ways, where, machine, way, machines)
    if trip.energy_machine is not None:
        yield from _one_way(ways, "#/trip/energy/machine", trip.energy_machine, "energy", machines)
    for place, leg in enumerate(trip.legs):
        yield from _leg(leg, f"#/trip/legs/{place}", trip.days)
        for machine in leg.machines:
            yield from _one_way(ways, f"#/trip/legs/{place}/machines", machine, "legs", machines)
    for place, machine in enumerate(request.machines):
        burn = request.burns.get(machine.id)
        if burn is not None:
            yield from _burn(burn, f"#/machines/{place}/fuel")


def _one_way(
    ways: dict[str, str], where: str, machine: str, way: str, machines: set[str]
) -> Problems:
    if machine not in machines:
        yield where, f"no machine {machine!r}"
    if ways.setdefault(machine, way) != way:
        yield where, f"the running of {machine} is given by {ways[machine]} already"


def _leg(leg: Leg, where: str, days: int) -> Problems:
    if leg.distance_nm < 0:
        yield f"{where}/distance_nm", "must be 0 or more"
    if leg.speed_kn < 0:
        yield f"{where}/speed_kn", "must be 0 or more"
    if leg.distance_nm > 0 and leg.speed_kn == 0:
        yield f"{where}/speed_kn", "no distance is made at speed 0"
    if not 0 <= leg.motor_share <= 1:
        yield f"{where}/motor_share", "a share lies between 0 and 1"
    if leg.manoeuvring_h < 0:
        yield f"{where}/manoeuvring_h", "hours cannot be below 0"
    if leg.day is not None and not 0 <= leg.day < max(days, 1):
        yield f"{where}/day", f"day {leg.day} is outside the trip"
    elif days > 0 and (leg.speed_kn > 0 or not leg.distance_nm):
        left = days - (leg.day or 0)
        if leg.under_way_h > HOURS_PER_DAY * left:
            yield (f"{where}/{too_long_by(leg, left)}", f"takes {float(leg.under_way_h):g} h, "
                   f"more than there are in the {say_days(left)} left for it")


def _burn(burn: Burn, where: str) -> Problems:
    if not burn.table and (burn.at_kn is None or burn.l_per_h is None):
        yield where, "a table, or at_kn with l_per_h, is needed"
    elif not burn.table and (burn.at_kn <= 0 or burn.l_per_h < 0):
        yield where, "a speed above 0 and a consumption of 0 or more are needed"
    for name, value in (("idle_l_per_h", burn.idle_l_per_h),
                        ("manoeuvring_l_per_h", burn.manoeuvring_l_per_h)):
        if value is not None and value < 0:
            yield f"{where}/{name}", "must be 0 or more"
    if any(speed < 0 or litres < 0 for speed, litres in burn.table):
        yield f"{where}/table", "speeds and consumptions of 0 or more are needed"
    if any(b[0] <= a[0] for a, b in zip(burn.table, burn.table[1:], strict=False)):
        yield f"{where}/table", "speeds must rise"


def _tasks(request: TripRequest) -> Problems:
    machines, points = {m.id for m in request.machines}, {p.id for p in request.fit_points}
    for place, task in enumerate(request.tasks):
        where = f"#/tasks/{place}"
        if task.machine not in machines:
            yield f"{where}/machine", f"no machine {task.machine!r}"
        if task.fit_point is not None and task.fit_point not in points:
            yield f"{where}/fit_point", f"no fit point {task.fit_point!r}"
        if task.every_min is None and task.every_months is None:
            yield f"{where}/every_h", "an interval in hours, in months or both is needed"
        for name, value in (("every_h", task.every_min), ("every_months", task.every_months),
                            ("first_h", task.first_min)):
            if value is not None and value <= 0:
                yield f"{where}/{name}", "an interval must be above 0"
        if task.every_months is not None and task.every_months > LONGEST_MONTHS:
            yield f"{where}/every_months", f"must be {LONGEST_MONTHS} or less"
        if task.used_min is not None and task.used_min < 0:
            yield f"{where}/used_h", "hours cannot be below 0"
        for number, line in enumerate(task.kit):
            if line.quantity <= 0:
                yield f"{where}/kit/{number}/quantity", "must be above 0"
            if not 0 <= line.share <= 1:
                yield f"{where}/kit/{number}/share", "a share lies between 0 and 1"
    known = {task.id for task in request.tasks}
    for place, record in enumerate(request.records):
        if record.task not in known:
            yield f"#/records/{place}/task", f"no task {record.task!r}"
        if record.at_min is not None and record.at_min < 0:
            yield f"#/records/{place}/at_h", "a counter cannot stand below 0"


def _failures(request: TripRequest) -> Problems:
    machines, tasks = {m.id for m in request.machines}, {t.id for t in request.tasks}
    for place, row in enumerate(request.failures):
        where = f"#/failures/{place}"
        if row.machine is not None and row.machine not in machines:
            yield f"{where}/machine", f"no machine {row.machine!r}"
        if row.machine is None and row.mtbf_days is None:
            yield f"{where}/machine", "a figure in hours needs the machine that runs"
        if row.renewed_by is not None and row.renewed_by not in tasks:
            yield f"{where}/renewed_by", f"no task {row.renewed_by!r}"
        yield from _figure(row, where)


def _figure(row: Failure, where: str) -> Problems:
    figures = [row.mtbf_h, row.mtbf_days, row.own_log, row.weibull]
    if sum(figure is not None for figure in figures) != 1:
        yield where, "exactly one of mtbf_h, mtbf_days, own_log, weibull is needed"
    for name, value in (("mtbf_h", row.mtbf_h), ("mtbf_days", row.mtbf_days)):
        if value is not None and value <= 0:
            yield f"{where}/{name}", "must be above 0"
    if not 0 <= row.units <= MOST_UNITS:
        yield f"{where}/units", f"must lie between 0 and {MOST_UNITS}"
    if row.own_log is not None and (row.own_log.failures < 0 or row.own_log.hours <= 0):
        yield f"{where}/own_log", "failures of 0 or more in hours above 0 are needed"
    if row.weibull is not None:
        life = row.weibull
        if not LEAST_BETA <= life.beta <= MOST_BETA:
            yield (f"{where}/weibull/beta",
                   f"must lie between {float(LEAST_BETA):g} and {MOST_BETA}")
        if life.eta_h <= 0:
            yield f"{where}/weibull/eta_h", "must be above 0"
        if life.ages_h is not None and len(life.ages_h) != row.units:
            yield f"{where}/weibull/ages_h", f"one age for each of {row.units} units is needed"
        if len(set(life.ages_h or ())) > MOST_AGES:
            yield f"{where}/weibull/ages_h", f"at most {MOST_AGES} different ages can be counted"
        if any(age is not None and age < 0 for age in life.ages_h or ()):
            yield f"{where}/weibull/ages_h", "an age cannot be below 0"
    if row.spread is not None and row.spread < 1:
        yield f"{where}/spread", "variance / mean must be 1 or more"
    if any(size < 0 or not 0 <= chance <= 1 for size, chance in row.pieces) or abs(
            sum(chance for _, chance in row.pieces) - 1) > 1e-9:
        yield f"{where}/pieces", "pieces of 0 or more with probabilities that add up to 1"


def _stock(request: TripRequest) -> Problems:
    for place, part in enumerate(request.parts):
        for name, value in (("lead_days", part.lead_days), ("cost", part.cost),
                            ("mass_kg", part.mass_g)):
            if value is not None and value < 0:
                yield f"#/parts/{place}/{name}", "must be 0 or more"
        if part.lead_days is not None and part.lead_days > LONGEST_AHEAD_DAYS:
            yield f"#/parts/{place}/lead_days", f"must be {LONGEST_AHEAD_DAYS} or less"
        if part.pack <= 0:
            yield f"#/parts/{place}/pack", "must be above 0"
    for place, lot in enumerate(request.lots):
        if lot.condition not in CONDITIONS:
            yield f"#/lots/{place}/condition", "a condition is " + ", ".join(CONDITIONS)
        if lot.quantity is None and lot.counted:
            yield f"#/lots/{place}/quantity", "a counted lot needs a quantity"
        if lot.quantity is not None and lot.quantity < 0:
            yield f"#/lots/{place}/quantity", "must be 0 or more; count what is below zero"
        if lot.reserved < 0:
            yield f"#/lots/{place}/reserved", "must be 0 or more"
    for part, quantity in request.keep.items():
        if quantity < 0:
            yield json_pointer("keep", part), "must be 0 or more"
