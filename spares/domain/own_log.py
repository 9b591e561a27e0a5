"""Failures recorded aboard: which part failed, where, when; and in how many hours.

A part failed where an exchange says so of what sat there before, or where a service
says that it had failed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import NamedTuple

from spares.domain.aboard import Aboard
from spares.domain.dates import earliest_day

FAILED = "failed"


class FailedOnce(NamedTuple):
    """One failure of a part on a machine; names of documents, day "" where not known."""

    part: str
    machine: str
    date: str


def failures_aboard(aboard: Aboard) -> Iterator[FailedOnce]:
    """Give every failure that was recorded.

    Args:
        aboard: The vessel [-].

    Returns:
        Part, machine and day of each [-].

    Source:
        Counting rule of this project.

    Example:
        >>> list(failures_aboard(Aboard(None, {})))
        []
    """
    for point, history in aboard.fitted_at.items():
        place = aboard.get(point)
        before = ""
        for one in history:
            if one.why == FAILED and before and place is not None:
                yield FailedOnce(before, place.machine or "", one.date)
            before = one.part
    for record in aboard.done:
        for part in record.failed:
            yield FailedOnce(part, record.machine, record.date)


def hours_seen(days: Mapping[date, int], since: str = "") -> int:
    """Give the running that a counter has shown, from its first reading or a day on.

    Args:
        days: Running total at each trusted reading, oldest first [min].
        since: Only what was run from this day on counts, ISO; "" for all [-].

    Returns:
        Running [min].

    Source:
        Last reading less the first one that counts.

    Example:
        >>> hours_seen({date(2027, 1, 1): 600, date(2027, 3, 1): 1800})
        1200
    """
    if not days:
        return 0
    totals = list(days.values())
    first = totals[0]
    if since:
        begin = earliest_day(since)
        first = max((total for on, total in days.items() if on <= begin), default=first)
    return max(0, totals[-1] - first)
