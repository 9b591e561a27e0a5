"""Trails of broken pieces, and the places downstream."""

from sqlalchemy import Column, Text
from sqlmodel import JSON, Field

from spares.db.tables.base import Document


class TrailDoc(Document, table=True):
    __tablename__ = "trail"
    no: str | None = Field(default=None, index=True)
    machine: str | None = Field(default=None, index=True)
    point: str | None = None
    what: str | None = None
    of_pieces: int | None = None
    missing: int | None = None
    began_on: str | None = None
    by: str | None = None
    accepted: dict | None = Field(default=None, sa_column=Column(JSON))
    first_run: dict | None = Field(default=None, sa_column=Column(JSON))
    note: str | None = Field(default=None, sa_type=Text)


class TrailPlaceDoc(Document, table=True):
    __tablename__ = "trail_place"
    no: str | None = Field(default=None, index=True)
    trail: str | None = Field(default=None, index=True)
    position: int | None = None
    name: str | None = None
    opens: str | None = None
    seal: str | None = None
    point: str | None = None
    part: str | None = None
    look: dict | None = Field(default=None, sa_column=Column(JSON))
    note: str | None = Field(default=None, sa_type=Text)
