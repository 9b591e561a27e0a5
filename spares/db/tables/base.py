"""What the table of every kind of document has."""

from sqlmodel import Field, SQLModel


class Document(SQLModel):
    """What every document has; each vessel's are her own, whatever ids others use."""

    vessel: str = Field(primary_key=True)
    id: str = Field(primary_key=True)
    gone: bool = False
