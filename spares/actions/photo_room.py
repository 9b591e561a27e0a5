"""Bytes of photos that nothing needs any more: named by nobody, or of photos long removed."""

from __future__ import annotations

import zipfile
from datetime import UTC, datetime
from pathlib import Path

from spares.actions.backup import last_backup
from spares.actions.nightly import FOLDER, made_in
from spares.db.backup_file import PHOTOS
from spares.db.before_upgrade import copies_of
from spares.db.engine import Store
from spares.db.photo_files import PhotoFiles, photo_files
from spares.db.photo_refs import ever_named, removed, standing
from spares.domain.photo_keep import DAY_MS, BackupThere, may_go

#: How long bytes wait for the change that names them [ms]: a phone may be away for weeks.
UNNAMED_KEPT_MS = 90 * DAY_MS


def make_room(store: Store, now_ms: int) -> int:
    """Delete the bytes of photos that nothing needs; gives how many photos went.

    Those that no change has named in the 90 days since they came; and those of which every
    change was undone, as `may_go` tells. The log still says that there was such a photo, and
    a phone that names it again sends its bytes again.
    """
    files = photo_files(store)
    with store.reading() as session:
        ever, stands, gone = ever_named(session), standing(session), removed(session)
    went = sum(files.drop_old(name, (now_ms - UNNAMED_KEPT_MS) / 1000)
               for name in files.names() if name not in ever)
    candidates = {name: at for name, at in gone.items() if name not in stands and files.has(name)}
    return went + _drop_removed(store, files, candidates, now_ms)


def _drop_removed(store: Store, files: PhotoFiles, candidates: dict[str, int], now_ms: int) -> int:
    if not candidates:
        return 0
    kept = [(made_ms, _photos_in(path)) for path, made_ms in _backups(store).items()]
    return sum(files.remove(name) for name, removed_ms in candidates.items() if may_go(
        removed_ms, now_ms, [BackupThere(made_ms, name in inside) for made_ms, inside in kept]))


def _backups(store: Store) -> dict[Path, int]:
    """Give the backups that are there and when each was made: by ourselves, or the last one."""
    path = store.path.absolute()
    made_so = [*made_in(path.parent / FOLDER).items(), *copies_of(path).items()]
    found = {path: int(made.timestamp() * 1000) for made, path in made_so}
    if (last := last_backup(store)) is not None and Path(last["file"]).is_file():
        made = datetime.fromisoformat(last["made"]).replace(tzinfo=UTC)
        found.setdefault(Path(last["file"]), int(made.timestamp() * 1000))
    return found


def _photos_in(backup: Path) -> set[str]:
    """Name the photos inside a backup; none where it cannot be read, so that all are kept."""
    try:
        with zipfile.ZipFile(backup) as archive:
            return {name.removeprefix(f"{PHOTOS}/") for name in archive.namelist()}
    except (OSError, zipfile.BadZipFile):
        return set()
