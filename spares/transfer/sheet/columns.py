"""What the columns of a person's spreadsheet hold: guessed, shown, and put right by hand."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from functools import cache
from pathlib import Path
from typing import Any

from spares.errors import InvalidInput
from spares.transfer.sheet.read import Sheet

FIELDS = ("name", "maker", "number", "locker", "quantity", "unit", "price", "expires", "seller",
          "note")
NUMBERS, DAYS = ("quantity", "price"), ("expires",)
ORDERS = ("ymd", "dmy", "mdy")
CURRENCIES = {"€": "EUR", "£": "GBP", "$": "USD", "eur": "EUR", "gbp": "GBP", "usd": "USD",
              "dkk": "DKK", "sek": "SEK", "nok": "NOK", "chf": "CHF", "pln": "PLN"}
_EXAMPLES = 3
_THREE = re.compile(r"(\d+)[./-](\d+)[./-](\d+)$")


@dataclass(frozen=True)
class SheetColumn:
    """One column: what it holds, None to leave it out, and how its cells are read.

    `mark` is the decimal mark of numbers, `order` that of day, month and year, `currency` that
    of prices; each None where it does not matter. `sure` is False where the order was a toss.
    """

    heading: str
    field: str | None
    mark: str | None = None
    order: str | None = None
    currency: str | None = None
    sure: bool = True
    examples: tuple[str, ...] = ()


def guess_columns(sheet: Sheet) -> tuple[SheetColumn, ...]:
    """Guess what each column holds by its heading, and how it is written by its cells."""
    fields: list[str | None] = [None] * len(sheet.header)
    for field, words in _headings().items():        # the surest word first, each field once
        for i, heading in enumerate(sheet.header):
            if fields[i] is None and field not in fields and _says(heading, words):
                fields[i] = field
    return tuple(_written(sheet, i, SheetColumn(heading, field))
                 for i, (heading, field) in enumerate(zip(sheet.header, fields, strict=True)))


def choose_columns(sheet: Sheet, chosen: Sequence[Mapping[str, Any]] | None
                   ) -> tuple[SheetColumn, ...]:
    """Give the columns as a person chose them; what was not said is guessed.

    Raises:
        InvalidInput: no such field, a field twice, or neither name nor number.
    """
    found = list(guess_columns(sheet))
    if chosen is not None:
        if len(chosen) != len(found):
            raise InvalidInput.at("#/columns", f"{len(found)} are needed, one for each column")
        found = [_chosen(sheet, i, found[i], one) for i, one in enumerate(chosen)]
    named = [one.field for one in found if one.field]
    twice = next((field for field, count in Counter(named).items() if count > 1), None)
    if twice:
        raise InvalidInput.at("#/columns", f"two columns cannot both be the {twice}")
    if not {"name", "number"} & set(named):
        raise InvalidInput.at("#/columns", "say which column is the name, or the maker's number")
    return tuple(found)


def _chosen(sheet: Sheet, i: int, guess: SheetColumn, one: Mapping[str, Any]) -> SheetColumn:
    field = one.get("field", guess.field) or None
    if field is not None and field not in FIELDS:
        raise InvalidInput.at(f"#/columns/{i}/field", f"one of {', '.join(FIELDS)} is needed")
    column = guess if field == guess.field else _written(
        sheet, i, SheetColumn(guess.heading, field))
    said = {key: one[key] for key in ("mark", "order", "currency") if one.get(key)}
    for key, among in (("mark", (".", ",")), ("order", ORDERS)):
        if key in said and said[key] not in among:
            raise InvalidInput.at(f"#/columns/{i}/{key}", f"one of {' '.join(among)} is needed")
    if not re.fullmatch("[A-Z]{3}", said.get("currency", "EUR")):
        raise InvalidInput.at(f"#/columns/{i}/currency", "three letters are needed, such as EUR")
    return replace(column, **said, sure=column.sure or "order" in said)


def shown(column: SheetColumn) -> dict[str, Any]:
    """Give a column as plain values."""
    return {**asdict(column), "examples": list(column.examples)}


@cache
def _headings() -> dict[str, list[str]]:
    text = (Path(__file__).parent / "headings.toml").read_text("utf-8")
    return tomllib.loads(text)


def _says(heading: str, words: list[str]) -> bool:
    plain = " ".join(re.findall(r"[\w/]+", heading.casefold()))
    return any(re.search(rf"\b{re.escape(word)}s?\b", plain) for word in words)


def _written(sheet: Sheet, i: int, column: SheetColumn) -> SheetColumn:
    cells = [cells[i] for _, cells in sheet.rows if cells[i]]
    column = replace(column, examples=tuple(dict.fromkeys(cells))[:_EXAMPLES])
    if column.field in NUMBERS:
        column = replace(column, mark=_mark(cells))
    if column.field == "price":
        column = replace(column, currency=_currency(column.heading, cells))
    if column.field in DAYS:
        order, sure = _order(cells)
        column = replace(column, order=order, sure=sure)
    return column


def _mark(cells: list[str]) -> str:
    """The mark that more cells have before one or two last digits; a point where none has."""
    ends = Counter(found[1] for cell in cells if (found := re.search(r"\d([.,])\d{1,2}\D*$", cell)))
    return ends.most_common(1)[0][0] if ends else "."


def _currency(heading: str, cells: list[str]) -> str | None:
    words = Counter(CURRENCIES[sign] for text in (heading, *cells)
                    for sign in re.findall(r"[€£$]|[a-z]{3}", text.casefold())
                    if sign in CURRENCIES)
    return words.most_common(1)[0][0] if words else None


def _order(cells: list[str]) -> tuple[str, bool]:
    """The order that fits all days with three numbers; day before month where both do."""
    three = [tuple(map(int, found.groups())) for cell in cells if (found := _THREE.match(cell))]
    if not three or all(one[0] > 31 for one in three):
        return "ymd", True
    late_first = sum(12 < one[0] <= 31 for one in three)
    late_second = sum(one[1] > 12 for one in three)
    return ("mdy" if late_second > late_first else "dmy"), late_first != late_second
