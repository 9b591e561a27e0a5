"""Whether pieces that lie somewhere can be used, and how a count is called.

Usable: aboard, not suspect, not lent, not out of date on the day, fitting something
as fitted today. What nobody counted or knows is never called enough.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, NamedTuple

from spares.domain.aboard import Aboard, Lying, Record
from spares.domain.identity import id_of, joined_id, ref
from spares.domain.tree import stranded_names

NEW = "new"


class Place(NamedTuple):
    """A locker as people know it, and what follows from it for all that lies there."""

    no: str | None
    id: str
    name: str | None
    code: str | None
    lent_to: str | None
    label: str
    is_known: bool
    is_aboard: bool
    is_reachable: bool


class Stowed(NamedTuple):
    """Pieces as they lie, with what their place, their lot and a doubt say of them."""

    lying: Lying
    place: Place
    lot: Record | None
    condition: str
    expires: str | None
    doubt: Record | None


def stowed(aboard: Aboard, one: Lying) -> Stowed:
    """Look up all that an answer says of pieces, once."""
    part, locker, lot = one[:3]
    record = aboard.get(lot)
    return Stowed(one, place_of(aboard, locker), record, _condition(record), _expires(record),
                  doubted(aboard, part, locker))


def condition_of(aboard: Aboard, one: Lying) -> str:
    """Give the condition of pieces: new, used-good or suspect."""
    return _condition(aboard.get(one.lot))


def _condition(lot: Record | None) -> str:
    return (lot.condition if lot is not None else None) or NEW


def expires_of(aboard: Aboard, one: Lying) -> str | None:
    """Give the day through which pieces may be used, None if there is none."""
    return expires_of_lot(aboard, one.lot)


def expires_of_lot(aboard: Aboard, lot: str) -> str | None:
    """Give the day through which a lot may be used; the plain lot has none."""
    return _expires(aboard.get(lot))


def _expires(lot: Record | None) -> str | None:
    return lot.expires if lot is not None else None


def earliest_expiry(expires: str) -> str:
    """Give the earliest day that an expiry cut short can mean.

    Example:
        >>> earliest_expiry("2027-03"), earliest_expiry("2027")
        ('2027-03-01', '2027-01-01')
    """
    return (expires + "-01-01")[:10]


def doubt_name(part: str, locker: str) -> str:
    """Name the document of a doubt about a part in a locker."""
    return ref("count-doubt", joined_id("count-doubt", part, locker))


def doubted(aboard: Aboard, part: str, locker: str) -> Any | None:
    """Give the doubt about the count of a part in a locker, None where nobody doubts it."""
    if not aboard.docs.get("count-doubt"):
        return None
    found = aboard.get(doubt_name(part, locker))
    return None if found is None or found.gone else found


def is_lent(aboard: Aboard, one: Lying) -> bool:
    """Say whether pieces are with a borrower."""
    return bool(place_of(aboard, one.locker).lent_to)


def counts_as_aboard(aboard: Aboard, one: Lying) -> bool:
    """Say whether pieces are aboard: neither ashore nor lent."""
    return place_of(aboard, one.locker).is_aboard


def place_is_aboard(aboard: Aboard, name: str | None) -> bool:
    """Say whether a locker is aboard: neither it nor what it lies in is ashore or lent."""
    return place_of(aboard, name).is_aboard


def is_reachable(aboard: Aboard, name: str | None) -> bool:
    """Say whether a locker can be got at under way, with all that it lies in."""
    return place_of(aboard, name).is_reachable


def place_of(aboard: Aboard, name: str | None) -> Place:
    """Say what a locker makes of all that lies in it; kept by its name."""
    known: dict[str | None, Place] = aboard.worked_out.setdefault("places", {})
    return known.get(name) or known.setdefault(name, _place(aboard, name))


def _place(aboard: Aboard, name: str | None) -> Place:
    one, within = aboard.get(name), around(aboard, name)
    head = (None, id_of(name or ""), "a locker not recorded yet", None, None) if one is None else (
        one.no, one.id, one.name, one.code, one.lent_to)
    return Place(*head, aboard.label(name), one is not None,
                 all(each.aboard is not False and not each.lent_to for each in within),
                 all(each.reachable is not False for each in within))


def around(aboard: Aboard, name: str | None) -> list[Any]:
    """Give a locker and what it lies in, from the inside out; a ring ends."""
    found: list[Any] = []
    while (locker := aboard.get(name)) is not None and locker not in found:
        found.append(locker)
        name = locker.parent
    return found


def usable_on(aboard: Aboard, one: Lying, day: str) -> bool:
    """Say whether pieces can be used on *day* (ISO).

    A piece may be used through its expiry day.
    """
    return is_usable(aboard, stowed(aboard, one), day)


def is_usable(aboard: Aboard, at: Stowed, day: str) -> bool:
    """Say the same of pieces that were looked up already."""
    return (at.place.is_aboard and at.condition != "suspect"
            and (not at.expires or earliest_expiry(at.expires) >= day)
            and at.lying.part not in stranded_names(aboard))


def count_state(lying: Sequence[Any], usable: int, need: int | None) -> str | None:
    """Call a count: enough, low, none, not-counted; None where nothing is wanted.

    Args:
        lying: Where pieces lie, each with `counted` [-].
        usable: Pieces that can be used [thousandths].
        need: Pieces wanted, None if nothing asks for any [thousandths].

    Example:
        >>> count_state([], 0, 2000), count_state([], 1000, 2000), count_state([], 2000, 2000)
        ('none', 'low', 'enough')
    """
    for one in lying:
        if not one.counted:
            return "not-counted"
    if not need:
        return None
    if usable >= need:
        return "enough"
    return "low" if usable > 0 else "none"
