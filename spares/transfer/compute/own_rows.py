"""Read values that are written as this program writes them; leave all else to the shapes.

One reader for each sort of field that `numbers.py` has for marshmallow, to the same value.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from math import isfinite
from typing import Any

from spares.domain.dates import earliest_day, latest_day, whole_day
from spares.domain.service.hours import whole_minutes
from spares.domain.trip.request import WHOLE
from spares.transfer.compute.figures import G_PER_KG, LARGEST, MINOR_PER_MONEY, half_up

Read = Callable[[Any], Any]
#: By field, what reads it and what holds where it is left out (made anew if it can be called).
Fields = Mapping[str, tuple[Read, Any]]
NEEDED = object()       # a field that may not be left out
ABSENT = object()       # one that stays out where it is left out
WHOLE_DAY = len("2027-03-15")
_DECIMAL = re.compile(r"-?[0-9]{1,30}(\.[0-9]{1,30})?")


class NotPlain(ValueError):
    """A value is wrong, or written in a way that this program does not write."""


def text(value: Any) -> str:
    """Read a text."""
    if type(value) is not str:
        raise NotPlain
    return value


def flag(value: Any) -> bool:
    """Read yes or no."""
    if type(value) is not bool:
        raise NotPlain
    return value


def exact(value: Any) -> Fraction:
    """Read a number."""
    if type(value) is int or type(value) is str and _DECIMAL.fullmatch(value):
        number = Fraction(value)
    elif type(value) is float and isfinite(value):
        number = Fraction(repr(value))      # its shortest decimal, as `units.exact` takes it
    else:
        raise NotPlain
    if abs(number) > LARGEST:
        raise NotPlain
    return number


def within(low: int, high: int | None = None, *, above: bool = False, below: bool = False) -> Read:
    """Give what reads a number from *low* to *high*; those two are out with *above*, *below*."""
    def read(value: Any) -> Fraction:
        number = exact(value)
        if number < low or above and number == low:
            raise NotPlain
        if high is not None and (number > high or below and number == high):
            raise NotPlain
        return number
    return read


def whole(value: Any) -> int:
    """Read a whole number."""
    number = exact(value)
    if number.denominator != 1:
        raise NotPlain
    return int(number)


def minutes(value: Any) -> int:
    """Read hours as whole minutes."""
    return whole_minutes(exact(value))


def thousandths(value: Any) -> int:
    """Read a quantity as whole thousandths."""
    return half_up(exact(value) * WHOLE)


def minor(value: Any) -> int:
    """Read money as minor units."""
    return half_up(exact(value) * MINOR_PER_MONEY)


def grams(value: Any) -> int:
    """Read kilograms as whole grams."""
    return half_up(exact(value) * G_PER_KG)


def day(value: Any) -> date:
    """Read a date that names its day."""
    return whole_day(text(value))


def partial_day(value: Any) -> tuple[date, bool, date]:
    """Read a date cut to what is known: its earliest day, whether it was whole, its latest day."""
    return earliest_day(text(value)), len(value) == WHOLE_DAY, latest_day(value)


def rows(read: Read) -> Read:
    """Give what reads a list of values that *read* reads."""
    def read_all(value: Any) -> list[Any]:
        if type(value) is not list:
            raise NotPlain
        return [read(one) for one in value]
    return read_all


def pairs(first: Read, second: Read) -> Read:
    """Give what reads a list of pairs."""
    def read(value: Any) -> tuple[Any, Any]:
        if type(value) not in (list, tuple) or len(value) != len("ab"):
            raise NotPlain
        return first(value[0]), second(value[1])
    return rows(read)


def by_name(read: Read) -> Read:
    """Give what reads values by name."""
    def read_all(value: Any) -> dict[str, Any]:
        if type(value) is not dict:
            raise NotPlain
        return {text(name): read(one) for name, one in value.items()}
    return read_all


def row(fields: Fields) -> Read:
    """Give what reads an object with *fields* and no others; null is a field left out."""
    def read(value: Any) -> dict[str, Any]:
        if type(value) is not dict or not value.keys() <= fields.keys():
            raise NotPlain
        found: dict[str, Any] = {}
        for name, (reads, default) in fields.items():
            given = value.get(name)
            if given is not None:
                found[name] = reads(given)
            elif default is NEEDED or reads is flag and name in value:
                raise NotPlain
            elif default is not ABSENT:
                found[name] = default() if callable(default) else default
        return found
    return read
