"""Tables of documents about looking after her: findings, joint sheets, drain points.

As those of `documents.py` they follow `domain.documents.DOCUMENTS`.
"""

from sqlalchemy import Text
from sqlmodel import Field

from spares.db.tables.documents import Document


class FindingDoc(Document, table=True):
    __tablename__ = "finding"
    about: str | None = Field(default=None, index=True)
    question: str | None = None
    origin: str | None = None
    answer: str | None = Field(default=None, sa_type=Text)
    by: str | None = None
    on: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class JointDoc(Document, table=True):
    __tablename__ = "joint"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    point: str | None = Field(default=None, index=True)
    service: str | None = None
    pieces: str | None = Field(default=None, sa_type=Text)
    fasteners: int | None = None
    rows: int | None = None
    passes: int | None = None
    pattern: str | None = None
    thread: str | None = None
    strength: str | None = None
    surface: str | None = None
    torque: str | None = Field(default=None, sa_type=Text)
    page: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class DrainPointDoc(Document, table=True):
    __tablename__ = "drain_point"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    machine: str | None = Field(default=None, index=True)
    walk: int | None = None
    way: str | None = None
    plug: str | None = None
    cock: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


class DrainRecordDoc(Document, table=True):
    __tablename__ = "drain_record"
    point: str | None = Field(default=None, index=True)
    turn: str | None = None
    on: str | None = None
    done: str | None = None
    seen_to_run: bool | None = None
    protects_to_c: str | None = None
    cock: str | None = None
    plug_in: bool | None = None
    seal_renewed: bool | None = None
    no_leak: bool | None = None
    by: str | None = None
    note: str | None = Field(default=None, sa_type=Text)


UPKEEP_TABLES: dict[str, type[Document]] = {
    "finding": FindingDoc, "joint": JointDoc, "drain-point": DrainPointDoc,
    "drain-record": DrainRecordDoc,
}
