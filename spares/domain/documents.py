"""What a field of a document may hold; which fields there are stands in `document_kinds.py`.

A field that is not listed is kept and passed on, and has no effect here (a newer
device may know it).
"""

from __future__ import annotations

import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal, InvalidOperation
from typing import Any

from spares.domain.codes import is_code
from spares.domain.deck_plan import corners_of
from spares.domain.document_kinds import DOCUMENTS, Field
from spares.domain.identity import REF
from spares.domain.place_fields import place_wrongs
from spares.domain.trip_fields import wrongs

__all__ = ["DOCUMENTS", "REF", "Field", "fault"]

MAX_TEXT = 4000
MAX_WHOLE = 10**12
LONGEST_FIGURE = 24
SHA256 = re.compile(r"[0-9a-f]{64}\Z")
DAY = re.compile(r"\d{4}(-\d{2}(-\d{2})?)?\Z")


def fault(kind: str, field: str, value: Any) -> str | None:
    """Say what is wrong with *value* in *field* of a document of *kind*, or None.

    None (not known) is taken everywhere except where the field is needed; a field
    that is not listed is never wrong.

    Example:
        >>> fault("part", "lead_days", "soon")
        'a whole number from 0 is needed'
        >>> fault("part", "lead_days", 7) is None
        True
    """
    if field == "gone":
        return None if isinstance(value, bool) else "true or false is needed"
    spec = DOCUMENTS.get(kind, {}).get(field)
    if spec is None:
        return None
    if value is None or value == "":
        return "must not be empty" if spec.needed else None
    return _CHECKS[spec.type](spec, value)


def _text(_: Field, value: Any) -> str | None:
    if not isinstance(value, str):
        return "text is needed"
    return None if len(value) <= MAX_TEXT else f"at most {MAX_TEXT} characters"


def _whole(spec: Field, value: Any) -> str | None:
    fine = isinstance(value, int) and not isinstance(value, bool) and 0 <= value <= MAX_WHOLE
    return _within(spec, value) if fine else "a whole number from 0 is needed"


def _within(spec: Field, value: int | Decimal) -> str | None:
    if value < spec.low:
        return "must be above 0"
    fine = spec.high is None or value <= spec.high
    return None if fine else f"must be {spec.high} or less"


def _flag(_: Field, value: Any) -> str | None:
    return None if isinstance(value, bool) else "true or false is needed"


def _day(_: Field, value: Any) -> str | None:
    say = "a day such as 2027-03-15 (or 2027-03, or 2027) is needed"
    if not isinstance(value, str) or not DAY.match(value):
        return say
    try:
        date.fromisoformat((value + "-01-01")[:10])
    except ValueError:
        return f"there is no day {value}"
    return None


def _full_day(spec: Field, value: Any) -> str | None:
    if isinstance(value, str) and len(value) != len("2027-03-15"):
        return "a whole day such as 2027-03-15 is needed"
    return _day(spec, value)


def _choice(spec: Field, value: Any) -> str | None:
    return None if value in spec.among else f"one of {', '.join(spec.among)} is needed"


def _reference(spec: Field, value: Any) -> str | None:
    if not isinstance(value, str) or not REF.match(value):
        return "the name of a document (kind/uuid) is needed"
    kind = value.partition("/")[0]
    return None if kind in spec.among else f"must name a {' or '.join(spec.among)}"


def _money(_: Field, value: Any) -> str | None:
    fine = (isinstance(value, dict) and set(value) == {"minor", "currency"}
            and _whole(_, value["minor"]) is None
            and isinstance(value["currency"], str)
            and re.fullmatch("[A-Z]{3}", value["currency"]))
    return None if fine else 'money such as {"minor": 1850, "currency": "EUR"} is needed'


def _decimal(spec: Field, value: Any) -> str | None:
    try:
        number = Decimal(value) if isinstance(value, str) else None
    except InvalidOperation:
        number = None
    if number is None or not number.is_finite():
        return "a decimal number written as text is needed"
    return "must be 0 or more" if number < 0 else _within(spec, number)


def _temperature(spec: Field, value: Any) -> str | None:
    try:
        number = Decimal(value) if isinstance(value, str) else None
    except InvalidOperation:
        number = None
    fine = number is not None and number.is_finite() and spec.low <= number <= (spec.high or 0)
    return None if fine else f"{spec.low} to {spec.high} °C is needed, written as text"


def _figure(_: Field, value: Any) -> str | None:
    try:
        number = Decimal(value) if isinstance(value, str) and len(value) <= LONGEST_FIGURE else None
    except InvalidOperation:
        number = None
    fine = number is not None and number.is_finite() and abs(number) <= MAX_WHOLE
    return None if fine else "a number written as text is needed"


def _code(_: Field, value: Any) -> str | None:
    return None if isinstance(value, str) and is_code(value) else "the check character is wrong"


def _sha256(_: Field, value: Any) -> str | None:
    fine = isinstance(value, str) and SHA256.match(value)
    return None if fine else "the SHA-256 of a photo is needed"


def _corners(_: Field, value: Any) -> str | None:
    return None if corners_of(value) else (
        "2 to 100 corners such as 0,0 500,250 are needed, in thousandths")


def _place(_: Field, value: Any) -> str | None:
    return _first(place_wrongs(value))


def _listed(spec: Field, value: Any) -> str | None:
    return _first(wrongs(spec.among[0], value))


def _first(found: list[tuple[str, str]]) -> str | None:
    if not found:
        return None
    path, detail = found[0]
    return f"{path.removeprefix('/')}: {detail}" if path else detail


def _claim(_: Field, value: Any) -> str | None:
    known = {"cmp", "value", "unit", "tol", "u", "severity", "origin", "system", "parts"}
    if not isinstance(value, dict) or "value" not in value:
        return "a claim with a value is needed"
    extra = sorted(set(value) - known)
    return f"unknown in a claim: {', '.join(extra)}" if extra else None


_CHECKS: dict[str, Callable[[Field, Any], str | None]] = {
    "text": _text, "whole": _whole, "q": _whole, "minutes": _whole, "flag": _flag, "day": _day,
    "full-day": _full_day, "choice": _choice, "ref": _reference, "money": _money,
    "decimal": _decimal, "temperature": _temperature, "figure": _figure, "code": _code,
    "place": _place, "claim": _claim, "shaped": _listed,
    "sha256": _sha256, "corners": _corners,
}
