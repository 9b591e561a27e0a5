"""The bag of a job: a place of its own in which the kit of a service waits, gathered beforehand.

What lies in it is aboard and counts; other jobs take from it last.
"""

from __future__ import annotations

from collections.abc import Sequence

from spares.domain.aboard import Aboard, Lying, name_of
from spares.domain.identity import id_of, numbered_id, ref

NOT_BEGUN, BEGUN, SHORT, BAGGED = "not-begun", "begun", "short", "bagged"
STATES = (NOT_BEGUN, BEGUN, SHORT, BAGGED)


def bag_no(service_no: str) -> str:
    """Give the number of the bag of a service.

    Example:
        >>> bag_no("S08")
        'BAG-S08'
    """
    return f"BAG-{service_no}"


def bag_of(aboard: Aboard, service: str) -> str:
    """Name the bag of a service, whether it is there or not; any device calls it the same."""
    no = getattr(aboard.get(service), "no", None) or id_of(service)
    return ref("locker", numbered_id(aboard.vessel.id, "locker", bag_no(no)))


def bags(aboard: Aboard) -> dict[str, str]:
    """Give the bags that were begun, with the service of each."""
    if "bags" not in aboard.worked_out:
        names = [name_of("service", one) for one in aboard.all("service")]
        named = {bag_of(aboard, name): name for name in names}
        aboard.worked_out["bags"] = {bag: name for bag, name in named.items()
                                     if aboard.get(bag) is not None}
    found: dict[str, str] = aboard.worked_out["bags"]
    return found


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

    Raises:
        Nothing.

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
