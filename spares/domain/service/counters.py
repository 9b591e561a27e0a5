"""Counters with their readings, and what they showed when services were done.

A figure noted at a service is checked against the readings. The last ones before a
counter was changed, or before now, count as readings: nobody read it later.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date

from spares.domain.service.hours import say_hours
from spares.domain.service.meter import MINUTES_PER_DAY, Meter, Reading, sift
from spares.domain.service.task import Machine, Record, Task, counter_owner
from spares.errors import InvalidInput

TO_COME = "that day is still to come"


def meters(
    machines: Mapping[str, Machine],
    tasks: Sequence[Task],
    records: Sequence[Record],
    readings: Iterable[tuple[str, Reading]],
    today: date | None = None,
) -> dict[str, Meter]:
    """Build the meter of every machine that has a counter.

    Args:
        machines: Machines by id [-].
        tasks: All tasks [-]; they say which machine a record belongs to.
        records: Services done [min on the counter], in the order given.
        readings: Pairs of machine and reading [min].
        today: What lies after tomorrow is not used; None leaves nothing out [-].

    Returns:
        Meters by the id of the machine that carries the counter [-].

    Raises:
        InvalidInput: if a service stands at more than the counter can have shown.

    Source:
        Counting rule of this project.

    Example:
        >>> two = [("a", Reading(date(2027, 1, 1), 60)), ("a", Reading(date(2027, 1, 3), 180))]
        >>> meters({"a": Machine("a")}, [], [], two)["a"].totals
        (60, 180)
    """
    seen: dict[str, list[Reading]] = {}
    for machine, reading in readings:
        owner = counter_owner(machine, machines)
        if owner is not None:
            seen.setdefault(owner, []).append(_until(reading, today))
    served = _records_by_counter(machines, tasks, records, today)
    result = {}
    for owner in seen.keys() | served.keys():
        noted = served.get(owner, [])
        own = _own(seen.get(owner, []), [record for _, record in noted])
        meter = Meter.of(own)
        for place, record in noted:
            too_high = _above(meter, record)
            if too_high is not None:
                raise InvalidInput.at(f"#/records/{place}/at_h", too_high)
        made = Meter.of(_with(own, meter, [record for _, record in noted]))
        if made.days:
            result[owner] = made
    return result


def too_high(
    readings: Sequence[Reading], noted: Sequence[Record], today: date | None = None
) -> list[str | None]:
    """Say of each figure noted at a service why the counter cannot have shown it, if so.

    Args:
        readings: Readings of the counter [min].
        noted: Services with what it showed [min].
        today: As `meters` takes it [-].

    Returns:
        Words, or None where the figure can stand [-].

    Source:
        Counting rule of this project.

    Example:
        >>> seen = [Reading(date(2027, 3, 10), 355 * 60)]
        >>> too_high(seen, [Record("oil", date(2027, 3, 5), 360 * 60)])[0][:41]
        '360 h on 2027-03-05 is above the counter,'
    """
    meter = Meter.of(_own([_until(reading, today) for reading in readings], noted))
    return [_above(meter, record) for record in noted]


def with_noted(
    readings: Sequence[Reading], noted: Sequence[Record], today: date | None = None
) -> list[Reading]:
    """Give the readings of a counter with those figures noted at services that count as such.

    Args:
        readings: Readings of the counter [min], those of one day in the order taken.
        noted: Services with what it showed [min]; such as it cannot have shown are passed over.
        today: As `meters` takes it [-].

    Returns:
        Readings [min] by date.

    Source:
        Counting rule of this project.

    Example:
        >>> seen = [Reading(date(2027, 3, 1), 350 * 60)]
        >>> [one.minutes for one in with_noted(seen, [Record("oil", date(2027, 3, 5), 360 * 60)])]
        [21000, 21600]
    """
    usable = [record for record in noted if not is_to_come(record.on, today)]
    own = _own([_until(reading, today) for reading in readings], usable)
    meter = Meter.of(own)
    return _with(own, meter, [record for record in usable if _above(meter, record) is None])


def is_to_come(day: date, today: date | None) -> bool:
    """Tell whether a day is still to come; tomorrow may be today further east."""
    return today is not None and (day - today).days > 1


def _until(reading: Reading, today: date | None) -> Reading:
    return reading._replace(doubt=TO_COME) if is_to_come(reading.on, today) else reading


def _records_by_counter(
    machines: Mapping[str, Machine], tasks: Sequence[Task], records: Sequence[Record],
    today: date | None,
) -> dict[str, list[tuple[int, Record]]]:
    machine_of = {task.id: task.machine for task in tasks}
    found: dict[str, list[tuple[int, Record]]] = {}
    for place, record in enumerate(records):
        owner = counter_owner(machine_of.get(record.task, ""), machines)
        usable = record.at_min is not None and record.doubt is None
        if owner is not None and usable and not is_to_come(record.on, today):
            found.setdefault(owner, []).append((place, record))
    return found


def _own(readings: list[Reading], noted: Sequence[Record]) -> list[Reading]:
    """Give the readings; if they begin with a new counter, what was noted on the old one first."""
    good, _ = sift(readings)
    if not good or not good[0].new_counter:
        return readings
    first = good[0]
    old = {(one.on, one.at_min) for one in noted if one.on < first.on or (
        one.on == first.on and one.at_min > first.minutes + MINUTES_PER_DAY)}
    return [*(Reading(*one) for one in sorted(old)), *readings]


def _above(meter: Meter, record: Record) -> str | None:
    said = (record.on, record.at_min, record.latest)
    ceiling = meter.ceiling(*said)
    start = meter.counter_of(*said)
    if ceiling is None or start is None or meter.total_shown(*said) <= ceiling:
        return None
    most = meter.shown[start] + ceiling - meter.totals[start]
    return (f"{say_hours(record.at_min)} on {record.on} is above the counter, which cannot have "
            f"shown more than {say_hours(most)} then; "
            "a changed counter is told by a reading with new_counter")


def _with(
    readings: Sequence[Reading], meter: Meter, noted: Sequence[Record]
) -> list[Reading]:
    """Put what was noted after the last reading of each counter where it belongs."""
    if not meter.days:
        told = sorted({(one.on, one.at_min) for one in noted})
        # one service alone says nothing about the hours since
        enough = len({on for on, _ in told}) > 1
        return [*readings, *(Reading(*one) for one in told if enough)]
    later: dict[int, list[Reading]] = {}
    one_each = {(record.on, record.at_min): record for record in noted}
    for record in one_each.values():
        start = meter.counter_of(record.on, record.at_min, record.latest)
        last = meter.end_of(start) - 1
        end = (meter.days[last], meter.shown[last])
        if record.on >= end[0] and (record.on, record.at_min) > end:
            later.setdefault(start, []).append(Reading(record.on, record.at_min))
    good, _ = sift(readings)
    changes = {id(good[start]): before
               for before, start in zip(meter.starts, meter.starts[1:], strict=False)}
    merged: list[Reading] = []
    for reading in sorted(readings, key=lambda one: one.on):
        merged += later.pop(changes.get(id(reading)), [])
        merged.append(reading)
    return [*merged, *(reading for rest in later.values() for reading in rest)]
