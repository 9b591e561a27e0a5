"""The copy that is kept of a store's file before steps of upgrade are run on it.

It lies beside the store as a backup without photos, which no step touches: so it is small, made
quickly, and `spares restore` puts it back. A database is copied by its own means.
"""

from __future__ import annotations

import re
from contextlib import suppress
from datetime import datetime
from pathlib import Path

from sqlmodel import col, select

from spares.db.backup import make_backup
from spares.db.engine import Store
from spares.db.tables import Logbook
from spares.db.upgrade import LATEST, known_steps, version_of
from spares.domain.keep_rule import to_keep

STAMP = "%Y%m%d-%H%M%S"


def keep_copy(store: Store, now: datetime | None = None) -> Path | None:
    """Keep a verified copy of a store that lacks steps, and drop older ones by the keep rule.

    Gives where it lies; None where there is nothing to lose, or where no step can be run.

    Raises:
        StoreDamaged: the store does not hold; nothing was changed.
        DiskFull: there is no room for the copy; nothing was changed.
    """
    if not store.is_file or store.path.stat().st_size == 0:
        return None
    if version_of(store.engine) not in known_steps():
        return None
    with store.reading() as session:
        if session.execute(select(col(Logbook.vessel)).limit(1)).first() is None:
            return None
    now = now or datetime.now().astimezone()
    path = store.path.absolute()
    target = path.with_name(f"{path.name}.before-upgrade-{now:{STAMP}}.zip")
    if not target.exists():         # else another process made it in this very second
        told = make_backup(store, target, now, with_photos=False)
        if told["schema"] == LATEST:    # or brought the store up meanwhile, and has the copy
            target.unlink()
            return None
    _drop_old(path, target)
    return target


def copies_of(store: Path) -> dict[datetime, Path]:
    """Give the copies that are kept of a store's file, by the moment in their name (local time)."""
    made = re.compile(rf"{re.escape(store.name)}\.before-upgrade-(\d{{8}}-\d{{6}})\.zip\Z")
    there: dict[datetime, Path] = {}
    for path in store.parent.iterdir():
        with suppress(ValueError):      # a name like ours with a day that there is not
            if (name := made.match(path.name)) is not None:
                there[datetime.strptime(name[1], STAMP)] = path
    return there


def _drop_old(store: Path, newest: Path) -> None:
    there = copies_of(store)
    keep = to_keep(there)
    for moment, path in there.items():
        if moment not in keep and path != newest:
            with suppress(OSError):
                path.unlink()
