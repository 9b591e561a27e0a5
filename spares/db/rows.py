"""Small helpers for rows, used by all of `db`."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any, TypeVar

from sqlalchemy import insert
from sqlmodel import Session

#: Rows that one statement carries.
AT_ONCE = 500

T = TypeVar("T")


def chunks(items: Sequence[T], size: int) -> Iterator[list[T]]:
    """Cut a list into pieces that a statement can carry."""
    for start in range(0, len(items), size):
        yield list(items[start:start + size])


def insert_all(session: Session, table: Any, rows: Sequence[dict[str, Any]]) -> None:
    """Insert rows that all name the same columns; this is twice as fast as by mapped objects."""
    statement = insert(table.__table__)
    for some in chunks(rows, AT_ONCE):
        session.execute(statement, some)
