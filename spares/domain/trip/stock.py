"""Which pieces aboard can serve which need.

A piece serves a need if it may sit there and is not out of date on the day of the need
(it is usable through its expiry day). It must be aboard, counted, not suspect and not
reserved. The earliest expiry goes first. Where parts stand in for one another the pieces
are shared out so that as many needs as possible are met, the more pressing ones first.
"""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Iterable, Sequence, Set
from dataclasses import dataclass, field
from datetime import date
from operator import attrgetter
from typing import NamedTuple

from spares.domain.trip.request import Lot

SERVICE, FAILURE, CARRIED = 0, 1, 2     # ranks of needs, the most pressing first


class Need(NamedTuple):
    """Pieces [thousandths] wanted for a line on a day, and the parts that can serve it."""

    line: str
    quantity: int
    day: date
    choices: tuple[str, ...]
    rank: int = SERVICE


@dataclass(eq=False)
class Bin:
    """Usable pieces left [thousandths] of one part with one expiry."""

    part: str
    left: int
    expires: date | None = None

    def good_on(self, day: date) -> bool:
        """Tell whether its pieces are still in date on a day."""
        return self.expires is None or self.expires >= day


class Taken(NamedTuple):
    """Pieces [thousandths] of a bin given to a need."""

    need: Need
    bin: Bin
    quantity: int


@dataclass
class Shared:
    """Who got what; `met` counts pieces [thousandths] by line and rank."""

    taken: dict[str, list[Taken]] = field(default_factory=lambda: defaultdict(list))
    met: dict[tuple[str, int], int] = field(default_factory=lambda: defaultdict(int))

    def give(self, need: Need, bin_: Bin, quantity: int) -> None:
        """Note that a need got pieces [thousandths] of a bin."""
        self.taken[need.line].append(Taken(need, bin_, quantity))
        self.met[need.line, need.rank] += quantity

    def met_in_all(self, line: str) -> int:
        """Pieces [thousandths] a line got in all."""
        return sum(self.met.get((line, rank), 0) for rank in (SERVICE, FAILURE, CARRIED))


def usable_bins(lots: Iterable[Lot], stranded: Set[str]) -> dict[str, list[Bin]]:
    """Turn lots into the pieces that may count at all, earliest expiry first.

    Args:
        lots: What lies where [thousandths].
        stranded: Parts that fit nothing as fitted today [-].

    Returns:
        Bins by part [thousandths].

    Source:
        Counting rule of this project.

    Example:
        >>> [b.left for b in usable_bins([Lot("a", 3000, reserved=1000)], set())["a"]]
        [2000]
    """
    bins: dict[str, list[Bin]] = {}
    for lot in lots:
        if (lot.aboard and lot.counted and lot.condition != "suspect"
                and lot.part not in stranded and (lot.quantity or 0) > lot.reserved):
            bins.setdefault(lot.part, []).append(
                Bin(lot.part, lot.quantity - lot.reserved, lot.expires))
    for of_part in bins.values():
        of_part.sort(key=lambda b: b.expires or date.max)
    return bins


def share_out(needs: Sequence[Need], bins: dict[str, list[Bin]]) -> Shared:
    """Meet as many needs as possible from the bins, which are emptied accordingly.

    Args:
        needs: What is wanted [thousandths].
        bins: What there is, by part [thousandths]; changed in place.

    Returns:
        Who got what [thousandths].

    Source:
        One part: by day, earliest expiry first. Stand-ins: augmenting paths (Ford and
        Fulkerson), which never take back from a need that was served before.

    Example:
        >>> first = Need("a", 1000, date(2027, 4, 1), ("a",))
        >>> share_out([first], {"a": [Bin("a", 3000)]}).met["a", SERVICE]
        1000
    """
    result = Shared()
    for group in _groups(needs):
        choices = dict.fromkeys(part for need in group for part in need.choices)
        ready = [b for part in choices for b in bins.get(part, ()) if b.left > 0]
        if not ready:
            continue
        if len(choices) == 1:
            _by_day(group, ready, result)
        else:
            _by_paths(group, ready, result)
    return result


def _groups(needs: Sequence[Need]) -> Iterable[list[Need]]:
    """Part needs into groups that have no part in common."""
    leader: dict[str, str] = {}

    def find(part: str) -> str:
        while leader.setdefault(part, part) != part:
            part = leader[part]
        return part

    for choices in {need.choices for need in needs if len(need.choices) > 1}:
        for part in choices:
            leader[find(part)] = find(choices[0])
    groups: dict[str, list[Need]] = {}
    for need in needs:
        if need.choices:
            first = need.choices[0]
            groups.setdefault(find(first) if first in leader else first, []).append(need)
    return groups.values()


def _by_day(needs: list[Need], bins: list[Bin], result: Shared) -> None:
    for need in sorted(needs, key=attrgetter("day", "rank")):
        wanted = need.quantity
        for bin_ in bins:
            taken = min(wanted, bin_.left) if bin_.good_on(need.day) else 0
            if taken > 0:
                bin_.left -= taken
                wanted -= taken
                result.give(need, bin_, taken)


def _by_paths(needs: list[Need], bins: list[Bin], result: Shared) -> None:
    given: dict[tuple[int, int], int] = {}
    order = sorted(needs, key=lambda n: (n.rank, n.day))
    serves = [
        sorted((b for b, bin_ in enumerate(bins)
                if bin_.part in need.choices and bin_.good_on(need.day)),
               key=lambda b, need=need: (need.choices.index(bins[b].part),
                                         bins[b].expires or date.max))
        for need in order]
    for n, need in enumerate(order):
        wanted = need.quantity
        while wanted > 0 and (path := _path(n, serves, bins, given)) is not None:
            moved = min([wanted, bins[path[-1][1]].left,
                         *(given[n2, b] for (_, b), (n2, _) in zip(path, path[1:], strict=False))])
            for (n1, b), after in zip(path, [*path[1:], None], strict=True):
                given[n1, b] = given.get((n1, b), 0) + moved
                if after is not None:
                    given[after[0], b] -= moved
            bins[path[-1][1]].left -= moved
            wanted -= moved
    for (n, b), quantity in given.items():
        if quantity > 0:
            result.give(order[n], bins[b], quantity)


def _path(
    start: int, serves: list[list[int]], bins: list[Bin], given: dict[tuple[int, int], int]
) -> list[tuple[int, int]] | None:
    """Find pairs (need, bin): each need moves on to the next bin, the last bin has some left."""
    holders: dict[int, list[int]] = {}
    for (n, b), quantity in given.items():
        if quantity > 0:
            holders.setdefault(b, []).append(n)
    queue, came = deque([start]), {start: ()}
    seen: set[int] = set()
    while queue:
        n = queue.popleft()
        for b in serves[n]:
            if b in seen:
                continue
            seen.add(b)
            way = (*came[n], (n, b))
            if bins[b].left > 0:
                return list(way)
            for holder in holders.get(b, ()):
                if holder not in came:
                    came[holder] = way
                    queue.append(holder)
    return None
