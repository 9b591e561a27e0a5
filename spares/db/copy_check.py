"""Look at a copy of a store with suspicion: is it ours, whole, and does its log hold?

The copy itself is opened for reading only and stays as it is to the bit; what writes (an
upgrade, making the tables anew) happens on a scratch copy beside it.
"""

from __future__ import annotations

import shutil
import sqlite3
from collections.abc import Collection
from contextlib import closing
from functools import cache
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.backup_file import DATA, damaged
from spares.db.chain import check_chain
from spares.db.engine import Store, open_file
from spares.db.photo_refs import standing
from spares.db.plain_errors import plain_error
from spares.db.rebuild import rebuild
from spares.db.tables import DOCUMENT_TABLES, Logbook, LogEntry
from spares.db.upgrade import bring_up, known_steps
from spares.errors import SparesError, UpgradeFailed
from spares.sync import checks
from spares.sync.change import envelope_from_json
from spares.sync.strict_json import parse_json_strict

Schema = frozenset[tuple[str, str, str, str | None]]
MOST_THINGS = 1000
KEY_BYTES = 32
_MAGIC = b"SQLite format 3\0"


def check_copy(copy: Path, photos: Collection[str] = (), *, is_own: bool = False
               ) -> dict[str, Any]:
    """Check a store's file; gives its step of upgrade and, for each vessel, where her log ends.

    *photos* are the hashes of those that lie beside it. Of a store of one's own, *is_own*, the
    tables may be written otherwise than this program writes them, and others be beside them.

    Raises:
        InvalidInput: it is not a store of ours, or something in it is damaged.
        UpgradeFailed: it was made by a newer version.
    """
    with TemporaryDirectory(dir=copy.parent, prefix="check-") as folder:
        try:
            schema = _check_file(copy, is_own)
        except sqlite3.Error as err:
            raise _said(err) from err
        scratch = Path(shutil.copyfile(copy, Path(folder) / "scratch.sqlite"))
        store = open_file(scratch)
        try:
            return {"schema": schema, "vessels": _check_logs(store), **_counts(store, photos)}
        finally:
            store.close()


def _said(err: sqlite3.Error) -> Exception:
    plain = plain_error(err)
    return plain if isinstance(plain, SparesError) and plain.code == "disk-full" \
        else damaged(DATA, "is not a whole SQLite file")


def _check_file(copy: Path, is_own: bool) -> str:
    with copy.open("rb") as file:
        if file.read(len(_MAGIC)) != _MAGIC:
            raise damaged(DATA, "is not a SQLite file")
    address = f"{copy.absolute().as_uri()}?mode=ro&immutable=1"
    with closing(sqlite3.connect(address, uri=True)) as connection:
        connection.execute("PRAGMA trusted_schema=OFF")
        connection.execute("PRAGMA cell_size_check=ON")
        step = _check_schema(connection, is_own)
        found = [row[0] for row in connection.execute("PRAGMA integrity_check(1)")]
        if found != ["ok"]:
            raise damaged(DATA)
        if connection.execute("PRAGMA foreign_key_check").fetchone():
            raise damaged(DATA, "names things that are not in it")
    return step


def _check_schema(connection: sqlite3.Connection, is_own: bool) -> str:
    """Hold the schema's text against that of a store made here; nothing else may be in it."""
    schema = _schema(connection)
    steps = {one for one in _fresh("head") if one[:2] == ("table", "alembic_version")}
    if not is_own and (not steps <= schema or any(
            one[0] not in ("table", "index") for one in schema)):
        raise damaged(DATA, "is not a store of this program")
    found = connection.execute("SELECT version_num FROM alembic_version LIMIT 2").fetchall()
    if len(found) != 1:
        raise damaged(DATA, "does not say which version made it")
    step = str(found[0][0])
    if step not in known_steps():
        raise UpgradeFailed(f"the backup is at step {step[:40]!r}, which this version does not "
                            "know: use the newer program; nothing was changed")
    if not is_own and schema != _fresh(step):
        raise damaged(DATA, "has tables that are not those of this program")
    return step


def _schema(connection: sqlite3.Connection) -> Schema:
    return frozenset(connection.execute(
        f"SELECT type, name, tbl_name, sql FROM sqlite_master LIMIT {MOST_THINGS}"))


@cache
def _fresh(step: str) -> Schema:
    """Give the schema of a new store at a step."""
    with TemporaryDirectory(prefix="spares-") as folder:
        path = Path(folder) / "fresh.sqlite"
        store = open_file(path, upgrade=False)
        try:
            bring_up(store.engine, step)
        finally:
            store.close()
        with closing(sqlite3.connect(path)) as connection:
            return _schema(connection)


def _check_logs(store: Store) -> list[dict[str, Any]]:
    with store.reading() as session:
        known = list(session.execute(select(col(Logbook.vessel)).order_by(
            col(Logbook.vessel))).scalars())
    found = []
    for vessel in known:
        with store.writing() as session:
            try:
                _check_shapes(session, vessel)
                check_chain(session, vessel)
                different = rebuild(session, vessel)
            except (ValueError, TypeError, KeyError) as err:
                raise damaged(DATA, "has a log that cannot be followed") from err
            except SparesError as err:
                entry = err.facts.get("entry")
                raise damaged(DATA, f"has a log whose entry {entry} is not as it was written"
                              if entry else f"does not hold: {err.detail}") from err
            if different:
                raise damaged(DATA, f"has tables that do not follow from its log: "
                                    f"{different[0]['table']}")
            found.append(_facts(session, vessel))
    return found


def _check_shapes(session: Session, vessel: str) -> None:
    """Check each envelope as if a device had brought it, and what the log says of itself."""
    book = session.get_one(Logbook, vessel)
    if not (checks.EPOCH.fullmatch(book.epoch) and len(book.key) == KEY_BYTES
            and (not book.last_at or checks.STAMP.fullmatch(book.last_at))):
        raise damaged(DATA, "has a log that cannot be followed")
    for raw in session.execute(select(col(LogEntry.raw)).where(
            col(LogEntry.vessel) == vessel).execution_options(yield_per=1000)).scalars():
        envelope_from_json(parse_json_strict(raw.encode()))


def _facts(session: Session, vessel: str) -> dict[str, Any]:
    book, table = session.get_one(Logbook, vessel), DOCUMENT_TABLES["vessel"]
    one = session.get(table, (vessel, vessel))
    return {"id": vessel, "mark": one.mark if one else None, "name": one.name if one else None,
            "epoch": book.epoch, "seq": book.seq, "head": book.head, "newest": book.last_at}


def _counts(store: Store, photos: Collection[str]) -> dict[str, int]:
    with store.reading() as session:
        return {"photos_not_inside": len(standing(session) - set(photos))}
