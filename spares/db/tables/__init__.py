"""The tables: columns and nothing else. SQLModel checks none of it; the door does."""

from sqlalchemy import BigInteger, Integer  # noqa: I001
from sqlmodel import SQLModel

from spares.db.tables import naming  # noqa: F401  (before any table)
from spares.db.tables.devices import Device, HeldChange, LabelCode, LostRange, UsedNumber
from spares.db.tables.documents import DOCUMENT_TABLES as _THINGS
from spares.db.tables.log import FieldVersion, LogEntry, Logbook, Setting
from spares.db.tables.pictures import PICTURE_TABLES
from spares.db.tables.readings import READING_TABLES
from spares.db.tables.records import (CellRow, CutOffRow, Effect, FitCheck, Fitting, PhotoRef,
                                      Reading, Sameness, Search, ServiceRecord, Settlement)
from spares.db.tables.upkeep import UPKEEP_TABLES

# A file gives every whole number 64 bits; a database does so where it is told to.
WHOLE = Integer().with_variant(BigInteger(), "postgresql")
for _table in SQLModel.metadata.tables.values():
    for _column in _table.columns:
        if type(_column.type) is Integer and not _column.primary_key:
            _column.type = WHOLE

DOCUMENT_TABLES = {**_THINGS, **UPKEEP_TABLES, **READING_TABLES, **PICTURE_TABLES}

__all__ = ["DOCUMENT_TABLES", "CellRow", "CutOffRow", "Device", "Effect", "FieldVersion",
           "FitCheck", "Fitting", "HeldChange", "LabelCode", "LogEntry", "Logbook", "LostRange",
           "PhotoRef", "Reading", "Sameness", "Search", "ServiceRecord", "Setting", "Settlement",
           "UsedNumber"]
