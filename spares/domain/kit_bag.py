"""The bag of a job: a place of its own in which the kit of a service waits, gathered beforehand.

What lies in it is aboard and counts; other jobs take from it last.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence

from spares.domain.aboard import Aboard, Lying, name_of
from spares.domain.identity import id_of, joined_id, ref

NOT_BEGUN, BEGUN, SHORT, BAGGED = "not-begun", "begun", "short", "bagged"
STATES = (NOT_BEGUN, BEGUN, SHORT, BAGGED)


def bag_no(service_no: str, taken: Collection[str] = ()) -> str:
    """Give the number of a bag begun for a service, another one where a place bears it.

    Example:
        >>> bag_no("S08"), bag_no("S08", {"BAG-S08", "BAG-S08-2"})
        ('BAG-S08', 'BAG-S08-3')
    """
    no, more = f"BAG-{service_no}", 2
    while no.upper() in taken:
        no, more = f"BAG-{service_no}-{more}", more + 1
    return no


def bag_of(aboard: Aboard, service: str) -> str:
    """Name the bag of a service, whether it is there or not; any device calls it the same.

    It follows the service itself: its number may go to another one.
    """
    return ref("locker", joined_id("locker", aboard.vessel.id, "bag", id_of(service)))


def bags(aboard: Aboard) -> dict[str, str]:
    """Give the bags that are there, with the service of each, be it off the books by now."""
    if "bags" not in aboard.worked_out:
        named = {bag_of(aboard, name): name for name in (
            name_of("service", one) for one in aboard.docs.get("service", {}).values())}
        aboard.worked_out["bags"] = {bag: name for bag, name in named.items()
                                     if is_there(aboard, bag)}
    found: dict[str, str] = aboard.worked_out["bags"]
    return found


def is_there(aboard: Aboard, place: str) -> bool:
    """Say whether a place is on the books."""
    record = aboard.get(place)
    return record is not None and not record.gone


def is_empty_bag(aboard: Aboard, place: str) -> bool:
    """Say whether a place is a job's bag in which nothing lies: no list needs it."""
    return place in bags(aboard) and not any(
        one.quantity or not one.counted for one in aboard.lying_in.get(place, []))


def own_bag_first(aboard: Aboard, service: str, lying: Sequence[Lying]) -> list[Lying]:
    """Order places for a job: its own bag, the lockers as they come, other jobs' bags."""
    own, known = bag_of(aboard, service), bags(aboard)
    return sorted(lying, key=lambda one: (one.locker != own, one.locker in known))


def state_of(lines: Sequence[tuple[int, int, int]]) -> str:
    """Say how far a kit is gathered.

    Args:
        lines: Needed, in the bag, and still to be had elsewhere [thousandths].

    Returns:
        One of `STATES`: short is gathered as far as it can be, with something missing [-].

    Source:
        Common practice, no source.

    Example:
        >>> state_of([(1000, 1000, 0), (2000, 1000, 0)]), state_of([(1000, 0, 3000)])
        ('short', 'not-begun')
        >>> state_of([(1000, 1000, 0), (2000, 1000, 1000)]), state_of([(1000, 1000, 0)])
        ('begun', 'bagged')
    """
    if not any(bagged for _, bagged, _ in lines):
        return NOT_BEGUN
    missing = [(needed, bagged, there) for needed, bagged, there in lines if bagged < needed]
    if not missing:
        return BAGGED
    return BEGUN if any(there for _, _, there in missing) else SHORT
