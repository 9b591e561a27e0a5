"""Which movements concern a loan: those of its borrower's place, or of its lots."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import count
from typing import Any

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.history import body_of, entry, undone_among
from spares.db.tables import Effect, LogEntry
from spares.domain.identity import joined_id


def moves_at(session: Session, vessel: str, lockers: Sequence[str]) -> list[LogEntry]:
    """Give the movements to or from these places that stand, in their order."""
    return _standing(session, vessel, col(Effect.locker).in_(lockers))


def moves_of(session: Session, vessel: str, lots: Sequence[str]) -> list[LogEntry]:
    """Give the movements of these lots that stand, in their order."""
    return _standing(session, vessel, col(Effect.lot).in_(lots))


def act_of_slip(session: Session, vessel: str, kind: str, *names: str) -> tuple[str, bool]:
    """Name the act by which a loan came here, or so much of it is back; say whether it stands.

    Its name follows from what it does: of two slips that are taken in on two devices, what both
    tell of is done once. One that was undone is done anew under a further name.
    """
    for again in count():
        ident = joined_id(kind, *names, *([str(again)] if again else []))
        is_there = entry(session, vessel, ident) is not None
        if not is_there or not undone_among(session, vessel, [ident]):
            break
    return ident, is_there


def told(row: LogEntry) -> dict[str, Any]:
    """Give what a movement says."""
    return body_of(row.raw)


def _standing(session: Session, vessel: str, which: Any) -> list[LogEntry]:
    ids = select(col(Effect.change_id)).where(col(Effect.vessel) == vessel, which)
    rows = list(session.execute(select(LogEntry).where(
        col(LogEntry.vessel) == vessel, col(LogEntry.id).in_(ids))
        .order_by(col(LogEntry.seq))).scalars())
    undone = undone_among(session, vessel, [row.id for row in rows])
    return [row for row in rows if row.id not in undone]
