"""Read one vessel whole, as the plain values that the computations take."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from functools import cache
from typing import Any

from sqlalchemy import Select, bindparam, select
from sqlmodel import Session, col

from spares.db.chains import named_beside
from spares.db.rows import chunks
from spares.db.tables import (
    DOCUMENT_TABLES,
    CellRow,
    FieldVersion,
    Fitting,
    Reading,
    Sameness,
    ServiceRecord,
    Settlement,
)
from spares.domain.aboard import RECORDS, Aboard, Done, Fitted, Lying, MeterReading
from spares.domain.book import kept_names
from spares.domain.documents import DOCUMENTS
from spares.domain.identity import id_of, ref
from spares.domain.movements import Entry
from spares.errors import NotFound

#: Documents that hang on a part, and the column that names it.
OF_PARTS = {"part": "id", "spec": "part", "number": "part", "link": "part", "lot": "part",
            "stand-in": "for_part"}


def load_aboard(session: Session, vessel: str, parts: Collection[str] | None = None) -> Aboard:
    """Read everything about the vessel with this id.

    Args:
        session: A session of the store.
        vessel: The vessel's id [-].
        parts: Names of parts; if given, of parts and of what hangs on parts only
            theirs is read, and of those that their lines name, so that one line of
            twenty thousand is cheap [-].

    Raises:
        NotFound: the store holds no such vessel.
    """
    kept = kept_parts(session, vessel)
    if parts is not None:
        asked = {kept.get(part, part) for part in parts}
        asked |= {kept.get(one, one) for one in named_beside(session, vessel, asked)}
        parts = [*asked, *(part for part, name in kept.items() if name in asked and part != name)]
    docs = {kind: joined(_documents(session, vessel, kind, parts), kind, kept)
            for kind in DOCUMENTS}
    if vessel not in docs["vessel"]:
        raise NotFound("there is no such vessel in this store", vessel=vessel)
    return Aboard(
        vessel=docs["vessel"][vessel], docs=docs, lying=tuple(_lying(session, vessel, docs, parts)),
        readings=tuple(MeterReading(one.change_id, one.machine, one.date, one.minutes,
                                    one.because, one.doubt, one.at)
                       for one in _live(session, vessel, Reading)),
        done=tuple(Done(one.change_id, one.service, one.machine, one.date, one.minutes,
                        one.proof, one.by, one.note, one.at,
                        tuple(kept.get(part, part) for part in one.failed or ()))
                   for one in _live(session, vessel, ServiceRecord)),
        fitted=tuple(Fitted(one.change_id, one.point, kept.get(one.part, one.part), one.date,
                            one.at, one.why)
                     for one in _live(session, vessel, Fitting)),
        kept_parts=kept, rivals=_rivals(session, vessel, docs))


def joined(records: dict[str, Any], kind: str, kept: dict[str, str]) -> dict[str, Any]:
    """Let what was said of a merged part speak of the one that was kept."""
    if not kept:
        return records
    names = [name for name, spec in DOCUMENTS[kind].items() if "part" in spec.among]
    found = {}
    for ident, one in records.items():
        moved = {name: kept[value] for name in names
                 if (value := getattr(one, name)) in kept and kept[value] != value}
        if kind == "part" and kept.get(f"part/{ident}", f"part/{ident}") != f"part/{ident}":
            moved["gone"] = True
        found[ident] = replace(one, **moved) if moved else one
    return found


def kept_parts(session: Session, vessel: str) -> dict[str, str]:
    """Give, for each part that was merged into another, the name that was kept."""
    undone = select(col(Settlement.of)).where(col(Settlement.vessel) == vessel,
                                              col(Settlement.kind) == "void")
    rows = session.execute(select(Sameness).where(
        col(Sameness.vessel) == vessel, col(Sameness.change_id).not_in(undone))).scalars()
    return kept_names(Entry(row.change_id, "", 0, "same", row.at, 0, None, {},
                            {"keep": row.keep, "drop": row.drop}) for row in rows)


def _documents(session: Session, vessel: str, kind: str,
               parts: Collection[str] | None) -> dict[str, Any]:
    make, query, meant = RECORDS[kind], _of_vessel(kind), {"of_vessel": vessel}
    if parts is None or kind not in OF_PARTS:
        return {row[0]: make(*row) for row in session.execute(query, meant)}
    wanted = [id_of(part) for part in parts] if kind == "part" else list(parts)
    column = getattr(DOCUMENT_TABLES[kind], OF_PARTS[kind])
    return {row[0]: make(*row) for some in chunks(wanted, 500)
            for row in session.execute(query.where(column.in_(some)), meant)}


@cache
def _of_vessel(kind: str) -> Select[Any]:
    """Ask for the documents of a kind; to put the question together costs as much as to ask it."""
    table = DOCUMENT_TABLES[kind]
    columns = [getattr(table, name) for name in ("id", "vessel", "gone", *DOCUMENTS[kind])]
    return select(*columns).where(table.vessel == bindparam("of_vessel")).order_by(
        getattr(table, "no", table.id), table.id)


def _rivals(session: Session, vessel: str, docs: dict[str, dict[str, Any]],
            ) -> dict[str, dict[str, tuple[Any, ...]]]:
    """Give the values of trails that still stand side by side, in the order of their stamps."""
    named = [ref(kind, ident) for kind in ("trail", "trail-place") for ident in docs[kind]]
    standing: dict[str, dict[str, list[Any]]] = {}
    for some in chunks(named, 500):
        for row in session.execute(select(FieldVersion).where(
                col(FieldVersion.vessel) == vessel, col(FieldVersion.doc).in_(some),
                col(FieldVersion.is_head)).order_by(col(FieldVersion.at))).scalars():
            values = standing.setdefault(row.doc, {}).setdefault(row.field, [])
            if row.value not in values:
                values.append(row.value)
    return {doc: told for doc, fields in standing.items()
            if (told := {name: tuple(values) for name, values in fields.items()
                         if len(values) > 1})}


def _lying(session: Session, vessel: str, docs: dict[str, dict[str, Any]],
           parts: Collection[str] | None) -> list[Lying]:
    query = select(CellRow.__table__).where(col(CellRow.vessel) == vessel).order_by(
        col(CellRow.part), col(CellRow.locker), col(CellRow.lot))
    queries = [query] if parts is None else [query.where(col(CellRow.part).in_(some))
                                             for some in chunks(list(parts), 500)]
    found = [Lying(row.part, row.locker, row.lot, row.quantity, row.low, row.high,
                   tuple(row.doubts), tuple(row.rivals), tuple(row.flags))
             for one in queries for row in session.execute(one)]
    there = {(one.part, one.locker, one.lot) for one in found}
    for lot in docs["lot"].values():
        key = (lot.part, lot.lies_in, f"lot/{lot.id}")
        if lot.lies_in and not lot.gone and key not in there:
            found.append(Lying(*key, 0, 0, 0, counted=False))
    return found


def _live(session: Session, vessel: str, table: Any) -> list[Any]:
    return list(session.execute(select(table).where(
        table.vessel == vessel, table.voided.is_(False)).order_by(table.at)).scalars())
