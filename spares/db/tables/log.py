"""The log that is the truth, and what belongs to the store and not to the log."""

from sqlalchemy import BigInteger, Column, Index, LargeBinary, Text, UniqueConstraint
from sqlmodel import JSON, Field, SQLModel


class Logbook(SQLModel, table=True):
    """One vessel's log: who she is to other stores, its key, its clock, its end."""

    __tablename__ = "logbook"
    vessel: str = Field(primary_key=True)
    epoch: str
    key: bytes = Field(sa_column=Column(LargeBinary, nullable=False))
    seq: int = Field(default=0, sa_type=BigInteger)
    head: str
    last_ms: int = Field(default=0, sa_type=BigInteger)
    adj_ms: int = Field(default=0, sa_type=BigInteger)
    last_at: str = ""
    own_dev: str = "server00"


class LogEntry(SQLModel, table=True):
    """One envelope, as canonical JSON, with the columns that are searched by."""

    __tablename__ = "log"
    __table_args__ = (UniqueConstraint("vessel", "id", name="uq_log_id"),
                      UniqueConstraint("vessel", "dev", "n", name="uq_log_dev_n"),
                      Index("ix_log_dev_at", "vessel", "dev", "at"))
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    seq: int = Field(primary_key=True, sa_type=BigInteger)
    id: str
    kind: str = Field(index=True)
    dev: str
    n: int = Field(sa_type=BigInteger)
    at: str
    batch: str = Field(default="", index=True)
    raw: str = Field(sa_type=Text)
    head: str


class FieldVersion(SQLModel, table=True):
    """One version of one field of a document; nothing written is ever dropped."""

    __tablename__ = "field_version"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    doc: str = Field(primary_key=True)
    field: str = Field(primary_key=True)
    change_id: str = Field(primary_key=True)
    at: str
    is_head: bool = True
    base: list = Field(default_factory=list, sa_column=Column(JSON))
    value: object = Field(default=None, sa_column=Column(JSON(none_as_null=False)))


class Setting(SQLModel, table=True):
    """A setting of the store itself."""

    __tablename__ = "setting"
    name: str = Field(primary_key=True)
    value: object = Field(default=None, sa_column=Column(JSON))
