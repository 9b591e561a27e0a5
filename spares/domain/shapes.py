"""Shapes of what a field may hold when it holds more than one value: lists, objects.

Stored, a decimal is text and a thing is the name of its document. People write numbers
and the short names of things; `stored` and `shown` go from one to the other.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from spares.domain.identity import kind_of

MOST_TEXT = 200
MOST_ROWS = 200
MOST_DIGITS = 15
Wrong = Iterator[tuple[str, str]]
DAY = ("day",)
#: Takes what stands there, the kinds of document it may name (`DAY` for a day), its path.
Renamed = Callable[[Any, tuple[str, ...], str], Any]


@dataclass(frozen=True)
class Shape:
    """One value; subclasses say which."""

    def wrong(self, value: Any, path: str) -> Wrong:
        """Say what is wrong with a stored value, by path."""
        return iter(())

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """Bring what a person wrote into the stored form; what cannot be read stays."""
        return value

    def shown(self, value: Any, name: Renamed) -> Any:
        """Bring a stored value into the form that people read."""
        return value


@dataclass(frozen=True)
class Text(Shape):
    """A short text, or one of a few words."""

    among: tuple[str, ...] = ()
    most: int = MOST_TEXT

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, str) or not value.strip():
            yield path, "text is needed"
        elif self.among and value not in self.among:
            yield path, f"one of {', '.join(self.among)} is needed"
        elif len(value) > self.most:
            yield path, f"at most {self.most} characters"


@dataclass(frozen=True)
class Flag(Shape):
    """Yes or no."""

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, bool):
            yield path, "true or false is needed"


@dataclass(frozen=True)
class Whole(Shape):
    """A whole number within bounds."""

    low: int = 0
    high: int = 10**6

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, int) or isinstance(value, bool):
            yield path, "a whole number is needed"
        elif not self.low <= value <= self.high:
            yield path, f"must lie between {self.low} and {self.high}"


@dataclass(frozen=True)
class Decimals(Shape):
    """A decimal number, kept as text; bounds are inclusive unless `above` is set."""

    low: str = "0"
    high: str = "1000000000"
    above: bool = False     # the low bound itself is out

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        number = _decimal(value)
        if number is None or not isinstance(value, str):
            yield path, "a number is needed"
        elif number < Decimal(self.low) or self.above and number == Decimal(self.low):
            yield path, f"must be {'above' if self.above else 'at least'} {self.low}"
        elif number > Decimal(self.high):
            yield path, f"must be at most {self.high}"

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        number = _decimal(value)
        return value if number is None else format(number, "f")

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        number = _decimal(value)
        if number is None:
            return value
        return int(number) if number == number.to_integral_value() else float(number)


@dataclass(frozen=True)
class Day(Shape):
    """A whole day, ISO."""

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        try:
            fine = isinstance(value, str) and len(value) == 10 and date.fromisoformat(value)
        except ValueError:
            fine = False
        if not fine:
            yield path, "a day such as 2027-03-15 is needed"

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        return name(value, DAY, path)


@dataclass(frozen=True)
class Named(Shape):
    """The name of a document of one of some kinds."""

    kinds: tuple[str, ...]

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, str) or kind_of(value) not in self.kinds or "/" not in value:
            yield path, f"must name a {' or '.join(self.kinds)}"

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        return name(value, self.kinds, path)

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        return name(value, self.kinds, "")


@dataclass(frozen=True)
class Rows(Shape):
    """A list of values of one shape."""

    of: Shape
    least: int = 0
    most: int = MOST_ROWS

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, list):
            yield path, "a list is needed"
        elif not self.least <= len(value) <= self.most:
            yield path, f"{self.least} to {self.most} entries are needed"
        else:
            for place, one in enumerate(value):
                yield from self.of.wrong(one, f"{path}/{place}")

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        if not isinstance(value, list):
            return value
        return [self.of.stored(one, f"{path}/{i}", name) for i, one in enumerate(value)]

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        return [self.of.shown(one, name) for one in value]


@dataclass(frozen=True)
class Parts(Shape):
    """An object with known members; `needed` ones must be there, `any_name` takes others."""

    members: Mapping[str, Shape]
    needed: tuple[str, ...] = ()
    any_name: Shape | None = field(default=None)

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        if not isinstance(value, dict):
            yield path, "an object is needed"
            return
        for name, one in value.items():
            shape = self.members.get(name, self.any_name)
            if shape is None:
                yield f"{path}/{name}", "there is no such field"
            elif one is not None:
                yield from shape.wrong(one, f"{path}/{name}")
        for name in self.needed:
            if value.get(name) is None:
                yield f"{path}/{name}", "is needed"

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        if not isinstance(value, dict):
            return value
        return {key: self.shape(key).stored(one, f"{path}/{key}", name)
                for key, one in value.items() if one is not None}

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        return {key: self.shape(key).shown(one, name) for key, one in value.items()
                if one is not None}

    def shape(self, name: str) -> Shape:
        """Give the shape of a member."""
        return self.members.get(name, self.any_name or Shape())


@dataclass(frozen=True)
class Maybe(Shape):
    """A value that nobody may know."""

    known: Shape

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        return iter(()) if value is None else self.known.wrong(value, path)

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        return None if value is None else self.known.stored(value, path, name)

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        return None if value is None else self.known.shown(value, name)


@dataclass(frozen=True)
class Either(Shape):
    """Rows, or one value alone."""

    rows: Rows
    alone: Shape

    def wrong(self, value: Any, path: str) -> Wrong:
        """As `Shape.wrong`."""
        yield from self._of(value).wrong(value, path)

    def stored(self, value: Any, path: str, name: Renamed) -> Any:
        """As `Shape.stored`."""
        return self._of(value).stored(value, path, name)

    def shown(self, value: Any, name: Renamed) -> Any:
        """As `Shape.shown`."""
        return self._of(value).shown(value, name)

    def _of(self, value: Any) -> Shape:
        return self.rows if isinstance(value, list) else self.alone


def _decimal(value: Any) -> Decimal | None:
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        return None
    text = str(value).strip().replace(",", ".")
    try:
        number = Decimal(text) if len(text) <= MOST_DIGITS + 10 else Decimal("NaN")
    except InvalidOperation:
        return None
    fine = number.is_finite() and abs(number) < 10**MOST_DIGITS and number.as_tuple().exponent > -13
    return number if fine else None
