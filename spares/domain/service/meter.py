"""Hour counters: which readings can be trusted, and what they say about any day.

A reading is asked about when it is lower than the last trusted one, when it means
more than 24 hours a day, or when its rate is over five times the median of the past
rates. A doubtful reading is kept with its reason and used nowhere; what follows it is
compared with the last trusted one. Running is counted through a change of counter.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from functools import cached_property
from math import floor
from statistics import median
from typing import NamedTuple

from spares.domain.service.hours import HOURS_PER_DAY, MINUTES_PER_HOUR, say_hours

MINUTES_PER_DAY = HOURS_PER_DAY * MINUTES_PER_HOUR
TIMES_USUAL = 5             # common practice, no source
USUAL_DAYS = 365            # "as usual" looks back one year
OLD_READING_DAYS = 60


class Reading(NamedTuple):
    """What an hour counter showed on a day."""

    on: date
    minutes: int
    new_counter: bool = False       # first reading after the counter was changed
    doubt: str | None = None        # a person's reason not to use it
    corrects: bool = False          # the one before it was a slip


class ReadingDoubt(NamedTuple):
    """Why a reading is asked about: a code for programs, words for the person."""

    code: str       # lower | above-24-h-a-day | five-times-usual | higher-than-later | said
    words: str


def reading_doubt(history: Iterable[Reading], new: Reading) -> ReadingDoubt | None:
    """Say why a reading would be asked about, or None if it can stand.

    Args:
        history: Readings of the same counter [min], in any order; doubtful ones may be among them.
        new: The reading to judge [min].

    Returns:
        The doubt, or None [-].

    Source:
        Counting rule of this project; factor five: common practice, no source.

    Example:
        >>> old = [Reading(date(2026, 12, 1), 612 * 60)]
        >>> reading_doubt(old, Reading(date(2027, 1, 5), 603 * 60)).code
        'lower'
    """
    good, _ = sift(history)
    before = [r for r in good if r.on <= new.on]
    _take_slip(before, new)
    doubt = _doubt_after(before, new)
    if doubt is None:
        doubt = _doubt_before(next((r for r in good if r.on > new.on), None), new)
    return doubt


def sift(
    readings: Iterable[Reading],
) -> tuple[list[Reading], list[tuple[Reading, ReadingDoubt]]]:
    """Part readings into the trusted ones and the doubtful ones with their reason.

    Args:
        readings: Readings of one counter [min]; those of one day in the order taken.

    Returns:
        Trusted readings by date, and doubtful ones with their doubt [-].

    Source:
        Counting rule of this project.

    Example:
        >>> good, odd = sift([Reading(date(2027, 1, 1), 600), Reading(date(2027, 1, 2), 540)])
        >>> len(good), odd[0][1].code
        (1, 'lower')
    """
    good: list[Reading] = []
    odd: list[tuple[Reading, ReadingDoubt]] = []
    for reading in sorted(readings, key=lambda r: r.on):
        slip = _take_slip(good, reading)
        if slip is not None:
            odd.append((slip, ReadingDoubt("said", f"a slip, says the reading of {reading.on}")))
        doubt = _doubt_after(good, reading)
        if doubt is None:
            good.append(reading)
        else:
            odd.append((reading, doubt))
    return good, odd


def _take_slip(good: list[Reading], new: Reading) -> Reading | None:
    """Take off the reading that the new one corrects; a counter's first one stands."""
    if not new.corrects or new.doubt is not None or len(good) < 2 or good[-1].new_counter:
        return None
    return good.pop()


def _doubt_after(good: Sequence[Reading], new: Reading) -> ReadingDoubt | None:
    if new.doubt is not None:
        return ReadingDoubt("said", new.doubt)
    if new.new_counter or not good:
        return None
    last = good[-1]
    if new.minutes < last.minutes:
        return ReadingDoubt("lower", f"lower than the {say_hours(last.minutes)} of {last.on}")
    run, rate = new.minutes - last.minutes, _rate(last, new)
    if rate > MINUTES_PER_DAY:
        return ReadingDoubt(
            "above-24-h-a-day", f"{say_hours(run)} since {last.on} is more than 24 h a day")
    past = [_rate(a, b) for a, b in zip(good, good[1:], strict=False) if not b.new_counter]
    usual = median(past) if past else 0
    if usual and rate > TIMES_USUAL * usual:
        return ReadingDoubt(
            "five-times-usual",
            f"{say_hours(floor(rate))} a day since {last.on}, "
            f"over five times the usual {say_hours(floor(usual))} a day")
    return None


def _doubt_before(later: Reading | None, new: Reading) -> ReadingDoubt | None:
    if later is None or later.new_counter or new.minutes <= later.minutes:
        return None
    return ReadingDoubt(
        "higher-than-later", f"higher than the {say_hours(later.minutes)} of {later.on}, later on")


def _rate(first: Reading, then: Reading) -> Fraction:
    return Fraction(then.minutes - first.minutes, max(1, (then.on - first.on).days))


@dataclass(frozen=True)
class Meter:
    """Trusted readings of one counter as one running total.

    `days` and `totals` [min] go together and rise; `shown` [min] is what the counter
    showed; `starts` holds the place of the first reading of each counter.
    """

    days: tuple[date, ...] = ()
    totals: tuple[int, ...] = ()
    shown: tuple[int, ...] = ()
    starts: tuple[int, ...] = ()
    doubtful: tuple[tuple[Reading, ReadingDoubt], ...] = ()

    @classmethod
    def of(cls, readings: Iterable[Reading]) -> Meter:
        """Build from readings in any order; doubtful ones are set apart."""
        good, odd = sift(readings)
        totals: list[int] = []
        starts: list[int] = []
        for place, reading in enumerate(good):
            if place == 0:
                totals.append(reading.minutes)
                starts.append(0)
            elif reading.new_counter:
                totals.append(totals[-1])
                starts.append(place)
            else:
                totals.append(totals[-1] + reading.minutes - good[place - 1].minutes)
        return cls(tuple(r.on for r in good), tuple(totals), tuple(r.minutes for r in good),
                   tuple(starts), tuple(odd))

    def total_shown(self, on: date, minutes: int, latest: date | None = None) -> int:
        """Give the running total [min] when the counter in use on a day showed *minutes*.

        With *latest* the day is only known to lie between the two.
        """
        place = self.counter_of(on, minutes, latest)
        return minutes if place is None else self.totals[place] + minutes - self.shown[place]

    def shown_at(self, total: int) -> int:
        """Give what today's counter shows [min] at a running total [min]."""
        if not self.starts:
            return total
        return self.shown[self.starts[-1]] + total - self.totals[self.starts[-1]]

    def ceiling(self, on: date, minutes: int, latest: date | None = None) -> int | None:
        """Give the highest total [min] at which a service noted so can have stood, if known."""
        start = self.counter_of(on, minutes, latest)
        if start is None:
            return None
        end, day = self.end_of(start), latest or on
        after = bisect_right(self.days, day, start, end)
        if after < end:
            return self.totals[after]
        return self.totals[end - 1] + MINUTES_PER_DAY * ((day - self.days[end - 1]).days + 1)

    def total_on(self, day: date) -> int | None:
        """Give the total [min] on a day between readings; flat after the last, else None."""
        if not self.days or day < self.days[0]:
            return None
        after = bisect_right(self.days, day)
        if after == len(self.days) or self.days[after - 1] == day:
            return self.totals[after - 1]
        first, then = self.days[after - 1], self.days[after]
        gain = self.totals[after] - self.totals[after - 1]
        return self.totals[after - 1] + gain * (day - first).days // (then - first).days

    def day_of(self, total: int) -> date | None:
        """Give the day on which a total [min] already passed was reached, as near as known."""
        for place in range(1, len(self.days)):
            low, high = self.totals[place - 1], self.totals[place]
            if low < total <= high:
                first, then = self.days[place - 1], self.days[place]
                return first + timedelta(days=(then - first).days * (total - low) // (high - low))
        return self.days[0] if self.days and total <= self.totals[0] else None

    def usual_rate(self) -> Fraction | None:
        """Give the usual running [min/day] over the last year of readings, or None."""
        return self._usual_rate

    @cached_property
    def _usual_rate(self) -> Fraction | None:
        if len(self.days) < 2:
            return None
        from_day = self.days[-1] - min(timedelta(days=USUAL_DAYS), self.days[-1] - date.min)
        first = next(i for i, d in enumerate(self.days) if d >= from_day)
        first = min(first, len(self.days) - 2)
        span = (self.days[-1] - self.days[first]).days
        if span == 0:
            return None
        return Fraction(self.totals[-1] - self.totals[first], span)

    def end_of(self, start: int) -> int:
        """Give the place after the last reading of the counter that begins at *start*."""
        after = bisect_right(self.starts, start)
        return self.starts[after] if after < len(self.starts) else len(self.days)

    def counter_of(self, on: date, minutes: int, latest: date | None = None) -> int | None:
        """Give the place where the counter begins that showed *minutes* on a day, if any is known.

        Where it was changed that day, or between the two days, the one whose figures are nearer.
        """
        if len(self.starts) <= 1:       # never changed
            return self.starts[0] if self.starts else None
        day = max(on, latest or on)
        begun = [start for start in self.starts if self.days[start] <= day] or self.starts[:1]
        in_use = [start for start in begun if self.end_of(start) == len(self.days)
                  or self.days[self.end_of(start)] >= on]

        def off(start: int) -> int:
            low, high = (self.shown[start] + self._total_of(start, one) - self.totals[start]
                         for one in (on, day))
            return max(low - minutes, minutes - high, 0)

        return min(reversed(in_use), key=off)

    def _total_of(self, start: int, day: date) -> int:
        """Give the total [min] on a day as far as the counter beginning at *start* saw it."""
        last = self.end_of(start) - 1
        if day <= self.days[start]:
            return self.totals[start]
        return self.totals[last] if day >= self.days[last] else self.total_on(day)
