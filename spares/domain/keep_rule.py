"""Which of the backups made by themselves are kept: a few days, weeks and months back."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

DAILY, WEEKLY, MONTHLY = 7, 4, 12


def to_keep(made: Iterable[datetime]) -> set[datetime]:
    """Choose the backups to keep: the newest of each of the last days, weeks and months.

    Days, weeks (ISO 8601) and months without a backup do not count, so that a computer
    that lay switched off over winter keeps what it had.

    Args:
        made: When each was made.

    Returns:
        Those to keep: at most 7 daily, 4 weekly and 12 monthly ones.

    Source:
        Common practice, no source.

    Example:
        >>> len(to_keep(datetime(2027, 3, day, 2) for day in range(1, 29)))
        10
    """
    newest_first = sorted(made, reverse=True)
    kept: set[datetime] = set()
    for period, most in (("%Y-%m-%d", DAILY), ("%G-%V", WEEKLY), ("%Y-%m", MONTHLY)):
        first_of: dict[str, datetime] = {}
        for one in newest_first:
            first_of.setdefault(one.strftime(period), one)
        kept |= set(list(first_of.values())[:most])
    return kept
