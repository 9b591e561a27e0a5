"""Quantities, hours, money and days between people and records."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal, InvalidOperation
from typing import Any

from spares.domain.dates import whole_day
from spares.errors import InvalidInput

MOST = 10**9
MINUTES_PER_HOUR = 60
TENTHS_PER_HOUR = 10


def thousandths(value: Any, field: str, *, least: int = 1) -> int:
    """Read a quantity that a person or program gave, as whole thousandths.

    Raises:
        InvalidInput: it is no number, negative, too large, or finer than thousandths.
    """
    pointer = f"#/{field}"
    number = _number(value, pointer)
    scaled = number * 1000
    if scaled != int(scaled):
        raise InvalidInput.at(pointer, "at most three decimals")
    if not least <= scaled <= MOST:
        say = "must be more than 0" if least else "must not be below 0"
        raise InvalidInput.at(pointer, say if scaled < least else "is too large")
    return int(scaled)


def minutes(value: Any, field: str) -> int:
    """Read hours (with decimal point or comma) as whole minutes.

    Raises:
        InvalidInput: it is no number, negative or too large.
    """
    pointer = f"#/{field}"
    number = _number(value, pointer)
    if not 0 <= number <= 1_000_000:
        raise InvalidInput.at(pointer, "hours from 0 to 1 000 000 are needed")
    return int((number * MINUTES_PER_HOUR).to_integral_value())


def day(value: Any, field: str, default: date | None = None) -> str:
    """Read a whole day as ISO text; *default* where none is given.

    Raises:
        InvalidInput: there is no such day, or none is given and none is usual.
    """
    if value in (None, ""):
        if default is None:
            raise InvalidInput.at(f"#/{field}", "a day such as 2027-03-15 is needed")
        return default.isoformat()
    if isinstance(value, date):
        return value.isoformat()
    if not isinstance(value, str):
        raise InvalidInput.at(f"#/{field}", "a day such as 2027-03-15 is needed")
    return whole_day(value, f"#/{field}").isoformat()


def plain(q: int) -> int | float:
    """Give thousandths as the number that people use.

    Example:
        >>> plain(2000), plain(500)
        (2, 0.5)
    """
    return q // 1000 if q % 1000 == 0 else q / 1000


def hours(whole_minutes: int | None) -> float | None:
    """Give minutes as hours with one decimal, half a tenth rounded up."""
    if whole_minutes is None:
        return None
    return (whole_minutes * TENTHS_PER_HOUR + MINUTES_PER_HOUR // 2) // MINUTES_PER_HOUR \
        / TENTHS_PER_HOUR


def money(value: dict[str, Any] | None) -> dict[str, str] | None:
    """Give an amount of money with two decimals."""
    if not value:
        return None
    whole, cents = divmod(value["minor"], 100)
    return {"amount": f"{whole}.{cents:02}", "currency": value["currency"]}


def moment(at: str) -> str:
    """Give the time in a stamp as ISO text, UTC, to the second."""
    return datetime.fromtimestamp(int(at[:12], 16) / 1000, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


def _number(value: Any, pointer: str) -> Decimal:
    if isinstance(value, bool) or not isinstance(value, (int, float, str)):
        raise InvalidInput.at(pointer, "a number is needed")
    text = str(value).strip().replace(",", ".")
    try:
        number = Decimal(text) if len(text) <= 20 else Decimal("NaN")
    except InvalidOperation:
        number = Decimal("NaN")
    if not number.is_finite():
        shown = text if len(text) <= 20 else text[:17] + "..."
        raise InvalidInput.at(pointer, f"{shown!r} is not a number")
    return number
