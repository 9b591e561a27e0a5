"""When the bytes of a photo that somebody removed may go from the disk."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

DAY_MS = 86_400_000
#: How long bytes of a removed photo stay: a phone may be away for weeks and name it again.
REMOVED_KEPT_MS = 90 * DAY_MS


@dataclass(frozen=True)
class BackupThere:
    """A backup that can be put back: when it was made [ms since 1970], and whether it has them."""

    made_ms: int
    holds_bytes: bool


def may_go(removed_ms: int, now_ms: int, backups: Iterable[BackupThere]) -> bool:
    """Say whether the bytes of a photo may be deleted, of which no change stands any more.

    They stay for 90 days after the last change that named them was undone. They stay as long
    as there is a backup from before that which does not hold them itself: put back, it would
    show a photo whose bytes are nowhere. A backup that holds them brings them along.

    Args:
        removed_ms: When the last change that named them was undone [ms since 1970].
        now_ms: Now [ms since 1970].
        backups: Those that are kept.

    Source:
        Common practice, no source.

    Example:
        >>> may_go(0, 91 * DAY_MS, [BackupThere(made_ms=-1, holds_bytes=True)])
        True
        >>> may_go(0, 91 * DAY_MS, [BackupThere(made_ms=-1, holds_bytes=False)])
        False
    """
    return now_ms - removed_ms > REMOVED_KEPT_MS and all(
        one.holds_bytes or one.made_ms > removed_ms for one in backups)
