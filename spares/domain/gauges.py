"""Which readings of a gauge speak of its trend, and what they say beside the book's limits."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from typing import Any, NamedTuple

from spares.domain.trend import CLIMBS, FALLS, STEADY, TOO_FEW, Trend, trend, until

OVER, UNDER, WITHIN, NO_LIMIT, NOT_READ = "over", "under", "within", "no-limit", "not-read"
STATES = (OVER, UNDER, WITHIN, NO_LIMIT, NOT_READ)
TRENDS = (CLIMBS, FALLS, STEADY, TOO_FEW)
#: In a test run an engine is cold at first: what is read before says nothing of a trend.
WARM_MIN = 15
#: Readings at a load or speed so far from that of the last are another matter [%], [share].
LIKE_LOAD_PERCENT, LIKE_SPEED_SHARE = 10, 0.1
PER_HOURS, PER_DAYS = 10, 30
HOURS, DAYS = "h", "d"
_PER_HOUR = 60


class Shown(NamedTuple):
    """One reading: day, figure, running time [min], speed [1/min], load [%], minute mark [min].

    `of` is the service that a test run followed, by its document's name.
    """

    on: date
    value: float
    minutes: int | None = None
    rpm: int | None = None
    load_percent: int | None = None
    minute: int | None = None
    of: str | None = None


class Course(NamedTuple):
    """A trend with what it is reckoned over: [h] or [d] of one step, and until the limit."""

    trend: Trend
    unit: str
    step: int
    left: float | None


def in_order(readings: Iterable[Shown]) -> list[Shown]:
    """Give readings in the order of time; of one day by running time, then by minute mark."""
    return sorted(readings, key=lambda one: (one.on, one.minutes or 0, one.minute or 0))


def speaking(readings: Sequence[Shown], since: date | None, after: str | None) -> list[Shown]:
    """Give the readings that speak of the trend.

    Args:
        readings: In the order of time [-].
        since: Day of the last cleaning, None for none [-].
        after: The service that cleans, by its document's name; its own test run counts on that
            day, what else was read then may be from before [-].

    Returns:
        Those since then, warm, at a load and speed like that of the last of them, and where some
        say their load or speed only such; of a test run the last mark alone [-].

    Raises:
        Nothing.

    Source:
        Common practice, no source.

    Example:
        >>> day = date(2027, 3, 1)
        >>> speaking([Shown(day, 20.0, minute=0), Shown(day, 81.0, minute=30)], None, None)[0].value
        81.0
    """
    last_mark: dict[tuple[date, str | None], int] = {}
    for one in readings:
        if one.minute is not None:
            run = (one.on, one.of)
            last_mark[run] = max(one.minute, last_mark.get(run, 0))
    found = [one for one in readings
             if (one.minute is None or one.minute == last_mark[one.on, one.of] >= WARM_MIN)
             and (since is None or one.on > since
                  or one.on == since and one.minute is not None and one.of == after)]
    for name in ("load_percent", "rpm"):
        told = [one for one in found if getattr(one, name) is not None]
        found = told or found
    return [one for one in found if _alike(one, found[-1])]


def _alike(one: Shown, last: Shown) -> bool:
    return (one.load_percent is None or last.load_percent is None
            or abs(one.load_percent - last.load_percent) <= LIKE_LOAD_PERCENT) \
        and (one.rpm is None or last.rpm is None
             or abs(one.rpm - last.rpm) <= LIKE_SPEED_SHARE * last.rpm)


def course(spoken: Sequence[Shown], low: float | None, high: float | None) -> Course:
    """Reckon the trend of readings over running hours, or over days where hours are missing.

    Args:
        spoken: As `speaking` gives them [-].
        low, high: Limits of the maker's book [unit of the reading].

    Returns:
        The trend, its step of 10 h or 30 d, and how much is left to the limit.

    Raises:
        Nothing.

    Source:
        As `trend`.

    Example:
        >>> read = [Shown(date(2027, 3, day), 80.0 + day, 600 * day) for day in (1, 2, 3)]
        >>> found = course(read, None, 95.0)
        >>> found.trend.code, found.trend.slope, found.unit, found.left
        ('climbs', 0.1, 'h', 120.0)
    """
    shown = [one.minutes for one in spoken if one.minutes is not None]
    is_running = len(shown) == len(spoken) and shown == sorted(shown)
    if is_running:
        points = [((one.minutes or 0) / _PER_HOUR, one.value) for one in spoken]
    else:
        points = [(float(one.on.toordinal()), one.value) for one in spoken]
    found = trend(points)
    unit, step = (HOURS, PER_HOURS) if is_running else (DAYS, PER_DAYS)
    return Course(found, unit, step, until(found, low, high))


def state_of(value: float | None, low: float | None, high: float | None) -> str:
    """Say how a figure stands to the limits of the maker's book.

    Example:
        >>> state_of(96.0, None, 95.0), state_of(80.0, None, None), state_of(None, 1.0, 2.0)
        ('over', 'no-limit', 'not-read')
    """
    if value is None:
        return NOT_READ
    if high is not None and value > high:
        return OVER
    if low is not None and value < low:
        return UNDER
    return NO_LIMIT if low is None and high is None else WITHIN


def sentence(gauge: dict[str, Any]) -> str:
    """Say in a sentence what a gauge does, for the command line and for paper.

    Args:
        gauge: unit, low, high, trend (code, slope, step, step_unit, readings, left) and since
            (on, what), as the answers have them [-].

    Returns:
        Such as `climbs 0.6 °C per 10 h since heat exchanger cleaned on 2027-01-20 (6 readings);
        the book's limit is 95 °C, at this rate in about 110 h`.
    """
    told, unit = gauge["trend"], gauge["unit"] or ""
    since = gauge["since"]
    from_when = f" since {since['what']} on {since['on']}" if since else ""
    if told["code"] == TOO_FEW:
        words = f"too few readings{from_when} to see a trend ({told['readings']})"
    elif told["code"] == STEADY:
        words = f"steady{from_when} ({told['readings']} readings)"
    else:
        change = plain_number(abs(told["slope"]) * told["step"], 2)
        words = (f"{told['code']} {change} {unit} per {told['step']} {told['step_unit']}"
                 f"{from_when} ({told['readings']} readings)")
    limits = limits_text(gauge)
    if not limits:
        return f"{words}; the maker's limit is not recorded"
    rate = f", reached at this rate in about {plain_number(told['left'], 0)} {told['step_unit']}" \
        if told["left"] is not None else ""
    return f"{words}; the book says {limits}{rate}"


def limits_text(gauge: dict[str, Any]) -> str:
    """Say the limits of the maker's book, nothing where none is recorded.

    Example:
        >>> limits_text({"unit": "bar", "low": 2.0, "high": 5.5})
        'at least 2 bar and at most 5.5 bar'
    """
    return " and ".join(f"{word} {plain_number(gauge[name], 3)} {gauge['unit'] or ''}".rstrip()
                        for name, word in (("low", "at least"), ("high", "at most"))
                        if gauge[name] is not None)


def plain_number(value: float, digits: int) -> str:
    """Write a number without trailing noughts.

    Example:
        >>> plain_number(0.6000000001, 2), plain_number(95.0, 3), plain_number(118.4, 0)
        ('0.6', '95', '118')
    """
    text = f"{value:.{digits}f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
