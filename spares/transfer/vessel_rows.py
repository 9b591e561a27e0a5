"""Rows of the import format to the changes that they ask for."""

from __future__ import annotations

from datetime import date

from spares.domain.aboard import Aboard
from spares.domain.draft import Draft
from spares.errors import InvalidInput
from spares.transfer.bringing import Bringing
from spares.transfer.day_shift import DayShift
from spares.transfer.document_rows import document_drafts
from spares.transfer.happening_rows import happening_drafts
from spares.transfer.news import news
from spares.transfer.tables import Tables


def vessel_drafts(
    tables: Tables, vessel: str, *, aboard: Aboard | None = None, day_zero: date | None = None,
    again: int = 0,
) -> list[Draft]:
    """Give the drafts that bring these tables in, things first, then what happened.

    Args:
        tables: What `read_tables` gave.
        vessel: Id of the vessel [bare uuid].
        aboard: What she has already: things keep their ids, and what is so already
            is not said again.
        day_zero: Day that the files' own day zero stands for now; without it the
            dates stay as they are.
        again: How often these files were brought in and taken back before [1]; what
            was taken back cannot come back under its old id.

    Raises:
        InvalidInput: `errors` names file, row and column of each fault.
    """
    bringing = Bringing(tables, vessel, aboard, _shift(tables, day_zero), again)
    drafts = [*document_drafts(bringing), *happening_drafts(bringing)]
    bringing.faults.raise_any()
    return drafts if aboard is None else list(news(drafts, aboard))


def vessel_mark(tables: Tables) -> str | None:
    """Give the mark of the vessel that the files describe, None where they say none."""
    rows = tables.get("vessel", [])
    if len(rows) > 1:
        raise InvalidInput.at("#/vessel.csv/3", "a file describes one vessel")
    return rows[0].get("mark") if rows else None


def _shift(tables: Tables, day_zero: date | None) -> DayShift | None:
    vessel_mark(tables)
    written = next((row.get("day_zero") for row in tables.get("vessel", [])), None)
    if day_zero is None or written is None:
        return None
    return DayShift(date.fromisoformat(written), day_zero)
