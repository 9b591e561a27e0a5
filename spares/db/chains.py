"""Which parts have to be read beside a part, so that what is said of it can name them."""

from __future__ import annotations

from collections.abc import Collection

from sqlalchemy import select
from sqlmodel import Session

from spares.db.rows import chunks
from spares.db.tables import DOCUMENT_TABLES
from spares.domain.identity import id_of, ref

LONGEST_CHAIN = 50      # links; a ring of parts that take each other over ends here


def named_beside(session: Session, vessel: str, parts: Collection[str]) -> set[str]:
    """Give the parts that stand in for some of *parts*, or took them over."""
    standing, part = DOCUMENT_TABLES["stand-in"], DOCUMENT_TABLES["part"]
    found: set[str] = set()
    for some in chunks(list(parts), 500):
        found |= set(session.execute(select(standing.part).where(
            standing.vessel == vessel, standing.for_part.in_(some))).scalars())
        found |= set(session.execute(select(part.taken_over_by).where(
            part.vessel == vessel, part.id.in_([id_of(one) for one in some]))).scalars())
    return {one for one in found if one}


def around(session: Session, vessel: str, name: str) -> set[str]:
    """Give the whole chain that a part is in, and the parts that it stands in for."""
    standing, part = DOCUMENT_TABLES["stand-in"], DOCUMENT_TABLES["part"]
    found, new = {name}, {name}
    for _ in range(LONGEST_CHAIN):
        before = session.execute(select(part.id).where(
            part.vessel == vessel, part.taken_over_by.in_(sorted(new)))).scalars()
        after = session.execute(select(part.taken_over_by).where(
            part.vessel == vessel, part.id.in_([id_of(one) for one in sorted(new)]))).scalars()
        new = ({ref("part", one) for one in before} | {one for one in after if one}) - found
        if not new:
            break
        found |= new
    served = session.execute(select(standing.for_part).where(
        standing.vessel == vessel, standing.part == name)).scalars()
    return found | {one for one in served if one}
