"""Tables that came in: bytes to rows of plain values, or a list of all that is wrong.

CSV as in RFC 4180, with `;` or `,` between cells (whichever makes the header
readable), UTF-8 with or without a byte order mark. Cells that a spreadsheet would
take for a formula may carry a leading `'`, as the export writes them.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from spares.errors import InvalidInput
from spares.transfer import cells
from spares.transfer.archive import read_files
from spares.transfer.columns import TABLES, Column, Table
from spares.transfer.faults import Faults

MOST_COLUMNS = 100
MOST_ROWS = 200_000
LONGEST_CELL = 4000
LONGEST_LIST = 100_000

FORMULA_LIKE = re.compile(r"'*[=+\-@\t\r\n]")
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\x7f-\x9f]")


@dataclass(frozen=True)
class Row:
    """One row: its number as a spreadsheet counts (header 1) and its values by column.

    A column that the file does not have is not in `values`; an empty cell is None.
    """

    number: int
    values: dict[str, Any]

    def get(self, column: str) -> Any:
        """Give the value in a column, None for an empty cell or a column not there."""
        return self.values.get(column)


Tables = dict[str, list[Row]]


def read_tables(source: Path | bytes, name: str = "") -> Tables:
    """Read a folder, a zip archive or one CSV file into rows by table.

    Raises:
        InvalidInput: with `errors`, each naming file, row and column.
    """
    faults = Faults()
    tables: Tables = {}
    for file, content in read_files(source, name).items():
        table = TABLES.get(file.removesuffix(".csv"))
        if table is None:
            faults.add(file, None, None, f"no such table; there are {', '.join(TABLES)}")
            continue
        try:
            tables[table.name] = list(_rows(table, _text(content, file), faults))
        except InvalidInput as err:
            faults.add(file, None, None, err.detail)
    faults.raise_any()
    if not tables:
        raise InvalidInput("there is no table in it")
    return tables


def _text(content: bytes, file: str) -> str:
    try:
        return content.decode("utf-8-sig", errors="strict")
    except UnicodeDecodeError as err:
        # The byte order mark is taken off before positions are counted.
        at = err.start + (3 if content.startswith(b"\xef\xbb\xbf") else 0)
        line = content.count(b"\n", 0, at) + 1
        raise InvalidInput(f"byte {at} (0x{content[at]:02x}, line {line}) is not UTF-8; "
                           "save the file as UTF-8") from err


def _rows(table: Table, text: str, faults: Faults) -> Iterator[Row]:
    records = _records(text, table)
    header = _header(table, next(records, (1, []))[1])
    for number, record in records:
        if number > MOST_ROWS + 1:
            raise InvalidInput(f"more than {MOST_ROWS} rows")
        if not any(cell.strip() for cell in record):
            continue
        if len(record) != len(header):
            faults.add(table.file, number, None,
                       f"{len(record)} cells under {len(header)} column names")
            continue
        yield _row(table, number, dict(zip(header, record, strict=True)), faults)


def _records(text: str, table: Table) -> Iterator[tuple[int, list[str]]]:
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text, table),
                        strict=True)
    number = 0
    while True:
        begins = reader.line_num + 1        # a quote that is never closed runs on to the end
        try:
            record = next(reader)
        except StopIteration:
            return
        except csv.Error as err:
            raise InvalidInput(f"line {begins}: {err}") from err
        number += 1
        yield number, record


def _delimiter(text: str, table: Table) -> str:
    """Choose the sign under which more of the header's names are known."""
    first = text.lstrip("\r\n").partition("\n")[0]
    known = {sign: sum(_column_name(name) in table.by_name for name in first.split(sign))
             for sign in ";,"}
    return max(known, key=lambda sign: known[sign])


def _column_name(cell: str) -> str:
    return cell.strip().strip('"').strip().lower()


def _header(table: Table, record: list[str]) -> list[str]:
    names = [_column_name(cell) for cell in record]
    if not any(names):
        raise InvalidInput("the first line must hold the column names")
    if len(names) > MOST_COLUMNS:
        raise InvalidInput(f"more than {MOST_COLUMNS} columns")
    wrong = [repr(name) for name in names if name not in table.by_name]
    if wrong:
        raise InvalidInput(f"unknown column {', '.join(wrong)}; there are "
                           f"{', '.join(table.by_name)}")
    twice = sorted({name for name in names if names.count(name) > 1})
    if twice:
        raise InvalidInput(f"column {', '.join(twice)} is there twice")
    missing = [c.name for c in table.columns if c.needed and c.name not in names]
    if missing:
        raise InvalidInput(f"column {', '.join(missing)} is missing")
    return names


def _row(table: Table, number: int, record: dict[str, str], faults: Faults) -> Row:
    values = {}
    for name, text in record.items():
        try:
            values[name] = _value(table.by_name[name], text)
        except ValueError as err:
            faults.add(table.file, number, name, str(err))
    return Row(number, values)


def _value(column: Column, text: str) -> Any:
    text = text.replace("\r\n", "\n").replace("\r", "\n")
    found = _CONTROL.search(text)
    if found:
        raise ValueError(f"holds the control character U+{ord(found.group()):04X}")
    longest = LONGEST_LIST if column.type == "shaped" else LONGEST_CELL
    if len(text) > longest:
        raise ValueError(f"longer than {longest} characters")
    if text.startswith("'") and FORMULA_LIKE.match(text):
        text = text[1:]
    value = cells.parse(column.type, text)
    if value is None and column.needed:
        raise ValueError("must not be empty")
    return value
