"""The bytes of photos: one file each, named by their SHA-256, in a folder beside the store.

What is still coming in lies under a name of its own per device, so that it can go on after a
lost connection and nobody spoils another's. A photo gets its name only when its hash holds
and it is on the disk.
"""

from __future__ import annotations

import hashlib
import os
import re
import shutil
import time
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from spares.db.backup_file import hash_of
from spares.db.disk import OWNER_ONLY, sync_folder
from spares.db.engine import Store
from spares.errors import Conflict, DiskFull, InvalidInput

HASH = re.compile(r"[0-9a-f]{64}")
#: What has to stay free on the disk for the log [bytes].
KEEP_FREE = 200_000_000
_PART = ".part"
_PARTS_KEPT_S = 7 * 86_400


@dataclass(frozen=True)
class PhotoFiles:
    """The folder of one store's photos."""

    folder: Path

    def has(self, sha256: str) -> bool:
        """Say whether the whole photo is here."""
        return self._path(sha256).is_file()

    def read(self, sha256: str) -> bytes | None:
        """Give the bytes of a photo, None if it is not here."""
        with suppress(FileNotFoundError):
            return self._path(sha256).read_bytes()
        return None

    def names(self) -> list[str]:
        """Name the photos that are here."""
        if not self.folder.is_dir():
            return []
        return sorted(one.name for one in self.folder.iterdir() if HASH.fullmatch(one.name))

    def sound(self) -> dict[str, Path]:
        """Give the files whose bytes are still those of their name, by it."""
        return {one: self._path(one) for one in self.names()
                if hash_of(self._path(one)) == one}

    def came(self, sha256: str, dev: str) -> int:
        """Say how much of a photo has come from a device [bytes]."""
        with suppress(FileNotFoundError):
            return self._part(sha256, dev).stat().st_size
        return 0

    def add(self, sha256: str, dev: str, at: int, piece: bytes) -> int:
        """Write a piece behind those that came; gives how much there is now [bytes].

        Raises:
            Conflict: the piece does not follow; `have` says where to go on.
            DiskFull: there is no room for photos; what came before stays.
        """
        have = self.came(sha256, dev)
        if at not in (0, have):
            raise Conflict("this piece does not follow what has come", have=have)
        try:
            self._ready()
            if shutil.disk_usage(self.folder).free < KEEP_FREE:
                raise DiskFull("there is little room left, and that is kept for the records: "
                               "the photo stays on the phone")
            with open(self._part(sha256, dev), "r+b" if have else "wb") as file:
                file.truncate(at)
                file.seek(at)
                file.write(piece)
        except OSError as err:
            raise DiskFull(f"the photo could not be written: {err.strerror or err}") from err
        return at + len(piece)

    def taken(self, sha256: str, dev: str) -> bytes:
        """Give all that came of a photo.

        Raises:
            InvalidInput: it is not what its name says; it was thrown away.
        """
        data = self._part(sha256, dev).read_bytes()
        if hashlib.sha256(data).hexdigest() != sha256:
            self.drop(sha256, dev)
            raise InvalidInput.at("#/photo", "what came is not the photo of this hash; send it "
                                  "again from its beginning")
        return data

    def keep(self, sha256: str, dev: str) -> None:
        """Give a photo that came whole its name, once it is on the disk.

        Raises:
            DiskFull: it could not be written through.
        """
        part = self._part(sha256, dev)
        try:
            with part.open("r+b") as file:
                os.fsync(file.fileno())
            os.chmod(part, OWNER_ONLY)
            os.replace(part, self._path(sha256))
            sync_folder(self.folder)
        except OSError as err:
            with suppress(OSError):     # a second sync may say that all is well, and it is not
                part.unlink(missing_ok=True)
            raise DiskFull(f"the photo could not be written: {err.strerror or err}") from err

    def drop(self, sha256: str, dev: str) -> None:
        """Throw away what came of a photo."""
        self._part(sha256, dev).unlink(missing_ok=True)

    def set_aside(self, sha256: str) -> None:
        """Take its name from a file whose bytes are no longer those of the photo."""
        with suppress(FileNotFoundError):
            os.replace(self._path(sha256), self._path(sha256).with_suffix(".spoilt"))

    def drop_old(self, sha256: str, before_s: float) -> bool:
        """Delete a photo that came before a moment [s since 1970]; says whether it did."""
        with suppress(FileNotFoundError):
            if self._path(sha256).stat().st_mtime < before_s:
                return self.remove(sha256)
        return False

    def remove(self, sha256: str) -> bool:
        """Delete a photo; says whether it was there."""
        with suppress(FileNotFoundError):
            self._path(sha256).unlink()
            return True
        return False

    def put(self, sha256: str, source: Path) -> None:
        """Move a photo that was checked to its name, as a backup brings it."""
        self._ready()
        os.chmod(source, OWNER_ONLY)
        os.replace(source, self._path(sha256))
        sync_folder(self.folder)

    def _ready(self) -> None:
        """Make the folder, and throw away pieces that nobody went on with for a week."""
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        before = time.time() - _PARTS_KEPT_S
        for one in self.folder.iterdir():
            with suppress(FileNotFoundError):
                if one.suffix == _PART and one.stat().st_mtime < before:
                    one.unlink()

    def _path(self, sha256: str) -> Path:
        if not HASH.fullmatch(sha256):
            raise InvalidInput.at("#/sha256", "64 hex digits in lower case are needed")
        return self.folder / sha256

    def _part(self, sha256: str, dev: str) -> Path:
        return self._path(sha256).with_name(f"{sha256}-{dev}{_PART}")


def folder_beside(store: Path) -> Path:
    """Give the folder that holds the photos of a store."""
    return store.with_name(f"{store.name}.photos")


def photo_files(store: Store) -> PhotoFiles:
    """Give the photos of an open store."""
    return PhotoFiles(folder_beside(store.path))
