"""Ask in plain SQL, for what every command that looks must know at once.

SQLModel and its tables are most of the start of a command. What is asked here goes to a file
through the standard library alone, and to a session, which a database and every writing
transaction have, in the same words.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterable
from functools import cache
from typing import TYPE_CHECKING, Any, TypeAlias

import orjson

from spares.domain.document_kinds import DOCUMENTS

if TYPE_CHECKING:
    from sqlalchemy import TextClause
    from sqlmodel import Session

    Reader: TypeAlias = Session | sqlite3.Connection

#: The table of each kind of document.
TABLE_OF = {kind: kind.replace("-", "_") for kind in DOCUMENTS} | {
    "inner": "inner_point", "number": "cross_number", "order": "order_line"}
#: The types of fields whose values are kept as JSON.
AS_JSON = {"claim", "money", "place", "shaped"}


def ask(reader: Reader, sql: str, **given: Any) -> Iterable[Any]:
    """Give the rows that *sql* asks for, with a value for each `:name` in it.

    A file gives flags as 0 and 1 and JSON as text, a database as what they are.
    """
    if isinstance(reader, sqlite3.Connection):
        return reader.execute(sql, given)
    return reader.execute(_worded(sql), given)


@cache
def _worded(sql: str) -> TextClause:
    from sqlalchemy import text

    return text(sql)


def first_column(reader: Reader, sql: str, **given: Any) -> list[Any]:
    """Give the values of the first column."""
    return [row[0] for row in ask(reader, sql, **given)]


def is_in(reader: Reader, name: str) -> str:
    """Give the SQL that says that a text is one of those which `listed` gives as `:name`."""
    return (f"IN (SELECT value FROM json_each(:{name}))" if is_sqlite(reader) else
            f"IN (SELECT json_array_elements_text(CAST(:{name} AS json)))")


def listed(texts: Iterable[str]) -> str:
    """Give any number of texts as one value of a question: one JSON text."""
    return orjson.dumps(list(texts)).decode()


def holding(text: str) -> str:
    """Give the pattern of LIKE ... ESCAPE '/' for what has *text* somewhere in it."""
    for sign in "/%_":
        text = text.replace(sign, "/" + sign)
    return f"%{text}%"


def reads_json(reader: Reader) -> Callable[[Any], Any]:
    """Give what makes a value of a JSON column: a database has made it already."""
    return _from_text if is_sqlite(reader) else lambda value: value


def _from_text(value: Any) -> Any:
    """Read JSON; SQLite gives a number that stands alone as a number."""
    return orjson.loads(value) if isinstance(value, str) else value


def is_sqlite(reader: Reader) -> bool:
    """Say whether a file is asked, by whichever way."""
    return isinstance(reader, sqlite3.Connection) or reader.get_bind().dialect.name == "sqlite"
