"""Whether pieces that lie somewhere can be used, and how a count is called.

Usable: aboard, not suspect, not lent, not out of date on the day, fitting something
as fitted today. What nobody counted or knows is never called enough.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from spares.domain.aboard import Aboard, Lying
from spares.domain.identity import joined_id, ref
from spares.domain.tree import stranded_names

NEW = "new"


def condition_of(aboard: Aboard, one: Lying) -> str:
    """Give the condition of pieces: new, used-good or suspect."""
    lot = aboard.get(one.lot)
    return (lot.condition if lot is not None else None) or NEW


def expires_of(aboard: Aboard, one: Lying) -> str | None:
    """Give the day through which pieces may be used, None if there is none."""
    return expires_of_lot(aboard, one.lot)


def expires_of_lot(aboard: Aboard, lot: str) -> str | None:
    """Give the day through which a lot may be used; the plain lot has none."""
    record = aboard.get(lot)
    return record.expires if record is not None else None


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
    locker = aboard.get(one.locker)
    return bool(locker is not None and locker.lent_to)


def counts_as_aboard(aboard: Aboard, one: Lying) -> bool:
    """Say whether pieces are aboard: neither ashore nor lent."""
    return place_is_aboard(aboard, one.locker)


def place_is_aboard(aboard: Aboard, name: str | None) -> bool:
    """Say whether a locker is aboard: neither it nor what it lies in is ashore or lent."""
    return _place(aboard, name)[0]


def is_reachable(aboard: Aboard, name: str | None) -> bool:
    """Say whether a locker can be got at under way, with all that it lies in."""
    return _place(aboard, name)[1]


def _place(aboard: Aboard, name: str | None) -> tuple[bool, bool]:
    """Say of a locker whether it is aboard, and whether it can be got at; kept by its name."""
    known = aboard.worked_out.setdefault("places", {})
    if name not in known:
        found = around(aboard, name)
        known[name] = (all(one.aboard is not False and not one.lent_to for one in found),
                       all(one.reachable is not False for one in found))
    return known[name]


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
    expires = expires_of(aboard, one)
    return (counts_as_aboard(aboard, one) and condition_of(aboard, one) != "suspect"
            and (not expires or earliest_expiry(expires) >= day)
            and one.part not in stranded_names(aboard))


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
    if any(not one.counted for one in lying):
        return "not-counted"
    if not need:
        return None
    if usable >= need:
        return "enough"
    return "low" if usable > 0 else "none"
