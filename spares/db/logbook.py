"""Whose log it is, where it ends, and which epochs it had."""

from __future__ import annotations

from typing import TYPE_CHECKING

from spares.db.asking import ask, first_column, reads_json
from spares.errors import NotFound

if TYPE_CHECKING:
    from spares.db.asking import Reader


def all_logs(reader: Reader) -> list[str]:
    """Give the ids of all vessels that have a log here."""
    return first_column(reader, "SELECT vessel FROM logbook ORDER BY vessel")


def vessel_head(reader: Reader, vessel: str) -> tuple[str | None, str | None]:
    """Give a vessel's mark and name."""
    return next(((mark, name) for mark, name in ask(
        reader, "SELECT mark, name FROM vessel WHERE vessel = :vessel AND id = :vessel",
        vessel=vessel)), (None, None))


def log_end(reader: Reader, vessel: str) -> tuple[int, str]:
    """Give the last position of a vessel's log, and the stamp of what stands there."""
    return next((seq, last_at) for seq, last_at in ask(
        reader, "SELECT seq, last_at FROM logbook WHERE vessel = :vessel", vessel=vessel))


def epochs(reader: Reader, vessel: str) -> list[tuple[str, int | None]]:
    """Give the epochs of a log, oldest first, each with its last row (None: still going on)."""
    for epoch, ended in ask(
            reader, "SELECT logbook.epoch, setting.value FROM logbook "
            "LEFT JOIN setting ON setting.name = :past WHERE logbook.vessel = :vessel",
            vessel=vessel, past=past_epochs(vessel)):
        past = [] if ended is None else reads_json(reader)(ended)
        return [*((name, last) for name, last in past), (epoch, None)]
    raise NotFound("there is no such vessel in this store", vessel=vessel)


def past_epochs(vessel: str) -> str:
    """Name the setting that keeps them."""
    return f"epochs {vessel}"
