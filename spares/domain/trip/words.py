"""The why of every number, in plain words with units and ISO dates."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date
from decimal import ROUND_DOWN, Decimal

from spares.domain.dates import add_days
from spares.domain.provision.failure import Failure, Stretch, expected
from spares.domain.provision.renewal import mean_life
from spares.domain.service.clock import Clock
from spares.domain.service.events import BY_HOURS, Course, Event
from spares.domain.service.hours import in_hours, say_hours
from spares.domain.trip.request import WHOLE
from spares.domain.trip.windows import WindowNeed

_MOST_EVENTS = 4        # days told one by one, the others only counted


def say_quantity(thousandths: int) -> str:
    """Write a quantity [thousandths] as short as it is exact: 2, 0.35."""
    whole, part = divmod(abs(thousandths), WHOLE)
    text = f"{whole}.{part:03d}".rstrip("0").rstrip(".")
    return f"-{text}" if thousandths < 0 else text


def of_hundred(share: float) -> str:
    """Write a protection [1] as trips of a hundred, cut and never rounded up.

    Nobody shall read more safety than there is; close to all of them it is finer.

    Example:
        >>> [of_hundred(share) for share in (0.979, 0.9966, 0.99997, 1.0, 0.004, 0.0)]
        ['97', '99.6', '99.9', '100', 'fewer than 1', '0']
    """
    trips = Decimal(str(share)) * 100
    if 99 < trips < 100:
        trips = trips.quantize(Decimal("0.1"), ROUND_DOWN)
        return f"{trips.normalize():f}"
    return str(int(trips)) if trips >= 1 or not trips else "fewer than 1"


def say_protected(reached: float, until: str | None) -> str:
    """Say how many trips of a hundred need nothing that is not aboard, and up to where.

    Example:
        >>> say_protected(0.913, "Grimvik")
        'Of 100 such trips, 91 need nothing against breakdown until Grimvik that is not aboard'
    """
    up_to = f" until {until}" if until else ""
    return (f"Of 100 such trips, {of_hundred(reached)} need nothing against breakdown{up_to} "
            "that is not aboard")


def say_before(clock: Clock, leaves: date) -> str:
    """Say why a task is done before leaving."""
    if not clock.known:
        return "history unknown"
    reasons = []
    if clock.interval_min is not None and clock.used_min >= clock.interval_min:
        reasons.append(f"{say_hours(clock.used_min)} used of {say_hours(clock.interval_min)}")
    if clock.due_on is not None and clock.due_on <= leaves:
        reasons.append(f"{say_months(clock.months)} since {clock.last} over on {clock.due_on}")
    return " and ".join(reasons)


def say_months(months: int) -> str:
    """Write an interval of the calendar: 1 month, 12 months."""
    return "1 month" if months == 1 else f"{months} months"


def say_days(days: int) -> str:
    """Write a number of days: 1 day, 12 days."""
    return "1 day" if days == 1 else f"{days} days"


def say_event(course: Course, event: Event, leaves: date) -> str:
    """Say when a task falls due in the trip, and by which side."""
    task, clock = course.clock.task, course.clock
    # !s writes a date in half the time, and a large plan has thousands
    due = f"day {event.due_day}, {add_days(leaves, event.due_day)!s}"
    if event.by == BY_HOURS:
        since = "" if clock.last is None and event.since == leaves and not course.before else (
            f" since {event.since!s}")
        text = f"{due}: {task.machine} has run {say_hours(event.interval_min)}{since}"
    else:
        text = f"{due}: {say_months(clock.months)} since {event.since!s}"
    if event.day != event.due_day or task.in_port:
        text += f"; done in port on day {event.day}, {add_days(leaves, event.day)}"
    return text


def say_events(course: Course, events: Sequence[Event], leaves: date) -> list[str]:
    """Say when a task falls due, for the first few times."""
    return [say_event(course, event, leaves) for event in events[:_MOST_EVENTS]]


def why_needed(need: WindowNeed, leaves: date, told: Mapping[str, Sequence[str]]) -> list[str]:
    """Say what makes up the need of a part in one window; *told* are `say_events` by task."""
    why = []
    for use, before, events in need.uses:
        task, quantity = use.course.clock.task, say_quantity(use.line.quantity)
        name = f"{task.id} {task.name}" if task.name else task.id
        share = "" if use.line.share >= 1 else (
            f", renewed in {100 * float(use.line.share):g} % of cases")
        if before:
            why.append(f"{name} ({task.machine}): {quantity} before leaving, "
                       f"{say_before(use.course.clock, leaves)}{share}")
        said = (told[task.id] if events is use.course.events
                else say_events(use.course, events, leaves))
        why += [f"{name} ({task.machine}): {quantity} on {when}{share}" for when in said]
        if len(events) > _MOST_EVENTS:
            more = len(events) - _MOST_EVENTS
            why.append(f"{name} ({task.machine}): {quantity} each on {more} more days, "
                       f"the last {add_days(leaves, events[-1].day)}")
        if use.line.set_aside:
            why.append(f"{name} ({task.machine}): {quantity} set aside against breakdown")
    if need.keep:
        why.append(f"keep level {say_quantity(need.keep)}")
    return why


def why_failure(need: WindowNeed, level: float) -> list[str]:
    """Say where the failure spares come from."""
    if need.demand.is_none:
        return []
    why = [say_failure(row, stretch) for row, stretch in need.failing]
    many = f"{say_quantity(need.spares)} enough" if need.spares else "no spare needed"
    reached = of_hundred(need.demand.protection(need.spares))
    why.append(f"failures and worn pieces: {many} in {reached} of 100 such trips, "
               f"{100 * level:g} asked")
    return why


def say_failure(row: Failure, stretch: Stretch) -> str:
    """Say what is expected of one failure figure."""
    mean = expected(row, stretch)
    units = f"{row.units} in use" if row.units != 1 else "1 in use"
    where = f"{row.machine}: " if row.machine else ""
    ran = say_hours(stretch.ends_min - stretch.begins_min)
    if row.mtbf_days is not None:
        figure = f"{stretch.days} days, one failure in {float(row.mtbf_days):g} days"
    elif row.mtbf_h is not None:
        figure = f"{ran}, one failure in {float(row.mtbf_h):g} h"
    elif row.own_log is not None:
        failures = "1 failure" if row.own_log.failures == 1 else f"{row.own_log.failures} failures"
        figure = f"{ran}, own log of {failures} in {float(row.own_log.hours):g} h"
    else:
        figure = f"{ran}, {_life(row)}"
        if stretch.renewed_at_min:
            at = ", ".join(f"{float(in_hours(run)):g} h" for run in stretch.renewed_at_min)
            figure += f", renewed by {row.renewed_by} at {at}"
    return f"{where}{units}, {figure}: {mean:.3g} failures expected"


def _life(row: Failure) -> str:
    life = row.weibull
    beta, eta = float(life.beta), float(life.eta_h)
    text = f"wears out after {mean_life(beta, eta):.0f} h on average (beta {beta:g}, eta {eta:g} h)"
    if life.ages_h is None or None in life.ages_h:
        return f"{text}, age not known"
    return f"{text}, age " + ", ".join(f"{float(age):g} h" for age in life.ages_h)


def say_service(course: Course, leaves: date, days: int, told: Sequence[str]) -> list[str]:
    """Say what a skipper should know about one task in this trip; *told* are its `say_events`."""
    remarks = []
    if course.before:
        remarks.append(f"before leaving: {say_before(course.clock, leaves)}")
    remarks += told
    if len(course.events) > _MOST_EVENTS:
        remarks.append(f"{len(course.events)} times in all, the last on "
                       f"{add_days(leaves, course.events[-1].day)}")
    if course.due_on_arrival:
        remarks.append(f"due on arrival, {add_days(leaves, days)}")
    return remarks
