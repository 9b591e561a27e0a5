"""Small helpers for rows, used by all of `db`."""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from typing import Any, TypeVar

from sqlalchemy import insert
from sqlmodel import Session

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
    statement = insert(table.__table__)
    for some in chunks(rows, AT_ONCE):
        session.execute(statement, some)


def read_envelope(raw: str) -> Envelope:
    """Read an envelope as the log keeps it; it was checked when it was taken."""
    return Envelope(**json.loads(raw))
