"""A vessel as tables that spreadsheets open and that the import reads back.

As RFC 4180 asks: a header line, lines ending in CRLF, quotes doubled. The plain
form has commas and decimal points; the other has semicolons and decimal commas,
for spreadsheets set to such a language. A cell that a spreadsheet would take for
a formula gets a leading `'`, which the import takes off again.
"""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Iterable, Mapping
from typing import Any

from spares.domain.aboard import Aboard
from spares.transfer import cells
from spares.transfer.columns import TABLES, Table
from spares.transfer.export_rows import table_rows
from spares.transfer.tables import FORMULA_LIKE

# The first moment a zip archive can state: the same vessel gives the same bytes.
_NO_TIME = (1980, 1, 1, 0, 0, 0)


def vessel_csv(aboard: Aboard, *, semicolons: bool = False) -> dict[str, str]:
    """Give the text of each table that has rows, by file name.

    Columns in which nothing stands are left out, those that must be there are not.
    """
    found = {}
    for table in TABLES.values():
        rows = list(table_rows(aboard, table))
        if rows:
            found[table.file] = table_csv(table, rows, semicolons=semicolons)
    return found


def table_csv(table: Table, rows: list[Mapping[str, Any]], *, semicolons: bool = False) -> str:
    """Write rows of values by column as the text of a table's file."""
    mark = "," if semicolons else "."
    columns = [column for column in table.columns
               if column.needed or any(row.get(column.name) is not None for row in rows)]
    lines = [[safe_text(cells.write(column.type, row.get(column.name), mark)) for column in columns]
             for row in rows]
    return csv_text([[column.name for column in columns], *lines], semicolons=semicolons)


def csv_text(lines: Iterable[list[str]], *, semicolons: bool = False) -> str:
    """Write lines of cells as CSV with CRLF."""
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=";" if semicolons else ",", lineterminator="\r\n").writerows(lines)
    return out.getvalue()


def zipped(files: Mapping[str, str]) -> bytes:
    """Put files into one archive; the same files give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, text in sorted(files.items()):
            archive.writestr(zipfile.ZipInfo(name, _NO_TIME), text.encode(),
                             zipfile.ZIP_DEFLATED)
    return out.getvalue()


def safe_text(text: str) -> str:
    """Keep a spreadsheet from taking a text for a formula."""
    return "'" + text if FORMULA_LIKE.match(text) else text
