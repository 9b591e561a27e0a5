"""Put a backup back: check all of it first, keep what is there now, then swap by rename.

Whatever goes wrong before the swap leaves the store as it was. The file in use is never
written over and no foreign write-ahead log is left beside the new one. Each vessel's log
goes on in a new epoch, so that phones bring back what was written after the backup.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Callable, Iterable
from contextlib import closing
from datetime import datetime
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from sqlalchemy import select, text

from spares.db.backup import make_backup, unwritten
from spares.db.backup_file import DATA, PHOTOS, damaged, unpack_backup
from spares.db.carry_over import (
    ShutOut,
    carry_over,
    devices_now,
    devices_of,
    shut_out,
    shut_out_now,
)
from spares.db.copy_check import check_copy
from spares.db.disk import OWNER_ONLY, sync_file, sync_folder
from spares.db.engine import Store, open_file
from spares.db.epochs import begin_epoch
from spares.db.photo_files import PhotoFiles, folder_beside
from spares.db.plain_errors import plain_error
from spares.db.rows_between import one_file, put_rows
from spares.db.tables import Device
from spares.db.turn import WAIT_S
from spares.errors import Conflict, DiskFull, SparesError, StoreBusy

BESIDE = ("", "-wal", "-shm", "-journal")       # what a store consists of at any moment
STAMP = "%Y%m%d-%H%M%S"
CHANGED = "the store was changed meanwhile; nothing was put back, try again"


def restore_backup(source: Path, path: Path, now: datetime, *, look: bool = False
                   ) -> dict[str, Any]:
    """Put the backup *source* in the place of the store's file *path*.

    Nobody else may have the store open. What is there now is kept beside it: as a backup,
    or, where it is damaged, as the files that they are.

    Args:
        source: The backup.
        path: The store's file; it need not be there.
        now: The moment that what is kept is named by.
        look: Only say what would happen.

    Returns:
        `manifest` of the backup, `lost` (changes that only the present store has, by
        vessel's id [1]), `damaged` (the present store cannot be read), `kept` (path or None).

    Raises:
        InvalidInput: the backup is damaged or not ours; `member` names where.
        UpgradeFailed: it was made by a newer version.
        Conflict: the present store holds a vessel that the backup has not.
        StoreBusy: somebody else has the store open.
        DiskFull: there is no room.
    """
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        with TemporaryDirectory(dir=path.parent, prefix=".restore-") as name:
            return _restore(source, path, Path(name), now, look)
    except OSError as err:
        if isinstance(err, SparesError):
            raise
        raise unwritten(path, err) from err


def restore_into(source: Path, store: Store, now: datetime, *, look: bool = False
                 ) -> dict[str, Any]:
    """Put the backup *source* in the place of all that an open database holds.

    It happens in one transaction, during which others wait; they may have it open. The rest
    is as in `restore_backup`.

    Raises:
        StoreBusy: somebody wrote meanwhile.
    """
    path = store.path
    try:
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        with TemporaryDirectory(dir=path.parent, prefix=".restore-") as name:
            folder = Path(name)
            data, manifest = _unpacked(source, folder)
            with store.reading() as session:
                present = _ids(lambda asked: session.execute(text(asked)))
            answer = _told(manifest, present, data)
            if not look:
                _renew(data, manifest, devices_of(store))
                if present:
                    answer["kept"] = _beside(path, now)
                    make_backup(store, answer["kept"], now)
                _bring_photos(folder / PHOTOS, path)
                _put(data, store, present)
            return answer
    except OSError as err:
        if isinstance(err, SparesError):
            raise
        raise unwritten(path, err) from err


def _put(data: Path, store: Store, present: dict[str, set[str]]) -> None:
    file = open_file(data)
    try:
        with file.reading() as source, store.writing() as session:
            if _ids(lambda asked: session.execute(text(asked))) != present:
                raise StoreBusy(CHANGED)
            # A phone may have been reported lost while the backup of before was made.
            now = [dict(row) for row in session.execute(select(Device.__table__)).mappings()]
            put_rows(source, session)
            carry_over(session, now)
    finally:
        file.close()
    store.memory.clear()


def _restore(source: Path, path: Path, folder: Path, now: datetime, look: bool
             ) -> dict[str, Any]:
    data, manifest = _unpacked(source, folder)
    present = _present(path)
    answer = _told(manifest, present, data)
    if not look:
        devices = devices_now(path) if present else []
        gone = [] if devices or present == {} else shut_out_now(path)
        _renew(data, manifest, devices, gone)
        answer["kept"] = _keep(path, present, now)
        _bring_photos(folder / PHOTOS, path)
        _swap(data, path)
    return answer


def _unpacked(source: Path, folder: Path) -> tuple[Path, dict[str, Any]]:
    """Unpack a backup and look at it with suspicion; gives its data and its manifest."""
    manifest = unpack_backup(source, folder)
    photos = [one.name for one in (folder / PHOTOS).iterdir()]
    if any(manifest.get(key) != value
           for key, value in check_copy(folder / DATA, photos).items()):
        raise damaged("manifest.json", "does not say what is in data.sqlite")
    return folder / DATA, manifest


def _told(manifest: dict[str, Any], present: dict[str, set[str]] | None, data: Path
          ) -> dict[str, Any]:
    _check_vessels(present, manifest)
    return {"manifest": manifest, "damaged": present is None, "kept": None,
            "lost": _lost(present or {}, data)}


def _bring_photos(unpacked: Path, path: Path) -> None:
    """Put the backup's photos among those that are there, of which none is taken away."""
    files = PhotoFiles(folder_beside(path))
    for one in sorted(unpacked.iterdir()):
        sync_file(one)
        files.put(one.name, one)


def _present(path: Path) -> dict[str, set[str]] | None:
    """Give the ids of the changes in the store that is there, by vessel; None: unreadable."""
    if not path.exists() or path.stat().st_size == 0:
        return {}
    try:
        with closing(sqlite3.connect(path, timeout=WAIT_S)) as connection:
            return _ids(connection.execute)
    except sqlite3.Error as err:
        if isinstance(plain_error(err), StoreBusy):
            raise plain_error(err) from err
        return None


def _ids(ask: Callable[[str], Iterable[Any]]) -> dict[str, set[str]]:
    found: dict[str, set[str]] = {row[0]: set() for row in ask("SELECT vessel FROM logbook")}
    for vessel, ident in ask("SELECT vessel, id FROM log"):
        found.setdefault(vessel, set()).add(ident)
    return found


def _check_vessels(present: dict[str, set[str]] | None, manifest: dict[str, Any]) -> None:
    others = set(present or {}) - {one["id"] for one in manifest["vessels"]}
    if others:
        raise Conflict("the store holds a vessel that is not in this backup: restore it into "
                       "a store of its own (--store PATH); nothing was changed",
                       vessels=sorted(others))


def _lost(present: dict[str, set[str]], data: Path) -> dict[str, int]:
    with closing(sqlite3.connect(f"{data.absolute().as_uri()}?mode=ro&immutable=1",
                                 uri=True)) as connection:
        kept = _ids(connection.execute)
    return {vessel: len(ids - kept.get(vessel, set())) for vessel, ids in present.items()}


def _renew(data: Path, manifest: dict[str, Any], devices: list[dict[str, Any]],
           gone: Iterable[ShutOut] = ()) -> None:
    """Bring the copy to this version, begin its new epochs, and make it one file again."""
    store = open_file(data)
    try:
        with store.writing() as session:
            carry_over(session, devices)
            shut_out(session, gone)
            for one in manifest["vessels"]:
                begin_epoch(session, one["id"])
    finally:
        store.close()
    one_file(data)
    sync_file(data)


def _keep(path: Path, present: dict[str, set[str]] | None, now: datetime) -> Path | None:
    """Keep what is there now beside the store; gives where."""
    if present == {}:
        _drop_logs(path)
        return None
    if present is not None:
        try:
            kept = _beside(path, now)
            store = open_file(path, upgrade=False)
            try:
                make_backup(store, kept, now)
            finally:
                store.close()
            one_file(path)
            if _present(path) != present:
                raise StoreBusy(CHANGED)
            return kept
        except (StoreBusy, DiskFull):
            raise
        except SparesError:
            pass        # it can be read and yet does not hold: kept as it is
    return _set_aside(path, _free(path.with_name(f"{path.name}.damaged-{now:{STAMP}}")))


def _beside(path: Path, now: datetime) -> Path:
    return _free(path.with_name(f"{path.name}.before-restore-{now:{STAMP}}.zip"))


def _set_aside(path: Path, kept: Path) -> Path:
    for suffix in BESIDE:
        beside = path.with_name(path.name + suffix)
        if beside.exists():
            copy = Path(shutil.copy2(beside, kept.with_name(kept.name + suffix)))
            sync_file(copy)
    sync_folder(path.parent)
    _drop_logs(path)
    return kept


def _drop_logs(path: Path) -> None:
    for suffix in BESIDE[1:]:
        path.with_name(path.name + suffix).unlink(missing_ok=True)


def _free(path: Path) -> Path:
    """Give *path*, or the first like it that is not there."""
    tries = (path.with_name(f"{path.stem}-{i}{path.suffix}") for i in range(2, 1000))
    return path if not path.exists() else next(one for one in tries if not one.exists())


def _swap(data: Path, path: Path) -> None:
    if path.exists():
        shutil.copymode(path, data)
    else:
        os.chmod(data, OWNER_ONLY)
    os.replace(data, path)
    sync_folder(path.parent)
