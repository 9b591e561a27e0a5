"""Tables of documents about pictures: a plan of each deck with its lines, where lockers are on it,
and where on a photo a fit point is. They follow `domain.document_kinds.DOCUMENTS`.
"""

from sqlalchemy import Text
from sqlmodel import Field

from spares.db.tables.documents import Document


class DeckDoc(Document, table=True):
    __tablename__ = "deck"
    no: str | None = Field(default=None, index=True)
    name: str | None = None
    position: int | None = None
    note: str | None = Field(default=None, sa_type=Text)


class DeckLineDoc(Document, table=True):
    __tablename__ = "deck_line"
    deck: str | None = Field(default=None, index=True)
    corners: str | None = Field(default=None, sa_type=Text)
    closed: bool | None = None


class DeckPlaceDoc(Document, table=True):
    __tablename__ = "deck_place"
    locker: str | None = Field(default=None, index=True)
    deck: str | None = None
    x: int | None = None
    y: int | None = None


class PhotoMarkDoc(Document, table=True):
    __tablename__ = "photo_mark"
    photo: str | None = Field(default=None, index=True)
    point: str | None = Field(default=None, index=True)
    x: int | None = None
    y: int | None = None


PICTURE_TABLES: dict[str, type[Document]] = {
    "deck": DeckDoc, "deck-line": DeckLineDoc, "deck-place": DeckPlaceDoc,
    "photo-mark": PhotoMarkDoc,
}
