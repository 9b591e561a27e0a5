"""Devices, what became of the numbers they used, and what waits for the skipper.

None of it is made from the log: it belongs to this store.
"""

from sqlalchemy import BigInteger, Column, Text
from sqlmodel import JSON, Field, SQLModel


class Device(SQLModel, table=True):
    """A phone or computer that may write, and the numbers given out to it.

    `next_n` is the smallest number not used yet, `last` the greatest it said it made,
    `desk` the number under which it writes at the server itself, away from its outbox.
    A number without a token only stands for what was written under it.
    """

    __tablename__ = "device"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    dev: str = Field(primary_key=True)
    name: str = ""
    role: str = "skipper"
    next_n: int = Field(default=1, sa_type=BigInteger)
    inst: str = ""
    token_hash: str = Field(default="", index=True)
    paired_ms: int = Field(default=0, sa_type=BigInteger)
    seen_ms: int = Field(default=0, sa_type=BigInteger)
    revoked: str = ""
    revoked_ms: int = Field(default=0, sa_type=BigInteger)
    until_ms: int = Field(default=0, sa_type=BigInteger)
    last: int = Field(default=0, sa_type=BigInteger)
    desk: str = ""
    turned_away: int = 0
    grants: list = Field(default_factory=list, sa_column=Column(JSON))
    was: list = Field(default_factory=list, sa_column=Column(JSON))
    roles_before: list = Field(default_factory=list, sa_column=Column(JSON))


class HeldChange(SQLModel, table=True):
    """A change kept for the skipper to decide on, with the stamp of its arrival."""

    __tablename__ = "held"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    id: str = Field(primary_key=True)
    dev: str = Field(index=True)
    at: str
    g: int = 0
    raw: str = Field(sa_type=Text)
    why: str = ""


class UsedNumber(SQLModel, table=True):
    """What became of a device's number that is not in the log: held, refused, or known before."""

    __tablename__ = "used_number"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    dev: str = Field(primary_key=True)
    n: int = Field(primary_key=True, sa_type=BigInteger)
    id: str = Field(default="", index=True)
    outcome: str
    kind: str = ""
    sha: str = ""
    at: str = ""
    g: int = 0
    code: str = ""
    say: str = Field(default="", sa_type=Text)


class LostRange(SQLModel, table=True):
    """Numbers of a device that it made and no longer has."""

    __tablename__ = "lost_range"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    dev: str = Field(primary_key=True)
    first: int = Field(primary_key=True, sa_type=BigInteger)
    last: int = Field(sa_type=BigInteger)


class LabelCode(SQLModel, table=True):
    """A label code set aside for a device, so that two of them never mint the same."""

    __tablename__ = "label_code"
    vessel: str = Field(primary_key=True, foreign_key="logbook.vessel")
    code: str = Field(primary_key=True)
    dev: str
