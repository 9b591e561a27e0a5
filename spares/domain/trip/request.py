"""What a plan is made from. Money is minor units, mass grams, quantities thousandths."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from fractions import Fraction
from types import MappingProxyType
from typing import Any, NamedTuple

from spares.domain.provision.climb import Limits
from spares.domain.provision.failure import Failure
from spares.domain.service.meter import Reading
from spares.domain.service.task import FitPoint, Machine, Record, Task
from spares.domain.trip.energy import Charge

WEIGHTS = ("A", "B", "C")
LEVELS: Mapping[str, float] = {"A": 0.99, "B": 0.95, "C": 0.80}     # common practice, no source
READY_DAYS = 3
MANOEUVRING_H = Fraction(1, 2)
_NONE: Mapping[str, Any] = MappingProxyType({})
WHOLE = 1000            # thousandths in one


class Leg(NamedTuple):
    """A stretch under way: distance [nm], speed [kn], the machines that run on it.

    `motor_share` [1] is the share of the way under engine, `manoeuvring_h` [h] comes on
    top; `day` is the day index it starts on, None if nobody knows.
    """

    distance_nm: Fraction
    speed_kn: Fraction
    machines: tuple[str, ...]
    motor_share: Fraction = Fraction(1)
    manoeuvring_h: Fraction = MANOEUVRING_H
    day: int | None = None

    @property
    def under_way_h(self) -> Fraction:
        """How long it takes, under engine or not, manoeuvring with it [h]."""
        way = self.distance_nm / self.speed_kn if self.distance_nm else Fraction(0)
        return way + self.manoeuvring_h


class Burn(NamedTuple):
    """What an engine burns under way: by a table, or by the cube law from one point.

    Manoeuvring goes like idling where nobody said otherwise; without a figure for idling it
    counts at the lowest figure there is: too much, never nothing.
    """

    table: tuple[tuple[Fraction, Fraction], ...] = ()     # [kn, L/h]
    at_kn: Fraction | None = None
    l_per_h: Fraction | None = None
    idle_l_per_h: Fraction | None = None
    manoeuvring_l_per_h: Fraction | None = None

    @property
    def slow_l_per_h(self) -> Fraction:
        """Consumption while manoeuvring or lying with the engine on [L/h]."""
        lowest = self.table[0][1] if self.table else self.l_per_h
        given = (self.manoeuvring_l_per_h, self.idle_l_per_h, lowest, Fraction(0))
        return next(one for one in given if one is not None)


class Stop(NamedTuple):
    """A harbour on a day index, and what can be bought there.

    Day 0 is a harbour reached on the leaving day: what is due before leaving has to be aboard,
    all else can wait for it. Several stops of one day are one: what either sells is sold.
    """

    day: int
    sells: tuple[str, ...] = ()


class Trip(NamedTuple):
    """The voyage: days, running of the machines, levels, stops, limits.

    The running of a machine is given one way: hours a day [h/day], hours in all [h], legs,
    or the daily charge of the battery.
    """

    departs_on: date
    days: int
    hours_per_day: Mapping[str, Fraction] = _NONE
    hours: Mapping[str, Fraction] = _NONE
    legs: tuple[Leg, ...] = ()
    energy: Charge | None = None
    energy_machine: str | None = None
    as_usual: bool = True
    ready_days: int = READY_DAYS
    protection: float | Mapping[str, float] = LEVELS
    stops: tuple[Stop, ...] = ()
    limits: Limits = Limits()
    accepted: frozenset[str] = frozenset()      # parts a person goes without


class Part(NamedTuple):
    """What buying needs to know; None where nobody knows."""

    id: str
    lead_days: int | None = None
    cost: int | None = None         # of one [minor units]
    mass_g: int | None = None       # of one [g]
    pack: int = WHOLE               # [thousandths]
    stand_ins: tuple[str, ...] = ()
    name: str | None = None


class Lot(NamedTuple):
    """Pieces of one part in one locker that share condition and date."""

    part: str
    quantity: int | None            # [thousandths]; None if nobody counted
    locker: str | None = None
    condition: str = "new"          # new | used-good | suspect
    expires: date | None = None
    aboard: bool = True
    reachable: bool = True
    reserved: int = 0               # [thousandths]
    counted: bool = True


class TripRequest(NamedTuple):
    """Everything a plan looks at; `keep` is in thousandths by part."""

    today: date
    trip: Trip
    machines: tuple[Machine, ...] = ()
    fit_points: tuple[FitPoint, ...] = ()
    tasks: tuple[Task, ...] = ()
    records: tuple[Record, ...] = ()
    readings: tuple[tuple[str, Reading], ...] = ()
    parts: tuple[Part, ...] = ()
    lots: tuple[Lot, ...] = ()
    failures: tuple[Failure, ...] = ()
    keep: Mapping[str, int] = _NONE
    burns: Mapping[str, Burn] = _NONE
