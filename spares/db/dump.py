"""What the tables say, in a form that two stores can be compared by."""

from __future__ import annotations

import json
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, SQLModel

from spares.db import tables
from spares.db.tables import DOCUMENT_TABLES

#: All tables that are made from the log, by name.
PROJECTIONS: dict[str, type[SQLModel]] = {
    table.__tablename__: table for table in (
        *DOCUMENT_TABLES.values(), tables.FieldVersion, tables.Effect, tables.CellRow,
        tables.CutOffRow, tables.Settlement, tables.Sameness, tables.Reading,
        tables.ServiceRecord, tables.Fitting, tables.FitCheck, tables.PhotoRef, tables.Search)}
NUMBERED = {"search": {"id"}}
#: What may be missing, as it only saves time; what is there has to be right.
SAVES_TIME = {tables.CutOffRow.__tablename__}


def logical_dump(session: Session, vessel: str) -> dict[str, list[str]]:
    """Give each projection's rows of one vessel as sorted JSON texts."""
    return {name: sorted(_texts(session, name, table, vessel))
            for name, table in PROJECTIONS.items()}


def differences(one: dict[str, list[str]], other: dict[str, list[str]]) -> list[dict[str, Any]]:
    """Name the rows that only one of two dumps has, the live one and the one made anew."""
    found = []
    for name in sorted({*one, *other}):
        left, right = set(one.get(name, ())), set(other.get(name, ()))
        found += [{"table": name, "only": "live", "row": json.loads(row)}
                  for row in sorted(left - right)]
        found += [{"table": name, "only": "rebuilt", "row": json.loads(row)}
                  for row in sorted(right - left) if name not in SAVES_TIME]
    return found


def _texts(session: Session, name: str, table: Any, vessel: str) -> list[str]:
    left_out = NUMBERED.get(name, set())
    columns = [column for column in table.__table__.columns if column.name not in left_out]
    rows = session.execute(select(*columns).where(table.vessel == vessel)).mappings()
    return [json.dumps(dict(row), sort_keys=True, default=str) for row in rows]
