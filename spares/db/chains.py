"""Which parts have to be read beside a part, so that what is said of it can name them."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.rows import chunks
from spares.db.tables.documents import PartDoc, StandInDoc
from spares.domain.identity import id_of, ref

LONGEST_CHAIN = 50      # links; a ring of parts that take each other over ends here


def named_beside(session: Session, vessel: str, parts: Collection[str]) -> set[str]:
    """Give the parts that stand in for some of *parts*, or took them over."""
    found: set[str | None] = set()
    for some in chunks(list(parts), 500):
        found.update(session.execute(select(col(StandInDoc.part)).where(
            col(StandInDoc.vessel) == vessel, col(StandInDoc.for_part).in_(some))).scalars())
        found.update(_successors(session, vessel, some))
    return {one for one in found if one}


def around(session: Session, vessel: str, name: str) -> set[str]:
    """Give the whole chain that a part is in, and the parts that it stands in for."""
    found, new = {name}, {name}
    for _ in range(LONGEST_CHAIN):
        before = session.execute(select(col(PartDoc.id)).where(
            col(PartDoc.vessel) == vessel, col(PartDoc.taken_over_by).in_(sorted(new)))).scalars()
        new = ({ref("part", one) for one in before}
               | set(_successors(session, vessel, sorted(new)))) - found
        if not new:
            break
        found |= new
    served = session.execute(select(col(StandInDoc.for_part)).where(
        col(StandInDoc.vessel) == vessel, col(StandInDoc.part) == name)).scalars()
    return found | {one for one in served if one}


def _successors(session: Session, vessel: str, parts: list[str]) -> list[str]:
    rows = session.execute(select(col(PartDoc.taken_over_by)).where(
        col(PartDoc.vessel) == vessel, col(PartDoc.id).in_([id_of(one) for one in parts])))
    return [one for one in rows.scalars() if one]
