"""Backups that the server makes by itself, and how old the last one of any kind is."""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

from spares.actions.backup import backup, in_names, last_backup
from spares.db.engine import Store
from spares.domain.keep_rule import to_keep

FOLDER = "backups"
EVERY = timedelta(hours=24)
_MADE = re.compile(r"spares-(.*)-(\d{8}-\d{6})(-\d+)?\.zip\Z")


def back_up_if_due(store: Store, now: datetime) -> dict[str, Any] | None:
    """Make a backup if the last one made so is a day old; then drop what the rule lets go.

    Stores that lie in one folder share the folder of backups: each looks at its own alone, by
    the marks in the names.

    Raises:
        StoreDamaged, DiskFull: as `backup`; older backups stay.
    """
    folder = store.path.absolute().parent / FOLDER
    of = in_names(store)
    there = made_in(folder, of)
    # One of the future was named by a clock that was wrong: it does not count.
    if any(timedelta() <= now - made < EVERY for made in there):
        return None
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    told = backup(store, folder, now)
    drop_old(folder, Path(told["file"]), of)
    return told


def drop_old(folder: Path, newest: Path, of: str) -> None:
    """Delete the backups that the rule does not keep; never the one made just now."""
    there = made_in(folder, of)
    keep = to_keep(there)
    for made, path in there.items():
        if made not in keep and path != newest:
            with suppress(OSError):
                path.unlink()


def made_in(folder: Path, of: str | None = None) -> dict[datetime, Path]:
    """Give the backups in a folder by the moment in their name; nothing else is touched.

    *of*: only those of the store with these marks in its names.
    """
    found = {}
    for path in sorted(folder.glob("spares-*.zip")) if folder.is_dir() else ():
        if (name := _MADE.match(path.name)) is not None and of in (None, name[1]):
            found[datetime.strptime(name[2], "%Y%m%d-%H%M%S").astimezone()] = path
    return found


def age(store: Store, vessel: str, seq: int, today: date) -> dict[str, Any] | None:
    """Say when the last backup was made and how much was written since; None: never."""
    known = last_backup(store)
    if known is None or vessel not in known["seq"]:
        return None
    made = datetime.fromisoformat(known["made"]).replace(tzinfo=UTC)
    return {"made": known["made"], "file": known["file"],
            "days_ago": max(0, (today - made.astimezone().date()).days),
            "changes_since": max(0, seq - known["seq"][vessel])}
