"""What to buy, in packs, by when; and what to buy if money or mass does not reach for all.

Under a limit what the services take is bought first, by due day, the more important
lines first; then what is carried in any case; then the failure spares that protect best.
Where the services cannot all be paid, nothing is bought beyond them. A carried line that cannot
be paid is passed over for cheaper ones, since each is of use by itself; the plan names it.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from spares.domain.dates import add_days
from spares.domain.provision.climb import Limits
from spares.domain.provision.demand import Demand
from spares.domain.provision.hull import Line
from spares.domain.provision.kit import best_kit
from spares.domain.trip.request import WHOLE, Part, Trip
from spares.domain.trip.stock import Need


class Shortage(NamedTuple):
    """What one line lacks [thousandths], for services, to be carried, and for failures.

    `services` are those that lack pieces, each with how many, `for_service` what they lack
    together; `spares` is what is at hand against failures now.
    """

    part: Part
    weight: str
    services: tuple[Need, ...]
    for_service: int
    carried: int
    for_failure: int
    spares: int
    demand: Demand

    @property
    def short(self) -> int:
        """Pieces missing in all [thousandths]."""
        return self.for_service + self.carried + self.for_failure


def packed(part: Part, short: int) -> int:
    """Round a shortage up to packs.

    Args:
        part: The part with its pack [thousandths].
        short: Pieces missing [thousandths].

    Returns:
        Pieces to buy [thousandths].

    Source:
        Counting rule of this project.

    Example:
        >>> packed(Part("a", pack=5000), 2000)
        5000
    """
    return -(-short // part.pack) * part.pack


def cost_of(part: Part, quantity: int) -> int | None:
    """Cost [minor units] of a quantity [thousandths]; None if nobody knows the price."""
    if not quantity:
        return 0
    return None if part.cost is None else _half_up(part.cost * quantity)


def mass_of(part: Part, quantity: int) -> int | None:
    """Mass [g] of a quantity [thousandths]; None if nobody knows it."""
    if not quantity:
        return 0
    return None if part.mass_g is None else _half_up(part.mass_g * quantity)


def order_dates(part: Part, trip: Trip, today: date) -> tuple[date | None, int, date | None]:
    """Work out by when a part for the departure must be ordered.

    Args:
        part: The part with its lead time [day].
        trip: The leaving date and the days to be ready before it [day].
        today: The day of asking [-].

    Returns:
        Last day to order, days too late [day], and the earliest day to leave if it is ordered
        today; None where nobody knows the lead time.

    Source:
        Leaving date - lead days - ready days.

    Example:
        >>> trip = Trip(date(2027, 4, 1), 90)
        >>> order_dates(Part("a", lead_days=21), trip, date(2027, 3, 15))[1]
        7
    """
    if part.lead_days is None:
        return None, 0, None
    ahead = part.lead_days + trip.ready_days
    order_by = add_days(trip.departs_on, -ahead)
    return order_by, max(0, (today - order_by).days), add_days(today, ahead)


def shopping(shortages: Sequence[Shortage], limits: Limits) -> dict[str, int]:
    """Choose what to buy.

    Args:
        shortages: What the lines lack [thousandths].
        limits: What may be spent [minor units, g].

    Returns:
        Pieces to buy by part [thousandths].

    Source:
        Services first, then marginal analysis.

    Example:
        >>> oil = Need("a", 2000, date(2027, 4, 1), ("a",))
        >>> lack = Shortage(Part("a", cost=1000), "B", (oil,), 2000, 0, 0, 0, Demand())
        >>> shopping([lack], Limits(cost=1500))
        {'a': 1000}
    """
    everything = {s.part.id: packed(s.part, s.short) for s in shortages}
    purse = Purse(limits)
    if all(purse.pay(s.part, everything[s.part.id]) for s in shortages):
        return everything
    purse = Purse(limits)
    bought = {s.part.id: 0 for s in shortages}
    if not _buy(_by_day(shortages), purse, bought):
        return bought
    carried = sorted((s for s in shortages if s.carried), key=lambda s: s.weight)
    _buy([(s.part, s.for_service + s.carried) for s in carried], purse, bought)
    _buy_best([s for s in shortages if s.short > bought[s.part.id]], purse, bought)
    return bought


@dataclass
class Purse:
    """Money [minor units] and mass [g] left under limits."""

    limits: Limits

    def pay(self, part: Part, quantity: int) -> bool:
        """Take a quantity [thousandths] off what is left, if it is within the limits."""
        if not self.can_pay(part, quantity):
            return False
        cost, mass = cost_of(part, quantity) or 0, mass_of(part, quantity) or 0
        self.limits = self.limits._replace(
            cost=None if self.limits.cost is None else self.limits.cost - cost,
            mass_g=None if self.limits.mass_g is None else self.limits.mass_g - mass)
        return True

    def can_pay(self, part: Part, quantity: int) -> bool:
        """Tell whether a quantity [thousandths] is within what is left."""
        return self.limits.allow(cost_of(part, quantity) or 0, mass_of(part, quantity) or 0)


def _by_day(shortages: Sequence[Shortage]) -> list[tuple[Part, int]]:
    """Parts with the pieces wanted of each up to a service, the earliest services first."""
    found, so_far = [], dict.fromkeys((s.part.id for s in shortages), 0)
    for _, _, place, quantity in sorted(
            (want.day, s.weight, place, want.quantity) for place, s in enumerate(shortages)
            for want in s.services):
        part = shortages[place].part
        so_far[part.id] += quantity
        found.append((part, so_far[part.id]))
    return found


def _buy(
    wanted: Sequence[tuple[Part, int]], purse: Purse, bought: dict[str, int]
) -> bool:
    """Buy in packs, each part up to so many; tells whether all of it could be bought."""
    complete = True
    for part, pieces in wanted:
        packs = -(-max(0, pieces - bought[part.id]) // part.pack)
        # the number of packs that can still be paid, found by halving: there may be very many
        paid = bisect_right(range(1, packs + 1), False, key=lambda n: not purse.can_pay(
            part, n * part.pack))
        purse.pay(part, paid * part.pack)
        bought[part.id] += paid * part.pack
        complete = complete and paid == packs
    return complete


def _buy_best(shortages: Sequence[Shortage], purse: Purse, bought: dict[str, int]) -> None:
    lines = []
    for shortage in shortages:
        part, have = shortage.part, shortage.spares + max(
            0, bought[shortage.part.id] - shortage.for_service)
        useful = (len(shortage.demand.pmf) - 1) * shortage.demand.step - have
        packs = -(-max(0, min(shortage.short - bought[part.id], useful)) // part.pack)
        lines.append(Line(part.id, tuple(
            shortage.demand.protection(have + j * part.pack) for j in range(packs + 1)),
            cost_of(part, part.pack) or 0, mass_of(part, part.pack) or 0))
    kit = best_kit(lines, purse.limits)
    for shortage, packs in zip(shortages, kit.buy, strict=True):
        bought[shortage.part.id] += packs * shortage.part.pack


def _half_up(thousandths: int) -> int:
    return (2 * thousandths + WHOLE) // (2 * WHOLE)
