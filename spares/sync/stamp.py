"""When a change holds: stamps that the server gives, once, by age.

A phone cannot say when it is, but it can say how long ago a tap was: both its
readings come from one clock, so a constant error of that clock costs nothing.
The server turns the age into its own time, never earlier than anything the
author had seen, never later than the arrival. Where the clock of a phone or of
the server moved in between, the stamp is graded 1 (doubtful).

A stamp is text: 12 hex digits of milliseconds, `.`, 4 hex digits of a counter,
`.`, device number. Stamps are compared as ASCII text. "" is before all stamps.

Source: rules of this project.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

MINUTE_MS = 60_000
DAY_MS = 24 * 60 * MINUTE_MS

#: Two clocks that agree as closely as this count as agreeing: about four weeks of quartz drift.
CLOCK_TOLERANCE_MS = 2 * MINUTE_MS
#: The server's clock is set forward by a phone's word by at most this much.
GREATEST_LOST_MS = 60 * DAY_MS
#: A change cannot be older than this.
GREATEST_AGE_MS = 400 * DAY_MS

_GREATEST_MS = 16**12 - 1
_GREATEST_COUNT = 16**4 - 1


@dataclass(frozen=True)
class ServerClock:
    """What the server remembers of its time: last time given, and its correction [ms]."""

    last_ms: int = 0
    adj_ms: int = 0


def tick(clock: ServerClock, wall_ms: int) -> tuple[int, ServerClock]:
    """Give the server's time, later than every time it gave before.

    Args:
        clock: What the server remembers, stored in the same transaction.
        wall_ms: Its wall clock [ms since 1970].

    Returns:
        Server time S [ms] and the clock to store.

    Example:
        >>> tick(ServerClock(last_ms=500, adj_ms=0), 400)
        (501, ServerClock(last_ms=501, adj_ms=0))
    """
    now_ms = max(wall_ms + clock.adj_ms, clock.last_ms + 1)
    return now_ms, replace(clock, last_ms=now_ms)


def advance_to(clock: ServerClock, to_ms: int, wall_ms: int) -> ServerClock:
    """Correct the server's clock forward, so that it reads at least *to_ms* now [ms].

    The correction is measured from the wall clock: where the time given was
    only held up by the last one, adding the difference would not reach.
    """
    return replace(clock, adj_ms=max(clock.adj_ms, to_ms - wall_ms))


def offset_ms(now_ms: int, server_ms: int) -> int:
    """Give how far the phone's clock is ahead of the server's [ms]."""
    return now_ms - server_ms


def drift_ms(now_ms: int, server_ms: int, off_prev_ms: int | None) -> int:
    """Give how far the two clocks moved against each other since the last sync [ms].

    At the first sync (*off_prev_ms* None) it is the whole offset.
    """
    return offset_ms(now_ms, server_ms) - (off_prev_ms or 0)


def lost_time_ms(drift: int, *, restarted: bool, first: bool, stepped: bool,
                 trusted: bool) -> int:
    """Give how much time the server lost while it was off [ms], else 0.

    Small computers without a battery clock stand still while off; the first
    phone after a restart then seems to have run ahead.

    Args:
        drift: As `drift_ms` [ms].
        restarted: The server was started since this phone's last sync [-].
        first: This is the phone's first sync: nothing to compare with [-].
        stepped: The phone saw its own clock go backwards [-].
        trusted: The device may write (a guest's clock moves nothing) [-].
    """
    plausible = CLOCK_TOLERANCE_MS < drift <= GREATEST_LOST_MS
    return drift if plausible and restarted and trusted and not (first or stepped) else 0


def clock_is_good(drift: int, *, lost_ms: int, stepped: bool) -> bool:
    """Say whether ages told by this phone in this request can be trusted.

    Args:
        drift: As `drift_ms`, before the server's clock was corrected [ms].
        lost_ms: Time the server found that it had lost in this request [ms].
        stepped: The phone saw its own clock go backwards [-].
    """
    return abs(drift) <= CLOCK_TOLERANCE_MS and lost_ms == 0 and not stepped


def grade(now_ms: int, t_ms: int, *, good: bool, known_doubtful: bool,
          after_beyond: bool) -> int:
    """Grade one change: 0 if its stamp's time can be trusted, else 1.

    Args:
        now_ms: The phone's clock at sending [ms].
        t_ms: The phone's clock at the tap [ms].
        good: As `clock_is_good` [-].
        known_doubtful: The phone itself marked the change [-].
        after_beyond: The change claims to have seen a stamp of the future [-].
    """
    age_is_possible = 0 <= now_ms - t_ms <= GREATEST_AGE_MS
    return 0 if good and age_is_possible and not (known_doubtful or after_beyond) else 1


def age_ms(now_ms: int, t_ms: int) -> int:
    """Give how long ago the tap was [ms], cut to 0 ... 400 days."""
    return min(max(now_ms - t_ms, 0), GREATEST_AGE_MS)


def is_beyond(after: str, server_ms: int) -> bool:
    """Say whether *after* claims a time that the server has not reached.

    The server's time rises with each request, so every stamp that it gave
    earlier lies below the present *server_ms* [ms].
    """
    return after != "" and time_of(after) >= server_ms


def floor_of(previous_at: str, after: str, server_ms: int) -> str:
    """Give the stamp that the next one must exceed.

    The greater of the device's previous stamp and what the author had seen; an
    *after* of the future is ignored (capping it would give equal stamps).
    """
    return previous_at if is_beyond(after, server_ms) else max(previous_at, after)


def stamp(server_ms: int, now_ms: int, t_ms: int, lo_at: str, dev: str) -> str:
    """Give the stamp of a change: the server's time less its age, above *lo_at*.

    Args:
        server_ms: Server time of this request [ms].
        now_ms: The phone's clock at sending [ms].
        t_ms: The phone's clock at the tap [ms].
        lo_at: As `floor_of`, "" if there is none [-].
        dev: Device number [-].

    Example:
        >>> stamp(300, 1300, 1100, "", "b0000002")
        '000000000064.0000.b0000002'
    """
    ms, count = max(server_ms - age_ms(now_ms, t_ms), 0), 0
    if lo_at and ms <= time_of(lo_at):
        ms, count = time_of(lo_at), count_of(lo_at) + 1
        if count > _GREATEST_COUNT:
            ms, count = ms + 1, 0
    return stamp_text(ms, count, dev)


def fit_below(at: str, lo_at: str, n: int, above: list[tuple[int, str]], dev: str) -> str:
    """Bring the stamp of number *n* below those that the device's greater numbers have.

    One place is left for each number between: what is missing of them may come yet.

    Args:
        at: As `stamp` [-].
        lo_at: As `floor_of`, "" if there is none [-].
        n: The number of the change [1].
        above: Each greater number that has a stamp, with its stamp [-].
        dev: Device number [-].

    Returns:
        The stamp; *at* itself where nothing is free between *lo_at* and those above: the change
        had no stamp when they were given.

    Example:
        >>> fit_below('000000000099.0000.b0000002', '', 2, [(4, '000000000064.0001.b0000002')],
        ...           'b0000002')
        '000000000063.ffff.b0000002'
    """
    place = min(_place_of(later) - (number - n) for number, later in above)
    # Of one place the device numbers decide.
    least = _place_of(lo_at) + (dev <= lo_at[18:]) if lo_at else 0
    if place < least < min(_place_of(later) for _, later in above):
        place = least
    return at if place < least or _place_of(at) <= place else stamp_text(
        *divmod(place, _GREATEST_COUNT + 1), dev)


def _place_of(at: str) -> int:
    return time_of(at) * (_GREATEST_COUNT + 1) + count_of(at)


def stamp_text(ms: int, count: int, dev: str) -> str:
    """Write a stamp from its time [ms], counter [1] and device number."""
    return f"{min(ms, _GREATEST_MS):012x}.{count:04x}.{dev}"


def time_of(at: str) -> int:
    """Read the time of a stamp [ms]."""
    return int(at[:12], 16)


def count_of(at: str) -> int:
    """Read the counter of a stamp [1]."""
    return int(at[13:17], 16)


def holding(one_at: str, other_at: str) -> str:
    """Give the stamp that holds for a change that was accepted twice: the smaller."""
    return min(one_at, other_at)
