"""Trail of a broken piece: where it may lie downstream, and whether the machine may run.

A trail says how many pieces are missing and lists the places downstream in flow order. It is
closed when every piece is found, or when somebody accepts in writing what stays missing. Two
phones may work on one trail apart; where what they wrote differs, the reading that keeps the
machine stopped holds until a person settles it. Nothing here is stored: the mark *do not run*
is worked out each time.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from spares.domain.aboard import Aboard, Record, name_of

OPEN, FOUND, ACCEPTED = "open", "found", "accepted"


class Gap(NamedTuple):
    """How many pieces are missing, found and left [pieces]; None: nobody knows.

    `left` below zero: more was found than is said to be missing, so one number is wrong.
    """

    missing: int | None
    found: int

    @property
    def left(self) -> int | None:
        """What is not found yet [pieces]."""
        return None if self.missing is None else self.missing - self.found


class Said(NamedTuple):
    """One trail as all devices wrote it: each member holds every value that still stands.

    `looks` has one member for each place, None for a place where nobody looked.
    """

    missing: tuple[int | None, ...] = (None,)
    looks: tuple[tuple[Mapping[str, Any] | None, ...], ...] = ()
    accepted: tuple[Mapping[str, Any] | None, ...] = (None,)
    gone: bool = False
    disputed: tuple[str, ...] = ()


def gap(said: Said) -> Gap:
    """Count what is missing and found; of differing numbers the worse holds.

    Args:
        said: The trail [-].

    Returns:
        The highest number said to be missing, None where one of them is not known, and the
        sum over the places of the lowest number found [pieces].

    Raises:
        Nothing.

    Source:
        Counting rule of this project.

    Example:
        >>> gap(Said((1, 2), (({"found": 1}, None), ({"found": 1},))))
        Gap(missing=2, found=1)
    """
    missing = None if None in said.missing or not said.missing else max(
        one for one in said.missing if one is not None)
    return Gap(missing, sum(min(found_in(look) for look in looks) for looks in said.looks))


def found_in(look: Mapping[str, Any] | None) -> int:
    """Give how many pieces a look found [pieces]; 0 where nobody looked."""
    return int((look or {}).get("found") or 0)


def covers(accepted: Mapping[str, Any] | None, left: int | None) -> bool:
    """Say whether what somebody accepted covers what is left.

    Args:
        accepted: `pieces` is how many were left when it was written, None for not known;
            None for no acceptance [-].
        left: What is left now [pieces]; None: not known.

    Returns:
        Whether it was written with name and reason, for at least as many pieces. What nobody
        could count then covers only what nobody can count now [-].

    Source:
        Rule of this project.

    Example:
        >>> one = {"by": "Tove", "why": "seen to be out of the pipe", "pieces": 1}
        >>> covers(one, 1), covers(one, 2), covers(one, None), covers(None, 1)
        (True, False, False, False)
    """
    if not accepted or not accepted.get("by") or not accepted.get("why"):
        return False
    pieces = accepted.get("pieces")
    if left is None or pieces is None:
        return left is None and pieces is None
    return bool(0 < left <= pieces)


def lefts(said: Said) -> frozenset[int | None]:
    """Give every number of pieces that may be left, as the devices that differ have it.

    Args:
        said: The trail [-].

    Returns:
        Missing less found for each choice among the values that stand; one number where all
        devices agree [pieces]; None: nobody knows.

    Source:
        Counting rule of this project.

    Example:
        >>> sorted(lefts(Said((2,), (({"found": 1}, None),))))
        [1, 2]
    """
    sums = {0}
    for looks in said.looks:
        sums = {one + found for one in sums for found in set(map(found_in, looks))}
    return frozenset(None if missing is None else missing - found
                     for missing in said.missing or (None,) for found in sums)


def state_of(said: Said) -> str:
    """Say how a trail stands: open, found (all pieces), accepted (in writing).

    Args:
        said: The trail [-].

    Returns:
        `found` where every piece is found, `accepted` where each acceptance that stands covers
        what is left, else `open`. Where devices differ it is closed only if each of them would
        have it closed; where they differ in what broke it is open [-].

    Source:
        Rule of this project; that broken impeller pieces block the first cooler in line is
        common practice, no source.

    Example:
        >>> state_of(Said((1,), ((None,), ({"found": 1},))))
        'found'
        >>> state_of(Said((1,), ((None,),)))
        'open'
    """
    left = lefts(said)
    if said.disputed:
        return OPEN
    if left == {0}:
        return FOUND
    whole = bool(said.accepted) and all(
        covers(one, some) for one in said.accepted for some in left - {0})
    return ACCEPTED if whole else OPEN


def next_place(said: Said) -> int | None:
    """Give the first place in flow order where nobody looked, None where there is none.

    Example:
        >>> next_place(Said((1,), (({"found": 0},), (None,), (None,))))
        1
    """
    return next((at for at, looks in enumerate(said.looks) if None in looks), None)


def is_open(said: Said) -> bool:
    """Say whether the trail keeps its machine stopped."""
    return not said.gone and state_of(said) == OPEN


# -- of one vessel --------------------------------------------------------------------------

#: Fields in which devices that differ have two breakages, or a slip, in one trail.
WHAT_BROKE = ("machine", "what")


def said_of(aboard: Aboard, trail: Record) -> Said:
    """Give what all devices wrote of one trail."""
    name = name_of("trail", trail)
    told = aboard.rivals.get(name, {})
    return Said(told.get("missing", (trail.missing,)),
                tuple(aboard.rivals.get(name_of("trail-place", place), {}).get(
                    "look", (place.look,)) for place in places_of(aboard, name)),
                told.get("accepted", (trail.accepted,)), trail.gone,
                tuple(one for one in WHAT_BROKE if one in told))


def places_of(aboard: Aboard, trail: str) -> list[Record]:
    """Give the places of a trail in flow order."""
    return sorted(aboard.by("trail-place", "trail").get(trail, ()),
                  key=lambda one: (one.position or 0, one.id))


def open_trails(aboard: Aboard) -> dict[str, list[Record]]:
    """Give the open trails by the name of their machine: those machines must not run."""
    found: dict[str, list[Record]] | None = aboard.worked_out.get("open trails")
    if found is not None:       # asked for each service
        return found
    found = aboard.worked_out["open trails"] = {}
    for trail in aboard.all("trail"):
        if is_open(said_of(aboard, trail)):
            told = aboard.rivals.get(name_of("trail", trail), {}).get("machine", (trail.machine,))
            for machine in dict.fromkeys(told):
                found.setdefault(machine, []).append(trail)
    return found


def do_not_run(aboard: Aboard, machine: str | None) -> list[str]:
    """Give the numbers of the trails for which a machine must not run."""
    return [one.no for one in open_trails(aboard).get(machine or "", [])]

