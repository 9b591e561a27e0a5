"""Label codes set aside for a device, so that two phones at sea never mint the same."""

from __future__ import annotations

from sqlalchemy import select
from sqlmodel import Session, col

from spares.db.tables import DOCUMENT_TABLES, LabelCode, Logbook
from spares.domain.codes import first_free

#: Length of a code's body, and which documents share such codes.
LENGTHS = {"lot": 5, "locker": 3}
SHARED = {"lot": ("lot",), "locker": ("locker", "machine")}


def set_aside(session: Session, vessel: str, dev: str, what: str, count: int) -> list[str]:
    """Set *count* free codes aside for a device ("": the server itself)."""
    taken = reserved(session, vessel) | _in_use(session, vessel, what)
    codes = []
    for _ in range(count):
        codes.append(first_free(taken, length=LENGTHS[what]))
        taken.add(codes[-1])
    dev = dev or session.get_one(Logbook, vessel).own_dev
    session.add_all(LabelCode(vessel=vessel, code=code, dev=dev) for code in codes)
    return codes


def reserved(session: Session, vessel: str) -> set[str]:
    """Give the codes that are set aside for devices."""
    return set(session.execute(select(col(LabelCode.code)).where(
        col(LabelCode.vessel) == vessel)).scalars())


def _in_use(session: Session, vessel: str, what: str) -> set[str]:
    found: set[str] = set()
    for kind in SHARED[what]:
        table = DOCUMENT_TABLES[kind]
        found |= set(session.execute(select(table.code).where(
            table.vessel == vessel, table.code.is_not(None))).scalars())
    return found
