"""Hour meters aboard: whose counts for a machine, what was read, what services noted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from typing import Any

from spares.actions.amounts import hours
from spares.domain.aboard import Aboard, Done, Record, name_of
from spares.domain.dates import earliest_day, latest_day
from spares.domain.service import task
from spares.domain.service.counters import too_high, with_noted
from spares.domain.service.meter import Reading, sift
from spares.errors import InvalidInput

NEW_COUNTER = "new counter"
LAST_WAS_A_SLIP = ("last entry was a slip", "the last entry was a slip")


def meter_machine(aboard: Aboard, name: str) -> str:
    """Give the machine whose counter a machine goes by.

    Raises:
        InvalidInput: it goes by no counter.
    """
    seen: set[str] = set()
    while (record := aboard.get(name)) is not None and name not in seen:
        seen.add(name)
        if record.counter in (None, "own"):
            return name
        if record.counter == "none" or not record.counter_of:
            raise InvalidInput.at("#/machine", f"{record.no} has no hour meter")
        name = record.counter_of
    raise InvalidInput.at("#/machine", "its hour meter cannot be told")


def history(aboard: Aboard, machine: str) -> list[Reading]:
    """Give the readings of a machine's own meter, as the computations take them."""
    return [Reading(earliest_day(one.date), one.minutes, starts_anew(one.because),
                    None if starts_anew(one.because) else one.doubt or None,
                    corrects_last(one.because))
            for one in aboard.readings_of.get(machine, ()) if one.minutes is not None]


def starts_anew(because: str | None) -> bool:
    """Say whether a reading's reason is that the counter was changed."""
    return (because or "").strip().lower().startswith(NEW_COUNTER)


def corrects_last(because: str | None) -> bool:
    """Say whether a reading's reason is that the one before it was a slip."""
    return (because or "").strip().lower().startswith(LAST_WAS_A_SLIP)


def last_trusted(aboard: Aboard, machine: str) -> dict[str, Any] | None:
    """Give the last reading that can be trusted, None if there is none."""
    return last_of(history(aboard, machine))


def last_of(readings: Iterable[Reading]) -> dict[str, Any] | None:
    """Give the last of some readings that can be trusted, None if there is none."""
    good, _ = sift(readings)
    if not good:
        return None
    return {"date": good[-1].on.isoformat(), "hours": hours(good[-1].minutes)}


def service_machine(aboard: Aboard, service: Record | None) -> Record | None:
    """Give the machine that a service is done on, its own or its fit point's, if it is there."""
    if service is None:
        return None
    machine = aboard.get(service.machine)
    if machine is None and service.point:
        point = aboard.get(service.point)
        machine = aboard.get(point.machine) if point is not None else None
    return None if machine is None or machine.gone else machine


def known_hours(aboard: Aboard, meter: str, today: date) -> list[Reading]:
    """Give a meter's readings with what was noted at services since the last of them."""
    noted = [_record(one) for one in _noted(aboard).get(meter, [])]
    return with_noted(history(aboard, meter), noted, today)


def too_high_noted(aboard: Aboard, today: date) -> dict[str, str]:
    """Say, by the change that noted them, which hours a meter cannot have shown, and why.

    Two phones that were apart can bring such hours in; the rest goes on without them.
    """
    found = {}
    for meter, noted in _noted(aboard).items():
        words = too_high(history(aboard, meter), [_record(one) for one in noted], today)
        found |= {one.change: why for one, why in zip(noted, words, strict=True) if why}
    return found


def _noted(aboard: Aboard) -> dict[str, list[Done]]:
    found: dict[str, list[Done]] = {}
    for one in aboard.done:
        machine = service_machine(aboard, aboard.get(one.service))
        if machine is None or one.minutes is None or not one.date:
            continue
        try:
            found.setdefault(meter_machine(aboard, name_of("machine", machine)), []).append(one)
        except InvalidInput:
            continue        # it goes by no meter
    return found


def _record(one: Done) -> task.Record:
    return task.Record(one.service, earliest_day(one.date), one.minutes,
                       latest=latest_day(one.date))
