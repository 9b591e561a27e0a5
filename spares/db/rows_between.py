"""All rows of one store into another, whatever kinds of store the two are."""

from __future__ import annotations

import hashlib
import json
import os
import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from typing import Any

from sqlalchemy import Table, delete, insert, select, text
from sqlmodel import Session, SQLModel

import spares.db.tables  # noqa: F401  (fills the metadata)
from spares.db.disk import OWNER_ONLY
from spares.db.dump import NUMBERED
from spares.db.engine import Store, open_file
from spares.db.plain_errors import plain_error
from spares.db.turn import WAIT_S
from spares.errors import StoreBusy, StoreDamaged

AT_ONCE = 500


def write_file(store: Store, target: Path) -> None:
    """Write one state of a database, which may be in use, as a store that is a file.

    Raises:
        StoreDamaged: what was written is not what was read.
    """
    file = open_file(target)
    try:
        with store.reading() as source, file.writing() as into:
            put_rows(source, into)
    finally:
        file.close()
    one_file(target)
    os.chmod(target, OWNER_ONLY)


def put_rows(source: Session, into: Session) -> None:
    """Put all rows of *source* in the place of those of *into*; both are at the same step.

    Raises:
        StoreDamaged: what was written is not what was read; let the transaction go.
    """
    for table in reversed(_tables()):
        into.execute(delete(table))
    for table in _tables():
        columns = _columns(table)
        rows = source.execute(select(*columns).execution_options(yield_per=AT_ONCE))
        for some in rows.mappings().partitions(AT_ONCE):
            into.execute(insert(table), [dict(row) for row in some])
    if into.get_bind().dialect.name == "sqlite":
        into.execute(text("DELETE FROM search_words"))
        into.execute(text("INSERT INTO search_words (rowid, body) SELECT id, body FROM search"))
    _compare(source, into)


def one_file(path: Path) -> None:
    """Put what is in the write-ahead log into the file; only where nobody else has it open.

    Raises:
        StoreBusy: somebody has.
    """
    with closing(sqlite3.connect(path, timeout=WAIT_S)) as connection:
        try:
            connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
            mode = connection.execute("PRAGMA journal_mode=DELETE").fetchone()[0]
        except sqlite3.OperationalError as err:
            raise plain_error(err) from err
    if mode != "delete":
        raise StoreBusy("another program has the store open; nothing was changed")


def _compare(source: Session, into: Session) -> None:
    """Hold the two against each other row by row: if one's chain holds, so does the other's."""
    for table in _tables():
        if _digests(source, table) != _digests(into, table):
            raise StoreDamaged(f"the rows of {table.name} are not the same on both sides; "
                               "nothing was changed")


def _digests(session: Session, table: Table) -> list[bytes]:
    return sorted(hashlib.sha256(one.encode()).digest() for one in _texts(session, table))


def _texts(session: Session, table: Table) -> Iterator[str]:
    rows = session.execute(select(*_columns(table)).execution_options(yield_per=AT_ONCE))
    for row in rows.mappings():
        yield json.dumps(dict(row), sort_keys=True, default=bytes.hex)


def _columns(table: Table) -> list[Any]:
    """Give the columns that are told; a number that a store gives its rows itself is not."""
    return [one for one in table.columns if one.name not in NUMBERED.get(table.name, ())]


def _tables() -> list[Table]:
    """Give all tables, those that others name first."""
    return list(SQLModel.metadata.sorted_tables)
