"""What happened, as rows: movements' effects, counts, readings, services, fittings.

All are projections of the log and can be made anew from it.
"""

from sqlalchemy import BigInteger, Column, Index, Text, UniqueConstraint, false, text
from sqlmodel import JSON, Field, SQLModel


class Effect(SQLModel, table=True):
    """One cell (part, locker, lot) that a change touches; which changes touch a cell."""

    __tablename__ = "effect"
    __table_args__ = (Index("ix_effect_cell", "vessel", "part", "locker", "lot", "is_count",
                            "seq"),)
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    part: str = Field(primary_key=True)
    locker: str = Field(primary_key=True)
    lot: str = Field(primary_key=True)
    is_count: bool = Field(default=False, sa_column_kwargs={"server_default": false()})
    seq: int = Field(default=0, sa_type=BigInteger, sa_column_kwargs={"server_default": text("0")})


class CutOffRow(SQLModel, table=True):
    """Up to where the log need not be read to fold a cell; without one it is read whole."""

    __tablename__ = "cut_off"
    vessel: str = Field(primary_key=True)
    part: str = Field(primary_key=True)
    locker: str = Field(primary_key=True)
    lot: str = Field(primary_key=True)
    seq: int = Field(sa_type=BigInteger)
    at: str
    made: dict = Field(default_factory=dict, sa_column=Column(JSON))


class CellRow(SQLModel, table=True):
    """How many of a part lie in a locker, by lot, with the range where it is in doubt."""

    __tablename__ = "cell"
    vessel: str = Field(primary_key=True)
    part: str = Field(primary_key=True)
    locker: str = Field(primary_key=True, index=True)
    lot: str = Field(primary_key=True)
    quantity: int = Field(sa_type=BigInteger)
    low: int = Field(sa_type=BigInteger)
    high: int = Field(sa_type=BigInteger)
    doubts: list = Field(default_factory=list, sa_column=Column(JSON))
    rivals: list = Field(default_factory=list, sa_column=Column(JSON))
    flags: list = Field(default_factory=list, sa_column=Column(JSON))
    counted_at: str = ""


class Settlement(SQLModel, table=True):
    """A void or settle and the change that it speaks of."""

    __tablename__ = "settlement"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    of: str = Field(index=True)
    kind: str


class Sameness(SQLModel, table=True):
    """Two part records that somebody said are one part."""

    __tablename__ = "sameness"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    keep: str
    drop: str
    at: str


class Reading(SQLModel, table=True):
    """An hour meter as somebody read it; a doubtful one is kept and used nowhere."""

    __tablename__ = "reading"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    machine: str = Field(index=True)
    date: str
    minutes: int | None = Field(default=None, sa_type=BigInteger)
    because: str = ""
    doubt: str = ""
    at: str
    voided: bool = False


class ServiceRecord(SQLModel, table=True):
    """One carrying-out of a service; the date may be known only in part."""

    __tablename__ = "service_record"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    service: str = Field(default="", index=True)
    machine: str = ""
    date: str = ""
    minutes: int | None = Field(default=None, sa_type=BigInteger)
    proof: str = ""
    by: str = ""
    note: str = Field(default="", sa_type=Text)
    failed: list = Field(default_factory=list, sa_column=Column(JSON))
    at: str
    voided: bool = False


class Fitting(SQLModel, table=True):
    """A part put on a fit point; the last one by day and stamp sits there now."""

    __tablename__ = "fitting"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    point: str = Field(index=True)
    part: str = ""
    date: str = ""
    why: str = ""
    at: str
    voided: bool = False


class FitCheck(SQLModel, table=True):
    """A verdict as it was given, with the values that were compared."""

    __tablename__ = "fit_check"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    point: str = ""
    part: str = ""
    verdict: str = ""
    inputs: dict | None = Field(default=None, sa_column=Column(JSON))
    at: str


class PhotoRef(SQLModel, table=True):
    """A photo that a document refers to; its bytes lie apart."""

    __tablename__ = "photo_ref"
    vessel: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    doc: str = Field(index=True)
    sha256: str
    bytes: int = Field(sa_type=BigInteger)
    mime: str
    voided: bool = False


class Search(SQLModel, table=True):
    """The folded text of a part that words are looked up in, and its number keys."""

    __tablename__ = "search"
    __table_args__ = (UniqueConstraint("vessel", "part", name="uq_search_vessel"),)
    id: int | None = Field(default=None, primary_key=True)
    part: str
    vessel: str = Field(index=True)
    body: str = Field(default="", sa_type=Text)
    numbers: str = Field(default="", sa_type=Text)
