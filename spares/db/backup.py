"""Make a backup: one file that was looked at as hard as a restore will look at it.

It holds a file of SQLite, whatever the store is, so that it moves one kind to the other.
`VACUUM INTO` gives one state of the store while it is in use, but does not promise that it
is on the disk; so the copy is checked whole, packed, written through, opened again and
compared before it gets its name.
"""

from __future__ import annotations

import os
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from spares import __version__
from spares.db.backup_file import DATA, NO_ROOM, unpack_backup, write_backup
from spares.db.copy_check import check_copy
from spares.db.disk import OWNER_ONLY, sync_file, sync_folder
from spares.db.engine import Store
from spares.db.photo_files import photo_files
from spares.db.plain_errors import plain_error
from spares.db.rows_between import write_file
from spares.errors import DiskFull, InvalidInput, SparesError, StoreDamaged


def make_backup(store: Store, target: Path, now: datetime, *, with_photos: bool = True
                ) -> dict[str, Any]:
    """Write a backup of all vessels of *store* to *target*; gives what it says of itself.

    The file can be read by its owner alone: the keys that seal the log are in it.

    Args:
        store: An open store; it may be in use.
        target: A file that is not there yet.
        now: The moment that the backup is named by.
        with_photos: Put the bytes of the photos in, too.

    Raises:
        InvalidInput: the file is there already or cannot be written.
        StoreDamaged: the store does not hold; nothing was written.
        DiskFull: there is no room; nothing was left behind.
    """
    try:
        if target.exists():
            raise InvalidInput.at("#/file", f"{target} is there already: give another name")
        with TemporaryDirectory(dir=target.parent, prefix=f".{target.name[:60]}-") as name:
            manifest = _make(store, Path(name), now, with_photos)
            os.replace(Path(name) / "backup.zip", target)
        sync_folder(target.parent)
    except (OSError, ValueError) as err:
        if isinstance(err, SparesError):
            raise
        if isinstance(err, ValueError):
            raise InvalidInput.at("#/file", "this is no file name") from err
        raise unwritten(target, err) from err
    return manifest


def unwritten(target: Path, err: OSError) -> Exception:
    """Make the error for a file that could not be written."""
    if err.errno in NO_ROOM:
        return DiskFull(f"there is no room for {target}; nothing was changed")
    return InvalidInput.at("#/file", f"{target} cannot be written: {err.strerror or err}")


def _make(store: Store, folder: Path, now: datetime, with_photos: bool) -> dict[str, Any]:
    data, packed, again = folder / DATA, folder / "backup.zip", folder / "again"
    _snapshot(store, data)
    photos = photo_files(store).sound() if with_photos else {}
    try:
        # Without photos it is the copy before an upgrade, which nothing but damage may hinder.
        facts = check_copy(data, photos, is_own=not with_photos)
    except InvalidInput as err:
        raise StoreDamaged(f"the store does not hold, so it was not backed up ({err.detail}): "
                           "put an earlier backup back (spares restore FILE)") from err
    made = now.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%SZ")
    manifest = write_backup(packed, data, {"made": made, "program": __version__, **facts},
                            photos)
    os.chmod(packed, OWNER_ONLY)
    sync_file(packed)
    again.mkdir()
    if unpack_backup(packed, again) != manifest:
        raise StoreDamaged("the backup could not be read back as it was written: is the disk "
                           "sound? Nothing was kept")
    return manifest


def _snapshot(store: Store, target: Path) -> None:
    if not store.is_file:
        write_file(store, target)
        return
    connection = store.engine.raw_connection()
    try:
        connection.execute("VACUUM INTO ?", (str(target),))
    except sqlite3.Error as err:
        raise plain_error(err) from err
    finally:
        connection.close()
    os.chmod(target, OWNER_ONLY)
