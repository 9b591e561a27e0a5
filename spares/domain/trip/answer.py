"""The plan as it is handed out. Quantities are thousandths, money minor units, mass grams."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from spares.domain.trip.energy import ChargeAnswer, Exact


class ServicePlan(NamedTuple):
    """One task: done before leaving (0 or 1), and on these day indexes of the trip."""

    task: str
    machine: str
    before: int
    days: tuple[int, ...]
    due_on_arrival: bool = False
    soon_after: bool = False
    remarks: tuple[str, ...] = ()


class PartLine(NamedTuple):
    """One part of the list.

    `state` is enough, order-by, short, too-late, cannot-say or accepted; `cost` is None
    where something is to be bought and nobody knows the price. `protection` is with what is
    usable now, `protection_bought` with the list bought.
    """

    part: str
    state: str
    weight: str
    for_service: int
    for_failure: int
    set_aside: int
    keep: int
    minimum: int
    usable: int
    short: int
    buy: int
    order_by: date | None
    late_days: int
    cost: int | None
    mass_g: int | None
    protection: float
    protection_bought: float
    why: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


class StopLine(NamedTuple):
    """What one part needs at a stop, for the window that begins there."""

    part: str
    for_service: int
    for_failure: int
    minimum: int
    left_over: int
    buy: int
    cost: int | None
    mass_g: int | None
    protection: float
    why: tuple[str, ...] = ()


class StopPlan(NamedTuple):
    """The list of one stop."""

    day: int
    on: date
    lines: tuple[StopLine, ...]


class Protection(NamedTuple):
    """Level asked (one, or one a weight) and reached: product over the lines [1].

    Up to the stop on `until_day`, None to the end of the trip. `reached_a` counts the lines of
    weight A alone; None where none of them has a figure, for that is no protection.
    """

    asked: float | Mapping[str, float]
    reached: float
    reached_a: float | None
    reached_bought: float
    until_day: int | None = None


class Pieces(NamedTuple):
    """So many pieces of a part [thousandths]; `expires` is the earliest date among them."""

    part: str
    quantity: int
    expires: date | None = None


class Fuel(NamedTuple):
    """Litres by machine, together, and with a third kept in reserve [L].

    `missing` are machines that run and whose litres are not in it, `remarks` say why; where
    nothing else burns, the sums are None.
    """

    machines: Mapping[str, Exact]
    fuel_l: Exact | None
    fuel_with_thirds_l: Exact | None
    missing: tuple[str, ...] = ()
    remarks: tuple[str, ...] = ()


class TripPlan(NamedTuple):
    """The whole answer; `hours` are minutes by machine [min]."""

    hours: Mapping[str, int]
    energy: ChargeAnswer | None
    fuel: Fuel | None
    services: tuple[ServicePlan, ...]
    lines: tuple[PartLine, ...]
    stops: tuple[StopPlan, ...]
    protection: Protection
    stranded: tuple[Pieces, ...]
    out_of_date: tuple[Pieces, ...]
    not_reachable: tuple[Pieces, ...]
    history_unknown: tuple[str, ...]
    earliest_departure: date | None
    remarks: tuple[str, ...] = ()
