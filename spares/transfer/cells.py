"""One cell of a table: text to value and back.

`parse(type, text)` gives a plain JSON value, None for an empty cell; a
ValueError says what is wrong. `write(type, value, mark)` is its reverse, with
*mark* as the decimal mark. A number may have a comma or a point for its decimals;
thousands are never set apart.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

LONGEST_NO = 200

_NUMBER = re.compile(r"-?[0-9]{1,12}([.,][0-9]{1,9})?")
_PAIR = re.compile(r"[a-z][a-z0-9_]*=[^\s\"{}\[\]]+")
_DAY = re.compile(r"[0-9]{4}(-[0-9]{2}(-[0-9]{2})?)?")
_FLAGS = {"yes": True, "y": True, "true": True, "1": True,
          "no": False, "n": False, "false": False, "0": False}


def parse(type_: str, text: str) -> Any:
    """Read the text of a cell; None where nothing stands in it.

    Raises:
        ValueError: the text is not of this type; its message says what is needed.
    """
    text = text.strip()
    return CELL_TYPES[type_].read(text) if text else None


def write(type_: str, value: Any, mark: str = ".") -> str:
    """Write a value as a cell's text; None becomes an empty cell."""
    return "" if value is None else CELL_TYPES[type_].write(value, mark)


def scaled(text: str, factor: int, what: str) -> int:
    """Read a number that times *factor* [1] is whole, such as 1,5 h as 90 minutes."""
    if not _NUMBER.fullmatch(text):
        raise ValueError(f"{text!r} is no number (write 12 or 12,5, thousands not set apart)")
    value = Decimal(text.replace(",", ".")) * factor
    if value < 0:
        raise ValueError("must not be below 0")
    if value != value.to_integral_value():
        raise ValueError(f"{text!r} is finer than {what}")
    return int(value)


def unscaled(value: int, factor: int, mark: str) -> str:
    """Write a whole number of the *factor*-th part [1] as a decimal number."""
    number = format((Decimal(value) / factor).normalize(), "f")
    return number.replace(".", mark)


def _no(text: str) -> str:
    if len(text) > LONGEST_NO:
        raise ValueError(f"longer than {LONGEST_NO} characters")
    if any(c in text for c in "\n\t|"):
        raise ValueError("a number holds no bar, tab or line break")
    return text


def _whole(text: str) -> int:
    if not re.fullmatch(r"[0-9]{1,12}", text):
        raise ValueError(f"{text!r} is no whole number from 0")
    return int(text)


def _flag(text: str) -> bool:
    if text.lower() not in _FLAGS:
        raise ValueError(f"yes or no is needed, not {text!r}")
    return _FLAGS[text.lower()]


def _day(text: str) -> str:
    if not _DAY.fullmatch(text):
        raise ValueError(f"{text!r} is no date (write 2027-03-15, or 2027-03, or 2027)")
    try:
        date.fromisoformat((text + "-01-01")[:10])
    except ValueError as err:
        raise ValueError(f"there is no day {text}") from err
    return text


def _full_day(text: str) -> str:
    if len(_day(text)) != len("2027-03-15"):
        raise ValueError(f"a whole date such as 2027-03-15 is needed, not {text!r}")
    return text


def _quantity(text: str) -> int:
    return scaled(text, 1000, "a thousandth")


def _count(text: str) -> int | str:
    return text if text == "?" else _quantity(text)


def _hours(text: str) -> int:
    """Hours with decimals, or as 1912:24."""
    clock = re.fullmatch(r"([0-9]{1,9}):([0-5][0-9])", text)
    if clock:
        return int(clock[1]) * 60 + int(clock[2])
    if re.search(r"[.,][0-9]{3}$", text):
        raise ValueError(f"{text!r}: thousands or decimals? Write 1912 or 1,9")
    return scaled(text, 60, "a minute")


def _write_hours(minutes: int, mark: str) -> str:
    if minutes % 6 == 0:
        return unscaled(minutes, 60, mark)
    return f"{minutes // 60}:{minutes % 60:02d}"


def _minor(text: str) -> int:
    if re.search(r"[.,][0-9]{3}", text):
        raise ValueError(f"{text!r}: thousands are not set apart; decimals are at most two")
    return scaled(text, 100, "a hundredth")


def _decimal(text: str) -> str:
    if not _NUMBER.fullmatch(text):
        raise ValueError(f"{text!r} is no number")
    return text.replace(",", ".")


def _names(text: str) -> list[str]:
    return [_no(name.strip()) for name in text.split("|") if name.strip()]


def _json(text: str) -> Any:
    try:
        return json.loads(text, parse_float=str)
    except (ValueError, RecursionError) as err:
        raise ValueError(f"cannot be read as JSON: {err}") from err


def _object(text: str) -> dict[str, Any]:
    """`medium=sea-water wet=yes`, or JSON."""
    if text.startswith("{"):
        found = _json(text)
    else:
        pairs = text.split()
        if not all(_PAIR.fullmatch(pair) for pair in pairs):
            raise ValueError(f"write name=value name=value, not {text!r}")
        found = {name: _scalar(value) for name, _, value in (p.partition("=") for p in pairs)}
    if not isinstance(found, dict):
        raise ValueError("an object is needed")
    return found


def _origin(text: str) -> dict[str, Any]:
    """`how=maker by=Quillsund when=2019`: a year alone is a date cut short, so it stays text."""
    return {name: str(value) if isinstance(value, int) else value
            for name, value in _object(text).items()}


def _shaped(text: str) -> Any:
    """A list or object as JSON, or a plain object as `level=0,95`."""
    return _json(text) if text.startswith("[") else _object(text)


def _scalar(text: str) -> Any:
    """Yes and no as such, a whole number as one, decimals as text with a point."""
    if text in ("yes", "no"):
        return text == "yes"
    if re.fullmatch(r"0|[1-9][0-9]{0,11}", text):
        return int(text)
    return _decimal(text) if _NUMBER.fullmatch(text) else text


def _claimed(text: str) -> Any:
    """What a claim says: one value, several (`CR|NBR`), or parts (`min=1 max=2`)."""
    if text[0] in '{["':
        return _json(text)
    if all(_PAIR.fullmatch(word) for word in text.split()):
        return _object(text)
    if "|" in text:
        return [_scalar(word.strip()) for word in text.split("|")]
    return _scalar(text)


def _write_scalar(value: Any, mark: str) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    text = str(value)
    return text.replace(".", mark) if _NUMBER.fullmatch(text) else text


def _write_claimed(value: Any, mark: str) -> str:
    """Write it as a person would, or as JSON where that would be read as something else."""
    if isinstance(value, dict):
        text = " ".join(f"{name}={_write_scalar(v, mark)}" for name, v in value.items())
    elif isinstance(value, list):
        text = "|".join(_write_scalar(v, mark) for v in value)
    else:
        text = _write_scalar(value, mark)
    try:
        same = bool(text.strip()) and _claimed(text.strip()) == value
    except ValueError:
        same = False
    return text if same else json.dumps(value, ensure_ascii=False)


class CellType(NamedTuple):
    """How one sort of cell is read and written."""

    read: Callable[[str], Any]
    write: Callable[[Any, str], str]


def _as_text(value: Any, mark: str) -> str:
    return str(value)


def _factor(factor: int) -> Callable[[Any, str], str]:
    return lambda value, mark: unscaled(value, factor, mark)


CELL_TYPES: dict[str, CellType] = {
    "text": CellType(str, _as_text),
    "no": CellType(_no, _as_text),
    "whole": CellType(_whole, _as_text),
    "flag": CellType(_flag, _write_scalar),
    "day": CellType(_day, _as_text),
    "full-day": CellType(_full_day, _as_text),
    "quantity": CellType(_quantity, _factor(1000)),
    "count": CellType(_count, lambda v, mark: v if v == "?" else unscaled(v, 1000, mark)),
    "hours": CellType(_hours, _write_hours),
    "minor": CellType(_minor, _factor(100)),
    "decimal": CellType(_decimal, lambda value, mark: value.replace(".", mark)),
    "names": CellType(_names, lambda value, mark: "|".join(value)),
    "object": CellType(_object, _write_claimed),
    "shaped": CellType(_shaped, _write_claimed),
    "origin": CellType(_origin, _write_claimed),
    "claimed": CellType(_claimed, _write_claimed),
}
