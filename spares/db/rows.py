"""Small helpers for rows, used by all of `db`."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Sequence
from operator import itemgetter
from typing import Any, TypeVar

import orjson
from sqlalchemy import ColumnElement, Table, func, insert, select, tuple_
from sqlalchemy.orm.util import identity_key
from sqlmodel import Session, col

from spares.sync.change import Envelope

#: Rows that one statement carries.
AT_ONCE = 500

T = TypeVar("T")


def chunks(items: Sequence[T], size: int) -> Iterator[list[T]]:
    """Cut a list into pieces that a statement can carry."""
    for start in range(0, len(items), size):
        yield list(items[start:start + size])


def insert_all(session: Session, table: Any, rows: Sequence[dict[str, Any]]) -> None:
    """Insert rows that all name the same columns; this is twice as fast as by mapped objects."""
    columns = table.__table__.c
    if _is_sqlite(session) and rows and rows[0].keys() == set(columns.keys()):
        _insert_plainly(session, table.__table__, rows)
        return
    for some in chunks(rows, AT_ONCE):
        session.execute(insert(table.__table__), some)


def _insert_plainly(session: Session, table: Table, rows: Sequence[dict[str, Any]]) -> None:
    """Hand rows that name every column to the driver: much faster again."""
    connection = session.connection()
    names = [column.name for column in table.c]
    quote = connection.dialect.identifier_preparer.quote
    written = {column.name: process for column in table.c if (
        process := column.type.dialect_impl(connection.dialect).bind_processor(
            connection.dialect))}
    pick = itemgetter(*names)
    if written:
        rows = [{**row, **{name: write(row[name]) for name, write in written.items()}}
                for row in rows]
    connection.exec_driver_sql(
        f"INSERT INTO {table.name} ({', '.join(map(quote, names))}) "
        f"VALUES ({', '.join('?' * len(names))})",
        [pick(row) for row in rows])


def read_anew(session: Session, table: Any, keys: Iterable[tuple[str, ...]]) -> None:
    """Have the session read these rows again: they were written past the objects it holds."""
    if held := session.identity_map:
        for key in keys:
            if (one := held.get(identity_key(table, key))) is not None:
                session.expire(one)


def is_among(session: Session, column: Any, values: Sequence[str]) -> ColumnElement[bool]:
    """Ask for the rows whose text in *column* is one of *values*.

    SQLite takes them as one JSON text: as many marks cost more to write than to look up.
    """
    if not _is_sqlite(session):
        return col(column).in_(values)
    return col(column).in_(select(func.json_each(json.dumps(list(values))).table_valued("value")))


def are_among(session: Session, columns: Sequence[Any],
              keys: Sequence[tuple[str, ...]]) -> ColumnElement[bool]:
    """Ask for the rows whose texts in *columns* are together one of *keys*."""
    if not _is_sqlite(session):
        return tuple_(*columns).in_(keys)
    each = func.json_each(json.dumps(list(keys))).table_valued("value")
    return tuple_(*columns).in_(select(*(
        func.json_extract(each.c.value, f"$[{place}]") for place in range(len(columns)))))


def _is_sqlite(session: Session) -> bool:
    return session.get_bind().dialect.name == "sqlite"


def read_envelope(raw: str) -> Envelope:
    """Read an envelope as the log keeps it; it was checked when it was taken."""
    return Envelope(**orjson.loads(raw))
