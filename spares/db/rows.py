"""Small helpers for rows, used by all of `db`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from operator import itemgetter
from typing import Any, TypeVar

from sqlalchemy import ColumnElement, Table, bindparam, func, insert, select, tuple_, update
from sqlalchemy.orm.util import identity_key
from sqlmodel import Session, col

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


def update_all(session: Session, table: Any, rows: Sequence[dict[str, Any]],
               key: Sequence[str]) -> None:
    """Write anew rows that are there and all name the same columns, found by their primary *key*.

    Who holds one of them reads it again: it is written past the objects of the session.
    """
    if not rows:
        return
    columns = table.__table__.c
    values = [name for name in rows[0] if name not in key]
    if _is_sqlite(session):
        quote = session.connection().dialect.identifier_preparer.quote
        sets, finds = (join.join(f"{quote(name)} = ?" for name in names)
                       for join, names in ((", ", values), (" AND ", key)))
        _hand_over(session, table.__table__, [*values, *key], rows,
                   f"UPDATE {table.__tablename__} SET {sets} WHERE {finds}")
    else:
        session.connection().execute(
            update(table.__table__).where(*(columns[one] == bindparam(f"in_{one}") for one in key))
            .values({name: bindparam(f"new_{name}") for name in values}),
            [{f"{'in' if name in key else 'new'}_{name}": value for name, value in row.items()}
             for row in rows])
    if held := session.identity_map:
        for row in rows:
            one = held.get(identity_key(table, tuple(row[name] for name in key)))
            if one is not None:
                session.expire(one)


def _insert_plainly(session: Session, table: Table, rows: Sequence[dict[str, Any]]) -> None:
    """Hand rows that name every column to the driver: much faster again."""
    names = [column.name for column in table.c]
    quote = session.connection().dialect.identifier_preparer.quote
    _hand_over(session, table, names, rows,
               f"INSERT INTO {table.name} ({', '.join(map(quote, names))}) "
               f"VALUES ({', '.join('?' * len(names))})")


def _hand_over(session: Session, table: Table, names: list[str], rows: Sequence[dict[str, Any]],
               sql: str) -> None:
    """Give the driver a statement for each row, with the values of these columns."""
    connection = session.connection()
    written = {name: process for name in names if (
        process := table.c[name].type.dialect_impl(connection.dialect).bind_processor(
            connection.dialect))}
    pick = itemgetter(*names)
    if written:
        rows = [{**row, **{name: write(row[name]) for name, write in written.items()}}
                for row in rows]
    connection.exec_driver_sql(sql, [pick(row) for row in rows])


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
