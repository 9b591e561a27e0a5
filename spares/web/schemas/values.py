"""Fields as requests write them: quantities, hours, days, references, texts."""

from __future__ import annotations

import re
from collections.abc import Mapping
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from marshmallow import ValidationError, fields, validate

MAX_REFERENCE, MAX_NOTE = 200, 2000
_CUT_DAY = re.compile(r"[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?")
_PLAIN = re.compile(r"[0-9]{1,9}([.,][0-9]{1,9})?")


class PlainText(fields.String):
    """Text without control characters; line ends and tabs only where *lines* says so."""

    def __init__(self, *, longest: int, shortest: int = 0, lines: bool = False,
                 **options: Any) -> None:
        self._lines = lines
        super().__init__(validate=validate.Length(shortest, longest), **options)

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None,
                     **kwargs: Any) -> str:
        text: str = super()._deserialize(value, attr, data, **kwargs)
        kept = "\n\t" if self._lines else ""
        if any(ord(c) < 32 and c not in kept or 127 <= ord(c) < 160 for c in text):
            raise ValidationError("Must not hold control characters.")
        return text.strip()


class Figure(fields.Field[str]):
    """A number, or text with point or comma; not negative, so many decimals at most.

    Handed on as text: a JSON number is taken by its shortest text, so 0.1 is one tenth,
    not a near one.
    """

    def __init__(self, *, decimals: int, highest: int, above_zero: bool = False,
                 **options: Any) -> None:
        self._decimals, self._highest, self._above_zero = decimals, highest, above_zero
        lowest = {"exclusiveMinimum": 0} if above_zero else {"minimum": 0}
        about = {"type": ["number", "string"], "maximum": highest, **lowest,
                 "pattern": r"^\s*[0-9]{1,9}([.,][0-9]{1,9})?\s*$", **options.pop("metadata", {})}
        super().__init__(metadata=about, **options)

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None,
                     **kwargs: Any) -> str:
        figure = self._read(value)
        if figure < 0:
            raise ValidationError("Must not be negative.")
        if self._above_zero and not figure:
            raise ValidationError("Must be above 0.")
        if figure > self._highest:
            raise ValidationError(f"Must be at most {self._highest}.")
        if figure != round(figure, self._decimals):
            raise ValidationError(f"Must have at most {self._decimals} decimals.")
        return f"{figure:f}"

    @staticmethod
    def _read(value: Any) -> Decimal:
        if isinstance(value, bool) or not isinstance(value, int | float | str | Decimal):
            raise ValidationError("Not a number.")
        text = str(value).strip().replace(",", ".")
        if isinstance(value, str) and not _PLAIN.fullmatch(text.removeprefix("-")):
            raise ValidationError("Not a number.")
        try:
            figure = Decimal(text)
        except InvalidOperation as err:
            raise ValidationError("Not a number.") from err
        if not figure.is_finite():
            raise ValidationError("Not a number.")
        return figure


class Day(fields.Field[str]):
    """A day as ISO text, such as 2027-03-15; cut to what is known where *cut* allows it."""

    def __init__(self, *, cut: bool = False, **options: Any) -> None:
        self._cut = cut
        about = {"type": "string", **({"pattern": r"^[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?$"} if cut
                                      else {"format": "date"}), **options.pop("metadata", {})}
        super().__init__(metadata=about, **options)

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None,
                     **kwargs: Any) -> str:
        if not isinstance(value, str) or not value.isascii() or not _CUT_DAY.fullmatch(value) or (
                len(value) < 10 and not self._cut):
            raise ValidationError("Not a date; write it as 2027-03-15.")
        try:
            date.fromisoformat((value + "-01-01")[:10])
        except ValueError as err:
            raise ValidationError(f"There is no such day as {value}.") from err
        return value


class Yes(fields.Boolean):
    """true or false, not a word or number for it."""

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None,
                     **kwargs: Any) -> bool:
        if not isinstance(value, bool):
            raise self.make_error("invalid", input=value)
        return value


class ByName(fields.Dict):
    """Values by name; a wrong one is told under its name."""

    def _deserialize(self, value: Any, attr: str | None, data: Mapping[str, Any] | None,
                     **kwargs: Any) -> dict[Any, Any]:
        try:
            found: dict[Any, Any] = super()._deserialize(value, attr, data, **kwargs)
        except ValidationError as err:
            if isinstance(err.messages, dict):
                raise ValidationError({
                    name: told.get("value") or told.get("key") if isinstance(told, dict) else told
                    for name, told in err.messages.items()}) from err
            raise
        return found


def reference(what: str, **options: Any) -> PlainText:
    """Name a thing: its number, the code on its label, or its id."""
    about = {"description": f"The {what}: number, label code or id"}
    return PlainText(longest=MAX_REFERENCE, shortest=1, metadata=about, **options)


def quantity(**options: Any) -> Figure:
    """Say how many, in the part's unit."""
    about = {"description": "How many, in the part's unit"}
    return Figure(decimals=3, highest=1_000_000, metadata=about, **options)


def hours(**options: Any) -> Figure:
    """Say running hours [h]."""
    return Figure(decimals=2, highest=1_000_000,
                  metadata={"description": "Running hours [h]"}, **options)


def remark(**options: Any) -> PlainText:
    """Take a remark in words."""
    return PlainText(longest=MAX_NOTE, lines=True, allow_none=True, **options)
