"""Which photos the log names: of one thing, or all of a vessel."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.tables import LogEntry, PhotoRef, Settlement


def photos_of(session: Session, vessel: str, docs: Collection[str] | None = None
              ) -> list[tuple[PhotoRef, LogEntry]]:
    """Give the photos of these things, of all for None, that stand: each with its change."""
    query = select(PhotoRef, LogEntry).where(
        col(PhotoRef.vessel) == vessel, col(PhotoRef.voided).is_(False),
        col(LogEntry.vessel) == col(PhotoRef.vessel),
        col(LogEntry.id) == col(PhotoRef.change_id)).order_by(col(LogEntry.at))
    if docs is not None:
        query = query.where(col(PhotoRef.doc).in_(list(docs)))
    return [(one, entry) for one, entry in session.execute(query)]


def is_named(session: Session, vessel: str, sha256: str) -> bool:
    """Say whether a photo of this hash stands in the vessel's log."""
    return session.execute(select(PhotoRef.change_id).where(
        col(PhotoRef.vessel) == vessel, col(PhotoRef.sha256) == sha256,
        col(PhotoRef.voided).is_(False)).limit(1)).first() is not None


def standing(session: Session) -> set[str]:
    """Name the photos that stand in any vessel's log."""
    return set(session.execute(select(col(PhotoRef.sha256)).where(
        col(PhotoRef.voided).is_(False)).distinct()).scalars())


def ever_named(session: Session) -> set[str]:
    """Name the photos that any vessel's log ever named."""
    return set(session.execute(select(col(PhotoRef.sha256)).distinct()).scalars())


def removed(session: Session) -> dict[str, int]:
    """Give the photos of which a change was undone, and when the last was [ms since 1970]."""
    found: dict[str, int] = {}
    for sha256, at in session.execute(
            select(col(PhotoRef.sha256), col(LogEntry.at))
            .join(Settlement, (col(Settlement.vessel) == col(PhotoRef.vessel))
                  & (col(Settlement.of) == col(PhotoRef.change_id)))
            .join(LogEntry, (col(LogEntry.vessel) == col(Settlement.vessel))
                  & (col(LogEntry.id) == col(Settlement.change_id)))
            .where(col(PhotoRef.voided).is_(True), col(Settlement.kind) == "void")):
        found[sha256] = max(found.get(sha256, 0), int(at[:12], 16))
    return found
