"""The slip that goes with a loan between two vessels, and the one that comes back with it.

A slip is a small file. A loan's slip says what was lent; a return's says how much of that loan
was given back so far, so that the same one played twice, or an older one later, changes nothing.
The seal only finds damage: whoever has the file could write another.
"""

from __future__ import annotations

import hashlib
import json
from typing import Any
from uuid import UUID

from spares.errors import InvalidInput

VERSION = 1
KINDS = ("loan", "return")
MOST_LINES = 100
GREATEST_Q = 10**9
_NAMES = ("spares_slip", "kind", "loan", "lender", "borrower", "on", "part", "lines", "seal")
_PART = ("name", "maker", "number", "kind", "unit")
_LENDER = ("id", "mark", "name")


def sealed(kind: str, loan: str, lender: dict[str, Any], borrower: str, on: str,
           part: dict[str, Any], lines: list[dict[str, Any]]) -> dict[str, Any]:
    """Write a slip; `q` of each line in thousandths of the part's unit [1].

    Example:
        >>> slip = sealed("loan", "00000000-0000-4000-8000-000000000001",
        ...               {"id": None, "mark": "TGL", "name": None}, "HRE", "2027-03-15",
        ...               {"name": "Impeller"}, [{"q": 1000}])
        >>> read_slip(slip)["lines"]
        [{'q': 1000, 'condition': None, 'expires': None}]
    """
    bare = {"spares_slip": VERSION, "kind": kind, "loan": loan,
            "lender": {name: lender.get(name) for name in _LENDER}, "borrower": borrower,
            "on": on, "part": {name: part.get(name) for name in _PART},
            "lines": [{"q": one["q"], "condition": one.get("condition"),
                       "expires": one.get("expires")} for one in lines]}
    return {**bare, "seal": _seal(bare)}


def read_slip(slip: Any) -> dict[str, Any]:
    """Take a slip as it came, or refuse it.

    Raises:
        InvalidInput: it is no slip, of a later version, or damaged; `errors` says where.
    """
    if not isinstance(slip, dict) or "spares_slip" not in slip:
        raise InvalidInput.at("#/slip", "this is no slip of a loan")
    if slip["spares_slip"] != VERSION:
        raise InvalidInput.at("#/slip/spares_slip", "a slip of another version")
    if set(slip) != set(_NAMES) or slip["seal"] != _seal(
            {name: value for name, value in slip.items() if name != "seal"}):
        raise InvalidInput.at("#/slip/seal", "the slip was damaged or changed on its way")
    _check(slip)
    return slip


def as_lines(given: list[int]) -> list[int]:
    """Give the lines of a return, one for each time [thousandths]; of too many the first as one.

    So a later slip begins as an earlier one does, and of two that are taken in apart what both
    tell of is known by how far it goes.
    """
    first = max(len(given) - MOST_LINES + 1, 1)
    return [sum(given[:first]), *given[first:]]


def quantity_of(slip: dict[str, Any]) -> int:
    """Give how much a slip speaks of [thousandths]."""
    return sum(line["q"] for line in slip["lines"])


def _check(slip: dict[str, Any]) -> None:
    said = (
        ("kind", slip["kind"] in KINDS), ("loan", _is_uuid(slip["loan"])),
        ("lender", _has(slip["lender"], _LENDER)), ("borrower", _is_text(slip["borrower"])),
        ("on", _is_text(slip["on"])),
        ("part", _has(slip["part"], _PART) and bool(slip["part"]["name"])),
        ("lines", isinstance(slip["lines"], list) and 0 < len(slip["lines"]) <= MOST_LINES
         and all(map(_is_line, slip["lines"]))))
    for name, is_good in said:
        if not is_good:
            raise InvalidInput.at(f"#/slip/{name}", "this is not as a slip has it")


def _is_line(line: Any) -> bool:
    from spares.domain.documents import fault  # late: only what comes from others is checked

    return (isinstance(line, dict) and set(line) == {"q", "condition", "expires"}
            and type(line["q"]) is int and 0 < line["q"] <= GREATEST_Q
            and not any(fault("lot", name, line[name]) for name in ("condition", "expires")))


def _has(value: Any, names: tuple[str, ...]) -> bool:
    return isinstance(value, dict) and set(value) == set(names) and all(
        one is None or _is_text(one) for one in value.values())


def _is_text(value: Any) -> bool:
    return isinstance(value, str) and len(value) <= 200 and value.isprintable()


def _is_uuid(value: Any) -> bool:
    try:
        return isinstance(value, str) and str(UUID(value)) == value
    except ValueError:
        return False


def _seal(bare: Any) -> str:
    try:
        text = json.dumps(bare, sort_keys=True, separators=(",", ":"), allow_nan=False)
    except (TypeError, ValueError, RecursionError):
        return ""
    return hashlib.sha256(text.encode()).hexdigest()
