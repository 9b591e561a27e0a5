"""Readings, service records, fittings, fit checks, photos; and what was undone.

A void may arrive before what it undoes, so whether a record counts is looked up
from the voids once both are there.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from sqlalchemy import select, update
from sqlmodel import Session, SQLModel, col

from spares.db.rows import chunks, insert_all, is_among
from spares.db.tables import FitCheck, Fitting, PhotoRef, Reading, ServiceRecord, Settlement
from spares.sync.change import Envelope

VOIDABLE = (Reading, ServiceRecord, Fitting, PhotoRef)


class RecordProjection:
    """Follows the changes that record what was seen or done."""

    def __init__(self, session: Session, vessel: str) -> None:
        self.session, self.vessel = session, vessel
        self.rows: dict[type[SQLModel], list[dict[str, Any]]] = {}
        self.ids: list[str] = []

    def add(self, envelope: Envelope, _seq: int) -> None:
        make = _ROWS.get(envelope.kind)
        if make is None:
            return
        table, columns = make(envelope)
        self.rows.setdefault(table, []).append(
            {"vessel": self.vessel, "change_id": envelope.id, **columns})
        self.ids.append(envelope.body["of"] if envelope.kind == "void" else envelope.id)

    def finish(self) -> None:
        for table, rows in self.rows.items():
            insert_all(self.session, table, rows)
        for ids in chunks(self.ids, 500):
            voided = self.session.execute(select(col(Settlement.of)).where(
                col(Settlement.vessel) == self.vessel, col(Settlement.kind) == "void",
                is_among(self.session, Settlement.of, ids))).scalars().all()
            if voided:
                self._void(list(voided))

    def _void(self, ids: list[str]) -> None:
        for table in VOIDABLE:
            self.session.execute(update(table).where(
                col(table.vessel) == self.vessel,
                is_among(self.session, table.change_id, ids)).values(voided=True))


def _settlement(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    return Settlement, {"of": envelope.body["of"], "kind": envelope.kind}


def _reading(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    body = envelope.body
    return Reading, {"machine": body["machine"], "date": body["date"], "at": envelope.at,
                     "minutes": body.get("minutes"), "because": body.get("because", ""),
                     "doubt": body.get("doubt", ""), "voided": False}


def _service(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    body = envelope.body
    return ServiceRecord, {"service": body.get("service", ""), "machine": body.get("machine", ""),
                           "date": body.get("date", ""), "minutes": body.get("minutes"),
                           "proof": body.get("proof", ""), "by": body.get("by", ""),
                           "note": body.get("note", ""), "failed": body.get("failed", []),
                           "at": envelope.at, "voided": False}


def _exchange(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    body = envelope.body
    return Fitting, {"point": body["point"], "part": body["part"], "date": body.get("date", ""),
                     "why": body.get("why", ""), "at": envelope.at, "voided": False}


def _fit_check(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    body = envelope.body
    return FitCheck, {"point": body.get("point", ""), "part": body["part"], "at": envelope.at,
                      "verdict": body["verdict"], "inputs": body["inputs"]}


def _photo(envelope: Envelope) -> tuple[type[SQLModel], dict[str, Any]]:
    body = envelope.body
    return PhotoRef, {"doc": body["doc"], "sha256": body["sha256"], "bytes": body["bytes"],
                      "mime": body["mime"], "voided": False}


_ROWS: dict[str, Callable[[Envelope], tuple[type[SQLModel], dict[str, Any]]]] = {
    "void": _settlement, "settle": _settlement, "restamp": _settlement, "reading": _reading,
    "service": _service, "exchange": _exchange, "fit-check": _fit_check, "photo": _photo}
