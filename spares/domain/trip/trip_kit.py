"""What more money or mass would buy: the failure spares of a trip beyond the sure demand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from spares.domain.provision.climb import Limits
from spares.domain.provision.hull import Line
from spares.domain.provision.kit import Kit, best_kit
from spares.domain.trip.buying import Shortage, cost_of, mass_of, packed

MOST_PACKS = 60
ENOUGH = 0.999999       # of one line; nobody wants to see more of its curve
BEST_LEVEL = 0.999
NO_LIMITS = Limits()


class TripKit(NamedTuple):
    """The kit, the parts its lines are about, and what the sure demand takes first.

    `unpriced` are the parts that no money can be compared for: they stay as they are.
    """

    kit: Kit
    parts: tuple[str, ...]
    packs: tuple[int, ...]      # pieces in a pack of each part [thousandths]
    sure_cost: int              # [minor units]
    sure_mass_g: int            # [g]
    unpriced: tuple[str, ...]


def trip_kit(
    shortages: Sequence[Shortage], limits: Limits = NO_LIMITS, level: float | None = None
) -> TripKit:
    """Choose failure spares within limits, or most cheaply at a level of the whole trip.

    What services take and what is carried in any case is bought first; the limits are for
    both together. Without limits and level the whole curve is shown.

    Args:
        shortages: What each line lacks and its failure demand [thousandths].
        limits: What may be spent in all, inclusive [minor units, g].
        level: Protection of the whole trip to reach [1], in (0, 1).

    Returns:
        The kit [pack, minor units, g, 1].

    Raises:
        OutOfRange: if the level cannot be reached.

    Source:
        Marginal analysis, as `best_kit`.

    Example:
        >>> trip_kit([]).kit.buy
        ()
    """
    sure = [packed(s.part, s.for_service + s.carried) for s in shortages]
    cost = sum(cost_of(s.part, q) or 0 for s, q in zip(shortages, sure, strict=True))
    mass = sum(mass_of(s.part, q) or 0 for s, q in zip(shortages, sure, strict=True))
    by_money = limits.cost is not None or level is not None or limits.mass_g is None
    lines, unpriced = [], []
    for shortage, bought in zip(shortages, sure, strict=True):
        line = _line(shortage, bought - shortage.for_service)
        if len(line.levels) > 1 and (shortage.part.cost is None if by_money
                                     else shortage.part.mass_g is None):
            unpriced.append(shortage.part.id)
            line = replace(line, levels=line.levels[:1])
        lines.append(line)
    kit = _best(lines, limits, level, cost, mass)
    return TripKit(kit, tuple(s.part.id for s in shortages),
                   tuple(s.part.pack for s in shortages), cost, mass, tuple(unpriced))


def _best(lines: Sequence[Line], limits: Limits, level: float | None, cost: int,
          mass: int) -> Kit:
    if level is None and (limits.cost is not None or limits.mass_g is not None):
        left = Limits(None if limits.cost is None else max(0, limits.cost - cost),
                      None if limits.mass_g is None else max(0, limits.mass_g - mass))
        return best_kit(lines, left)
    if level is None:
        most = 1.0
        for line in lines:
            most *= line.levels[-1]
        level = min(BEST_LEVEL, most * (1 - 1e-9)) if lines else None
    return best_kit(lines, None, level) if level else best_kit(lines, Limits(0, 0))


def _line(shortage: Shortage, more: int) -> Line:
    """Protection of one line by packs bought beyond the sure demand."""
    part, have = shortage.part, shortage.spares + more
    levels = [shortage.demand.protection(have)]
    while levels[-1] < ENOUGH and len(levels) <= MOST_PACKS and not shortage.demand.is_none:
        levels.append(shortage.demand.protection(have + len(levels) * part.pack))
    return Line(part.id, tuple(levels), cost_of(part, part.pack) or 0,
                mass_of(part, part.pack) or 0)
