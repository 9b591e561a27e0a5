"""THE place for published tables: one JSON file a table, each saying where it is from.

`table(id)` gives a Table; a file without a source, with an unknown kind of knowledge or with
ragged rows is refused. Nothing else in the program types such values in again.
"""

from __future__ import annotations

import json
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

from spares.errors import UnknownTable
from spares.source import Source, read_source


@dataclass(frozen=True)
class Table:
    """One published table: columns with their units, rows, and the source."""

    id: str
    title: str
    source: Source
    columns: tuple[str, ...]
    units: tuple[str, ...]
    rows: tuple[tuple[Any, ...], ...]

    def records(self) -> Iterator[dict[str, Any]]:
        """Give the rows as mappings from column to value."""
        return (dict(zip(self.columns, row, strict=True)) for row in self.rows)

    def find(self, **wanted: Any) -> dict[str, Any] | None:
        """Give the first row whose columns hold *wanted*, or None."""
        return next((record for record in self.records()
                     if all(record[name] == value for name, value in wanted.items())), None)

    def find_all(self, **wanted: Any) -> list[dict[str, Any]]:
        """Give every row whose columns hold *wanted*."""
        return [record for record in self.records()
                if all(record[name] == value for name, value in wanted.items())]

    @property
    def remembered(self) -> bool:
        """Tell whether nobody looked these values up."""
        return self.source.known_by == "memory"

    def as_dict(self) -> dict[str, Any]:
        """Give the table as plain JSON, as it lies in its file."""
        source = {k: v for k, v in vars(self.source).items() if v}
        return {"id": self.id, "title": self.title, "source": source,
                "columns": [{"name": n, "unit": u}
                            for n, u in zip(self.columns, self.units, strict=True)],
                "rows": [list(row) for row in self.rows]}


def read_table(given: Any, owner: str) -> Table:
    """Make a Table of a file's content.

    Raises:
        UnknownTable: no source, no columns, or a row of another length.
    """
    if not isinstance(given, dict):
        raise UnknownTable(f"{owner} is not a table", table=owner)
    source = read_source(given.get("source"), owner)
    columns = given.get("columns") or []
    if not columns or not all(isinstance(c, dict) and c.get("name") and "unit" in c
                              for c in columns):
        raise UnknownTable(f"{owner}: every column needs a name and a unit", table=owner)
    rows = given.get("rows") or []
    ragged = [n for n, row in enumerate(rows) if len(row) != len(columns)]
    if ragged or not rows:
        raise UnknownTable(f"{owner}: row {ragged[0] if ragged else 0} is not whole", table=owner)
    return Table(str(given.get("id") or owner), str(given.get("title") or owner), source,
                 tuple(c["name"] for c in columns), tuple(c["unit"] for c in columns),
                 tuple(tuple(row) for row in rows))


@cache
def table(table_id: str) -> Table:
    """Give the table called *table_id*.

    Raises:
        UnknownTable: there is no such table, or its file cannot be trusted.
    """
    if table_id not in table_ids():
        raise UnknownTable(f"there is no table {table_id!r}", known=list(table_ids()))
    text = (files(__package__) / "tables" / f"{table_id}.json").read_text(encoding="utf-8")
    try:
        content = json.loads(text)
    except json.JSONDecodeError as err:
        raise UnknownTable(f"{table_id} is not JSON: {err}", table=table_id) from err
    return read_table(content, table_id)


@cache
def table_ids() -> tuple[str, ...]:
    """Give the names of all tables, in order."""
    folder = files(__package__) / "tables"
    return tuple(sorted(entry.name.removesuffix(".json") for entry in folder.iterdir()
                        if entry.name.endswith(".json")))
