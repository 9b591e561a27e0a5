"""Each row of a person's spreadsheet: good, to look at with what is suggested, or to skip.

Nothing is made up: a count that cannot be read is *not counted*, a day that cannot be is no reason
to believe that a thing lasts for ever, so its row is left out.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from spares.domain.search_text import fold
from spares.transfer import cells
from spares.transfer.sheet.columns import CURRENCIES, SheetColumn
from spares.transfer.sheet.days import read_day
from spares.transfer.sheet.read import Sheet

GOOD, LOOK_AT, SKIP = "good", "look-at", "skip"
LONGEST = 200
_TOTAL = re.compile(r"(sub ?)?totals?\b|sum\b", re.I)
_FORMULA_ERROR = re.compile(r"#(REF|N/A|VALUE|NAME|DIV/0|NULL|NUM)[!?]?")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")
_ABOUT = re.compile(r"(?:ca\.?|about|approx\.?|~|>)?\s*(\d+(?:[.,]\d{1,3})?)\s*"
                    r"(?:\+|x|pcs?\.?|pieces?|ea\.?|off|each|l|m|kg|ltr|litres?)?\.?", re.I)
_VAGUE = re.compile(r"some|a? ?few|several|many|lots?|plenty|yes|x|\?+|-", re.I)
_MONEY = re.compile(
    rf"[€£$]|\b(?:{'|'.join(word for word in CURRENCIES if word.isalpha())}|kr)\b\.?|,-$", re.I)
_NONE = re.compile(r"none|nil|no|out", re.I)


@dataclass(frozen=True)
class Remark:
    """What is to be said of a cell, and what is suggested instead; None where nothing is."""

    field: str
    cell: str
    reason: str
    suggested: str | None = None


@dataclass
class JudgedRow:
    """A row with its verdict; `values` are those that would come in."""

    number: int
    cells: tuple[str, ...]
    verdict: str = GOOD
    values: dict[str, Any] = field(default_factory=dict)
    remarks: list[Remark] = field(default_factory=list)

    def say(self, column: str, cell: str, reason: str, suggested: str | None = None) -> None:
        """Note a remark; one without a suggestion skips the row."""
        self.remarks.append(Remark(column, cell, reason, suggested))
        if suggested is None:
            self.verdict = SKIP
        elif self.verdict == GOOD:
            self.verdict = LOOK_AT


def judge_rows(sheet: Sheet, columns: Sequence[SheetColumn]) -> list[JudgedRow]:
    """Judge every row by itself and against those above it."""
    seen: dict[tuple[str, ...], JudgedRow] = {}
    found = []
    for number, texts in sheet.rows:
        row = JudgedRow(number, texts)
        _read(row, {one.field: (texts[i], one) for i, one in enumerate(columns) if one.field})
        if row.verdict != SKIP:
            _against(row, seen)
        found.append(row)
    return found


def _read(row: JudgedRow, given: dict[str, tuple[str, SheetColumn]]) -> None:
    first = next((text for text in row.cells if text), "")
    if _TOTAL.match(first):
        row.say("name", first, "a sum, not a thing")
        return
    for name, (text, column) in given.items():
        if text and not _is_plain(row, name, text):
            continue
        _READERS.get(name, _plain)(row, name, text, column)
    _name(row)
    _place(row, {name: text for name, (text, _) in given.items()})


def _is_plain(row: JudgedRow, name: str, text: str) -> bool:
    if _FORMULA_ERROR.match(text):
        row.say(name, text, "the spreadsheet itself could not work this out")
    elif _CONTROL.search(text):
        row.say(name, text[:20], "holds a control character")
    elif len(text) > (cells.LONGEST_NO if name in ("number", "locker") else 10 * LONGEST):
        row.say(name, text[:LONGEST], "far too long")
    else:
        return True
    return False


def _plain(row: JudgedRow, name: str, text: str, _: SheetColumn) -> None:
    if text:
        row.values[name] = re.sub(r"\s+", " ", text)


def _quantity(row: JudgedRow, name: str, text: str, column: SheetColumn) -> None:
    if not text:
        return
    try:
        row.values[name] = cells.parse("quantity", _number(text, column.mark))
        return
    except ValueError as err:
        reason = str(err)
    about = _ABOUT.fullmatch(text)
    if re.match(r"-\s*\d", text):
        row.say(name, text, "less than none")
    elif about and not re.search(r"[.,]\d{3}$", about[1]):
        row.values[name] = cells.parse("quantity", about[1])
        row.say(name, text, "more than a number", about[1])
    elif _NONE.fullmatch(text):
        row.values[name] = 0
        row.say(name, text, "a word for a number", "0")
    elif _VAGUE.fullmatch(text):
        row.values[name] = "?"
        row.say(name, text, "nobody knows how many", "not counted")
    elif about:
        row.values[name] = "?"
        row.say(name, text, "thousands or decimals?", "not counted")
    else:
        row.say(name, text, reason)


def _number(text: str, mark: str | None) -> str:
    """Take out what sets thousands apart: blanks, and the sign that is not the decimal mark."""
    plain = re.sub(r"(?<=\d)[\s\u00a0'](?=\d{3})", "", text)
    other = "," if mark == "." else "."
    if re.fullmatch(rf"-?\d{{1,3}}(?:\{other}\d{{3}})+(?:\{mark}\d+)?", plain):
        plain = plain.replace(other, "")
    elif other in plain or re.search(rf"\{mark}\d{{3}}$", plain):
        raise ValueError(f"{text!r}: thousands or decimals?")
    return plain


def _price(row: JudgedRow, name: str, text: str, column: SheetColumn) -> None:
    bare = _MONEY.sub("", text).strip()
    if not bare:
        return
    try:
        row.values[name] = cells.parse("minor", _number(bare, column.mark))
    except ValueError as err:
        if not re.fullmatch(r"\d+[.,]\d{1,2}", bare):
            row.say(name, text, str(err), "without a price")
            return
        row.values[name] = cells.parse("minor", bare)
        row.say(name, text, "another decimal mark than in this column", bare)
    if column.currency is None:
        del row.values[name]
        row.say(name, text, "no currency is known for it", "without a price")


def _expires(row: JudgedRow, name: str, text: str, column: SheetColumn) -> None:
    if not text or re.fullmatch(r"-+|n/?a|none", text, re.I):
        return
    day, why = read_day(text, column.order or "ymd")
    if day is None:
        row.say(name, text, why)
        return
    row.values[name] = day
    if why:
        row.say(name, text, why, day)


_READERS = {"quantity": _quantity, "price": _price, "expires": _expires}


def _name(row: JudgedRow) -> None:
    if row.verdict == SKIP or row.values.get("name"):
        return
    number = row.values.get("number")
    if not number:
        row.say("name", "", "neither name nor number")
        return
    row.values["name"] = " ".join(filter(None, (row.values.get("maker"), number)))
    row.say("name", "", "without a name", row.values["name"])


def _place(row: JudgedRow, texts: dict[str, str]) -> None:
    if row.verdict == SKIP or "locker" not in texts and "quantity" not in texts:
        return
    has_place, has_count = bool(row.values.get("locker")), "quantity" in row.values
    if has_count and not has_place and row.values["quantity"] != 0:
        row.values.pop("quantity")
        row.say("locker", "", "nobody knows where", "the part without a count")
    elif has_place and not has_count:
        row.values["quantity"] = "?"
        row.say("quantity", "", "no count", "not counted")


def identity(values: dict[str, Any]) -> tuple[str, ...]:
    """Tell parts apart: by maker and number, without a number by maker and name."""
    maker, number = fold(values.get("maker") or ""), fold(values.get("number") or "")
    return (maker, number, "") if number else (maker, "", fold(values.get("name") or ""))


def _against(row: JudgedRow, seen: dict[tuple[str, ...], JudgedRow]) -> None:
    """The same part in the same place twice: the same count is a slip, another one is added."""
    key = (*identity(row.values), fold(row.values.get("locker") or ""),
           row.values.get("expires") or "")
    first = seen.setdefault(key, row)
    if first is row:
        return
    one, other = first.values.get("quantity"), row.values.get("quantity")
    if one == other or not isinstance(one, int) or not isinstance(other, int):
        row.say("name", row.values["name"], f"row {first.number} says the same thing")
        return
    row.values["added_to"] = first.number
    row.say("quantity", "", f"row {first.number} counts the same thing there",
            "both together")
