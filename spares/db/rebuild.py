"""Make all tables anew from the log, and say what was different."""

from __future__ import annotations

from typing import Any

from sqlalchemy import delete, select, text
from sqlmodel import Session, col

from spares.db.dump import PROJECTIONS, differences, logical_dump
from spares.db.projection import Projector
from spares.db.tables import LogEntry, Search
from spares.sync.change import read_envelope

AT_ONCE = 2000


def rebuild(session: Session, vessel: str) -> list[dict[str, Any]]:
    """Empty the projections of one vessel, follow the log again, name the differences."""
    before = logical_dump(session, vessel)
    make_anew(session, vessel)
    return differences(before, logical_dump(session, vessel))


def make_anew(session: Session, vessel: str) -> None:
    """Empty the projections of one vessel and follow the log again."""
    _empty(session, vessel)
    last = 0
    while rows := session.execute(
            select(col(LogEntry.seq), col(LogEntry.raw)).where(
                col(LogEntry.vessel) == vessel, col(LogEntry.seq) > last)
            .order_by(col(LogEntry.seq)).limit(AT_ONCE)).all():
        projector = Projector(session, vessel)
        for seq, raw in rows:
            projector.add(read_envelope(raw), seq)
        projector.finish()
        last = rows[-1][0]


def _empty(session: Session, vessel: str) -> None:
    if session.get_bind().dialect.name == "sqlite":
        session.execute(text("DELETE FROM search_words WHERE rowid IN "
                             "(SELECT id FROM search WHERE vessel = :v)"), {"v": vessel})
    for table in (*PROJECTIONS.values(), Search):
        session.execute(delete(table).where(table.vessel == vessel))
    session.flush()
    session.expire_all()
