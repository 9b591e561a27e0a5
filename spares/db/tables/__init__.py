"""The tables: columns and nothing else. SQLModel checks none of it; the door does."""

from spares.db.tables import naming  # noqa: F401, I001  (before any table)
from spares.db.tables.devices import Device, HeldChange, LabelCode, LostRange, UsedNumber
from spares.db.tables.documents import DOCUMENT_TABLES as _THINGS
from spares.db.tables.log import FieldVersion, LogEntry, Logbook, Setting
from spares.db.tables.pictures import PICTURE_TABLES
from spares.db.tables.readings import READING_TABLES
from spares.db.tables.records import (CellRow, Effect, FitCheck, Fitting, PhotoRef, Reading,
                                      Sameness, Search, ServiceRecord, Settlement)
from spares.db.tables.upkeep import UPKEEP_TABLES

DOCUMENT_TABLES = {**_THINGS, **UPKEEP_TABLES, **READING_TABLES, **PICTURE_TABLES}

__all__ = ["DOCUMENT_TABLES", "CellRow", "Device", "Effect", "FieldVersion", "FitCheck",
           "Fitting", "HeldChange", "LabelCode", "LogEntry", "Logbook", "LostRange", "PhotoRef",
           "Reading", "Sameness", "Search", "ServiceRecord", "Setting", "Settlement",
           "UsedNumber"]
