"""What the row readers share: the tables, what numbers stand for, dates, faults."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from spares.domain.aboard import Aboard
from spares.domain.identity import joined_id
from spares.domain.shapes import DAY
from spares.domain.trip_fields import stored
from spares.transfer.columns import TABLES, Column
from spares.transfer.day_shift import DayShift
from spares.transfer.faults import Faults
from spares.transfer.names import Names
from spares.transfer.tables import Row, Tables

_DAYS = ("day", "full-day")


class Bringing:
    """One bringing-in of files for the vessel with id *vessel*."""

    def __init__(self, tables: Tables, vessel: str, aboard: Aboard | None,
                 shift: DayShift | None, again: int = 0) -> None:
        self.tables = tables
        self.vessel = vessel
        self.aboard = aboard
        self.shift = shift
        self.again = again
        self.names = Names(tables, vessel, aboard)
        self.faults = Faults()

    def is_there(self, doc: str) -> bool:
        """Tell whether the vessel had this document before the files came."""
        return self.aboard is not None and self.aboard.get(doc) is not None

    def rows(self, table: str) -> Iterator[tuple[Row, dict[str, Any]]]:
        """Give each row of a table with its values ready: numbers found, dates moved.

        A row that says the same thing as an earlier one, or in which something is
        wrong, is noted and left out.
        """
        seen: dict[tuple[str, ...], int] = {}
        for row in self.tables.get(table, []):
            key = tuple(str(row.get(column) or "") for column in TABLES[table].key)
            first = seen.setdefault(key, row.number)
            if first != row.number:
                self.fault(table, row, None, f"says the same thing as row {first}")
                continue
            count = self.faults.count
            ready = {name: self.ready(table, row, name) for name in row.values}
            if self.faults.count == count:
                yield row, ready

    def ready(self, table: str, row: Row, name: str) -> Any:
        """Give one value: a number as the reference it stands for, a date moved."""
        column, value = TABLES[table].by_name[name], row.get(name)
        if value is None:
            return None
        try:
            if column.names:
                return self._named(column, value)
            if column.type == "shaped":
                return self._listed(column, value)
            if column.type in _DAYS and self.shift is not None and name != "day_zero":
                return self.shift.moved(value)
        except ValueError as err:
            self.fault(table, row, name, str(err))
            return None
        return value

    def _listed(self, column: Column, value: Any) -> Any:
        """Find the things that a list names, and move its days."""
        def name(one: Any, kinds: tuple[str, ...], path: str) -> Any:
            if not isinstance(one, str) or not one:
                return one
            if kinds == DAY:
                return one if self.shift is None else self.shift.moved(one)
            return self.names.find(one, kinds)
        return stored(column.shape, value, name)

    def _named(self, column: Column, value: Any) -> Any:
        if isinstance(value, list):
            return [self.names.find(no, column.names) for no in value]
        return self.names.find(value, column.names)

    def fault(self, table: str, row: Row, column: str | None, detail: str) -> None:
        """Note what is wrong in a row."""
        self.faults.add(TABLES[table].file, row.number, column, detail)

    def change_id(self, what: str, *facts: Any) -> str:
        """Give the id of the change that these facts of a file make, always the same."""
        times = (f"again {self.again}",) if self.again else ()
        return joined_id("brought-in", self.vessel, what, *(str(f) for f in facts), *times)
