"""What is serviced, how often, with what, and when it was last done."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from typing import NamedTuple

OWN_COUNTER, NO_COUNTER = "own", "none"


class Machine(NamedTuple):
    """An installed unit; `counter` is own, none, or the machine whose counter it goes by."""

    id: str
    counter: str = OWN_COUNTER
    weight: str = "B"
    name: str | None = None


class FitPoint(NamedTuple):
    """A place that takes a part; retired when what it sat in is no longer fitted."""

    id: str
    machine: str
    weight: str | None = None
    takes: tuple[str, ...] = ()
    retired: bool = False


class KitLine(NamedTuple):
    """One part of a service; `share` is the share of inspections that renew it [1]."""

    part: str
    quantity: int               # [thousandths]
    set_aside: bool = False
    share: Fraction = Fraction(1)


class Task(NamedTuple):
    """A service with its interval in running [min], in calendar months, or both."""

    id: str
    machine: str
    fit_point: str | None = None
    every_min: int | None = None
    every_months: int | None = None
    first_min: int | None = None
    in_port: bool = False
    used_min: int | None = None     # running since it was last done, as of today
    kit: tuple[KitLine, ...] = ()
    name: str | None = None


class Record(NamedTuple):
    """A carrying-out; `on` is the earliest day it can mean, `whole` False if cut short.

    `latest` is then the last day it can mean; `doubt` says why the counter's figure is not used.
    `baseline` marks a day that is counted from, on which nothing was done.
    """

    task: str
    on: date
    at_min: int | None = None       # what the counter showed [min]
    whole: bool = True
    estimated: bool = False         # an owner's estimate
    latest: date | None = None      # None where it is `on` itself
    doubt: str | None = None
    baseline: bool = False


def counter_owner(machine: str, machines: Mapping[str, Machine]) -> str | None:
    """Give the machine whose counter counts for this one, None if none does.

    Args:
        machine: Id of the machine [-].
        machines: All machines by id [-].

    Returns:
        Id of the machine that carries the counter [-], or None.

    Source:
        Counting rule of this project.

    Example:
        >>> counter_owner("gbx", {"gbx": Machine("gbx", "eng"), "eng": Machine("eng")})
        'eng'
    """
    seen: set[str] = set()
    while machine in machines and machine not in seen:
        counter = machines[machine].counter
        if counter in (OWN_COUNTER, machine):
            return machine
        if counter == NO_COUNTER:
            return None
        seen.add(machine)
        machine = counter
    return None
