"""The rows of a person's spreadsheet as tables of the import: lockers, parts, what lies where."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

from spares.domain.aboard import Aboard
from spares.domain.codes import first_free
from spares.domain.search_text import fold
from spares.transfer.export_csv import csv_text, safe_text
from spares.transfer.sheet.columns import SheetColumn
from spares.transfer.sheet.judge import GOOD, LOOK_AT, JudgedRow, identity
from spares.transfer.sheet.read import Sheet
from spares.transfer.tables import Row, Tables

_OF_PART = ("name", "maker", "number", "unit", "seller", "note", "price")


def comes_in(row: JudgedRow, *, suggestions: bool) -> bool:
    """Tell whether a row is brought in; one to look at only as it is suggested."""
    return row.verdict == GOOD or suggestions and row.verdict == LOOK_AT


def sheet_tables(rows: Iterable[JudgedRow], columns: Sequence[SheetColumn], aboard: Aboard, *,
                 first_free_no: Mapping[str, str], taken_codes: Iterable[str] = ()) -> Tables:
    """Give the tables that bring *rows* in.

    A part or locker that is aboard already keeps its record: it is only named.

    Args:
        rows: Those that come in [-].
        columns: What the spreadsheet's columns hold [-].
        aboard: What the vessel has [-].
        first_free_no: The next number of a part and of a locker, such as P121 [-].
        taken_codes: Label codes that no new locker may get [-].
    """
    currency = next((one.currency for one in columns if one.field == "price"), None)
    parts = _Numbered(first_free_no["part"], {
        identity(tells_apart(one)): one.no for one in aboard.all("part") if one.no})
    lockers = _Numbered(first_free_no["locker"], {
        (fold(name),): one.no for one in aboard.all("locker") if one.no
        for name in (one.name, one.no, one.code) if name})
    codes, lying = set(taken_codes), {}
    tables: Tables = {"lockers": [], "parts": [], "stock": []}
    for row in rows:
        said = row.values
        part, is_new = parts.no(identity(said))
        if is_new:
            known = {key: said.get(key) for key in _OF_PART if said.get(key) is not None}
            tables["parts"].append(Row(row.number, {"no": part, **known, **(
                {"currency": currency} if "price" in known else {})}))
        if "quantity" not in said or not said.get("locker"):
            continue
        locker, is_new = lockers.no((fold(said["locker"]),))
        if is_new:
            codes.add(code := first_free(codes))
            tables["lockers"].append(Row(row.number, {
                "no": locker, "name": said["locker"], "code": code}))
        _add(lying, (part, locker, said.get("expires")), row)
    tables["stock"] = [Row(number, {"part": part, "locker": locker, "quantity": quantity,
                                    "expires": expires})
                       for (part, locker, expires), (number, quantity) in lying.items()]
    return tables


def _add(lying: dict[Any, Any], place: tuple[str, str, str | None], row: JudgedRow) -> None:
    """Pieces of a row that was added to another lie there together."""
    quantity = row.values["quantity"]
    number, there = lying.get(place, (row.number, None))
    both = isinstance(there, int) and isinstance(quantity, int)
    lying[place] = number, there + quantity if both else quantity


def tells_apart(part: Any) -> dict[str, Any]:
    """Give what tells a part that is aboard from others."""
    return {"name": part.name, "maker": part.maker, "number": part.number}


class _Numbered:
    """Things by what tells them apart; a new one gets the next free number."""

    def __init__(self, first: str, known: dict[tuple[str, ...], str]) -> None:
        self.known, self.next = known, _after(first)

    def no(self, key: tuple[str, ...]) -> tuple[str, bool]:
        """Give the number of a thing, and whether it is new."""
        is_new = key not in self.known
        if is_new:
            self.known[key] = next(self.next)
        return self.known[key], is_new


def _after(first: str) -> Iterator[str]:
    letter, digits = first[0], len(first) - 1
    number = int(first[1:])
    while True:
        yield f"{letter}{number:0{digits}}"
        number += 1


def left_out_csv(sheet: Sheet, rows: Iterable[JudgedRow]) -> str:
    """Write rows as they were, each with its number and the reason why it was left out."""
    lines = [[*row.cells, str(row.number), "; ".join(
        f"{one.field} {one.cell!r}: {one.reason}" for one in row.remarks)] for row in rows]
    return csv_text([[safe_text(cell) for cell in line]
                     for line in [[*sheet.header, "row", "left out because"], *lines]])
