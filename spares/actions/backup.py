"""Backup and restore: the whole store, all its vessels and their history, as one file."""

from __future__ import annotations

import json
import os
from contextlib import suppress
from datetime import datetime
from pathlib import Path
from typing import Any

from spares.actions.amounts import moment
from spares.config import Settings
from spares.db.backup import make_backup
from spares.db.disk import OWNER_ONLY
from spares.db.engine import Store, open_store
from spares.db.find import vessels
from spares.db.restore import restore_backup, restore_into
from spares.errors import InvalidInput, NotFound


def backup(store: Store, file: Path, now: datetime | None = None) -> dict[str, Any]:
    """Write one verified file with everything; into a folder under a name with the date.

    Raises:
        NotFound: the store holds no vessel.
        InvalidInput: the file is there already, or cannot be written.
        StoreDamaged: the store does not hold.
    """
    if not _marks(store):
        raise NotFound("no vessel is in this store yet, so there is nothing to back up")
    now = now or datetime.now().astimezone()
    target = _target(file, in_names(store), now)
    manifest = make_backup(store, target, now)
    _remember(store, target, manifest)
    return {"file": str(target), "size": target.stat().st_size, **_told(manifest)}


def in_names(store: Store) -> str:
    """Give what the names of its backups say of a store: the marks of her first vessels."""
    return "-".join(filter(str.isalnum, _marks(store)[:3]))


def _marks(store: Store) -> list[str]:
    with store.reading() as session:
        return [mark for _, mark in vessels(session)]


def restore(settings: Settings, file: Path, *, look: bool = False, now: datetime | None = None
            ) -> dict[str, Any]:
    """Put a backup in the place of the store; what is there now is kept beside it.

    Nothing of the program may have the store open meanwhile, unless it is a database. With
    *look* nothing is changed. Backups of a file and of a database are the same: one kind of
    store is moved to the other so.

    Raises:
        InvalidInput: there is no such file, or it is not a whole backup of ours.
        UpgradeFailed: it was made by a newer version.
        Conflict: the store holds a vessel that the backup has not.
        StoreBusy: another program has the store open.
    """
    if not file.is_file():
        raise InvalidInput.at("#/file", f"there is no file {file}")
    found = _put_back(settings, file, now or datetime.now().astimezone(), look)
    told = _told(found["manifest"])
    for vessel in told["vessels"]:
        vessel["only_here"] = found["lost"].get(vessel["id"], 0)
    return {"file": str(file), "store": settings.shown, "look": look, **told,
            "present_damaged": found["damaged"],
            "kept": str(found["kept"]) if found["kept"] else None}


def _put_back(settings: Settings, file: Path, now: datetime, look: bool) -> dict[str, Any]:
    if settings.store_is_file:
        return restore_backup(file, Path(settings.store), now, look=look)
    store = open_store(settings.store, beside=settings.beside)
    try:
        return restore_into(file, store, now, look=look)
    finally:
        store.close()


def last_backup(store: Store) -> dict[str, Any] | None:
    """Give when and where the last backup was made, and how far each log went (`seq`)."""
    try:
        found: dict[str, Any] = json.loads(_note_beside(store.path).read_text("utf-8"))
        return {"made": str(found["made"]), "file": str(found["file"]),
                "seq": {str(vessel): int(seq) for vessel, seq in found["seq"].items()}}
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return None


def _remember(store: Store, target: Path, manifest: dict[str, Any]) -> None:
    """Note the backup beside the store: it may be made while another program writes to it."""
    note = {"made": manifest["made"], "file": str(target.absolute()),
            "seq": {one["id"]: one["seq"] for one in manifest["vessels"]}}
    with suppress(OSError):         # the backup itself is made and checked
        path = _note_beside(store.path)
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        new = path.with_name(path.name + ".new")
        new.touch(OWNER_ONLY)
        new.write_text(json.dumps(note), "utf-8")
        os.replace(new, path)


def _note_beside(store: Path) -> Path:
    return store.with_name(f"{store.name}.last-backup")


def _target(file: Path, named: str, now: datetime) -> Path:
    """Give the file to write: *file*, or one in it, named by vessels and time."""
    try:
        if file.is_dir():
            return file / f"spares-{named}-{now:%Y%m%d-%H%M%S}.zip"
        if file.parent.is_dir():
            return file
    except OSError as err:
        raise InvalidInput.at("#/file", f"cannot be written: {err.strerror or err}") from err
    raise InvalidInput.at("#/file", f"there is no folder {file.parent}")


def _told(manifest: dict[str, Any]) -> dict[str, Any]:
    return {"made": manifest["made"], "program": manifest["program"],
            "photos_not_inside": manifest["photos_not_inside"],
            "vessels": [{"id": one["id"], "mark": one["mark"], "name": one["name"],
                         "changes": one["seq"],
                         "newest": moment(one["newest"]) if one["newest"] else None}
                        for one in manifest["vessels"]]}
