"""A person's own spreadsheet as rows of text: CSV however it was saved, or XLSX."""

from __future__ import annotations

import csv
import io
import warnings
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time
from typing import Any

from spares.errors import InvalidInput
from spares.transfer.archive import LARGEST_FILE

MOST_ROWS = 20_000
MOST_COLUMNS = 60
#: What the parts of an XLSX file may hold unpacked [bytes].
LARGEST_UNPACKED = 100_000_000
_SIGNS = ";,\t"
_LOOKED_AT = 20


@dataclass(frozen=True)
class Sheet:
    """The first table of a spreadsheet.

    `rows` are (number as the spreadsheet counts, cells), as many cells as `header` has.
    `notes` tell what was guessed in reading.
    """

    header: tuple[str, ...]
    rows: tuple[tuple[int, tuple[str, ...]], ...]
    notes: tuple[str, ...] = ()


def read_sheet(content: bytes, name: str = "") -> Sheet:
    """Read a spreadsheet; the first line with two cells or more holds the column names.

    Raises:
        InvalidInput: too large, damaged, or nothing in it.
    """
    if len(content) > LARGEST_FILE:
        raise InvalidInput.at("#/file", f"larger than {LARGEST_FILE // 1_000_000} MB")
    notes: list[str] = []
    lines = _xlsx(content) if content[:4] == b"PK\x03\x04" else _csv(content, notes)
    rows = [(number, tuple(cell.strip() for cell in cells)) for number, cells in lines]
    rows = [(number, cells) for number, cells in rows if any(cells)]
    at = next((i for i, (_, cells) in enumerate(rows) if sum(map(bool, cells)) > 1), None)
    if at is None or at + 1 >= len(rows):
        raise InvalidInput.at("#/file", "no table is in it: a line of column names, then rows")
    width = max(i + 1 for i, cell in enumerate(rows[at][1]) if cell)
    width = max(width, *(len(cells) for _, cells in rows[at + 1:][:_LOOKED_AT]))
    if width > MOST_COLUMNS:
        raise InvalidInput.at("#/file", f"more than {MOST_COLUMNS} columns")
    return Sheet(_as_wide(rows[at][1], width), tuple(
        (number, _as_wide(cells, width)) for number, cells in rows[at + 1:]), tuple(notes))


def _as_wide(cells: tuple[str, ...], width: int) -> tuple[str, ...]:
    return (cells + ("",) * width)[:width]


def _within(lines: Iterable[tuple[int, list[str]]]) -> list[tuple[int, list[str]]]:
    found = []
    for line in lines:
        found.append(line)
        if len(found) > MOST_ROWS:
            raise InvalidInput.at("#/file", f"more than {MOST_ROWS} rows")
    return found


def _csv(content: bytes, notes: list[str]) -> list[tuple[int, list[str]]]:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = content.decode("cp1252", errors="replace")
        notes.append("The file is not UTF-8; it was read as Windows-1252: look at the accents.")
    head = text.splitlines()[:_LOOKED_AT]
    sign = max(_SIGNS, key=lambda one: sum(line.count(one) for line in head))
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=sign)
    try:
        return _within(enumerate(reader, 1))
    except csv.Error as err:
        raise InvalidInput.at("#/file", f"line {reader.line_num}: {err}") from err


def _xlsx(content: bytes) -> list[tuple[int, list[str]]]:
    from openpyxl import load_workbook  # late: few starts read a spreadsheet

    try:
        with zipfile.ZipFile(io.BytesIO(content)) as archive:
            if sum(one.file_size for one in archive.infolist()) > LARGEST_UNPACKED:
                raise InvalidInput.at("#/file", "unpacked it is far too large")
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")         # of styles and the like, which nobody needs
            book = load_workbook(io.BytesIO(content), read_only=True, data_only=True)
            for sheet in book.worksheets:
                sheet.reset_dimensions()            # what the file says of them may be wrong
                found = _within((number, _cells(values)) for number, values
                                in enumerate(sheet.iter_rows(values_only=True), 1))
                if any(any(cells) for _, cells in found):
                    return found
    except InvalidInput:
        raise
    except Exception as err:            # whatever a damaged or hostile file makes of the reader
        raise InvalidInput.at("#/file", f"this is no spreadsheet that can be read: {err}"[:300]
                              ) from err
    return []


def _cells(values: Sequence[Any]) -> list[str]:
    """Write a row to its last cell; one cell beyond all columns stands for those out there.

    A single cell at the far right makes a row of 16,384, and so may every row of a small file.
    """
    last = len(values)
    while last and values[last - 1] is None:
        last -= 1
    beyond = values[last - 1:last] if last > MOST_COLUMNS else ()
    return [_text(value) for value in (*values[:min(last, MOST_COLUMNS)], *beyond)]


def _text(value: Any) -> str:
    """Write a cell as a person would type it: a date as ISO, a number with a point."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.date().isoformat() if value.time() == time() else value.isoformat(" ")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return str(int(value)) if value.is_integer() else repr(value)
    return str(value)
